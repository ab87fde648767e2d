package metrology

import (
	"math"

	"example.org/linewright/engine/quantity"
)

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
// The error is a *Error where U or the limit is not above zero,
// or any of the three is beyond MaxLength.
func Judge(deviation, u, limit quantity.Length) (Judgement, error) {
	if u <= 0 || u > MaxLength {
		return Judgement{}, &Error{Code: CodeNoUncertainty}
	}
	if limit <= 0 || limit > MaxLength {
		return Judgement{}, &Error{Code: CodeLimit, A: limit.String()}
	}
	if deviation < -MaxLength || deviation > MaxLength {
		return Judgement{}, &Error{Code: CodeReading, A: deviation.String()}
	}
	j := Judgement{
		Deviation: deviation, U: u, Limit: limit,
		Verdict: verdict(int64(deviation), int64(u), int64(limit)),
		Rule:    DecisionRule,
	}
	standard := u.MM() / 2
	j.Probability = tenDigits(normalBelow((limit-deviation).MM()/standard) - normalBelow((-limit-deviation).MM()/standard))
	return j, nil
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

// normalBelow is the probability that a standard normal value lies below z.
func normalBelow(z float64) float64 { return 0.5 * math.Erfc(-z/math.Sqrt2) }
