package metrology

import (
	"math"

	"example.org/linewright/engine/quantity"
)

// tapeClass holds the coefficients in mm of directive 2014/32/EU, annex X,
// chapter I: the greatest permitted error is a + b·L, with L in metres rounded
// up to the whole metre, and c more where the zero is a hook or an end face.
type tapeClass struct{ a, b, c float64 }

var tapeClasses = map[string]tapeClass{
	"I":   {0.1, 0.1, 0.1},
	"II":  {0.3, 0.2, 0.2},
	"III": {0.6, 0.4, 0.3},
}

// TapeError returns the greatest permitted error of a tape in mm after
// directive 2014/32/EU, annex X, with c included for a hook. The class must be
// "I", "II" or "III"; ok is false for another, or for a negative length.
func TapeError(class string, length quantity.Length, hook bool) (errorMM float64, ok bool) {
	t, ok := tapeClasses[class]
	if !ok || length < 0 {
		return 0, false
	}
	errorMM = t.a + t.b*wholeMetresUp(length)
	if hook {
		errorMM += t.c
	}
	return errorMM, true
}

func wholeMetresUp(l quantity.Length) float64 {
	return float64((l + quantity.Metre - 1) / quantity.Metre)
}

// rectangular is the standard uncertainty of an error that lies anywhere
// within ±half (JCGM 100:2008, 4.3.7).
func rectangular(half float64) float64 { return half / math.Sqrt(3) }

// resolution is the standard uncertainty of a reading rounded to the step
// (JCGM 100:2008, F.2.2.1).
func resolution(step float64) float64 { return step / math.Sqrt(12) }
