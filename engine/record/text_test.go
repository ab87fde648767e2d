package record

import (
	"regexp"
	"strings"
	"testing"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/trim"
)

// flat is a text without its line breaks, for looking up sentences.
func flat(text []byte) string { return strings.Join(strings.Fields(string(text)), " ") }

func wantAll(t *testing.T, text string, parts ...string) {
	t.Helper()
	for _, p := range parts {
		if !strings.Contains(text, p) {
			t.Errorf("the text does not say %q", p)
		}
	}
}

// wantOrder checks that parts stand in the text one behind the other.
func wantOrder(t *testing.T, text string, parts ...string) {
	t.Helper()
	at := 0
	for _, p := range parts {
		i := strings.Index(text[at:], p)
		if i < 0 {
			t.Fatalf("%q is not there, or stands too early", p)
		}
		at += i
	}
}

func TestFirstPageSaysWhatIsOpenFirst(t *testing.T) {
	text := string(sample(t, false).build().Text)
	wantOrder(t, text, "Barn wing, job 7", "WHAT IS OPEN", "Inflation without motor is not done yet.", "NOT PROVED BY MEASURING",
		"THE WING", "THE WORK", "THE RESULT", "This is no statement of airworthiness.", "DATA USED")
	first := text[:strings.Index(text, "DATA USED")]
	if n := strings.Count(first, "\n"); n > 66 {
		t.Errorf("the first page has %d lines, more than a sheet of paper", n)
	}
	wantAll(t, flat([]byte(first)),
		"What has to be settled before a flight keeps the tag on the wing until the pilot has settled it.",
		"New line, installed (task 1): 4 mm long, sure within 2.6 mm, limit 5 mm: NOT PROVED ann.example, 2026-05-03 09:09 +02:00, entry 40: \"the set is 200 h old",
		"on C1 right: laid down after 1 of 14 steps",
		"Work signed by ann.example (key kept without a pass phrase). Second look signed by bea.example.",
		"its own manual, the rules of the place, and where they ask for it a licensed workshop",
		"The tag is taken off by the pilot, not by a program and not by this record.",
		"A signature proves a key, not a person.")
}

func TestTextNeverCallsAWingAirworthy(t *testing.T) {
	text := strings.ToLower(flat(sample(t, false).build().Text))
	rest := strings.ReplaceAll(text, "this is no statement of airworthiness.", "")
	for _, word := range []string{"airworth", "safe to fly", "fit to fly", "released"} {
		if strings.Contains(rest, word) {
			t.Errorf("the record says %q", word)
		}
	}
}

func TestDemoSaysSoInCapitals(t *testing.T) {
	demo := string(sample(t, true).build().Text)
	if !strings.HasPrefix(demo, "DEMO. SAMPLE DATA. THIS RECORD SAYS NOTHING ABOUT ANY WING.\n") {
		t.Errorf("the demo begins with %q", demo[:80])
	}
	wantAll(t, demo, "THIS IS A DEMO WITH SAMPLE DATA.")
	if strings.Contains(string(sample(t, false).build().Text), "DEMO") {
		t.Error("a record that is no demo says that it is one")
	}
}

func TestMeasuredValuesSayAllThatBelongsToThem(t *testing.T) {
	text := string(sample(t, false).build().Text)
	values := flat([]byte(text[strings.Index(text, "MEASURED VALUES"):strings.Index(text, "TASK 1, STEP")]))
	wantAll(t, values,
		"value 4206.5 mm, sure within 1.8 mm (k = 2, 2 readings, loose)", "bench test bench, a fallback",
		"budget tape class II (±1.3 mm) 0.751; graduation at the zero (step 1 mm) 0.289; graduation at the reading (step 1 mm) 0.289; standard uncertainties in mm",
		"rule simple: tape class", "rule budget: known effects",
		"expected 4205 mm; test plan, invented", "limit 10 mm either way; test plan, invented",
		"deviation 1.5 mm long, sure within 1.8 mm", "verdict INSIDE",
		`reading 420.5 mm, typed "420,5", entry 8; does not count: not between 3905 and 4505`,
		`reading 4290 mm, entry 9; STRUCK: "read at the wrong loop"`,
		`reading 4206 mm, typed "420.6 cm", entry 11`,
		"who, when ann.example, 2026-05-02 09:39 +02:00, entry 13",
		"deviation 4 mm long, sure within 2.6 mm its budget", "verdict NOT PROVED; the chance that it is inside is 79.6 %; entry 39")
	wantAll(t, flat([]byte(text)), metrology.DecisionRule, metrology.SimpleRule, metrology.BudgetRule, "test bench, A FALLBACK a fallback, invented for tests",
		"The bench was described anew by ann.example, 2026-05-03 08:06 +02:00, entry 19; in force from there on:",
		"workplace: room under the stairs", "error of the air: 5 °C (fallback)")
}

