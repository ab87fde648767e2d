package job

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
)

// blocking says in one line each what keeps the wing on the ground.
func (r *surveyRig) blocking() []string {
	var out []string
	for _, it := range r.job.Blocking(0, r.stamp().At) {
		out = append(out, it.Text)
	}
	return out
}

func (r *surveyRig) wantBlocking(want ...string) {
	r.t.Helper()
	if got := r.blocking(); !slices.Equal(got, want) {
		r.t.Errorf("blocking:\n%s\nwant:\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

func (r *surveyRig) enterOn(f *Finding, en Entry) Event {
	r.t.Helper()
	en.Finding = f.ID
	return r.must(en)
}

// Each thing that keeps the wing on the ground stands there by itself until it
// is over, and no other goes with it.
func TestWhatKeepsTheWingOnTheGround(t *testing.T) {
	r := surveyed(t)
	r.wantBlocking("task 1, Survey on the wing, is not finished")
	r.find("line:A1.1@left", "cut")
	slid, scuffed := r.find("line:A1.2@left", "slid"), r.find("line:B1.1@left", "scuffed")
	r.find("line:B1.2@left", "stain")
	r.pass("")
	ofCut := "A1.1 left: sheath cut, found 2026-03-01: replace"
	ofSlid := "A1.2 left: sheath slid, found 2026-03-01: measure"
	ofScuffed := "B1.1 left: scuffed, found 2026-03-01: mend it, or carry it over with a reason and a limit"
	r.wantBlocking(ofCut, ofSlid, ofScuffed)

	r.enterOn(scuffed, deferring(0, "2027-03-01"))
	r.wantBlocking(ofCut, ofSlid)
	r.enterOn(slid, clearing(ByWorkshop))
	r.wantBlocking(ofCut)

	opening := r.do(ProcOpening, "link:A@left")
	r.wantBlocking("link A left is open", ofCut)
	exchange := r.begin(ProcExchange, wing.LineRef("A1.1", wing.Left))
	r.wantBlocking("link A left is open", ofCut, "task 3, line-exchange on A1.1 left, is not finished")
	r.pass("")
	ofNew := "task 3, line-exchange on A1.1 left, fitted a new line, and its paths were not measured since: measure A1 left, A2 left (task trim-after)"
	r.wantBlocking("link A left is open", ofNew)
	r.must(Entry{Kind: EnterReopen, Task: exchange, Key: "done", Text: "crossed"})
	r.must(Entry{Kind: EnterOn, Task: opening, Key: "done"})
}

// Lines that were exchanged rest on nothing until their paths are measured; a
// pair too, on both sides.
func TestNewLinesKeepTheWingOnTheGroundUntilMeasured(t *testing.T) {
	r := newSurveyRig(t)
	r.do(ProcPair, "line:A1.2@right")
	pair := "task 1, line-pair on A1.2 right, fitted a new line, and its paths were not measured since: measure A3 left, A3 right, A4 left, A4 right (task trim-after)"
	r.wantBlocking(pair)
	r.begin(ProcTrimAfter, wing.Whole())
	r.wantBlocking(pair, "task 2, After test on the wing, is not finished")
	r.pass("")
	r.wantBlocking()
}

// One side of a pair is said beside the task that did it.
func TestOneSideOfAPairKeepsTheWingOnTheGround(t *testing.T) {
	r := newSurveyRig(t)
	no := r.begin(ProcFittings, wing.Brakes())
	r.types("1")
	side, task := "one brake is moved, the other is not", fmt.Sprintf("task 1, %s on both brakes, is ", ProcFittings)
	r.wantBlocking(side, task+"not finished")
	r.must(Entry{Kind: EnterLayDown, Task: no, Text: "dark", Safe: []string{"1"}})
	r.wantBlocking(side, task+"laid down: dark")
	r.must(Entry{Kind: EnterTakeUp, Task: no})
	r.types("") // the side that is done is as it was left
	r.pass("")
	r.wantBlocking()
}

// A task that was dropped left nothing behind.
func TestADroppedTaskKeepsNothing(t *testing.T) {
	r := newSurveyRig(t)
	no := r.begin(ProcSwap, wing.LineRef("A1.1", wing.Left))
	r.must(Entry{Kind: EnterDrop, Task: no, Text: "wrong line"})
	r.wantBlocking()
}

// What was measured and is not inside keeps the wing on the ground, until it is
// inside or, where that is not proved, a person takes it.
func TestLengthsKeepTheWingOnTheGround(t *testing.T) {
	r := newSurveyRig(t)
	r.begin(ProcTrim, wing.Whole())
	r.upTo("report", map[string]int{"A1 left": 15, "B2 right": -10})
	r.upTo("", nil)
	r.wantBlocking("path A1 left: 15 mm off, limit 10 mm: outside", "path B2 right: -10 mm off, limit 10 mm: not proved")
	path := ref("B2 right")
	r.must(Entry{Kind: EnterDecide, Path: &path, Text: "seen on the bench of the maker"})
	r.wantBlocking("path A1 left: 15 mm off, limit 10 mm: outside")
	r.begin(ProcTrim, wing.Whole())
	r.upTo("", nil)
	r.wantBlocking()
}

// A finding for which a length decides ends by length: measured after it was
// found, each path through it, and inside.
func TestAFindingEndsByLength(t *testing.T) {
	r := newSurveyRig(t)
	r.begin(ProcTrim, wing.Whole())
	r.upTo("", nil)
	r.begin(ProcSurvey, wing.Whole())
	slid, cut := r.find("line:A1.1@left", "slid"), r.find("line:A1.2@left", "cut")
	r.pass("")
	try := func(f *Finding) Code {
		_, err := r.enter(Entry{Kind: EnterClear, Finding: f.ID, Way: ByLength, Text: "measured"})
		return code(err)
	}
	if got := try(slid); got != LengthNotProved {
		t.Errorf("measured before it was found: %s", got)
	}
	r.begin(ProcTrim, wing.Whole())
	r.upTo("", map[string]int{"A2 left": 15})
	if got := try(slid); got != LengthNotProved {
		t.Errorf("one of its paths is outside: %s", got)
	}
	r.begin(ProcTrim, wing.Whole())
	r.upTo("", nil)
	if got := try(cut); got != LengthNotProved {
		t.Errorf("a cut is not ended by a length: %s", got)
	}
	if got := try(slid); got != "" || r.state(slid) != StateCleared {
		t.Errorf("inside: %s, %s", got, r.state(slid))
	}
}

// What is carried over keeps its name and date, whatever is done with it.
func TestADeferralStandsWithItsFinding(t *testing.T) {
	hours := Hours(1230)
	was := carried("3/9-ab12", "line:A1.1@left", procedure.Watch)
	r := newSurveyRigOn(t, screwed(t), Start{Hours: &hours, Carried: []Carried{was}})
	f := r.job.Findings()[0]
	r.enterOn(f, deferring(100, ""))
	if r.state(f) != StateDeferred || f.ID != was.ID || f.At != was.At || f.Who != "cal" {
		t.Errorf("%s: %s of %s by %s", r.state(f), f.ID, f.At, f.Who)
	}
	d := f.Deferred
	if d.Limit() != "133 h on the wing" || d.Job != 7 || d.Who != "ann" || d.Reason != "smooth under the fingers" {
		t.Errorf("%s %+v", d.Limit(), d)
	}
	r.wantBlocking()
	r.enterOn(f, deferring(0, "2026-06-01"))
	if f.Deferred.Limit() != "2026-06-01" {
		t.Errorf("the later word counts: %s", f.Deferred.Limit())
	}
}

// A limit that has run out keeps the wing on the ground again.
func TestADeferralThatRanOutBlocks(t *testing.T) {
	then, now := Hours(1230), Hours(1330)
	date, hours := carried("3/8-ab12", "line:A1.1@left", procedure.Watch), carried("3/9-ab12", "line:A1.2@left", procedure.Watch)
	date.Deferred, hours.Deferred = &Deferral{Until: "2026-02-28"}, &Deferral{Hours: 100, Base: &then}
	r := newSurveyRigOn(t, screwed(t), Start{Hours: &now, Carried: []Carried{date, hours}})
	r.wantBlocking(
		"A1.1 left: sheath cut, found 2025-09-01, was carried over until 2026-02-28: that has run out",
		"A1.2 left: sheath cut, found 2025-09-01, was carried over until 133 h on the wing: that has run out",
	)
	if todo := r.job.Agenda()[0]; todo.What != "Say what becomes of 2 findings that may wait" {
		t.Errorf("the agenda begins with %q", todo.What)
	}
	for _, f := range r.job.Findings() {
		r.enterOn(f, deferring(0, "2026-09-01"))
	}
	r.wantBlocking()
}

// The clear step lists what blocks, and is answered once nothing does.
func TestTheReleaseWaitsUntilNothingBlocks(t *testing.T) {
	r := newSurveyRigOn(t, screwed(t), Start{Carried: []Carried{carried("3/9-ab12", "line:A1.1@left", procedure.Replace)}})
	cut := r.job.Findings()[0]
	release := r.begin(ProcRelease, wing.Whole())
	r.pass("inflation")
	r.types("2") // not done: it keeps the wing on the ground
	if f := r.field(); len(f.Blocking) != 2 || f.Blocking[0].Finding != cut.ID || !f.Blocking[0].Grounds {
		t.Errorf("on the card: %+v", f.Blocking)
	}
	if _, err := r.try(""); code(err) != NotClear || !strings.Contains(err.Error(), "sheath cut") || !strings.Contains(err.Error(), "2 in all") {
		t.Errorf("the cut line and the inflation: %v", err)
	}

	r.do(ProcSwap, "line:A1.1@left")
	r.begin(ProcTrimAfter, wing.Whole())
	r.pass("")
	on := func(kind EntryKind, text string) (Event, error) {
		return r.enter(Entry{Kind: kind, Task: release, Text: text})
	}
	if e, err := on(EnterOn, ""); err != nil || e.Kind != Confirmed {
		t.Fatalf("after work elsewhere: %+v %v", e, err)
	}
	if _, err := on(EnterOn, ""); code(err) != NotClear || !strings.Contains(err.Error(), "worked on after this look") {
		t.Errorf("the look is older than the swap: %v", err)
	}
	r.must(Entry{Kind: EnterReopen, Task: release, Key: "fittings@left", Text: "look again"})
	for _, en := range []Entry{
		{Kind: EnterLook, Text: "bea"}, {Kind: EnterAnswer, Text: "1"}, {Kind: EnterAnswer, Text: "1"},
	} {
		en.Task = release
		r.must(en)
	}
	r.sign(release, "second_look", "bea", "SHA256:bea")
	on(EnterAnswer, "2")
	if _, err := on(EnterOn, ""); code(err) != NotClear || !strings.Contains(err.Error(), "Inflate the wing") {
		t.Errorf("not inflated: %v", err)
	}
	r.must(Entry{Kind: EnterReopen, Task: release, Key: "inflation", Text: "the wind dropped"})
	on(EnterAnswer, "1")
	if e, err := on(EnterOn, ""); err != nil || e.Choice != "clear" || e.Outcome != Taken {
		t.Fatalf("nothing is open: %+v %v", e, err)
	}
	c, _ := r.job.CardAt(release, "clear")
	if f := c.Fields[c.At]; f.Answer != "nothing keeps the wing on the ground" {
		t.Errorf("%q", f.Answer)
	}
}

// The pilot is told once more what is open: something may have been found
// between the list and the signature.
func TestThePilotSignsOnlyWhileNothingBlocks(t *testing.T) {
	r := surveyed(t)
	r.pass("")
	release := r.begin(ProcRelease, wing.Whole())
	r.pass("pilot")
	en := r.seen("line:C1.1@right", "scuffed", "")
	en.Task, en.Key = 1, "row@C.right"
	r.must(Entry{Kind: EnterOn, Task: 1}) // the last step is looked at again
	found := r.must(en)
	sign := func() error {
		m, err := r.job.Hold(release, r.stamp(), "pat", "SHA256:pat")
		if err != nil {
			t.Fatal(err)
		}
		_, err = r.enter(Entry{Kind: EnterSign, Task: release, Sign: &m})
		return err
	}
	r.must(Entry{Kind: EnterOn, Task: release})
	if err := sign(); code(err) != NotClear {
		t.Fatalf("signed with a finding open: %v", err)
	}
	f, _ := r.job.Finding(found.Finding)
	r.enterOn(f, deferring(0, "2027-03-01"))
	if err := sign(); code(err) != NotClear || !strings.Contains(err.Error(), "task 1") {
		t.Fatalf("signed while the survey is open again: %v", err)
	}
}

// The pilot may be the one who did the work, or the one who looked.
func TestThePilotMayHaveDoneTheWork(t *testing.T) {
	for _, name := range []string{"ann", "bea"} {
		r := newSurveyRig(t)
		no := r.begin(ProcRelease, wing.Whole())
		r.pass("pilot")
		r.sign(no, "pilot", name, "SHA256:"+name)
		if s := r.job.Tasks[0].State(); s != Done {
			t.Errorf("signed by %s: %s", name, s)
		}
	}
}
