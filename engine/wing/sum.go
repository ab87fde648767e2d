package wing

import (
	"math"
	"strconv"

	"example.org/linewright/engine/quantity"
)

// Step is one line of a bench sum, so that a person can follow it by hand.
type Step struct {
	Term   string `json:"term"`
	Value  string `json:"value"`  // with its unit
	Source string `json:"source"` // who gives it, or the formula
}

// String gives "term = value (source)".
func (s Step) String() string { return s.Term + " = " + s.Value + " (" + s.Source + ")" }

// SumError is the refusal of a bench sum: nothing was reckoned.
type SumError struct {
	What string
	Cure string
}

// Error says in one line what is wrong and in one line what to do.
func (e *SumError) Error() string { return e.What + "\n" + e.Cure }

func refuse(what, cure string) error { return &SumError{what, cure} }

const (
	asGiven  = "as given"
	practice = "common practice, no source"
	fallback = "fallback: " + practice
)

// orGiven names the source of a number that a person typed without one.
func orGiven(source string) string {
	if source == "" {
		return asGiven
	}
	return source
}

// fromMM rounds a reckoned number of millimetres to the micrometre. The sums
// keep it far from what a Length cannot hold.
func fromMM(mm float64) quantity.Length { return quantity.Length(math.Round(mm * 1000)) }

// showMM prints millimetres to the micrometre, without needless decimals.
func showMM(mm float64) string { return fromMM(mm).String() }

// showNumber prints a number with at most so many decimals, without needless ones.
func showNumber(x float64, decimals int) string {
	unit := math.Pow10(decimals)
	return strconv.FormatFloat(math.Round(x*unit)/unit, 'f', -1, 64)
}

// showLeast prints a least force in N to the tenth, rounded up: what is shown
// never asks less than the rule.
func showLeast(newtons float64) string { return showNumber(math.Ceil(newtons*10-1e-6)/10, 1) + " N" }
