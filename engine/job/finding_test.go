package job

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

func refs(things []Thing) string {
	var out []string
	for _, t := range things {
		out = append(out, t.Ref.String())
	}
	return strings.Join(out, ", ")
}

func TestAFindingIsWrittenShownAndListed(t *testing.T) {
	r := surveyed(t)
	r.pass("row@A.left")
	en := r.seen("line:A2.1@left", "1", "12,5 cm")
	en.Seen.Note = " by a branch "
	e := r.must(en)
	place := 125 * quantity.Millimetre
	want := &Found{
		Thing: wing.LineRef("A2.1", wing.Left), Rule: "cut", Text: "sheath cut", Place: &place, Note: "by a branch",
		Disposition: procedure.Replace, Reason: "It opens.",
	}
	if e.Kind != FoundOne || e.Key != "row@A.left" || e.Outcome != Open || !reflect.DeepEqual(e.Found, want) {
		t.Errorf("%+v %+v", e, e.Found)
	}
	f := r.field()
	if got := refs(f.Inspection.Things); got != "A1.1 left, A1.2 left, A2.1 left, A2.2 left, A2.3 left, A2.4 left" {
		t.Errorf("looked at: %s", got)
	}
	line := f.Inspection.Things[2]
	if len(line.Found) != 1 || len(line.Rules) != 4 || len(f.Inspection.Things[1].Found) != 0 {
		t.Errorf("on A2.1: found %v, %d rules", line.Found, len(line.Rules))
	}
	if f.State != Partial || f.Answer != "A2.1 left: sheath cut; the rest not answered yet" {
		t.Errorf("%s: %q", f.State, f.Answer)
	}
	r.types("1")
	c, _ := r.job.CardAt(1, "row@A.left")
	if f := c.Fields[c.At]; f.State != Ready || f.Answer != "A2.1 left: sheath cut; the rest touched, sound" {
		t.Errorf("%s: %q", f.State, f.Answer)
	}
	found := r.job.Findings()
	if len(found) != 1 || found[0].Words() != "A2.1 left: sheath cut, 125 mm from its lower end (by a branch): to be replaced" {
		t.Fatalf("%v", found)
	}
	for _, id := range []string{"7/3-h", "7/3"} {
		if got, ok := r.job.Finding(id); !ok || got != found[0] {
			t.Errorf("%s is not found", id)
		}
	}
	if r.due() != "row@A.right" {
		t.Errorf("due: %s", r.due())
	}
}

// carried is a finding of job 3.
func carried(id, on string, d procedure.Disposition) Carried {
	ref, err := wing.ParseRef(on)
	if err != nil {
		panic(err)
	}
	return Carried{ID: id, At: "2025-09-01T10:00:00Z", Who: "cal", Found: Found{Thing: ref, Rule: "cut", Text: "sheath cut", Disposition: d}}
}

// Two machines may each have a job 7: the beginning of a name that is of two
// findings is of none.
func TestAFindingsShortNameIsOfOneAlone(t *testing.T) {
	r := newSurveyRigOn(t, read(t, "../trim/testdata/small.toml"), Start{Carried: []Carried{carried("7/3-a", "line:A1.1@left", procedure.Watch), carried("7/3-b", "line:A1.1@left", procedure.Watch)}})
	if _, ok := r.job.Finding("7/3"); ok {
		t.Error("7/3 is of two")
	}
	if f, ok := r.job.Finding("7/3-b"); !ok || f.ID != "7/3-b" {
		t.Error("7/3-b is not found")
	}
}

// A look at twins and neighbours is asked only where something was found.
func TestTwinsAndNeighboursAreLookedAtAgain(t *testing.T) {
	r := surveyed(t)
	r.pass("kin")
	if r.due() != "" {
		t.Fatalf("nothing was found, and %s is due", r.due())
	}

	r = surveyed(t)
	r.find("line:A2.1@left", "cut")
	r.find("line:A2.1@left", "stain")
	r.pass("kin")
	// A2.1 hangs on A1.1 beside A2.2; A1.1 hangs on its link beside A1.2.
	if got := refs(r.field().Inspection.Things); got != "A2.1 right, A1.2 left, A2.2 left" {
		t.Errorf("kin: %s", got)
	}
	// What is found there brings its own, and stays on the list: it may be damaged twice.
	r.must(r.seen("line:A1.2@left", "cut", ""))
	if got := refs(r.field().Inspection.Things); got != "A2.1 right, A1.2 left, A2.2 left, A1.2 right, A1.1 left" {
		t.Errorf("kin, with A1.2: %s", got)
	}
	r.pass("")
	if n := len(r.job.Findings()); n != 3 {
		t.Errorf("%d findings", n)
	}

	r = surveyed(t)
	r.find("line:A1.1@left", "cut")
	r.find("line:A1.2@left", "cut")
	r.pass("kin")
	// Each lies beside the other, and both were touched and found damaged.
	if got := refs(r.field().Inspection.Things); got != "A1.1 right, A1.2 right" {
		t.Errorf("kin of two neighbours: %s", got)
	}
}

// What is found later on a thing that was touched before goes to its step, and
// is looked around and counted anew.
func TestAFindingInAStepThatWasAnswered(t *testing.T) {
	r := surveyed(t)
	r.find("line:A1.1@left", "cut")
	r.pass("closing")
	en := r.seen("line:C1.1@left", "cut", "")
	en.Key = "row@C.left"
	e := r.must(en)
	want := []string{"1/kin", "1/marks", "1/second_look"}
	if !reflect.DeepEqual(e.Voids, want) {
		t.Errorf("void: %v, want %v", e.Voids, want)
	}
	if a := r.job.Tasks[0].At("row@C.left"); a.State != Ready || r.due() != "kin" {
		t.Errorf("the row is %s, due: %s", a.State, r.due())
	}
	if got := refs(r.field().Inspection.Things); got != "A1.1 right, A1.2 left, C1.1 right, C1.2 left" {
		t.Errorf("kin: %s", got)
	}
	r.types("1")
	if e, err := r.try("1"); err != nil || e.Why == nil || e.Why.Code != MustFails {
		t.Errorf("two stand written, one was counted: %+v %v", e.Why, err)
	}
	r.types("2")
	r.pass("")
}

