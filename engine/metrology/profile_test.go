package metrology

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.org/linewright/engine/quantity"
)

// answered gives a bench its answers, key and text by turns.
func answered(t testing.TB, b Bench, answers ...string) Bench {
	t.Helper()
	for i := 0; i < len(answers); i += 2 {
		var err error
		if b, err = Answer(b, answers[i], answers[i+1]); err != nil {
			t.Fatalf("%s %q: %v", answers[i], answers[i+1], err)
		}
	}
	return b
}

func TestNewBenchIsTheDefaultBenchKeyByKey(t *testing.T) {
	b := NewBench()
	want := DefaultBench()
	want.Name, want.Default, want.Note, want.Rule = "unnamed bench", false, "", RuleBudget
	want.Fallback = []string{
		"name", "tape_class", "graduation_mm", "hook", "tape_material", "tape_lies",
		"pull_how", "pull_n", "pull_error_n", "air_c", "air_error_c", "repeatability_mm", "repeatability_dof",
	}
	if diff := cmp.Diff(want, b); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	if err := b.Validate(); err != nil {
		t.Error(err)
	}
}

func TestAnswerTakesTheKeyOffTheFallbacks(t *testing.T) {
	b := answered(t, NewBench(), "tape_class", "3", "pull_how", "Hung Weight", "air_c", "-4,5 °C", "hook", "yes")
	if b.TapeClass != "III" || b.PullHow != PullWeight || b.AirC != -4.5 || !b.Hook {
		t.Errorf("%+v", b)
	}
	for _, key := range []string{"tape_class", "pull_how", "air_c", "hook"} {
		if b.assumes(key) {
			t.Errorf("%s was answered", key)
		}
	}
	// Fallbacks that hang on the answers went with them.
	if b.PullError != 2*quantity.Newton || b.AirErrorC != 5 || !b.assumes("pull_error_n") || !b.assumes("air_error_c") {
		t.Errorf("%+v", b)
	}
	again := answered(t, b, "air_c", "", "pull_how", "")
	if again.AirC != 20 || again.AirErrorC != 15 || again.PullError != 15*quantity.Newton || !again.assumes("air_c") {
		t.Errorf("%+v", again)
	}
	kept := answered(t, b, "pull_error_n", "0.5", "pull_how", "hand")
	if kept.PullError != 500 {
		t.Errorf("a stated error of %v is no fallback", kept.PullError)
	}
}

func TestAnswerToTheDefaultBenchDescribesOne(t *testing.T) {
	b := answered(t, DefaultBench(), "name", "barn")
	if b.Default || b.Rule != RuleBudget || b.Name != "barn" || len(b.Fallback) != len(NewBench().Fallback)-1 {
		t.Errorf("%+v", b)
	}
}

func TestPartsComeAndGoWithTheirAnswer(t *testing.T) {
	keys := func(b Bench) (list []string) {
		for _, q := range Questions(b) {
			list = append(list, q.Key)
		}
		return list
	}
	b := answered(t, NewBench(), "tape_class", "calibrated", "calibration.error_mm_per_m", "-0.12", "calibration.u_mm", "0.3", "calibration.date", "2026-03-01",
		"tape_material", "glass fibre", "tape_expansion_per_c", "8e-6", "tape_lies", "hangs", "tape_run.pull_n", "20", "tape_run.pull_error_n", "5",
		"tape_run.weight_n_per_m", "0.1 N/m", "tape_run.section_mm2", "2.6",
		"pull_how", "spring balance", "balance_check.known_n", "5 kgf", "balance_check.shown_n", "51", "balance_check.date", "2026-03-02")
	if err := b.Validate(); err != nil {
		t.Fatal(err)
	}
	if *b.Calibration != (Calibration{-120, 300, "2026-03-01"}) || *b.Balance != (BalanceCheck{49033, 51000, "2026-03-02"}) {
		t.Errorf("%+v, %+v", b.Calibration, b.Balance)
	}
	if *b.TapeRun != (TapeRun{true, 20000, 5000, 50000, 0.1, 2.6, 200}) || !b.assumes("tape_run.reference_pull_n") {
		t.Errorf("%+v", b.TapeRun)
	}
	if slices.Contains(keys(b), "hook") {
		t.Error("a certificate counts its hook in")
	}
	pulled := answered(t, b, "tape_lies", "pulled")
	if pulled.TapeRun.WeightNPerM != 0 || slices.Contains(keys(pulled), "tape_run.weight_n_per_m") || b.TapeRun.WeightNPerM == 0 {
		t.Errorf("%+v; before %+v", pulled.TapeRun, b.TapeRun)
	}
	plain := answered(t, b, "tape_class", "I", "tape_lies", "flat", "pull_how", "hand", "tape_material", "steel")
	if plain.Calibration != nil || plain.TapeRun != nil || plain.Balance != nil || plain.TapeExpansionPerC != 0 || !plain.assumes("hook") {
		t.Errorf("%+v", plain)
	}
	if unchecked := answered(t, b, "balance_check.known_n", ""); unchecked.Balance != nil || unchecked.assumes("balance_check.known_n") {
		t.Errorf("%+v", unchecked)
	}
}

