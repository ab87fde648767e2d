package wing

import (
	"fmt"
	"strings"
	"testing"
)

// rowsPlan has 504 lines: 6 rows of 12 lower lines on one link, each forked twice.
func rowsPlan() string {
	var b strings.Builder
	b.WriteString("linewright_plan = 1\nname = 'n'\nsize = 's'\n[source]\ntext = 't'\ndate = 'd'\n")
	for i, row := range []string{"A", "B", "C", "D", "E", "S"} {
		fmt.Fprintf(&b, "[[riser]]\nbranch = '%s'\nlength_mm = 500\n[[link]]\nname = '%s'\nbranch = '%s'\nkind = 'soft'\n", row, row, row)
		line := func(tier, n, pos int, on string, words Tier, point string, mm int) {
			fmt.Fprintf(&b, "[[line]]\ncode = '%s%d.%d'\nrow = '%s'\ntier = '%s'\non = '%s'\npos = %d\n%slength_mm = %d\ncolour = 'colour %d'\nsheathed = %v\n",
				row, tier, n, row, words, on, pos, point, mm, i/2, tier < 3)
		}
		for n := range 12 {
			line(1, n+1, n+1, "link:"+row, Lower, "", 4000+37*n+11*i)
		}
		for n := range 24 {
			line(2, n+1, n%2+1, fmt.Sprintf("%s1.%d", row, n/2+1), Middle, "", 1500+7*n)
		}
		for n := range 48 {
			line(3, n+1, n%2+1, fmt.Sprintf("%s2.%d", row, n/2+1), Upper, fmt.Sprintf("point = '%s%d'\n", row, n+1), 600+3*n)
		}
	}
	return b.String()
}

// The next question on 500 lines of a side, both sides possible: the target is
// under 30 ms.
func BenchmarkNextOf500(b *testing.B) {
	p := parse(b, rowsPlan())
	f := NewFinder(p, "")
	b.ReportMetric(float64(len(f.table.lines)), "lines")
	b.ReportAllocs()
	for b.Loop() {
		f.Next(nil)
	}
}

// The same with the reading of the plan's features, which is done once.
func BenchmarkNewFinderOf500(b *testing.B) {
	p := parse(b, rowsPlan())
	b.ReportAllocs()
	for b.Loop() {
		NewFinder(p, "")
	}
}

func BenchmarkNextOf1988(b *testing.B) {
	f := NewFinder(parse(b, string(bigPlan())), Left)
	b.ReportAllocs()
	for b.Loop() {
		f.Next(nil)
	}
}

func BenchmarkNewFinderOfAChain(b *testing.B) {
	p := parse(b, chainOf(MaxLines))
	for b.Loop() {
		NewFinder(p, "")
	}
}

func BenchmarkNextOfAChain(b *testing.B) {
	f := NewFinder(parse(b, chainOf(MaxLines)), "")
	for b.Loop() {
		f.Next(nil)
	}
}

func BenchmarkNextSample(b *testing.B) {
	f := NewFinder(sample(b), "")
	b.ReportAllocs()
	for b.Loop() {
		f.Next(nil)
	}
}
