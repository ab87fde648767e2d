package metrology

import (
	"math"

	"example.org/linewright/engine/quantity"
)

// Bench says with what, and how, a length is measured. It is stored as TOML,
// one file for each workplace.
type Bench struct {
	Name string `toml:"name" json:"name"`
	// Default says that nobody described this bench: it is the fallback, and
	// wherever it acts this must be shown, with Note.
	Default bool   `toml:"default,omitempty" json:"default,omitempty"`
	Note    string `toml:"note,omitempty" json:"note,omitempty"`
	// Rule chooses how readings are evaluated: RuleSimple, also if empty.
	Rule string `toml:"rule,omitempty" json:"rule,omitempty"`

	TapeClass  string          `toml:"tape_class" json:"tape_class"` // "I", "II" or "III"
	Graduation quantity.Length `toml:"graduation_um" json:"graduation_um"`
	// Hook says that the zero of the tape is a hook or an end face, not a line.
	Hook bool           `toml:"hook" json:"hook"`
	Pull quantity.Force `toml:"pull_mn" json:"pull_mn"`
}

// RuleSimple names the simple rule in a bench.
const RuleSimple = "simple"

// DefaultBench returns the bench that stands in until someone describes
// theirs.
func DefaultBench() Bench {
	return Bench{
		Name:       "default bench",
		Default:    true,
		Note:       "a fallback, nobody described this bench: tape class II, 1 mm graduation, plain zero, 50 N pull",
		Rule:       RuleSimple,
		TapeClass:  "II",
		Graduation: quantity.Millimetre,
		Pull:       50 * quantity.Newton,
	}
}

// Validate returns a *Error that names the key at fault.
func (b Bench) Validate() error {
	bad := func(key, want string) error { return &Error{Code: CodeBench, A: key, B: want} }
	if b.Rule != "" && b.Rule != RuleSimple {
		return bad("rule", `"`+RuleSimple+`"`)
	}
	if _, ok := tapeClasses[b.TapeClass]; !ok {
		return bad("tape_class", `"I", "II" or "III"`)
	}
	if b.Graduation <= 0 || b.Graduation > 10*quantity.Centimetre {
		return bad("graduation_um", "above 0, at most 100000")
	}
	if b.Pull < 0 || b.Pull > 10000*quantity.Newton {
		return bad("pull_mn", "from 0 to 10000000")
	}
	return nil
}

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