// Ten readings whose squared deviations from 4205 add up to 9: the standard
// deviation is √(9/9) = 1 mm.
func TestRepeatabilityFromTenReadings(t *testing.T) {
	b := answered(t, NewBench(), "repeatability_mm", "4205; 4206; 420,4 cm; 4205; 4206.5 mm; 4203.5; 4206; 4204; 4205.5; 4204.5")
	if b.Repeatability != 1000 || b.RepeatabilityDoF != 9 || b.assumes("repeatability_mm") || b.assumes("repeatability_dof") {
		t.Errorf("%v of %v", b.Repeatability, b.RepeatabilityDoF)
	}
	same := answered(t, NewBench(), "repeatability_mm", strings.Repeat("4205 mm ", 12))
	if want := roundUp(1 / math.Sqrt(12)); same.Repeatability != want || same.RepeatabilityDoF != 11 {
		t.Errorf("no spread does not mean no uncertainty: %v, want %v", same.Repeatability, want)
	}
	found := answered(t, NewBench(), "repeatability_mm", "0.6")
	if found.Repeatability != 600 || !found.assumes("repeatability_dof") {
		t.Errorf("%v, %v", found.Repeatability, found.Fallback)
	}
	if qs := Questions(found); qs[len(qs)-1].Key != "repeatability_dof" {
		t.Error("from how many readings it was found has to be asked")
	}
}

func TestParseReadings(t *testing.T) {
	for text, want := range map[string][]quantity.Length{
		"4205":                           {4205000},
		"4205 4206.5 4207":               {4205000, 4206500, 4207000},
		"4205, 4206,5, 4207":             {4205000, 4206500, 4207000},
		"4205 mm 420.6 cm, 4.207m":       {4205000, 4206000, 4207000},
		"4205 , 4206 mm, ":               {4205000, 4206000},
		`5' 3 7/8"; 165 1/2 in;`:         {1622425, 4203700},
		"4205\n4206\r\n\n4207":           {4205000, 4206000, 4207000},
		" 4205;4206 mm ; 42 dm" + "\x00": nil,
		"4205,4206,4207":                 nil,
		"":                               nil,
		" ; ":                            nil,
		"mm":                             nil,
		"4205 -4206":                     nil,
	} {
		rs, err := ParseReadings(text)
		var got []quantity.Length
		for _, r := range rs {
			got = append(got, r.Value)
		}
		if !slices.Equal(got, want) || (err == nil) != (want != nil) {
			t.Errorf("%q: %v, %v, want %v", text, got, err, want)
		}
	}
}

