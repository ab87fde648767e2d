package trim

import (
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

// Limit is a greatest deviation to either side and who says so.
type Limit struct {
	MM       float64 `json:"limit_mm"`
	Source   string  `json:"source"`
	Fallback bool    `json:"fallback,omitempty"` // the plan states none
}

// Limits holds what a trim is judged by.
type Limits struct {
	Path  Limit `json:"path"`  // a path against the plan
	Sides Limit `json:"sides"` // a path of the left against the same of the right
	Rows  Limit `json:"rows"`  // the mean of a row against row A
}

// fallbackLimit stands where a plan states no limit of a path, of the sides or
// of the rows (common practice, no source).
const fallbackLimit = 10 * quantity.Millimetre

// FallbackSource is the source of a limit or loop that nobody gave.
const FallbackSource = "fallback: common practice, no source"

// LimitsOf gives what the trim of a wing is judged by: as its papers say, or
// the fallback.
func LimitsOf(plan *wing.Plan) Limits {
	of := func(name wing.LimitName) Limit {
		if l, ok := plan.Limit(name); ok {
			return Limit{MM: l.Length.MM(), Source: l.Source}
		}
		return Limit{MM: fallbackLimit.MM(), Source: FallbackSource, Fallback: true}
	}
	return Limits{Path: of(wing.LimitPath), Sides: of(wing.LimitSides), Rows: of(wing.LimitRows)}
}

// String gives "10 mm (who says so)".
func (l Limit) String() string { return um(l.MM).String() + " (" + l.Source + ")" }
