package metrology

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"example.org/linewright/engine/quantity"
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
		{b.Rule == "" || b.Rule == RuleSimple || b.Rule == RuleBudget, "rule", `"simple" or "budget"`},
		{printable(b.Name, 64), "name", "printable text, at most 64 characters"},
		{printable(b.Note, 300), "note", "printable text, at most 300 characters"},
		{classed || calibrated, "tape_class", classes},
		{within(b.Graduation, 1, 10*quantity.Centimetre), "graduation_um", "a whole number from 1 to 100000"},
		{within(b.Pull, 0, 1000*quantity.Newton), "pull_mn", "a whole number from 0 to 1000000"},
	}
}

func (b Bench) budgetDemands() []demand {
	how := b.PullHow == PullHand || b.PullHow == PullBalance || b.PullHow == PullWeight
	return []demand{
		{b.Name != "", "name", "the name of the workplace"},
		{(b.Calibration != nil) == (b.TapeClass == ClassCalibrated), "calibration", `the table of the certificate, with tape_class "calibrated" and only then`},
		{b.TapeMaterial == "steel" || b.TapeExpansionPerC != 0, "tape_material", `"steel", or give tape_expansion_per_c`},
		{within(b.TapeExpansionPerC, -1e-4, 1e-4), "tape_expansion_per_c", "a number from -0.0001 to 0.0001"},
		{printable(b.TapeMaterial, 64), "tape_material", "printable text, at most 64 characters"},
		{how, "pull_how", `"hand", "spring balance" or "hung weight"`},
		{within(b.Pull, quantity.Newton, 1000*quantity.Newton), "pull_mn", "a whole number from 1000 to 1000000"},
		{within(b.PullError, 1, 500*quantity.Newton), "pull_error_mn", "a whole number from 1 to 500000"},
		{within(b.Pin, 0, 10*quantity.Centimetre), "pin_um", "a whole number from 0 to 100000"},
		{within(b.AirC, -30, 60), "air_c", "a number from -30 to 60"},
		{within(b.AirErrorC, 0.1, 40), "air_error_c", "a number from 0.1 to 40"},
		{within(b.Repeatability, 1, 5*quantity.Centimetre), "repeatability_um", "a whole number from 1 to 50000: the standard deviation of ten readings of one line"},
		{within(b.RepeatabilityDoF, leastDoF, 1e6), "repeatability_dof", "a number from 9 to 1000000: the count of those readings less one"},
	}
}

func (b Bench) optionalDemands() []demand {
	var demands []demand
	if c := b.Calibration; c != nil {
		demands = append(demands,
			demand{within(c.ErrorUMPerM, -5000, 5000), "calibration.error_um_per_m", "a number from -5000 to 5000"},
			demand{within(c.U, 1, 2*quantity.Centimetre), "calibration.u_um", "a whole number from 1 to 20000"},
			demand{c.Date != "" && printable(c.Date, 32), "calibration.date", "the date of the certificate"})
	}
	if c := b.Balance; c != nil {
		demands = append(demands,
			demand{within(c.Known, 1, 1000*quantity.Newton), "balance_check.known_mn", "a whole number from 1 to 1000000"},
			demand{within(c.Shown, 1, 1000*quantity.Newton), "balance_check.shown_mn", "a whole number from 1 to 1000000"},
			demand{c.Date != "" && printable(c.Date, 32), "balance_check.date", "the date of the check"},
			demand{b.PullHow == PullBalance, "balance_check", `nothing, unless pull_how is "spring balance"`},
			demand{b.pulledN() > 0, "balance_check.shown_mn", "a reading that leaves some pull over"})
	}
	if r := b.TapeRun; r != nil {
		demands = append(demands,
			demand{within(r.Pull, 1, 1000*quantity.Newton), "tape_run.pull_mn", "a whole number from 1 to 1000000"},
			demand{within(r.PullError, 1, r.Pull/2), "tape_run.pull_error_mn", "a whole number from 1 to half of tape_run.pull_mn"},
			demand{within(r.ReferencePull, 1, 1000*quantity.Newton), "tape_run.reference_pull_mn", "the pull printed on the tape, from 1 to 1000000"},
			demand{within(r.WeightNPerM, 0.001, 10), "tape_run.weight_n_per_m", "a number from 0.001 to 10"},
			demand{within(r.SectionMM2, 0.1, 100), "tape_run.section_mm2", "a number from 0.1 to 100"},
			demand{within(r.ModulusGPa, 1, 500), "tape_run.modulus_gpa", "a number from 1 to 500"})
	}
	return demands
}

func within[T quantity.Length | quantity.Force | float64](x, low, high T) bool {
	return x >= low && x <= high
}

// printable keeps control characters of a file away from the terminal: the
// name, the dates and the material are quoted in terms and corrections.
func printable(text string, most int) bool {
	return utf8.ValidString(text) && utf8.RuneCountInString(text) <= most &&
		!strings.ContainsFunc(text, func(r rune) bool { return !strconv.IsPrint(r) })
}
