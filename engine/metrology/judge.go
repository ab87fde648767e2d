package metrology

import "example.org/linewright/engine/quantity"

// Verdict is what a deviation proves against its limit.
type Verdict string

// The verdicts.
const (
	Inside    Verdict = "inside"
	Outside   Verdict = "outside"
	NotProved Verdict = "not proved"
)

// DecisionRule is the text of the decision rule, as it stands in a record.
const DecisionRule = "guard band U after ISO 14253-1 and JCGM 106: inside up to limit - U, outside beyond limit + U, else not proved"

// Judgement is a verdict and what it rests on.
type Judgement struct {
	Deviation quantity.Length `json:"deviation_um"` // positive: long
	U         quantity.Length `json:"u_um"`
	Limit     quantity.Length `json:"limit_um"` // either way
	Verdict   Verdict         `json:"verdict"`
	// Probability is the probability that the true value is inside the limit.
	Probability float64 `json:"probability_inside"`
	Rule        string  `json:"rule"`
}

// Judge applies DecisionRule to a deviation from the expected value. The
// probability takes U as two standard deviations of a normal distribution.
// The error is a *Error where U or the limit is not above zero, or any of the
// three is beyond MaxLength.
func Judge(deviation, u, limit quantity.Length) (Judgement, error) {
	return judge(deviation, u, limit, u.MM()/2, 0)
}

// Judge is the function Judge on the measurement's deviation from the expected
// value, with the probability after its own degrees of freedom.
func (m Measurement) Judge(expected, limit quantity.Length) (Judgement, error) {
	return judge(m.Value-expected, m.U, limit, m.StandardMM, m.DoF)
}

// Judge is the function Judge on the difference, with the probability after
// its own degrees of freedom.
func (d Difference) Judge(limit quantity.Length) (Judgement, error) {
	return judge(d.Value, d.U, limit, d.StandardMM, d.DoF)
}

func judge(deviation, u, limit quantity.Length, standardMM, dof float64) (Judgement, error) {
	if u <= 0 || u > MaxLength || !(standardMM > 0) {
		return Judgement{}, &Error{Code: CodeNoUncertainty}
	}
	if limit <= 0 || limit > MaxLength {
		return Judgement{}, &Error{Code: CodeLimit, A: limit.String()}
	}
	if deviation < -MaxLength || deviation > MaxLength {
		return Judgement{}, &Error{Code: CodeReading, A: deviation.String()}
	}
	inside := probabilityWithin(deviation.MM(), standardMM, dof, -limit.MM(), limit.MM())
	return Judgement{
		Deviation: deviation, U: u, Limit: limit,
		Verdict:     verdict(int64(deviation), int64(u), int64(limit)),
		Probability: tenDigits(inside),
		Rule:        DecisionRule,
	}, nil
}

func verdict(deviation, u, limit int64) Verdict {
	if deviation < 0 {
		deviation = -deviation
	}
	switch {
	case deviation <= limit-u:
		return Inside
	case deviation > limit+u:
		return Outside
	}
	return NotProved
}
