package job

import (
	"strconv"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/quantity"
)

func (j *Job) scale(t *Task, s *procedure.Slot) *Scale {
	sc := &Scale{Quantity: quantity.Kind(s.Step.Quantity), Need: max(s.Step.Readings, 1), Source: s.Fill(s.Step.Source, t), LimitOf: s.Fill(s.Step.LimitOf, t)}
	if want, ok, err := s.Expect(t); ok && err == nil {
		sc.Expected, err = quantity.LengthFromMM(want)
		sc.HasValue = err == nil
	}
	if s.Step.Against != "" {
		if key, ok := s.KeyOf(s.Step.Against); ok {
			if a := t.answers[key]; a != nil && a.State == Ready && a.Measurement != nil {
				sc.Expected, sc.HasValue, sc.Against, sc.Source = a.Measurement.Value, true, key, "measured, entry "+strconv.Itoa(a.Line)
			}
		}
	}
	if limit, ok, err := s.Limit(t); ok && err == nil {
		sc.Limit, err = quantity.LengthFromMM(limit)
		sc.HasLimit = err == nil
	}
	sc.Bench = j.Bench
	if sc.Quantity == quantity.KindLength {
		sc.Nominal = j.object(t, s).Nominal
	}
	if sc.HasLimit && sc.Quantity == quantity.KindLength {
		if o, err := metrology.Foresee(j.object(t, s), sc.Need, j.Bench, sc.Limit); err == nil {
			sc.Outlook = &o
		}
	}
	a := t.answers[s.Key]
	if a == nil || a.State == Void {
		sc.Covered = s.Step.Blind
		return sc
	}
	sc.Readings, sc.Value, sc.Judgement = a.Readings, a.Measurement, a.Judgement
	sc.Covered = s.Step.Blind && len(a.counting()) < sc.Need
	if a.Measurement != nil {
		sc.U, sc.Deviation = a.Measurement.U, a.Measurement.Value-sc.Expected
		if a.Difference != nil {
			sc.U, sc.Deviation = a.Difference.U, a.Difference.Value
		}
	}
	return sc
}

// Holds names what the expected value is: "plan" where it is the plan's length,
// "against" where it was measured, else "expected".
func (s *Scale) Holds() string {
	switch {
	case s.Against != "":
		return "against"
	case s.Nominal > 0 && s.Expected == s.Nominal:
		return "plan"
	}
	return "expected"
}

// Expects is the expected value in the unit of its own quantity.
func (s *Scale) Expects() quantity.Value {
	v := quantity.Value{Kind: s.Quantity, N: int64(s.Expected)}
	if v.Kind == quantity.KindCount {
		v.N /= 1000 // Expected holds thousandths, as of every other quantity
	}
	return v
}

// Odd gives the entry of the reading furthest from the middle one, the one
// that a refusal of readings names; 0 where fewer than three count, or while
// they are covered.
func (s *Scale) Odd() int {
	rs := (&Answer{Readings: s.Readings}).counting()
	if s.Covered || len(rs) < 3 {
		return 0
	}
	return odd(rs).Line
}
