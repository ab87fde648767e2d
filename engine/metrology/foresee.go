package metrology

import (
	"math"
	"slices"

	"example.org/linewright/engine/quantity"
)

// MostReadings is how many readings of one thing are thought of at most.
const MostReadings = 30

// Outlook is what a bench can reach, before anything is measured.
type Outlook struct {
	U       quantity.Length `json:"u_um"`
	Limit   quantity.Length `json:"limit_um"`
	Decides bool            `json:"decides"` // U is smaller than the limit
	// Helps holds what would make U smaller, the best first.
	Helps []Help `json:"helps,omitempty"`
}

// leastLeft is the share of the limit that a bench should leave to what is
// measured. A quarter is common practice, no source.
const leastLeft = 4

// Tight reports whether the bench decides and yet leaves less than a quarter of
// the limit: most of what is inside would then not be proved.
func (o Outlook) Tight() bool { return o.Decides && leastLeft*(o.Limit-o.U) < o.Limit }

// Help is one change of the bench and the U that it would reach.
type Help struct {
	Change  string          `json:"change"`
	U       quantity.Length `json:"u_um"`
	Decides bool            `json:"decides"`
}

// Foresee returns what n readings of o would reach on the bench against the
// limit, and what would help. The readings are taken to repeat as the bench
// says. The error is a *Error as from Evaluate, or with CodeNominal where o
// has no nominal length, CodeNoReadings where n is below 1, CodeLimit.
func Foresee(o Object, n int, b Bench, limit quantity.Length) (Outlook, error) {
	switch {
	case o.Nominal <= 0 || o.Nominal > MaxLength:
		return Outlook{}, &Error{Code: CodeNominal}
	case n < 1:
		return Outlook{}, &Error{Code: CodeNoReadings}
	case limit <= 0 || limit > MaxLength:
		return Outlook{}, &Error{Code: CodeLimit, A: limit.String()}
	}
	if err := b.Validate(); err != nil {
		return Outlook{}, err
	}
	if err := o.check(b); err != nil {
		return Outlook{}, err
	}
	now := foreseen(o, n, b)
	out := Outlook{U: now, Limit: limit, Decides: now < limit}
	for _, c := range changes(o, n, b) {
		if u := foreseen(o, c.n, c.bench); u < now {
			out.Helps = append(out.Helps, Help{Change: c.what, U: u, Decides: u < limit})
		}
	}
	slices.SortStableFunc(out.Helps, func(x, y Help) int { return int(x.U - y.U) })
	return out, nil
}

func foreseen(o Object, n int, b Bench) quantity.Length {
	m := start(o, b, o.Nominal, n)
	if b.Rule == RuleBudget {
		evaluateBudget(&m, o, b, b.Repeatability.MM(), b.RepeatabilityDoF+float64(n-1))
	} else {
		evaluateSimple(&m, b)
	}
	return m.U
}

// change is a bench that differs in one thing that a person can do.
type change struct {
	what  string
	bench Bench
	n     int
}

func changes(o Object, n int, b Bench) []change {
	var list []change
	consider := func(what string, n int, alter func(*Bench)) {
		better := b
		alter(&better)
		list = append(list, change{what, better, n})
	}
	if b.TapeClass == "II" || b.TapeClass == "III" {
		consider("a tape of class I", n, func(b *Bench) { b.TapeClass = "I" })
	}
	if b.Hook {
		consider("a tape whose zero is a printed line", n, func(b *Bench) { b.Hook = false })
	}
	if b.Rule != RuleBudget {
		return list
	}
	for _, more := range []int{3, 5, 10} {
		if more > n {
			consider(readingsWord[more], more, func(*Bench) {})
		}
	}
	if b.PullHow != PullWeight && o.State != StatePlain {
		consider("a hung weight for the pull", n, func(b *Bench) { hangWeight(o, b) })
	}
	if b.AirErrorC > 1 {
		consider("a thermometer beside the tape", n, func(b *Bench) { b.AirErrorC = 1 })
	}
	return list
}

var readingsWord = map[int]string{3: "three readings", 5: "five readings", 10: "ten readings"}

// hangWeight gives the bench the pull of the plan, known to a hundredth.
func hangWeight(o Object, b *Bench) {
	b.PullHow, b.Balance = PullWeight, nil
	b.Pull = o.planPull()
	b.PullError = min(b.PullError, max(1, b.Pull/100))
}

// ReadingsToDecide returns how many readings in all, those taken included,
// would bring a verdict if the mean stayed where it is. It is false where no
// number up to MostReadings would: then the bench has to be better, or a
// person decides.
func (m Measurement) ReadingsToDecide(expected, limit quantity.Length) (n int, ok bool) {
	deviation := m.Value - expected
	for n = m.N; n <= MostReadings; n++ {
		if verdict(int64(deviation), int64(m.withReadings(n)), int64(limit)) != NotProved {
			return n, true
		}
	}
	return 0, false
}

// withReadings is the U of n readings that repeat as those taken did.
func (m Measurement) withReadings(n int) quantity.Length {
	if n == m.N {
		return m.U
	}
	terms := slices.Clone(m.Terms)
	for i := range terms {
		if t := &terms[i]; t.Source == sourceRepeatability {
			t.UMM *= math.Sqrt(float64(m.N) / float64(n))
			t.DoF += float64(n - m.N)
		}
	}
	_, _, _, u := expand(terms)
	return u
}
