package metrology

import (
	"slices"

	"example.org/linewright/engine/quantity"
)

// RepeatRule is the text of the spread test, as it stands in a record.
const RepeatRule = "spread of n readings up to the critical range of ISO 5725-6 at 95 %, from the bench's repeatability"

// Repeat is the outcome of the spread test.
type Repeat struct {
	Spread  quantity.Length `json:"spread_um"`
	Allowed quantity.Length `json:"allowed_um"`
	Agrees  bool            `json:"agrees"`
	// Farthest is the index of the reading that lies farthest from the median
	// of three or more that do not agree, else -1. It is asked about, never
	// dropped. Of two nobody can tell.
	Farthest int    `json:"farthest"`
	Rule     string `json:"rule"`
}

// criticalRange holds the factors f(n) of ISO 5725-6 for n from 2 (from
// memory): 95 % of sets of n readings spread less than f(n) standard
// deviations. Beyond ten readings the last one serves; it asks a little sooner.
var criticalRange = []float64{2.8, 3.3, 3.6, 3.9, 4.0, 4.2, 4.3, 4.4, 4.5}

// Repeats tests whether the readings agree as well as these hands usually do.
// A bench without a repeatability is judged by that of DefaultBench. The error
// is a *Error for readings that Evaluate would refuse.
func Repeats(rs []Reading, b Bench) (Repeat, error) {
	if err := checkReadings(rs); err != nil {
		return Repeat{}, err
	}
	r := Repeat{Spread: Spread(rs), Agrees: true, Farthest: -1, Rule: RepeatRule}
	if len(rs) == 1 {
		return r, nil
	}
	deviation := b.Repeatability
	if deviation <= 0 {
		deviation = DefaultBench().Repeatability
	}
	factor := criticalRange[min(len(rs)-2, len(criticalRange)-1)]
	r.Allowed = roundUp(factor * deviation.MM())
	r.Agrees = r.Spread <= r.Allowed
	if !r.Agrees && len(rs) > 2 {
		r.Farthest = farthest(rs)
	}
	return r, nil
}

// farthest returns the index of the reading farthest from the median, the
// earlier one of two.
func farthest(rs []Reading) int {
	middle := twiceMedian(rs)
	best := 0
	for i, r := range rs {
		if (2*r.Value - middle).Abs() > (2*rs[best].Value - middle).Abs() {
			best = i
		}
	}
	return best
}

// twiceMedian doubles so that the middle of an even count stays whole.
func twiceMedian(rs []Reading) quantity.Length {
	sorted := make([]quantity.Length, len(rs))
	for i, r := range rs {
		sorted[i] = r.Value
	}
	slices.Sort(sorted)
	return sorted[(len(sorted)-1)/2] + sorted[len(sorted)/2]
}

// Reference returns a *Error unless the readings may serve as a reference for
// another line: at least two that agree. A bare core whose sheath slides does
// not repeat, and what is compared with it would be judged by chance.
func Reference(rs []Reading, b Bench) error {
	r, err := Repeats(rs, b)
	if err != nil {
		return err
	}
	if len(rs) < 2 {
		return &Error{Code: CodeOneReading}
	}
	if !r.Agrees {
		return &Error{Code: CodeNotRepeating, A: r.Spread.String(), B: r.Allowed.String()}
	}
	return nil
}
