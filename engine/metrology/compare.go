package metrology

import "example.org/linewright/engine/quantity"

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

// Compare returns a − b with its uncertainty. The error is a *Error with
// CodeNotAlike where the two were not measured in the same state or by the
// same rule, and CodeNotEvaluated where one did not come from Evaluate.
func Compare(a, b Measurement) (Difference, error) {
	if len(a.Terms) == 0 || len(b.Terms) == 0 {
		return Difference{}, &Error{Code: CodeNotEvaluated}
	}
	if a.State != b.State {
		return Difference{}, &Error{Code: CodeNotAlike, A: string(a.State), B: string(b.State)}
	}
	if a.Rule != b.Rule {
		return Difference{}, &Error{Code: CodeNotAlike, A: a.Rule, B: b.Rule}
	}
	d := Difference{
		Value: a.Value - b.Value,
		State: a.State,
		Rule:  a.Rule,
		K:     2,
		Terms: append(append([]Term{}, a.Terms...), b.Terms...),
	}
	u, _ := Combine(d.Terms)
	d.StandardMM = tenDigits(u)
	d.U = roundUp(d.K * u)
	return d, nil
}
