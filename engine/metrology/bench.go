package metrology

import "example.org/linewright/engine/quantity"

// Bench says with what, and how, a length is measured. It is stored as TOML,
// one file for each workplace. The first block serves both rules, the rest the
// budget only; Validate says which keys a rule cannot do without, so that a
// key left out is never taken for a perfect instrument.
type Bench struct {
	Name string `toml:"name" json:"name"`
	// Default says that nobody described this bench: it is the fallback, and
	// wherever it acts this must be shown, with Note.
	Default bool   `toml:"default,omitempty" json:"default,omitempty"`
	Note    string `toml:"note,omitempty" json:"note,omitempty"`
	// Rule is RuleSimple, also if empty, or RuleBudget.
	Rule string `toml:"rule,omitempty" json:"rule,omitempty"`

	// TapeClass is "I", "II", "III", or ClassCalibrated with Calibration.
	TapeClass  string          `toml:"tape_class" json:"tape_class"`
	Graduation quantity.Length `toml:"graduation_um" json:"graduation_um"`
	// Hook says that the zero of the tape is a hook or an end face, not a line.
	// The certificate of a calibrated tape counts its hook in.
	Hook bool           `toml:"hook" json:"hook"`
	Pull quantity.Force `toml:"pull_mn" json:"pull_mn"` // as the instrument shows it

	// TapeMaterial is "steel"; any other name needs TapeExpansionPerC.
	TapeMaterial      string       `toml:"tape_material,omitempty" json:"tape_material,omitempty"`
	TapeExpansionPerC float64      `toml:"tape_expansion_per_c,omitempty" json:"tape_expansion_per_c,omitempty"`
	Calibration       *Calibration `toml:"calibration,omitempty" json:"calibration,omitempty"`
	// TapeRun describes a tape that is pulled or hangs. Without it the tape
	// lies flat and is pulled as its class or its certificate asks.
	TapeRun *TapeRun `toml:"tape_run,omitempty" json:"tape_run,omitempty"`

	PullHow   string         `toml:"pull_how,omitempty" json:"pull_how,omitempty"`           // PullHand, PullBalance or PullWeight
	PullError quantity.Force `toml:"pull_error_mn,omitempty" json:"pull_error_mn,omitempty"` // either way
	Balance   *BalanceCheck  `toml:"balance_check,omitempty" json:"balance_check,omitempty"`
	// Pin is the diameter of the pins that loose lines hang on; 0: not known.
	Pin quantity.Length `toml:"pin_um,omitempty" json:"pin_um,omitempty"`

	AirC      float64 `toml:"air_c,omitempty" json:"air_c,omitempty"`
	AirErrorC float64 `toml:"air_error_c,omitempty" json:"air_error_c,omitempty"` // either way

	// Repeatability is the standard deviation of one reading in these hands,
	// and RepeatabilityDoF how many repeats less one it was found from.
	Repeatability    quantity.Length `toml:"repeatability_um,omitempty" json:"repeatability_um,omitempty"`
	RepeatabilityDoF float64         `toml:"repeatability_dof,omitempty" json:"repeatability_dof,omitempty"`
}

// Calibration is the certificate of a tape.
type Calibration struct {
	// ErrorUMPerM is reading minus true length: positive, the tape reads long.
	ErrorUMPerM float64         `toml:"error_um_per_m" json:"error_um_per_m"`
	U           quantity.Length `toml:"u_um" json:"u_um"` // expanded, k = 2, at any length
	Date        string          `toml:"date" json:"date"`
}

// BalanceCheck is a spring balance held against a known weight. The error
// found is taken off every pull.
type BalanceCheck struct {
	Known quantity.Force `toml:"known_mn" json:"known_mn"`
	Shown quantity.Force `toml:"shown_mn" json:"shown_mn"`
	Date  string         `toml:"date" json:"date"`
}

// TapeRun says how the tape itself is pulled and carried.
type TapeRun struct {
	Hangs         bool           `toml:"hangs" json:"hangs"`                         // free between its ends
	Pull          quantity.Force `toml:"pull_mn" json:"pull_mn"`                     // on the tape
	PullError     quantity.Force `toml:"pull_error_mn" json:"pull_error_mn"`         // either way
	ReferencePull quantity.Force `toml:"reference_pull_mn" json:"reference_pull_mn"` // printed on the tape
	WeightNPerM   float64        `toml:"weight_n_per_m" json:"weight_n_per_m"`
	SectionMM2    float64        `toml:"section_mm2" json:"section_mm2"`
	ModulusGPa    float64        `toml:"modulus_gpa" json:"modulus_gpa"`
}

// The rules of evaluation.
const (
	RuleSimple = "simple"
	RuleBudget = "budget"
)

// ClassCalibrated is the class of a tape with a certificate of its own.
const ClassCalibrated = "calibrated"

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
		Rule:       RuleSimple,
		TapeClass:  "II",
		Graduation: quantity.Millimetre,
		Pull:       50 * quantity.Newton,

		TapeMaterial: "steel",
		PullHow:      PullHand,
		PullError:    15 * quantity.Newton,
		AirC:         referenceC,
		AirErrorC:    15,

		Repeatability:    quantity.Millimetre,
		RepeatabilityDoF: 10,
	}
}

// pulledN is the pull in newtons with the error of the balance taken off.
func (b Bench) pulledN() float64 {
	if b.Balance == nil {
		return b.Pull.N()
	}
	return (b.Pull - (b.Balance.Shown - b.Balance.Known)).N()
}

func (b Bench) tapeExpansionPerC() float64 {
	if b.TapeMaterial == "steel" {
		return steelPerC
	}
	return b.TapeExpansionPerC
}