func TestAnswersThatAreRefused(t *testing.T) {
	checked := answered(t, NewBench(), "pull_how", "spring balance", "balance_check.known_n", "50 N")
	run := answered(t, NewBench(), "tape_lies", "hangs", "tape_run.pull_n", "20 N")
	for _, c := range []struct {
		b         Bench
		key, text string
		want      string
	}{
		{NewBench(), "colour", "red", `there is no key "colour" in a bench profile`},
		{NewBench(), "tape_class", "IV", `"IV" is none of the answers / answers: I, II, III, calibrated`},
		{NewBench(), "hook", "5", `"5" is none of the answers / answers: no, yes`},
		{NewBench(), "name", "a\x1b[31m", "bench profile: name is not one that is taken / set name to printable text, at most 64 characters and 20 points"},
		{NewBench(), "graduation_mm", "0", "bench profile: graduation_mm is not one that is taken / set graduation_mm to 0.001 to 100 mm"},
		{NewBench(), "graduation_mm", "1 N", `"1 N" is not a length: the unit "N" is not one of this kind / units taken: mm, cm, m, in or ft; a bare number is millimetres`},
		{NewBench(), "pull_n", "5 kg", `"5 kg" is not a force: the unit "kg" is not one of this kind / kg is a mass: type kgf for the pull of that mass, or N, daN or lbf`},
		{NewBench(), "pull_n", "-5", `"-5" is not a force: no value here is below zero / type one number such as 50, 50 N, 5 daN, 5,1 kgf or 11.2 lbf`},
		{NewBench(), "pull_error_n", "600 N", "bench profile: pull_error_n is not one that is taken / set pull_error_n to 0.001 to 500 N"},
		{NewBench(), "air_c", "warm", `"warm" is no number / type one number such as 24 or 1,5, alone or in °C`},
		{NewBench(), "air_c", "NaN", `"NaN" is no number / type one number such as 24 or 1,5, alone or in °C`},
		{NewBench(), "air_c", "1e999", `"1e999" is no number / type one number such as 24 or 1,5, alone or in °C`},
		{NewBench(), "air_c", "90", "bench profile: air_c is not one that is taken / set air_c to -30 to 60 °C"},
		{NewBench(), "repeatability_mm", "4205 4206 4207", "3 readings do not tell how well these hands repeat / give 10 of one line, each measured from the start"},
		{NewBench(), "repeatability_mm", "4205;4206;x", `"x" is not a length: no number can be read from it / type one number such as 4205.5, 420,5 cm, 4.205 m, 3 7/8 in or 5' 3 7/8"`},
		{NewBench(), "repeatability_mm", ";", "there is no reading to evaluate / measure once at least"},
		{NewBench(), "repeatability_mm", "1 200 1 200 1 200 1 200 1 200", "bench profile: repeatability_mm is not one that is taken / set repeatability_mm to 0.001 to 50 mm: the standard deviation of ten readings of one line"},
		{NewBench(), "repeatability_dof", "4", "bench profile: repeatability_dof is not one that is taken / set repeatability_dof to 9 to 1000000: the count of those readings less one"},
		{NewBench(), "calibration.u_mm", "1", `calibration.u_mm has no use on this bench / it has one with tape_class = "calibrated"`},
		{NewBench(), "balance_check.known_n", "50", `balance_check.known_n has no use on this bench / it has one with pull_how = "spring balance"`},
		{checked, "balance_check.date", "", "date of the check needs an answer / On which day was the balance checked?"},
		{checked, "balance_check.shown_n", "100 N", "bench profile: balance_check.shown_n is not one that is taken / set balance_check.shown_n to a reading that leaves some pull over"},
		{run, "tape_run.pull_error_n", "11 N", "bench profile: tape_run.pull_error_n is not one that is taken / set tape_run.pull_error_n to 0.001 N to half of tape_run.pull_n"},
		{run, "tape_run.section_mm2", "", "tape section needs an answer / How large is the section of the tape?"},
	} {
		before := c.b.described()
		got, err := Answer(c.b, c.key, c.text)
		var cured interface {
			error
			Cure() string
		}
		if !errors.As(err, &cured) {
			t.Errorf("%s %q: no refusal: %v", c.key, c.text, err)
			continue
		}
		if text := cured.Error() + " / " + cured.Cure(); text != c.want && !strings.HasPrefix(text, c.want+" / keys: ") {
			t.Errorf("%s %q:\n got %s\nwant %s", c.key, c.text, text, c.want)
		}
		if diff := cmp.Diff(before, got) + cmp.Diff(before, c.b); diff != "" {
			t.Errorf("%s %q changed the bench:\n%s", c.key, c.text, diff)
		}
	}
}

