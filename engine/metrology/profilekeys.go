package metrology

// The keys of a bench profile, edition 1. Those with a point stand in a table
// of the file.
const (
	keyName             = "name"
	keyNote             = "note"
	keyRule             = "rule"
	keyTapeClass        = "tape_class"
	keyCalibrationError = "calibration.error_mm_per_m"
	keyCalibrationU     = "calibration.u_mm"
	keyCalibrationDate  = "calibration.date"
	keyGraduation       = "graduation_mm"
	keyHook             = "hook"
	keyTapeMaterial     = "tape_material"
	keyTapeExpansion    = "tape_expansion_per_c"
	keyTapeLies         = "tape_lies"
	keyTapePull         = "tape_run.pull_n"
	keyTapePullError    = "tape_run.pull_error_n"
	keyReferencePull    = "tape_run.reference_pull_n"
	keyTapeWeight       = "tape_run.weight_n_per_m"
	keyTapeSection      = "tape_run.section_mm2"
	keyModulus          = "tape_run.modulus_gpa"
	keyPullHow          = "pull_how"
	keyPull             = "pull_n"
	keyPullError        = "pull_error_n"
	keyBalanceKnown     = "balance_check.known_n"
	keyBalanceShown     = "balance_check.shown_n"
	keyBalanceDate      = "balance_check.date"
	keyPin              = "pin_mm"
	keyAir              = "air_c"
	keyAirError         = "air_error_c"
	keyRepeatability    = "repeatability_mm"
	keyRepeatabilityDoF = "repeatability_dof"
)

// How the tape lies.
const (
	tapeFlat   = "flat"
	tapePulled = "pulled"
	tapeHangs  = "hangs"
)