// What is struck was seen by mistake: its thing is touched anew, and whatever
// rested on it is done again.
func TestAStruckFindingAsksForItsStepAnew(t *testing.T) {
	r := surveyed(t)
	f := r.find("line:A1.1@left", "cut")
	r.find("line:B1.1@left", "cut")
	r.pass("")
	e := r.must(Entry{Kind: EnterStrike, Line: f.Line, Text: "only dirt"})
	want := []string{"1/row@A.left", "1/kin", "1/marks", "1/second_look", "1/closing"}
	if !reflect.DeepEqual(e.Voids, want) {
		t.Errorf("void: %v, want %v", e.Voids, want)
	}
	if f.Struck != "only dirt" || r.state(f) != StateStruck || r.due() != "row@A.left" {
		t.Errorf("%q, %s, due: %s", f.Struck, r.state(f), r.due())
	}
	if in := r.field().Inspection; len(in.Things[0].Found) != 0 {
		t.Errorf("still shown: %v", in.Things[0].Found)
	}
	r.types("1")
	if got := refs(r.field().Inspection.Things); r.due() != "kin" || strings.Contains(got, "A1") {
		t.Errorf("due %s: %s", r.due(), got)
	}
	if _, err := r.enter(Entry{Kind: EnterStrike, Line: f.Line, Text: "again"}); code(err) != StruckAlready {
		t.Errorf("struck twice: %v", err)
	}
	r.pass("")
}

// A finding of the look at kin voids that look once.
func TestAStruckFindingOfKinVoidsItOnce(t *testing.T) {
	r := surveyed(t)
	r.find("line:A1.1@left", "cut")
	r.pass("kin")
	r.must(r.seen("line:A1.1@right", "cut", ""))
	r.types("1")
	line := r.job.Findings()[1].Line
	e := r.must(Entry{Kind: EnterStrike, Line: line, Text: "dirt"})
	if !slices.Equal(e.Voids, []string{"1/kin"}) || r.due() != "kin" {
		t.Errorf("void: %v, due: %s", e.Voids, r.due())
	}
}

// The last finding struck leaves nothing to look around.
func TestWithoutFindingsKinIsSkippedAgain(t *testing.T) {
	r := surveyed(t)
	f := r.find("line:A1.1@left", "cut")
	r.pass("marks")
	r.must(Entry{Kind: EnterStrike, Line: f.Line, Text: "dirt"})
	r.types("1")
	if r.due() != "marks" {
		t.Errorf("due: %s", r.due())
	}
	r.pass("")
}

// The second person's findings stand under their name.
func TestASecondPersonFinds(t *testing.T) {
	r := newSurveyRig(t)
	r.begin(ProcRelease, wing.Whole())
	r.must(Entry{Kind: EnterLook, Task: 1, Text: "bea"})
	e := r.must(r.seen("riser:A@left", "fluff", ""))
	if e.Who != "bea" || r.job.Findings()[0].Who != "bea" {
		t.Errorf("found by %s, kept for %s", e.Who, r.job.Findings()[0].Who)
	}
	r.sitting = 2
	if _, err := r.enter(r.seen("riser:B@left", "fluff", "")); code(err) != LookerFirst {
		t.Errorf("in a new sitting, without a name: %v", err)
	}
	r.must(Entry{Kind: EnterLook, Task: 1, Text: "bea"})
	r.must(r.seen("riser:B@left", "fluff", ""))
}

func TestWhatIsFoundComesBackFromTheJournal(t *testing.T) {
	r := surveyed(t)
	cut, scuffed, slid := r.find("line:A1.1@left", "cut"), r.find("line:A1.2@left", "scuffed"), r.find("line:B1.1@left", "slid")
	r.pass("")
	r.must(Entry{Kind: EnterStrike, Line: cut.Line, Text: "dirt"})
	r.pass("")
	en := deferring(0, "2027-03-01")
	en.Finding = scuffed.ID
	r.must(en)
	en = clearing(ByWorkshop)
	en.Finding = slid.ID
	r.must(en)

	again := New(r.pins)
	for _, raw := range r.journal {
		e, err := Decode(raw)
		if err != nil {
			t.Fatalf("%v\n%s", err, raw)
		}
		if err := again.Apply(e); err != nil {
			t.Fatal(err)
		}
	}
	if !reflect.DeepEqual(again.Findings(), r.job.Findings()) {
		t.Errorf("%+v\nwant %+v", again.Findings(), r.job.Findings())
	}
	for i, want := range []FindingState{StateStruck, StateDeferred, StateCleared} {
		if got, _ := again.StateOf(again.Findings()[i]); got != want {
			t.Errorf("finding %d is %s, want %s", i+1, got, want)
		}
	}
	if one, two := again.Blocking(0, ""), r.job.Blocking(0, ""); !reflect.DeepEqual(one, two) {
		t.Errorf("blocking %v, want %v", one, two)
	}
	if one, two := again.Agenda(), r.job.Agenda(); !reflect.DeepEqual(one, two) {
		t.Errorf("agenda %v, want %v", one, two)
	}
}
