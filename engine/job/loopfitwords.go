package job

import (
	"fmt"
	"math"
	"strings"
)

// Words says for a person which loop fits and what each leaves: what fits best
// in the first line.
func (f *LoopFit) Words() []string {
	if f.Missing != "" {
		return []string{"No loop is reckoned: " + f.Missing + "."}
	}
	best, limit := f.Fitting.Fits[0], f.Limit.MM()
	table := "the loop table"
	if f.Fitting.LoopFallback {
		table = f.Fitting.LoopSource
	}
	out := []string{fmt.Sprintf("%s fits best: it leaves the new line %s against its twin (%s).", best.Loop, offWords(best.LeftMM), table)}
	if math.Abs(best.LeftMM) > limit {
		out[0] += fmt.Sprintf(" No loop brings it within %s.", f.Limit)
	}
	var each []string
	for _, fit := range f.Fitting.Fits {
		each = append(each, fit.Loop+" "+offWords(fit.LeftMM))
	}
	out = append(out, "Each leaves: "+strings.Join(each, "; ")+".")
	if kept := f.kept(); best.Loop != f.On && math.Abs(kept.LeftMM) <= limit {
		out = append(out, fmt.Sprintf("With %s as before it stays within %s too, and both sides stay looped alike.", f.On, f.Limit))
	}
	if best.LeftMM < 0 && f.least() == best.ShortensMM {
		out = append(out, "No loop makes it longer.")
	}
	return append(out,
		fmt.Sprintf("Reckoned from %s, noted before the work. If another loop was on when it was measured, this does not hold.", f.On),
		"Loop table: "+f.Fitting.LoopSource+".",
		"You decide: it has to carry with its neighbours.")
}

// least is what the loop takes that shortens least.
func (f *LoopFit) least() float64 {
	least := f.Fitting.Fits[0].ShortensMM
	for _, fit := range f.Fitting.Fits {
		least = min(least, fit.ShortensMM)
	}
	return least
}

// offWords says a difference: "2.1 mm long".
func offWords(mm float64) string {
	tenths := math.Round(math.Abs(mm)*10) / 10
	switch {
	case tenths == 0:
		return "0 mm off"
	case mm < 0:
		return fmt.Sprintf("%g mm short", tenths)
	}
	return fmt.Sprintf("%g mm long", tenths)
}