// profile lists the keys in the order in which a person is asked. Fallbacks are
// those of DefaultBench; where it has none they are common practice, no source.
var profile = []item{
	{
		key: keyName, label: "workplace", kind: AnswerText,
		ask: "What do you call this workplace?",
		how: "Every measurement names it, and two are compared as of one bench by it.",
		at:  func(b *Bench) any { return &b.Name }, empty: always("unnamed bench"),
	},
	{
		key: keyNote, label: "note", kind: AnswerText, quiet: true,
		ask: "A remark of your own",
		at:  func(b *Bench) any { return &b.Note }, empty: nothing("none"),
	},
	{
		key: keyRule, label: "rule", kind: AnswerChoice, quiet: true,
		ask:     "How a measurement is evaluated",
		options: []Option{{RuleBudget, "every known source of error counts"}, {RuleSimple, "tape class and graduation only"}},
		at:      func(b *Bench) any { return &b.Rule }, empty: settled(RuleBudget),
	},
	{
		key: keyTapeClass, label: "tape class", kind: AnswerChoice,
		ask: "Which accuracy class does the tape have?",
		how: "It is printed near the zero as I, II or III, mostly in an oval.",
		options: []Option{
			{"I", "up to 0.2 mm in the first metre, 0.1 for each further"},
			{"II", "up to 0.5 mm in the first metre, 0.2 for each further"},
			{"III", "up to 1 mm in the first metre, 0.4 for each further"},
			{ClassCalibrated, "it has a certificate with its own error"},
		},
		at: func(b *Bench) any { return &b.TapeClass }, empty: always("II"),
	},
	{
		key: keyCalibrationError, label: "error of the tape", kind: AnswerNumber, unit: "mm", needs: keyTapeClass, only: onlyCalibrated, belongs: calibrated,
		ask: "By how much does the tape read too long in one metre? Below zero: too short.",
		how: "The certificate says it. It is kept to the thousandth of a millimetre.",
		set: setCalibrationError, text: calibrationError,
	},
	{
		key: keyCalibrationU, label: "certificate's U", kind: AnswerLength, unit: "mm", needs: keyTapeClass, only: onlyCalibrated, belongs: calibrated,
		ask: "How certain is the certificate, with k = 2?",
		how: "Its greatest U for the lengths that you measure.",
		at:  func(b *Bench) any { return &b.Calibration.U },
	},
	{
		key: keyCalibrationDate, label: "certificate's date", kind: AnswerText, needs: keyTapeClass, only: onlyCalibrated, belongs: calibrated,
		ask: "Which date does the certificate bear?",
		at:  func(b *Bench) any { return &b.Calibration.Date },
	},
	{
		key: keyGraduation, label: "graduation", kind: AnswerLength, unit: "mm",
		ask: "How far apart are the marks that you read to?",
		how: "1 mm on most tapes; half of it if you read between the marks.",
		at:  func(b *Bench) any { return &b.Graduation }, empty: always("1"),
	},
	{
		key: keyHook, label: "hook", kind: AnswerChoice, needs: keyTapeClass, only: `unless tape_class = "calibrated": the certificate counts the hook in`,
		belongs: func(b Bench) bool { return !calibrated(b) },
		ask:     "Is the zero of the tape a hook, or the end of the tape itself?",
		options: []Option{{"no", "it is a printed line"}, {"yes", "a hook or the end face"}},
		at:      func(b *Bench) any { return &b.Hook }, empty: always("no"),
	},
	{
		key: keyTapeMaterial, label: "tape material", kind: AnswerText,
		ask: "What is the tape made of?",
		how: "steel, or the name of another material.",
		at:  func(b *Bench) any { return &b.TapeMaterial }, empty: always(steel),
	},
	{
		key: keyTapeExpansion, label: "tape expansion", kind: AnswerNumber, unit: "per °C", needs: keyTapeMaterial, only: `with a tape_material other than "steel"`,
		belongs: func(b Bench) bool { return b.TapeMaterial != steel },
		ask:     "By which part of its length does it grow for each °C?",
		how:     "A data sheet says it: steel has 0.0000116.",
		at:      func(b *Bench) any { return &b.TapeExpansionPerC },
	},
	{
		key: keyTapeLies, label: "tape lies", kind: AnswerChoice,
		ask: "How does the tape lie while you read it?",
		options: []Option{
			{tapeFlat, "flat on the floor or a table, pulled as is printed on it"},
			{tapePulled, "flat, but pulled in another way"},
			{tapeHangs, "free in the air between its ends"},
		},
		set: setTapeLies, text: tapeLies, empty: always(tapeFlat),
	},
	{
		key: keyTapePull, label: "pull on the tape", kind: AnswerForce, unit: "N", needs: keyTapeLies, only: onlyTapeRun, belongs: tapeRuns,
		ask: "How hard do you pull the tape itself?",
		at:  func(b *Bench) any { return &b.TapeRun.Pull },
	},
	{
		key: keyTapePullError, label: "error of the tape's pull", kind: AnswerForce, unit: "N", needs: keyTapeLies, only: onlyTapeRun, belongs: tapeRuns,
		ask: "How far off may that be, either way?",
		how: "At most half of it, else the sag cannot be told.",
		at:  func(b *Bench) any { return &b.TapeRun.PullError },
	},
	{
		key: keyReferencePull, label: "printed pull", kind: AnswerForce, unit: "N", needs: keyTapeLies, only: onlyTapeRun, belongs: tapeRuns,
		ask: "Which pull is printed on the tape?",
		how: "Where none is printed the directive 2014/32/EU has 50 N from 5 m on.",
		at:  func(b *Bench) any { return &b.TapeRun.ReferencePull }, empty: always("50"),
	},
	{
		key: keyTapeWeight, label: "tape weight", kind: AnswerNumber, unit: "N/m", needs: keyTapeLies, only: `with tape_lies = "hangs"`,
		belongs: func(b Bench) bool { return tapeRuns(b) && b.TapeRun.Hangs },
		ask:     "What does one metre of the tape weigh?",
		how:     "Weigh the blade, or a steel blade: width × thickness in mm² × 0.077.",
		at:      func(b *Bench) any { return &b.TapeRun.WeightNPerM },
	},
	{
		key: keyTapeSection, label: "tape section", kind: AnswerNumber, unit: "mm²", needs: keyTapeLies, only: onlyTapeRun, belongs: tapeRuns,
		ask: "How large is the section of the tape?",
		how: "Width times thickness: 13 mm × 0.2 mm is 2.6 mm².",
		at:  func(b *Bench) any { return &b.TapeRun.SectionMM2 },
	},
	{
		key: keyModulus, label: "tape stiffness", kind: AnswerNumber, unit: "GPa", needs: keyTapeLies, only: onlyTapeRun, belongs: tapeRuns,
		ask: "How stiff is its material?",
		how: "Young's modulus; steel has about 200.",
		at:  func(b *Bench) any { return &b.TapeRun.ModulusGPa }, empty: always("200"),
	},
	{
		key: keyPullHow, label: "pull made by", kind: AnswerChoice,
		ask: "How is the line pulled while you read?",
		options: []Option{
			{PullHand, "by hand, by feeling"},
			{PullBalance, "by hand, with a spring balance"},
			{PullWeight, "by a weight that hangs on it"},
		},
		at: func(b *Bench) any { return &b.PullHow }, empty: always(PullHand),
	},
	{
		key: keyPull, label: "value of the pull", kind: AnswerForce, unit: "N",
		ask: "How strong is the pull, as the balance or the weight shows it?",
		how: "Plans mostly ask for 50 N, that is 5.1 kgf.",
		at:  func(b *Bench) any { return &b.Pull }, empty: always("50"),
	},
	{
		key: keyPullError, label: "error of the pull", kind: AnswerForce, unit: "N",
		ask: "How far off may the pull be, either way?",
		how: "Of a balance its sheet says it; try a hand against a balance a few times.",
		at:  func(b *Bench) any { return &b.PullError }, empty: fallbackPullError,
	},
	{
		key: keyBalanceKnown, label: "balance check", kind: AnswerForce, unit: "N", needs: keyPullHow, only: onlyBalance,
		belongs: func(b Bench) bool { return b.PullHow == PullBalance },
		ask:     "With which known weight was the balance checked?",
		how:     "A can with 5 kg of water: type 5 kgf. Nothing if it was not checked.",
		set:     setBalanceKnown, text: balanceKnown, empty: nothing("not checked"),
	},
	{
		key: keyBalanceShown, label: "balance showed", kind: AnswerForce, unit: "N", needs: keyBalanceKnown, only: onlyChecked, belongs: balanceChecked,
		ask: "What did the balance show then?",
		at:  func(b *Bench) any { return &b.Balance.Shown },
	},
	{
		key: keyBalanceDate, label: "date of the check", kind: AnswerText, needs: keyBalanceKnown, only: onlyChecked, belongs: balanceChecked,
		ask: "On which day was the balance checked?",
		at:  func(b *Bench) any { return &b.Balance.Date },
	},
	{
		key: keyPin, label: "pins", kind: AnswerLength, unit: "mm",
		ask: "How thick are the pins that loose lines hang on?",
		how: "Lines that were measured on different pins are not compared.",
		at:  func(b *Bench) any { return &b.Pin }, empty: nothing("not known"),
	},
	{
		key: keyAir, label: "air", kind: AnswerNumber, unit: "°C",
		ask: "How warm is the air at the tape?",
		at:  func(b *Bench) any { return &b.AirC }, empty: always("20"),
	},
	{
		key: keyAirError, label: "error of the air", kind: AnswerNumber, unit: "°C",
		ask: "How far off may that be, either way, for the tape and the line?",
		how: "1 °C with a thermometer beside the tape, indoors and out of the sun.",
		at:  func(b *Bench) any { return &b.AirErrorC }, empty: fallbackAirError,
	},
	{
		key: keyRepeatability, label: "repeatability", kind: AnswerReadings, unit: "mm",
		ask: "How well do your hands repeat a reading?",
		how: "Measure one line ten times, each from the start, and give all ten readings.",
		set: setRepeatability, text: func(b Bench) string { return bare(b.Repeatability) }, empty: always("1"),
	},
	{
		key: keyRepeatabilityDoF, label: "its degrees of freedom", kind: AnswerNumber,
		asked: func(b Bench) bool { return b.assumes(keyRepeatabilityDoF) && !b.assumes(keyRepeatability) },
		ask:   "From how many readings, less one, was that standard deviation found?",
		at:    func(b *Bench) any { return &b.RepeatabilityDoF }, empty: always("10"),
	},
}