func TestTextKeepsWhatWasTakenBack(t *testing.T) {
	text := flat(sample(t, false).build().Text)
	wantAll(t, text,
		`Struck: entry 9, New line, loop to loop, hanging at the pull (task 1): "read at the wrong loop" ann.example`,
		`Opened again: The same line on the other side, installed (task 1): "the twin was not at the pull"`,
		`Not agreed: The gate (task 1): "C2 goes round the back of C1" bea.example, 2026-05-03 08:27 +02:00, entry 26`,
		`Task 2 laid down: "waiting for the part; link never opened, tag on"`,
		"After an interruption looked at again and found as written: Turns to close the gate (task 1)",
		"Code on the label (task 1), noted and not taken entry 6, ann.example, 2026-05-02 09:18 +02:00: c1; capital and small letters differ, wanted is C1",
		"SUPERSEDED: the work was opened again by entry 36; it stays good for what it signed.",
		`"wind got up, wing packed for the night; the retainer is new"`)
}

// Source: 14 CFR 43.9(a)(1) to (4): description of the work or reference to
// data, date of completion, name of the person who did it, and signature,
// certificate number and kind of certificate of the person who approves.
func TestMaintenanceEntryHasTheElementsOf14CFR43_9(t *testing.T) {
	text := string(sample(t, false).build().Text)
	entry := flat([]byte(text[strings.Index(text, "MAINTENANCE ENTRY"):]))
	wantOrder(t, entry, "14 CFR 43.9(a)(1) to (4)",
		"(1) work done Swap of one line, short form for tests, on C1 left: all steps done",
		"(2) completed on 2026-05-03; NOT ALL OF IT, see what is open",
		"(3) done by ann.example",
		"(4) approved by not stated", "signature not stated", "certificate no. not stated", "its kind not stated")
}

// Source: EASA M.A.803(d): a release by a pilot-owner also names the
// maintenance data used.
func TestMaintenanceEntryNamesTheDataUsedAsMA803d(t *testing.T) {
	text := string(sample(t, false).build().Text)
	entry := flat([]byte(text[strings.Index(text, "MAINTENANCE ENTRY"):]))
	wantAll(t, entry, "EASA M.A.803(d)", "data used plan Test Napkin M; test-swap edition 2; test-closing edition 1")
	wantAll(t, text, "test plan, invented, 2026-03-01", hashOf(newWalk(t, false).read("swap.toml")), hashOf(newWalk(t, false).read("plan.toml")))
}

func TestTextFitsAnyContent(t *testing.T) {
	long := strings.Repeat("W", 300)
	for _, nasty := range []string{long, strings.Repeat("漢", 200), strings.Repeat("a b ", 500), "", "x\nAIRWORTHY\n\x1b[31m\u202e\u0085", "\xff\xfe"} {
		c := sample(t, false).build().Content
		c.Wing = Wing{nasty, nasty, nasty, nasty}
		c.Closed.Statement, c.Closed.Who, c.Closed.At = nasty, nasty, nasty
		c.Plan.Name, c.Plan.Source, c.Bench.Name, c.Bench.Note = nasty, nasty, nasty, nasty
		b := &c.Benches[0].Bench
		b.Name, b.Note, b.TapeClass, b.TapeMaterial, b.PullHow, b.Calibration.Date, b.Balance.Date = nasty, nasty, nasty, nasty, nasty, nasty, nasty
		c.Looks = append(c.Looks, Look{Stamp{99, nasty, nasty}, 1, nasty, nasty})
		c.Parts = append(c.Parts, Part{Stamp{99, nasty, nasty}, 1, nasty, nasty, nasty})
		c.Open = append(c.Open, OpenItem{1, nasty, nasty, nasty, true})
		c.Notes = append(c.Notes, Note{Stamp: Stamp{1, nasty, nasty}, Text: nasty})
		for i := range c.Tasks[0].Steps {
			s := &c.Tasks[0].Steps[i]
			s.Answer, s.Ask, s.Phase, s.Entry.Who, s.Decision = nasty, nasty, nasty, nasty, nasty
			s.Earlier = append(s.Earlier, Earlier{Why: &Why{Code: job.Code(nasty), Args: []string{nasty}}})
		}
		wantClean(t, c.Text())
	}
}

