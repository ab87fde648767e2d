package tui

import (
	"fmt"
	"strings"
	"testing"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/store"
	"example.org/linewright/engine/wing"
	"example.org/linewright/procedures"
)

// largePlan has 408 lines a side: four rows of 102 lines on six lower ones.
func largePlan() string {
	var b strings.Builder
	b.WriteString("linewright_plan = 1\nname = 'Large'\nsize = 'L'\npaths_from = \"link\"\n[source]\ntext = 't'\ndate = 'd'\n")
	for i, row := range []string{"A", "B", "C", "D"} {
		fmt.Fprintf(&b, "[[riser]]\nbranch = '%s'\nlength_mm = 500\n[[link]]\nname = '%s'\nbranch = '%s'\nkind = 'soft'\n", row, row, row)
		for n := range 6 {
			fmt.Fprintf(&b, "[[line]]\ncode = '%s1.%d'\nrow = '%s'\ntier = 'lower'\non = 'link:%s'\npos = %d\nlength_mm = %d\nsheathed = true\n", row, n+1, row, row, n+1, 4000+37*n+11*i)
		}
		for n := range 96 {
			fmt.Fprintf(&b, "[[line]]\ncode = '%s2.%d'\nrow = '%s'\ntier = 'upper'\non = '%s1.%d'\npos = %d\npoint = '%s%d'\nlength_mm = %d\nsheathed = false\n", row, n+1, row, row, n/16+1, n%16+1, row, n+1, 1500+7*n)
		}
	}
	return b.String()
}

// What one key costs on the largest screens: a plan of 408 lines a side, drawn
// at 200 x 60. The target is 2 ms in the median and 5 ms in the 99th percentile.
func BenchmarkKeyOnALargePlan(b *testing.B) {
	for _, x := range []struct {
		id, target string
		keys       []string
	}{
		{"trim-measure", wing.Whole().Text(), []string{"4", "backspace"}},
		{"damage-survey", wing.Whole().Text(), []string{"down", "up"}},
		{"line-swap", "line:C2.40@left", []string{"down", "up"}},
	} {
		b.Run(x.id, func(b *testing.B) {
			st := newStore(b, nil)
			if _, err := st.AddWing(store.Wing{ID: "large", Name: "Large wing"}, []byte(largePlan())); err != nil {
				b.Fatal(err)
			}
			u := sitDown(b, st, procedures.Files(), 200, 60, nil).startOn("large", x.id, x.target)
			for x.id == "trim-measure" && u.due().Fields[0].Kind != procedure.Lengths {
				u.step()
			}
			if x.id != "trim-measure" {
				u.press("tab")
			}
			measure(b, u, x.keys)
		})
	}
}
