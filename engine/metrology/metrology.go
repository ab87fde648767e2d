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

// MaxLength is the longest length that is evaluated, 100 m. It stands far
// above any line, so that only a slip of typing meets it.
const MaxLength = 100 * quantity.Metre

// Reading is one value as typed and as understood.
type Reading struct {
	Typed string          `json:"typed,omitempty"`
	Value quantity.Length `json:"value_um"`
}

// Term is one contribution to an uncertainty. A person follows it by hand:
// Given, through the distribution, makes U; U times Sens makes UMM.
type Term struct {
	Source string `json:"source"`
	Given  string `json:"given,omitempty"`
	// Distribution is "rectangular", "normal", "t", or "product" of two
	// rectangular ones.
	Distribution string `json:"distribution"`
	// U is the standard uncertainty of the source in its own unit.
	U    float64 `json:"u"`
	Unit string  `json:"unit"`
	// Sens is the change of the result in mm for one unit of the source, and
	// SensFrom how it came about, empty where it is plainly one.
	Sens     float64 `json:"sens_mm_per_unit"`
	SensFrom string  `json:"sens_from,omitempty"`
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
	Pin          quantity.Length `json:"pin_um,omitempty"` // of a loose line
	Bench        string          `json:"bench"`
	BenchDefault bool            `json:"bench_default,omitempty"` // the bench is the fallback
	Rule         string          `json:"rule"`
	StandardMM   float64         `json:"standard_uncertainty_mm"`
	DoF          float64         `json:"dof,omitempty"` // effective; 0: infinite
	K            float64         `json:"k"`
	Terms        []Term          `json:"terms"`
	Corrections  []Correction    `json:"corrections,omitempty"`
}

// Evaluate returns the measurement of o from the readings, by the rule of the
// bench. The error is a *Error: no readings, a reading below zero or beyond
// MaxLength, an object that cannot be evaluated, or a bench that Validate
// refuses.
func Evaluate(o Object, rs []Reading, b Bench) (Measurement, error) {
	if err := checkReadings(rs); err != nil {
		return Measurement{}, err
	}
	if err := b.Validate(); err != nil {
		return Measurement{}, err
	}
	if err := o.check(b); err != nil {
		return Measurement{}, err
	}
	m := start(o, b, mean(rs), len(rs))
	m.Spread = Spread(rs)
	if b.Rule == RuleBudget {
		deviationMM, dof := pooled(rs, b)
		evaluateBudget(&m, o, b, deviationMM, dof)
	} else {
		evaluateSimple(&m, b)
	}
	return m, nil
}

func start(o Object, b Bench, mean quantity.Length, n int) Measurement {
	m := Measurement{Value: mean, Mean: mean, N: n, State: o.State, Bench: b.Name, BenchDefault: b.Default}
	if o.State == StateLoose {
		m.Pin = b.Pin
	}
	return m
}

func checkReadings(rs []Reading) error {
	if len(rs) == 0 {
		return &Error{Code: CodeNoReadings}
	}
	for _, r := range rs {
		if r.Value < 0 || r.Value > MaxLength {
			return &Error{Code: CodeReading, A: r.Value.String()}
		}
	}
	return nil
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

// Deviation returns the standard deviation (n - 1) of one reading in mm, 0 with
// fewer than two.
func Deviation(rs []Reading) float64 {
	if len(rs) < 2 {
		return 0
	}
	values := make([]float64, len(rs))
	for i, r := range rs {
		values[i] = float64(r.Value)
	}
	_, deviationUM := meanAndDeviation(values)
	return deviationUM / 1000
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

// pooled returns the standard deviation of one reading and its degrees of
// freedom: what the bench knows of these hands and what these readings show,
// each with its weight (JCGM 100:2008, 4.2.4). So a single reading has an
// uncertainty, identical ones too, and a second reading never widens U only
// because two alone say little.
func pooled(rs []Reading, b Bench) (deviationMM, dof float64) {
	shown := Deviation(rs)
	own := float64(len(rs) - 1)
	prior := b.Repeatability.MM()
	dof = b.RepeatabilityDoF + own
	sum := b.RepeatabilityDoF*prior*prior + own*shown*shown
	return math.Sqrt(sum / dof), dof
}

// roundUp returns a length in mm as whole micrometres, never smaller. A
// picometre is let go first: it is noise of the arithmetic, and would make
// U differ by a micrometre between processors.
func roundUp(mm float64) quantity.Length {
	return quantity.Length(math.Ceil(mm*1000 - 1e-6))
}