// wantClean checks width and signs of a text, and that no line of it was
// begun by a text from outside.
func wantClean(t *testing.T, text string) {
	t.Helper()
	for _, l := range strings.Split(text, "\n") {
		if width(l) > pageWidth {
			t.Errorf("%d columns: %q", width(l), l)
		}
		if strings.TrimRight(l, " ") != l {
			t.Errorf("space at the end of %q", l)
		}
		if l == "AIRWORTHY" {
			t.Error("a text from outside begins a line of its own")
		}
	}
	if bad := regexp.MustCompile(`[\x00-\x09\x0b-\x1f\x7f-\x{9f}\x{202a}-\x{202e}]`).FindString(text); bad != "" {
		t.Errorf("the text holds %q", bad)
	}
}

func TestTextOfAJobWithoutTasks(t *testing.T) {
	w := newWalk(t, false)
	w.enter(job.Entry{Kind: job.EnterClose, Text: "nothing to do"})
	text := flat(w.build().Text)
	wantAll(t, text, "Nothing was left open in this job.", "No task was begun.", "No value was measured against a limit.",
		"No second person has signed a look at this work.", "Nothing was measured.", "Nothing was signed at the bench.",
		"Nothing was entered about the parts.", "(1) work done not stated")
}

func TestWidthNeverCountsTooFew(t *testing.T) {
	for text, want := range map[string]int{"abc": 3, "é": 1, "Ω": 1, "漢字": 4, "ｱ": 2, "": 0} {
		if got := width(text); got < want {
			t.Errorf("width of %q is %d, a terminal shows %d", text, got, want)
		}
	}
}

func TestTimesAreShownAsTheyWereWritten(t *testing.T) {
	for at, want := range map[string]string{
		"2026-05-02T09:03:00+02:00": "2026-05-02 09:03 +02:00",
		"2026-05-02T23:59:59Z":      "2026-05-02 23:59 UTC",
		"yesterday":                 "yesterday",
	} {
		if got := when(at); got != want {
			t.Errorf("%s is shown as %q, want %q", at, got, want)
		}
	}
}

func TestAComparisonWithoutALimitHasNoVerdict(t *testing.T) {
	c := sample(t, false).build().Content
	for i := range c.Tasks[0].Steps {
		if s := &c.Tasks[0].Steps[i]; s.Key == "closing.installed" {
			s.Judgement, s.Decision = nil, ""
		}
	}
	wantAll(t, flat([]byte(c.Text())), "against 4198.973 mm; measured, entry 37", "deviation 4 mm long, sure within 2.6 mm its budget tape calibration", "verdict none: there is no limit here")
}

// What the second person did stands under their own name.
func TestTextNamesTheSecondPerson(t *testing.T) {
	text := string(sample(t, false).build().Text)
	log := flat([]byte(text[strings.Index(text, "TASK 1, STEP"):strings.Index(text, "TASK 2, STEP")]))
	wantOrder(t, log, "Second look bea.example, 2026-05-03 (+02:00), as the second person",
		"09:12 entry 41 The look of bea.example begins", "09:15 entry 42 The gate: home", "09:18 entry 43 Signature of the second person: bea.example",
		"Check ann.example, 2026-05-03 (+02:00)")
	looks := flat([]byte(text[strings.Index(text, "LOOKS AND SIGNATURES"):strings.Index(text, "PARTS")]))
	wantOrder(t, looks, "1 bea.example, as the second person", "looked from 2026-05-03 09:12 +02:00, entry 41",
		"signed 2026-05-03 09:18 +02:00, entry 43, over entry 42 and all before it",
		"3 bea.example", "looked from 2026-05-03 08:48 +02:00, entry 33", "SUPERSEDED",
		"4 bea.example, as the second person: looked and did not sign", "entry 24, at: The gate (task 1)", "not agreed 2026-05-03 08:27 +02:00, entry 26")
}

// Whoever works the rule on the printed numbers comes to the printed verdict.
func TestAnUncertaintyIsRoundedUpAndNeverAgainstItsVerdict(t *testing.T) {
	for _, c := range []struct {
		deviation, u, limit quantity.Length
		want                string
	}{
		{1500, 1709, 10000, "1.8 mm"},
		{1500, 1700, 10000, "1.7 mm"},
		{3030, 1960, 5000, "1.96 mm"}, // 3.03 + 2.0 would be beyond 5
		{7010, 1960, 5000, "2 mm"},
		{6990, 1960, 5000, "1.96 mm"}, // 5 + 2.0 would be beyond 6.99
	} {
		j, err := metrology.Judge(c.deviation, c.u, c.limit)
		if err != nil {
			t.Fatal(err)
		}
		if got := sureOf(&j); got != c.want {
			t.Errorf("%s with a limit of %s: sure within %s, want %s", c.deviation, c.limit, got, c.want)
		}
	}
	if got := sure(1); got != "0.1 mm" {
		t.Errorf("a micrometre is printed as %s", got)
	}
}

