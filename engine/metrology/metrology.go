// Package metrology turns readings into a measurement with its uncertainty,
// compares two measurements and judges a deviation against a limit.
//
// Three doors serve every caller: Evaluate, Compare and Judge. Lengths are
// whole micrometres; a float carries its unit in its name. The package reads
// no clock, no file and no chance, so the same readings on the same bench
// give the same measurement, byte for byte.
//
// Words are those of JCGM 100:2008 (the GUM): a standard uncertainty u is one
// standard deviation, an expanded uncertainty U is k times u.
package metrology

import (
	"math"

	"example.org/linewright/engine/quantity"
)

// State says how a thing lay when it was measured. Like is compared with like
// only: a loop inside a hitch and one on a pin differ by millimetres that look
// like a deviation.
type State string

// The states.
const (
	StateLoose     State = "loose"     // a line off the wing, loop to loop on pins
	StateInstalled State = "installed" // a line or a path on the wing
	StatePlain     State = "plain"     // a distance without loops, on webbing or a brake line
)

// MaxLength is the longest length that is evaluated, 100 m. It stands far
// above any line, so that only a slip of typing meets it.
const MaxLength = 100 * quantity.Metre

// Object is what is measured.
type Object struct {
	Nominal  quantity.Length `json:"nominal_um,omitempty"`  // 0: not known
	Strength quantity.Force  `json:"strength_mn,omitempty"` // 0: not known
	State    State           `json:"state"`
}

// Reading is one value as typed and as understood.
type Reading struct {
	Typed string          `json:"typed,omitempty"`
	Value quantity.Length `json:"value_um"`
}

// Term is one contribution to an uncertainty.
type Term struct {
	Source string `json:"source"`
	// Distribution is "rectangular", "normal" or "t".
	Distribution string `json:"distribution"`
	// U is the standard uncertainty of the source in its own unit.
	U    float64 `json:"u"`
	Unit string  `json:"unit"`
	// Sens is the change of the result in mm for one unit of the source.
	Sens float64 `json:"sens_mm_per_unit"`
	// UMM is the contribution |Sens|·U in mm.
	UMM float64 `json:"u_mm"`
	// DoF is the degrees of freedom; 0 stands for infinite, which JSON lacks.
	DoF float64 `json:"dof,omitempty"`
	// Shared names what two measurements have in common: terms of equal,
	// non-empty name are one error, and Compare counts it once.
	Shared string `json:"shared,omitempty"`
}

// Correction is a known effect that was taken out of the mean of the readings.
type Correction struct {
	Source  string  `json:"source"`
	AddedMM float64 `json:"added_mm"`
	Detail  string  `json:"detail"`
}

// Measurement is the evaluated set of readings of one thing.
type Measurement struct {
	Value        quantity.Length `json:"value_um"` // corrected
	U            quantity.Length `json:"u_um"`     // expanded, rounded up
	Mean         quantity.Length `json:"mean_um"`  // of the readings, not corrected
	Spread       quantity.Length `json:"spread_um"`
	N            int             `json:"n"`
	State        State           `json:"state"`
	Bench        string          `json:"bench"`
	BenchDefault bool            `json:"bench_default,omitempty"` // the bench is the fallback
	Rule         string          `json:"rule"`
	StandardMM   float64         `json:"standard_uncertainty_mm"`
	DoF          float64         `json:"dof,omitempty"` // effective; 0: infinite
	K            float64         `json:"k"`
	Terms        []Term          `json:"terms"`
	Corrections  []Correction    `json:"corrections,omitempty"`
}

// Evaluate returns the measurement of o from the readings on the bench. The
// error is a *Error: no readings, a reading below zero or beyond MaxLength, an
// unknown state, or a bench that Validate refuses.
func Evaluate(o Object, rs []Reading, b Bench) (Measurement, error) {
	if err := checkInput(o, rs, b); err != nil {
		return Measurement{}, err
	}
	m := Measurement{
		Mean:         mean(rs),
		Spread:       Spread(rs),
		N:            len(rs),
		State:        o.State,
		Bench:        b.Name,
		BenchDefault: b.Default,
	}
	m.Value = m.Mean
	evaluateSimple(&m, b)
	return m, nil
}

func checkInput(o Object, rs []Reading, b Bench) error {
	switch o.State {
	case StateLoose, StateInstalled, StatePlain:
	default:
		return &Error{Code: CodeState, A: string(o.State)}
	}
	if len(rs) == 0 {
		return &Error{Code: CodeNoReadings}
	}
	for _, r := range rs {
		if r.Value < 0 || r.Value > MaxLength {
			return &Error{Code: CodeReading, A: r.Value.String()}
		}
	}
	return b.Validate()
}

// Spread returns the greatest reading minus the least, 0 without readings.
func Spread(rs []Reading) quantity.Length {
	if len(rs) == 0 {
		return 0
	}
	low, high := rs[0].Value, rs[0].Value
	for _, r := range rs[1:] {
		low, high = min(low, r.Value), max(high, r.Value)
	}
	return high - low
}

// mean is exact until it is rounded to the micrometre, half away from zero.
// Readings are not negative.
func mean(rs []Reading) quantity.Length {
	var sum quantity.Length
	for _, r := range rs {
		sum += r.Value
	}
	n := quantity.Length(len(rs))
	return (2*sum + n) / (2 * n)
}

// roundUp returns a length in mm as whole micrometres, never smaller. A
// picometre is let go first: it is noise of the arithmetic, and would make
// U differ by a micrometre between processors.
func roundUp(mm float64) quantity.Length {
	return quantity.Length(math.Ceil(mm*1000 - 1e-6))
}
