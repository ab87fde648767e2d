package metrology

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.org/linewright/engine/source"
)

// ProfileEdition is the edition of the bench profile that is read and written.
// Another meaning of a key, or another fallback, is a new one.
const ProfileEdition = 1

// profileFile is the TOML of a profile. A key that is left out stays nil.
type profileFile struct {
	Edition          *int            `toml:"linewright_bench"`
	Name             *string         `toml:"name"`
	Note             *string         `toml:"note"`
	Rule             *string         `toml:"rule"`
	TapeClass        *string         `toml:"tape_class"`
	Graduation       *float64        `toml:"graduation_mm"`
	Hook             *bool           `toml:"hook"`
	TapeMaterial     *string         `toml:"tape_material"`
	TapeExpansion    *float64        `toml:"tape_expansion_per_c"`
	TapeLies         *string         `toml:"tape_lies"`
	PullHow          *string         `toml:"pull_how"`
	Pull             *float64        `toml:"pull_n"`
	PullError        *float64        `toml:"pull_error_n"`
	Pin              *float64        `toml:"pin_mm"`
	Air              *float64        `toml:"air_c"`
	AirError         *float64        `toml:"air_error_c"`
	Repeatability    *float64        `toml:"repeatability_mm"`
	RepeatabilityDoF *float64        `toml:"repeatability_dof"`
	Calibration      calibrationFile `toml:"calibration"`
	Balance          balanceFile     `toml:"balance_check"`
	TapeRun          tapeRunFile     `toml:"tape_run"`
}

type calibrationFile struct {
	Error *float64 `toml:"error_mm_per_m"`
	U     *float64 `toml:"u_mm"`
	Date  *string  `toml:"date"`
}

type balanceFile struct {
	Known *float64 `toml:"known_n"`
	Shown *float64 `toml:"shown_n"`
	Date  *string  `toml:"date"`
}

type tapeRunFile struct {
	Pull          *float64 `toml:"pull_n"`
	PullError     *float64 `toml:"pull_error_n"`
	ReferencePull *float64 `toml:"reference_pull_n"`
	Weight        *float64 `toml:"weight_n_per_m"`
	Section       *float64 `toml:"section_mm2"`
	Modulus       *float64 `toml:"modulus_gpa"`
}

// given lists what the file says, as answers.
func (f *profileFile) given() map[string]string {
	texts := map[string]string{}
	for key, p := range map[string]*string{
		keyName: f.Name, keyNote: f.Note, keyRule: f.Rule, keyTapeClass: f.TapeClass, keyTapeMaterial: f.TapeMaterial,
		keyTapeLies: f.TapeLies, keyPullHow: f.PullHow, keyCalibrationDate: f.Calibration.Date, keyBalanceDate: f.Balance.Date,
	} {
		if p != nil {
			texts[key] = *p
		}
	}
	for key, p := range map[string]*float64{
		keyGraduation: f.Graduation, keyTapeExpansion: f.TapeExpansion, keyPull: f.Pull, keyPullError: f.PullError, keyPin: f.Pin,
		keyAir: f.Air, keyAirError: f.AirError, keyRepeatability: f.Repeatability, keyRepeatabilityDoF: f.RepeatabilityDoF,
		keyCalibrationError: f.Calibration.Error, keyCalibrationU: f.Calibration.U,
		keyBalanceKnown: f.Balance.Known, keyBalanceShown: f.Balance.Shown,
		keyTapePull: f.TapeRun.Pull, keyTapePullError: f.TapeRun.PullError, keyReferencePull: f.TapeRun.ReferencePull,
		keyTapeWeight: f.TapeRun.Weight, keyTapeSection: f.TapeRun.Section, keyModulus: f.TapeRun.Modulus,
	} {
		if p != nil {
			texts[key] = plainNumber(*p)
		}
	}
	if f.Hook != nil {
		texts[keyHook] = map[bool]string{true: yes, false: no}[*f.Hook]
	}
	return texts
}