// drawAnswered asks all questions of a new bench and answers each with a value
// that it takes, or not at all.
func drawAnswered(t *rapid.T) Bench {
	b := NewBench()
	text := rapid.StringMatching(`[A-Za-z"\\#=Äß° ]{0,12}[a-z]`)
	number := func(low, high float64) string { return plainNumber(rapid.Float64Range(low, high).Draw(t, "number")) }
	thousandths := func(low, high int64) string {
		return bare(quantity.Length(rapid.Int64Range(low, high).Draw(t, "thousandths")))
	}
	draw := func(q Question) string {
		switch q.Kind {
		case AnswerText:
			return text.Draw(t, q.Key)
		case AnswerChoice:
			return rapid.SampledFrom(q.Options).Draw(t, q.Key).Value
		case AnswerReadings:
			return thousandths(1, 50000)
		}
		switch q.Key {
		case keyCalibrationError:
			return number(-5, 5)
		case keyCalibrationU:
			return thousandths(1, 20000)
		case keyTapeExpansion:
			return number(1e-9, 1e-4)
		case keyTapePull, keyReferencePull, keyPull:
			return thousandths(2000, 900000) + " N"
		case keyTapePullError:
			return "0.001"
		case keyBalanceKnown:
			return "500 N"
		case keyBalanceShown:
			return "500"
		case keyAir:
			return number(-30, 60)
		case keyRepeatabilityDoF:
			return number(9, 1e6)
		}
		return number(1, 9)
	}
	for i := 0; i < len(Questions(b)); i++ {
		q := Questions(b)[i]
		given := ""
		if q.Fallback == "" || rapid.Bool().Draw(t, "answered") {
			given = draw(q)
		}
		next, err := Answer(b, q.Key, given)
		if err != nil {
			t.Fatalf("%s %q: %v", q.Key, given, err)
		}
		if now := Questions(next); q.Key != keyRepeatabilityDoF && now[i].Key != q.Key {
			t.Fatalf("after %s the list changed before it: %s", q.Key, now[i].Key)
		}
		b = next
	}
	return b
}

// Whoever answers all questions has a bench that can be measured on, and it
// comes back from its file as it was.
func TestAnsweredBenchIsWholeAndReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawAnswered(t)
		if err := b.Validate(); err != nil {
			t.Fatal(err)
		}
		file := EncodeBench(b)
		back, err := ParseBench("bench.toml", file)
		if err != nil {
			t.Fatalf("%v\n%s", err, file)
		}
		if diff := cmp.Diff(b, back); diff != "" {
			t.Fatalf("(-written +read)\n%s\n%s", diff, file)
		}
		if again := EncodeBench(back); string(again) != string(file) {
			t.Fatal("written twice, it differs")
		}
	})
}

// No text of any key panics, and nothing that is taken lacks a number.
func TestAnyAnswer(t *testing.T) {
	names := strings.Split(keys(), ", ")
	rapid.Check(t, func(t *rapid.T) {
		b := NewBench()
		for range rapid.IntRange(1, 8).Draw(t, "answers") {
			key := rapid.SampledFrom(names).Draw(t, "key")
			text := rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{
				"", "1", "3", "4", "calibrated", "hangs", "pulled", "hand", "spring balance", "no", "50 N", "inf", "NaN", "-1e300", "0x1p4", ";;", "5'", "1e-320",
			})).Draw(t, "text")
			next, err := Answer(b, key, text)
			if err == nil {
				b = next
			}
			for _, x := range []float64{b.AirC, b.AirErrorC, b.RepeatabilityDoF, b.TapeExpansionPerC} {
				if math.IsNaN(x) || math.IsInf(x, 0) {
					t.Fatalf("%s %q: %+v", key, text, b)
				}
			}
		}
		if len(b.Words()) == 0 || len(Questions(b)) == 0 || len(EncodeBench(b)) == 0 {
			t.Fatal("nothing is said of the bench")
		}
	})
}
