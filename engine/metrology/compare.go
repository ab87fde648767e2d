package metrology

import (
	"math"
	"strconv"

	"example.org/linewright/engine/quantity"
)

// Difference is one measurement minus another of its kind.
type Difference struct {
	Value      quantity.Length `json:"value_um"`
	U          quantity.Length `json:"u_um"`
	State      State           `json:"state"`
	Rule       string          `json:"rule"`
	StandardMM float64         `json:"standard_uncertainty_mm"`
	DoF        float64         `json:"dof,omitempty"` // effective; 0: infinite
	K          float64         `json:"k"`
	Terms      []Term          `json:"terms"`
}

// Compare returns a − b with its uncertainty. What the two share is one error
// that moves both and counts once, by the difference of its effects. The error
// is a *Error with CodeNotAlike where the two were not measured in the same
// state, or loose on pins of different size, and CodeNotEvaluated where one
// did not come from Evaluate.
func Compare(a, b Measurement) (Difference, error) {
	if len(a.Terms) == 0 || len(b.Terms) == 0 {
		return Difference{}, &Error{Code: CodeNotEvaluated}
	}
	if a.State != b.State {
		return Difference{}, &Error{Code: CodeNotAlike, A: string(a.State), B: string(b.State)}
	}
	if a.Pin != b.Pin && a.Pin != 0 && b.Pin != 0 {
		return Difference{}, &Error{Code: CodeNotAlike, A: "on pins of " + a.Pin.String(), B: "on pins of " + b.Pin.String()}
	}
	d := Difference{Value: a.Value - b.Value, State: a.State, Rule: a.Rule, Terms: differenceTerms(a, b)}
	if a.Rule != b.Rule {
		d.Rule = a.Rule + "; and " + b.Rule
	}
	d.StandardMM, d.DoF, d.K, d.U = expand(d.Terms)
	return d, nil
}

// differenceTerms joins the terms of a with their partners in b and keeps the
// rest of both.
func differenceTerms(a, b Measurement) []Term {
	terms := make([]Term, 0, len(a.Terms)+len(b.Terms))
	joined := make([]bool, len(b.Terms))
	for _, t := range a.Terms {
		for i, other := range b.Terms {
			if joined[i] {
				continue
			}
			if together, ok := join(t, other, a.Bench == b.Bench); ok {
				t, joined[i] = together, true
				break
			}
		}
		terms = append(terms, t)
	}
	for i, t := range b.Terms {
		if !joined[i] {
			terms = append(terms, t)
		}
	}
	return terms
}

// join makes one term of two that hang together. Two repeatabilities of one
// bench are two errors, but both lean on the same knowledge of its spread, so
// their degrees of freedom must not add up.
func join(a, b Term, sameBench bool) (Term, bool) {
	together := Term{Source: a.Source, Distribution: a.Distribution, Unit: "mm", Sens: 1}
	switch {
	case a.Shared != "" && a.Shared == b.Shared:
		first, second := a.Sens*a.U, b.Sens*b.U
		if first < 0 {
			first, second = -first, -second
		}
		together.Given = "shared, " + seven(first) + " - " + seven(second) + " mm"
		together.Shared = a.Shared
		together.U = math.Abs(first - second)
		return together.complete(), true
	case sameBench && a.Source == sourceRepeatability && b.Source == sourceRepeatability:
		together.Given = "of both, " + seven(a.UMM) + " and " + seven(b.UMM) + " mm"
		together.U = math.Hypot(a.UMM, b.UMM)
		together.DoF = min(a.DoF, b.DoF)
		return together.complete(), true
	}
	return Term{}, false
}

// seven prints a number whose difference to another may be small.
func seven(x float64) string { return strconv.FormatFloat(x, 'g', 7, 64) }