// ParseBench reads a bench profile. name is that of the file, for the faults.
// A key that is left out is at its fallback and named in Bench.Fallback. The
// error is source.Faults, every fault with its line.
func ParseBench(name string, data []byte) (Bench, error) {
	var f profileFile
	doc := source.Decode(name, data, &f)
	if doc.Unread || !editionKnown(doc, f.Edition) {
		return Bench{}, doc.Faults.Err()
	}
	b, given := NewBench(), f.given()
	for _, it := range profile {
		text, ok := given[it.key]
		switch here := it.here(b); {
		case faulty(doc, it.key) || it.needs != "" && faulty(doc, it.needs):
		case ok && !here:
			doc.Add(it.key, "the key has no use on this bench", "take it out; it has one "+it.only)
		case ok:
			b = answerIn(doc, b, it.key, text)
		case here && it.empty == nil:
			doc.Add(it.key, "the key is missing", it.ask)
		}
	}
	for _, d := range slices.Concat(b.basicDemands(), b.budgetDemands(), b.optionalDemands()) {
		if !d.met && !faulty(doc, d.key) {
			misfit(doc, d.key, d.want)
		}
	}
	if err := doc.Faults.Err(); err != nil {
		return Bench{}, err
	}
	return b, nil
}

func editionKnown(doc *source.Doc, edition *int) bool {
	const key = "linewright_bench"
	switch {
	case edition == nil && faulty(doc, key):
		return false
	case edition == nil:
		doc.Add(key, "the edition is missing", fmt.Sprintf("write %s = %d, if this is a bench profile", key, ProfileEdition))
		return false
	case *edition != ProfileEdition:
		doc.Add(key, fmt.Sprintf("edition %d is not known here", *edition), fmt.Sprintf("edition %d is read", ProfileEdition))
		return false
	}
	return true
}

func faulty(doc *source.Doc, key string) bool {
	return slices.ContainsFunc(doc.Faults, func(f source.Fault) bool { return f.Key == key })
}

// answerIn takes what the file says of a key; what is refused is a fault.
func answerIn(doc *source.Doc, b Bench, key, text string) Bench {
	next, err := Answer(b, key, text)
	var refused *Error
	var cured interface {
		error
		Cure() string
	}
	switch {
	case errors.As(err, &refused) && refused.Code == CodeBench:
		misfit(doc, key, refused.B)
	case errors.As(err, &cured):
		doc.Add(key, cured.Error(), cured.Cure())
	}
	return next
}

func misfit(doc *source.Doc, key, want string) {
	doc.Add(key, "the value does not fit", "give "+want)
}

// EncodeBench gives the file of a bench that ParseBench or Answer made;
// ParseBench reads it back exactly. Each key stands below what it means, and
// one at its fallback behind a #. Default is not written: what stands in a file
// was described.
func EncodeBench(b Bench) []byte {
	if b.Rule == "" {
		b.Rule = RuleSimple
	}
	var out strings.Builder
	fmt.Fprintf(&out, "# A bench profile: with what, and how, lines are measured at one workplace.\n"+
		"# A key behind a # is not known. Its fallback acts, and every number that rests\n"+
		"# on it says so. Take the # away and give what holds here.\nlinewright_bench = %d\n", ProfileEdition)
	for _, tables := range []bool{false, true} {
		table := ""
		for _, it := range profile {
			head, _, inTable := strings.Cut(it.key, ".")
			if inTable != tables || !it.here(b) {
				continue
			}
			if tables && head != table {
				table = head
				fmt.Fprintf(&out, "\n[%s]\n", head)
			}
			it.encode(&out, b)
		}
	}
	return []byte(out.String())
}

func (it item) encode(out *strings.Builder, b Bench) {
	fmt.Fprintf(out, "\n# %s\n", it.ask)
	if it.how != "" {
		fmt.Fprintf(out, "# %s\n", it.how)
	}
	for _, o := range it.options {
		value := o.Value
		if it.key == keyHook {
			value = strconv.FormatBool(value == yes)
		}
		fmt.Fprintf(out, "#   %s: %s\n", value, o.Text)
	}
	name := it.key[strings.LastIndexByte(it.key, '.')+1:]
	value := it.toml(b)
	switch {
	case b.assumes(it.key):
		fmt.Fprintf(out, "# %s = %s\n", name, value)
	case value == "":
		fmt.Fprintf(out, "# %s =\n", name)
	default:
		fmt.Fprintf(out, "%s = %s\n", name, value)
	}
}

// toml is the value as it stands in the file, empty where there is none.
func (it item) toml(b Bench) string {
	value := it.value(b)
	switch {
	case value == "":
		return ""
	case it.key == keyHook:
		return strconv.FormatBool(b.Hook)
	case it.kind == AnswerText || it.kind == AnswerChoice:
		return strconv.Quote(value) // all of it is printable, so only quotes and backslashes change
	}
	return value
}
