package metrology

import (
	"slices"

	"example.org/linewright/engine/quantity"
)

// Bench says with what, and how, a length is measured: one profile for each
// workplace. ParseBench and EncodeBench are its file, Questions and Answer the
// way to ask a person for it. The first block serves both rules, the rest the
// budget only; Validate says which keys a rule cannot do without, so that a
// key left out is never taken for a perfect instrument.
type Bench struct {
	Name string `json:"name"`
	// Default says that nobody described this bench: it is the fallback, and
	// wherever it acts this must be shown, with Note.
	Default bool   `json:"default,omitempty"`
	Note    string `json:"note,omitempty"`
	// Fallback names the keys of the profile that nobody answered, so that a
	// fallback acts in them. Where one acts its number says so.
	Fallback []string `json:"fallback,omitempty"`
	// Rule is RuleSimple, also if empty, or RuleBudget.
	Rule string `json:"rule,omitempty"`

	// TapeClass is "I", "II", "III", or ClassCalibrated with Calibration.
	TapeClass  string          `json:"tape_class"`
	Graduation quantity.Length `json:"graduation_um"`
	// Hook says that the zero of the tape is a hook or an end face, not a line.
	// The certificate of a calibrated tape counts its hook in.
	Hook bool           `json:"hook"`
	Pull quantity.Force `json:"pull_mn"` // as the instrument shows it

	// TapeMaterial is "steel"; any other name needs TapeExpansionPerC.
	TapeMaterial      string       `json:"tape_material,omitempty"`
	TapeExpansionPerC float64      `json:"tape_expansion_per_c,omitempty"`
	Calibration       *Calibration `json:"calibration,omitempty"`
	// TapeRun describes a tape that is pulled or hangs. Without it the tape
	// lies flat and is pulled as its class or its certificate asks.
	TapeRun *TapeRun `json:"tape_run,omitempty"`

	PullHow   string         `json:"pull_how,omitempty"`      // PullHand, PullBalance or PullWeight
	PullError quantity.Force `json:"pull_error_mn,omitempty"` // either way
	Balance   *BalanceCheck  `json:"balance_check,omitempty"`
	// Pin is the diameter of the pins that loose lines hang on; 0: not known.
	Pin quantity.Length `json:"pin_um,omitempty"`

	AirC      float64 `json:"air_c,omitempty"`
	AirErrorC float64 `json:"air_error_c,omitempty"` // either way

	// Repeatability is the standard deviation of one reading in these hands,
	// and RepeatabilityDoF how many repeats less one it was found from.
	Repeatability    quantity.Length `json:"repeatability_um,omitempty"`
	RepeatabilityDoF float64         `json:"repeatability_dof,omitempty"`
}

// Calibration is the certificate of a tape.
type Calibration struct {
	// ErrorUMPerM is reading minus true length: positive, the tape reads long.
	ErrorUMPerM float64         `json:"error_um_per_m"`
	U           quantity.Length `json:"u_um"` // expanded, k = 2, at any length
	Date        string          `json:"date"`
}

// BalanceCheck is a spring balance held against a known weight. The error
// found is taken off every pull.
type BalanceCheck struct {
	Known quantity.Force `json:"known_mn"`
	Shown quantity.Force `json:"shown_mn"`
	Date  string         `json:"date"`
}

// TapeRun says how the tape itself is pulled and carried.
type TapeRun struct {
	Hangs         bool           `json:"hangs"`             // free between its ends
	Pull          quantity.Force `json:"pull_mn"`           // on the tape
	PullError     quantity.Force `json:"pull_error_mn"`     // either way
	ReferencePull quantity.Force `json:"reference_pull_mn"` // printed on the tape
	WeightNPerM   float64        `json:"weight_n_per_m"`
	SectionMM2    float64        `json:"section_mm2"`
	ModulusGPa    float64        `json:"modulus_gpa"`
}

// The rules of evaluation.
const (
	RuleSimple = "simple"
	RuleBudget = "budget"
)

// ClassCalibrated is the class of a tape with a certificate of its own.
const ClassCalibrated = "calibrated"

// steel is the tape material whose expansion is known.
const steel = "steel"

// How the pull is made.
const (
	PullHand    = "hand"
	PullBalance = "spring balance"
	PullWeight  = "hung weight"
)

// DefaultBench returns the bench that stands in until someone describes
// theirs. Its values are wide on purpose; common practice, no source.
func DefaultBench() Bench {
	return Bench{
		Name:    "default bench",
		Default: true,
		Note: "a fallback, nobody described this bench: tape class II, 1 mm graduation, plain zero, " +
			"hand pull 50 N give or take 15, steel tape, 20 °C give or take 15, repeatability 1 mm",
		Rule:       RuleBudget,
		TapeClass:  "II",
		Graduation: quantity.Millimetre,
		Pull:       50 * quantity.Newton,

		TapeMaterial: steel,
		PullHow:      PullHand,
		PullError:    15 * quantity.Newton,
		AirC:         referenceC,
		AirErrorC:    15,

		Repeatability:    quantity.Millimetre,
		RepeatabilityDoF: 10,
	}
}

// assumes reports whether a fallback acts in the key of the profile.
func (b Bench) assumes(key string) bool { return slices.Contains(b.Fallback, key) }

// byFallback is said behind a number that nobody gave.
const byFallback = " (fallback)"

// aside says that a number rests on a key left at its fallback.
func (b Bench) aside(keys ...string) string {
	if slices.ContainsFunc(keys, b.assumes) {
		return byFallback
	}
	return ""
}

// pulledN is the pull in newtons with the error of the balance taken off.
func (b Bench) pulledN() float64 {
	if b.Balance == nil {
		return b.Pull.N()
	}
	return (b.Pull - (b.Balance.Shown - b.Balance.Known)).N()
}

func (b Bench) tapeExpansionPerC() float64 {
	if b.TapeMaterial == steel {
		return steelPerC
	}
	return b.TapeExpansionPerC
}