// The keys of a bench that the golden record has in no bench: its words are
// bound by the edition as well.
func TestABenchKeepsItsWords(t *testing.T) {
	b := describedBench()
	b.TapeClass, b.Calibration, b.Hook = "III", nil, true
	b.TapeMaterial, b.TapeExpansionPerC, b.TapeRun = "steel", 0, nil
	b.PullHow, b.Balance, b.Pin = metrology.PullHand, nil, 0
	c := sample(t, false).build().Content
	c.Benches[0].Bench = b
	wantAll(t, flat([]byte(c.Text())), "bench workplace: room under the stairs note: invented for tests rule: budget tape class: III "+
		"graduation: 1 mm hook: yes tape material: steel tape lies: flat pull made by: hand value of the pull: 52 N error of the pull: 1 N "+
		"pins: not known air: 12 °C error of the air: 5 °C (fallback) repeatability: 0.7 mm its degrees of freedom: 10 (fallback) verdict")
}

// A pair is of brakes or of lines; each is called what it is.
func TestAPairThatIsHalfDoneIsCalledWhatItIs(t *testing.T) {
	for target, want := range map[string]string{
		"brakes":         "ONE BRAKE IS MOVED, THE OTHER IS NOT.",
		"line:C1.2@left": "ONE LINE OF THE PAIR IS RENEWED, ITS TWIN IS NOT.",
	} {
		c := Content{Tasks: []Task{{No: 1, Target: target, State: "laid down", OneSide: true}}}
		if text := c.Text(); !strings.Contains(text, "     "+want+"\n") {
			t.Errorf("%s: %q is not said:\n%s", target, want, text)
		}
	}
}

// What keeps the wing on the ground leads the record.
func TestWhatGroundsComesFirst(t *testing.T) {
	w := wholeWing(t)
	w = rebuiltChain(t, w, func(e *job.Event) {
		if e.Kind == job.Clearing {
			*e = job.Event{At: e.At, Who: e.Who, Sitting: e.Sitting, Kind: job.Noted, Text: "nobody looked again"}
		}
	})
	c := w.build().Content
	if len(c.Open) < 2 || !c.Open[0].Grounds || c.Open[len(c.Open)-1].Grounds {
		t.Errorf("open: %+v", c.Open)
	}
	if text := c.Text(); !strings.Contains(text, "  1  Finding on B1 left: sheath slid along the core; THIS KEEPS THE WING ON\n     THE GROUND\n") {
		t.Errorf("it does not lead:\n%.900s", text)
	}
}

// A task that was given up and done in its place by a later one leaves nothing
// undone.
func TestWhatWasDoneInItsPlaceIsComplete(t *testing.T) {
	task := func(state, target string) Task {
		return Task{State: state, Target: target, Procedure: Procedure{ID: "receipt"}}
	}
	for name, c := range map[string]struct {
		tasks []Task
		want  bool
	}{
		"all done":       {[]Task{task("done", "line:C1@left")}, true},
		"given up":       {[]Task{task("dropped", "line:C1@left")}, false},
		"done later":     {[]Task{task("dropped", "line:C1@left"), task("done", "line:C1@left")}, true},
		"done before":    {[]Task{task("done", "line:C1@left"), task("laid down", "line:C1@left")}, false},
		"another target": {[]Task{task("dropped", "line:C1@left"), task("done", "line:C1@right")}, false},
	} {
		if got := (Content{Tasks: c.tasks}).complete(); got != c.want {
			t.Errorf("%s: complete is %v", name, got)
		}
	}
}

// On which figures a loop was chosen stands under the choice.
func TestTextSaysWhatWasReckonedOfTheLoops(t *testing.T) {
	c := sample(t, false).build().Content
	s := &c.Tasks[0].Steps[0]
	fit, err := trim.FitNew(trim.FallbackLoops(), "plain", 12*quantity.Millimetre, []quantity.Length{0})
	if err != nil {
		t.Fatal(err)
	}
	s.LoopFit = &job.LoopFit{Fitting: fit, On: "plain", Limit: 5 * quantity.Millimetre}
	wantAll(t, flat([]byte(c.Text())), "reckoned then: with plain it was 12 mm long against its twin (limit 5 mm); each loop leaves it: wrapped 2 mm long, hitched 3 mm short, twice 8 mm short, plain 12 mm long; loop table: "+trim.FallbackSource)
	s.LoopFit = &job.LoopFit{Missing: "its twin was not measured on the wing"}
	wantAll(t, flat([]byte(c.Text())), "no loop was reckoned: its twin was not measured on the wing")
}
