package picture

import (
	"fmt"
	"strconv"
	"testing"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/wing"
)

// large is a plan of 400 lines a side: five rows of 4, 16 and 60.
func large(t testing.TB) *wing.Plan {
	var all [][5]string
	for _, row := range []string{"A", "B", "C", "D", "E"} {
		for i := range 4 {
			all = append(all, [5]string{fmt.Sprintf("%s1.%d", row, i+1), row, "lower", "link:" + row, strconv.Itoa(i + 1)})
		}
		for i := range 16 {
			all = append(all, [5]string{fmt.Sprintf("%s2.%d", row, i+1), row, "middle", fmt.Sprintf("%s1.%d", row, i/4+1), strconv.Itoa(i%4 + 1)})
		}
		for i := range 60 {
			all = append(all, [5]string{fmt.Sprintf("%s3.%d", row, i+1), row, "upper", fmt.Sprintf("%s2.%d", row, i*4/15+1), strconv.Itoa(i + 1)})
		}
	}
	return lines(t, all...)
}

func BenchmarkLargestFan(b *testing.B) {
	plan := large(b)
	card := job.Card{Picture: NameFan, Ref: wing.LineRef("C2.7", wing.Left)}
	if got := Of(card, plan, 200, 60, Richer); len(got) < 40 {
		b.Fatalf("only %d lines", len(got))
	}
	for _, signs := range []Signs{ASCII, Richer} {
		b.Run(fmt.Sprint("signs", signs), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Of(card, plan, 200, 60, signs)
			}
		})
	}
}

func BenchmarkWalk(b *testing.B) {
	plan := large(b)
	at := wing.LineRef("C2.7", wing.Left)
	for b.Loop() {
		at = Walk(plan, at, Up)
		at = Walk(plan, at, Down)
	}
}
