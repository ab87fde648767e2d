package metrology

import (
	"math"
	"strings"

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

// Object is what is measured. Only State must be given; what is not known is
// left zero and costs certainty.
type Object struct {
	Nominal  quantity.Length `json:"nominal_um,omitempty"`
	Strength quantity.Force  `json:"strength_mn,omitempty"`
	State    State           `json:"state"`
	// Material is "aramid" or "uhmwpe", capital or small; any other name is not
	// known here.
	Material string `json:"material,omitempty"`
	// Chain holds the lines of a path, each of which carries the whole pull.
	// Empty: one line of Strength.
	Chain []Segment `json:"chain,omitempty"`
	// PlanPull is the pull at which the plan gives lengths; 0: FallbackPull.
	PlanPull quantity.Force `json:"plan_pull_mn,omitempty"`
}

// Segment is one line of a path.
type Segment struct {
	Length   quantity.Length `json:"length_um"`
	Strength quantity.Force  `json:"strength_mn,omitempty"` // 0: not known
}

func (o Object) planPull() quantity.Force {
	if o.PlanPull == 0 {
		return FallbackPull
	}
	return o.PlanPull
}

func (o Object) strengthKnown() bool {
	if len(o.Chain) == 0 {
		return o.Strength > 0
	}
	for _, s := range o.Chain {
		if s.Strength == 0 {
			return false
		}
	}
	return true
}

// planAside says that the plan does not state its pull.
func (o Object) planAside() string {
	if o.PlanPull == 0 {
		return byFallback
	}
	return ""
}

// expansion is that of the material, or a wide one where it is not known.
func (o Object) expansion() (e expansion, known bool) {
	if fibre, ok := fibres[strings.ToLower(o.Material)]; ok {
		return fibre, true
	}
	if o.State == StatePlain {
		return unknownPlain, false
	}
	return unknownFibre, false
}

// check returns a *Error for an object that cannot be evaluated on the bench.
func (o Object) check(b Bench) error {
	switch o.State {
	case StateLoose, StateInstalled, StatePlain:
	default:
		return &Error{Code: CodeState, A: string(o.State)}
	}
	if b.Rule != RuleBudget {
		return nil
	}
	forces := []quantity.Force{o.Strength, o.PlanPull}
	for _, s := range o.Chain {
		if s.Length <= 0 || s.Length > MaxLength {
			return &Error{Code: CodeReading, A: s.Length.String()}
		}
		forces = append(forces, s.Strength)
	}
	for _, f := range forces {
		if f < 0 {
			return &Error{Code: CodeForce, A: f.String()}
		}
	}
	return o.checkPull(b)
}

// checkPull refuses a pull that is plainly not the plan's on a line of unknown
// strength: its stretch cannot be told, so neither can the correction.
func (o Object) checkPull(b Bench) error {
	beyondN := math.Abs(b.pulledN() - o.planPull().N())
	if o.State == StatePlain || o.strengthKnown() || beyondN <= b.PullError.N() {
		return nil
	}
	return &Error{Code: CodeStrength, A: b.Pull.String(), B: o.planPull().String()}
}
