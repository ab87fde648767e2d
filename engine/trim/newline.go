package trim

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/linewright/engine/quantity"
)

// Fitting is the loop choice for one new line among worn neighbours: one line
// is free, and the mean of its neighbours is what it has to meet.
type Fitting struct {
	NewMM        float64   `json:"new_deviation_mm"` // as it hangs, with the loop it has on
	NeighboursMM []float64 `json:"neighbour_deviations_mm"`
	TargetMM     float64   `json:"target_mm"`
	Fits         []Fit     `json:"fits"` // the best first
	LoopSource   string    `json:"loop_source"`
	LoopFallback bool      `json:"loop_fallback,omitempty"`
}

// Fit is what one loop makes of the new line.
type Fit struct {
	Loop       string  `json:"loop"`
	ShortensMM float64 `json:"shortens_mm"`
	// LeftMM is how long the line stays relative to its neighbours; negative: short.
	LeftMM float64 `json:"left_mm"`
}

// FitNew ranks the loops for a new line. on is the loop with which its
// deviation was found. Of loops that leave as much, the one that shortens less
// comes first, then the one that stands earlier in the table.
func FitNew(table LoopTable, on string, deviation quantity.Length, neighbours []quantity.Length) (Fitting, error) {
	if err := table.check(); err != nil {
		return Fitting{}, err
	}
	now := table.index(on)
	if now < 0 {
		return Fitting{}, refuse(fmt.Sprintf("the loop %q is not in the table", on), "name the loop with which the new line was measured")
	}
	if len(neighbours) == 0 {
		return Fitting{}, refuse("a line alone has no neighbours to meet", "compare it with its twin, or with the plan")
	}
	f := Fitting{NewMM: deviation.MM(), LoopSource: table.Source, LoopFallback: table.Fallback}
	sum := quantity.Length(0)
	for _, d := range neighbours {
		if d.Abs() > quantity.Metre {
			return Fitting{}, refuse(fmt.Sprintf("a neighbour %s off cannot be", d), "measure it again; up to 1 m is taken")
		}
		sum += d
		f.NeighboursMM = append(f.NeighboursMM, d.MM())
	}
	target := quantity.Length(math.Round(float64(sum) / float64(len(neighbours))))
	f.TargetMM = target.MM()
	for _, l := range table.Loops {
		left := deviation - (l.Shortens - table.Loops[now].Shortens) - target
		f.Fits = append(f.Fits, Fit{l.Code, l.Shortens.MM(), left.MM()})
	}
	slices.SortStableFunc(f.Fits, func(a, b Fit) int {
		return cmp.Or(cmp.Compare(math.Abs(a.LeftMM), math.Abs(b.LeftMM)), cmp.Compare(a.ShortensMM, b.ShortensMM))
	})
	return f, nil
}

// Words says the fitting for a person.
func (f Fitting) Words() []string {
	out := []string{
		fmt.Sprintf("The neighbours are %s in the mean, the new line %s.", long(f.TargetMM), long(f.NewMM)),
	}
	var loops []string
	for i, fit := range f.Fits {
		text := fmt.Sprintf("%s (shortens %s mm): leaves it %s relative to them", fit.Loop, tenths(fit.ShortensMM), long(fit.LeftMM))
		if i == 0 {
			text += ", the best"
		}
		loops = append(loops, text)
	}
	out = append(out, titled("Loops", loops)...)
	return append(out, "Loop table: "+strings.TrimSpace(f.LoopSource)+".")
}
