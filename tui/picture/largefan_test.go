package picture

import (
	"fmt"
	"strings"
	"testing"

	"example.org/linewright/engine/wing"
)

// Every line of a plan of 400 lines a side is shown beside a card, in brackets,
// with its twin and its neighbours named. The widths go round from line to line.
func TestFanOfEveryLineOfALargePlan(t *testing.T) {
	plan := large(t)
	const first, last, apart = 56, 80, 5
	for i, l := range plan.Lines {
		side := wing.Sides[i%2]
		for w := first + i%apart; w <= last; w += apart {
			what := fmt.Sprint(l.Code, " ", side, " at ", w)
			got := strings.Join(Fan(plan, side, map[string]Mark{l.Code: InHand}, w, 14, ASCII), "\n")
			equal(t, what, strings.Count(got, "["+l.Code+"]"), 1)
			equal(t, what+" twin", strings.Contains(got, "twin: "+l.Code+" "+string(side.Other())), true)
			equal(t, what+" beyond", strings.Contains(got, " more toward the "), true)
			for _, beside := range plan.Neighbours(l.Code) {
				equal(t, what+" beside "+beside.Code, strings.Contains(got, beside.Code), true)
			}
		}
	}
}