const (
	onlyCalibrated = `with tape_class = "calibrated"`
	onlyTapeRun    = `with tape_lies = "pulled" or "hangs"`
	onlyBalance    = `with pull_how = "spring balance"`
	onlyChecked    = "with balance_check.known_n"
)

func calibrated(b Bench) bool     { return b.Calibration != nil }
func tapeRuns(b Bench) bool       { return b.TapeRun != nil }
func balanceChecked(b Bench) bool { return b.Balance != nil }

// stand is what an empty answer takes.
type stand struct {
	text    string // as an answer
	words   string // where the text does not say it
	assumed bool   // a value was taken that nobody gave
}

func always(text string) func(Bench) stand {
	return func(Bench) stand { return stand{text: text, assumed: true} }
}

// settled takes a value that is a choice of the program's and no guess.
func settled(text string) func(Bench) stand {
	return func(Bench) stand { return stand{text: text} }
}

// nothing takes no value.
func nothing(words string) func(Bench) stand {
	return func(Bench) stand { return stand{words: words} }
}

// fallbackPullError is wide on purpose (common practice, no source).
func fallbackPullError(b Bench) stand {
	text := "15"
	switch b.PullHow {
	case PullBalance:
		text = "5"
	case PullWeight:
		text = "2"
	}
	return stand{text: text, assumed: true}
}

// fallbackAirError is wide on purpose (common practice, no source).
func fallbackAirError(b Bench) stand {
	if b.assumes(keyAir) {
		return stand{text: "15", assumed: true}
	}
	return stand{text: "5", assumed: true}
}
