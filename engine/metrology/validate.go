package metrology

import (
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/source"
)

// demand is one thing that a key must be.
type demand struct {
	met  bool
	key  string
	want string
}

// leastDoF asks for ten readings behind the repeatability. From fewer, the
// formula of Welch and Satterthwaite claims more than it holds: by drawing,
// 95.3 % at worst for 9 degrees of freedom, 94.7 % for 4, 93.1 % for 2.
const leastDoF = 9

// Validate returns a *Error that names the first key at fault and what it
// takes. NaN fails every range.
func (b Bench) Validate() error {
	demands := b.basicDemands()
	if b.Rule == RuleBudget {
		demands = append(demands, b.budgetDemands()...)
		demands = append(demands, b.optionalDemands()...)
	}
	for _, d := range demands {
		if !d.met {
			return &Error{Code: CodeBench, A: d.key, B: d.want}
		}
	}
	return nil
}

func (b Bench) basicDemands() []demand {
	_, classed := tapeClasses[b.TapeClass]
	calibrated := b.TapeClass == ClassCalibrated && b.Rule == RuleBudget
	classes := `"I", "II" or "III"`
	if b.Rule == RuleBudget {
		classes = `"I", "II", "III" or "calibrated"`
	}
	return []demand{
		{b.Rule == "" || b.Rule == RuleSimple || b.Rule == RuleBudget, keyRule, `"simple" or "budget"`},
		{printable(b.Name, 64), keyName, "printable text, at most 64 characters and 20 points"},
		{printable(b.Note, 300), keyNote, "printable text, at most 300 characters and 20 points"},
		{classed || calibrated, keyTapeClass, classes},
		{within(b.Graduation, 1, 10*quantity.Centimetre), keyGraduation, "0.001 to 100 mm"},
		{within(b.Pull, 0, 1000*quantity.Newton), keyPull, "1 to 1000 N"},
		{!slices.ContainsFunc(b.Fallback, unknownKey), "fallback", "keys of the bench profile"},
	}
}

func (b Bench) budgetDemands() []demand {
	how := b.PullHow == PullHand || b.PullHow == PullBalance || b.PullHow == PullWeight
	return []demand{
		{b.Name != "", keyName, "the name of the workplace"},
		{(b.Calibration != nil) == (b.TapeClass == ClassCalibrated), "calibration", `the table of the certificate, with tape_class "calibrated" and only then`},
		{b.TapeMaterial != "", keyTapeMaterial, `"steel", or another name with tape_expansion_per_c`},
		{b.TapeMaterial == steel || b.TapeExpansionPerC != 0, keyTapeExpansion, "-0.0001 to 0.0001, not 0"},
		{within(b.TapeExpansionPerC, -1e-4, 1e-4), keyTapeExpansion, "-0.0001 to 0.0001, not 0"},
		{printable(b.TapeMaterial, 64), keyTapeMaterial, "printable text, at most 64 characters"},
		{how, keyPullHow, `"hand", "spring balance" or "hung weight"`},
		{within(b.Pull, quantity.Newton, 1000*quantity.Newton), keyPull, "1 to 1000 N"},
		{within(b.PullError, 1, 500*quantity.Newton), keyPullError, "0.001 to 500 N"},
		{within(b.Pin, 0, 10*quantity.Centimetre), keyPin, "0 to 100 mm; 0 is not known"},
		{within(b.AirC, -30, 60), keyAir, "-30 to 60 °C"},
		{within(b.AirErrorC, 0.1, 40), keyAirError, "0.1 to 40 °C"},
		{within(b.Repeatability, 1, 5*quantity.Centimetre), keyRepeatability, "0.001 to 50 mm: the standard deviation of ten readings of one line"},
		{within(b.RepeatabilityDoF, leastDoF, 1e6), keyRepeatabilityDoF, "9 to 1000000: the count of those readings less one"},
	}
}

func (b Bench) optionalDemands() []demand {
	var demands []demand
	if c := b.Calibration; c != nil {
		demands = append(demands,
			demand{within(c.ErrorUMPerM, -5000, 5000), keyCalibrationError, "-5 to 5 mm in a metre"},
			demand{within(c.U, 1, 2*quantity.Centimetre), keyCalibrationU, "0.001 to 20 mm"},
			demand{c.Date != "" && printable(c.Date, 32), keyCalibrationDate, "the date of the certificate"})
	}
	if c := b.Balance; c != nil {
		demands = append(demands,
			demand{within(c.Known, 1, 1000*quantity.Newton), keyBalanceKnown, "0.001 to 1000 N"},
			demand{within(c.Shown, 1, 1000*quantity.Newton), keyBalanceShown, "0.001 to 1000 N"},
			demand{c.Date != "" && printable(c.Date, 32), keyBalanceDate, "the date of the check"},
			demand{b.PullHow == PullBalance, "balance_check", `nothing, unless pull_how is "spring balance"`},
			demand{b.pulledN() > 0, keyBalanceShown, "a reading that leaves some pull over"})
	}
	if r := b.TapeRun; r != nil {
		demands = append(demands,
			demand{within(r.Pull, 1, 1000*quantity.Newton), keyTapePull, "0.001 to 1000 N"},
			demand{within(r.PullError, 1, r.Pull/2), keyTapePullError, "0.001 N to half of tape_run.pull_n"},
			demand{within(r.ReferencePull, 1, 1000*quantity.Newton), keyReferencePull, "the pull printed on the tape, 0.001 to 1000 N"},
			demand{!r.Hangs || within(r.WeightNPerM, 0.001, 10), keyTapeWeight, "0.001 to 10 N a metre"},
			demand{within(r.SectionMM2, 0.1, 100), keyTapeSection, "0.1 to 100 mm²"},
			demand{within(r.ModulusGPa, 1, 500), keyModulus, "1 to 500 GPa"})
	}
	return demands
}

func within[T quantity.Length | quantity.Force | float64](x, low, high T) bool {
	return x >= low && x <= high
}

// printable keeps control characters of a file away from the terminal: the
// name, the dates and the material are quoted in terms and corrections. A text
// with many points is one that a profile could not be read back with.
func printable(text string, most int) bool {
	return utf8.ValidString(text) && utf8.RuneCountInString(text) <= most && strings.Count(text, ".") <= mostPoints &&
		!strings.ContainsFunc(text, func(r rune) bool { return !strconv.IsPrint(r) || source.Hidden(r) })
}

const mostPoints = 20
