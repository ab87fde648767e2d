package job

import (
	"slices"
	"strings"
	"testing"

	"example.org/linewright/engine/wing"
)

// A periodic look at the sample wing: one key and Enter for each row and side,
// and little else.
func TestASurveyWithoutFindingsStaysSmall(t *testing.T) {
	r := newLookRig(t)
	no := r.on(ProcSurvey)
	r.until("", map[string]string{"event": "9"})
	t.Logf("%d cards, %d keys", len(r.cards), r.keys)
	if len(r.cards) > 28 || r.keys > 80 {
		t.Errorf("%d cards and %d keys; at most 28 and 80", len(r.cards), r.keys)
	}
	rows := 0
	for _, card := range r.cards {
		if strings.HasPrefix(card, "look.rows/row@") {
			rows++
		}
	}
	if rows != 12 {
		t.Errorf("%d rows and sides, want 6 rows of 2 sides", rows)
	}
	for _, key := range []string{"look.kin", "second_mark", "side_loaded", "all_whole", "look.row_again@A.left", "look.unnamed"} {
		if a := r.job.Tasks[no-1].At(key); a != nil {
			t.Errorf("%s is asked where nothing was found and nothing pulled", key)
		}
	}
	if r.job.Tasks[no-1].State() != Done || len(r.job.OpenItems()) != 0 {
		t.Errorf("due %s, open %+v", r.due(), r.job.OpenItems())
	}
}

// What is found on each kind of thing has its own words, its twin and its
// neighbours are touched again, and a second person reads it off the wing.
func TestASurveyOfASnag(t *testing.T) {
	r := newLookRig(t)
	no := r.on(ProcSurvey)
	r.until("look.row@C.left", nil)
	core := r.finds("line:C1.2@left", "bare_core", "2100")
	if _, err := r.enter(Entry{Kind: EnterFinding, Task: no, Seen: &Seen{Thing: wing.LineRef("C3.6", wing.Left), Rule: "lump"}}); code(err) != RuleUnknown {
		t.Errorf("a lump inside the sheath of a line without one: %v", err)
	}
	fuzz := r.finds("line:C3.6@left", "fuzz", "")
	r.finds("line:C3.7@left", "stain", "")
	r.until("look.fittings@left", nil)
	gate := r.finds("link:C@left", "gate_loose", "")
	r.until("look.kin", nil)
	kin := r.field().Inspection
	var things []string
	for _, thing := range kin.Things {
		things = append(things, thing.Ref.String())
	}
	want := []string{"C1.2 right", "C1.1 left", "C1.3 left", "C3.6 right", "C3.5 left", "link C right"}
	if !slices.Equal(things, want) {
		t.Errorf("touched again %v, want %v", things, want)
	}
	r.until("second_count", nil)
	r.must(Entry{Kind: EnterLook, Task: no, Text: "bea"})
	if c, _ := r.job.Card(no, r.sitting); c.Hidden || c.Target != "the wing" {
		t.Errorf("the wing is no target to be found: %q", c.Target)
	}
	r.noted("4", MustFails) // the stain is sound: no strip hangs there
	r.types("3")
	r.noted("C1.3", MustFails)
	r.types("C3.6")
	r.noted("c1.1", MustFails)
	r.until("closing", nil)
	r.until("", nil)
	if got := []FindingState{stateOf(r, core), stateOf(r, fuzz), stateOf(r, gate)}; !slices.Equal(got, []FindingState{StateOpen, StateOpen, StateOpen}) {
		t.Errorf("%v", got)
	}
	for _, words := range []string{
		"C1.2 left: core bare: the sheath is torn open, cut or slid off it, found 2026-03-01: replace",
		"C3.6 left: a little fuzz, all strands whole, found 2026-03-01: mend it, or carry it over with a reason and a limit",
		"link C left: gate not home: loose, thread or a gap at an end, mark broken, found 2026-03-01: mend",
	} {
		if !strings.Contains(r.blockers(), words) {
			t.Errorf("%q does not keep the wing on the ground:\n%s", words, r.blockers())
		}
	}
}

func stateOf(r *lookRig, f *Finding) FindingState {
	s, _ := r.job.StateOf(f)
	return s
}

// A step that was passed over has no findings, also when the task is done.
func TestAFindingInAStepThatWasSkipped(t *testing.T) {
	r := newLookRig(t)
	no := r.on(ProcSurvey)
	en := Entry{Kind: EnterFinding, Task: no, Key: "look.kin", Seen: &Seen{Thing: wing.LineRef("A1.1", wing.Left), Rule: "fused"}}
	if _, err := r.enter(en); code(err) != NotYet {
		t.Errorf("before its turn: %v", err)
	}
	r.until("", map[string]string{"event": "9"})
	if _, err := r.enter(en); code(err) != NotDone {
		t.Errorf("of a task that is done: %v", err)
	}
}

// A brake main comes with the knot that it is tied in, and with no other.
func TestANewBrakeMainEndsWhatWasFoundOnItsKnot(t *testing.T) {
	r := newLookRig(t)
	r.on(ProcSurvey)
	r.until("look.fittings@left", map[string]string{"event": "9"})
	left := r.finds("knot@left", "tail_short", "")
	r.until("look.fittings@right", nil)
	right := r.finds("knot@right", "tail_short", "")
	r.until("", nil)
	main := strings.Replace(string(tiny(ProcBrakeMain)), `mends = ["line"]`, `mends = ["line", "knot"]`, 1)
	r.must(Entry{Kind: EnterAdd, Add: &Add{Procedure: ProcBrakeMain, Edition: "1", SHA256: r.pins.pin([]byte(main)), Target: wing.LineRef("Br1.1", wing.Left)}})
	r.must(Entry{Kind: EnterOn, Task: len(r.job.Tasks)})
	if stateOf(r, left) != StateMended || stateOf(r, right) != StateOpen {
		t.Errorf("left %s, right %s", stateOf(r, left), stateOf(r, right))
	}
}

// A finding behind the second person's answers asks for them again.
func TestTheSecondPersonAnswersAnewWhenSomethingIsFoundBehindThem(t *testing.T) {
	r := newLookRig(t)
	no := r.on(ProcSurvey)
	r.until("", map[string]string{"event": "9"})
	r.must(Entry{Kind: EnterFinding, Task: no, Key: "look.row@A.left", Seen: &Seen{Thing: wing.LineRef("A1.1", wing.Left), Rule: "fused"}})
	if due := r.due(); due != "look.kin" {
		t.Errorf("due %s, want twin and neighbours first", due)
	}
	task := r.job.Tasks[no-1]
	for _, key := range []string{"second_count", "second_line@left", "second_state", "second_sign", "closing"} {
		if a := task.At(key); a == nil || a.State != Void {
			t.Errorf("%s still counts: %+v", key, a)
		}
	}
	if a := task.At("look.row@B.right"); a == nil || a.State != Ready {
		t.Errorf("another row does not count any more: %+v", a)
	}
	r.until("", nil)
}

// After a hard pull every length is measured; what cannot be pulled is replaced
// first, and the survey waits with its signatures for that.
func TestAfterAHardPullEveryLengthIsMeasured(t *testing.T) {
	r := newLookRig(t)
	no := r.on(ProcSurvey)
	r.until("look.row@C.left", map[string]string{"event": "tree"})
	f := r.finds("line:C1.2@left", "severed", "")
	r.until("all_whole", nil)
	if a := r.job.Tasks[no-1].At("closing"); a == nil || a.State != Ready {
		t.Fatal("the look is not signed before the lengths")
	}
	r.noted("severed", WrongState)
	r.must(Entry{Kind: EnterLayDown, Task: no, Text: "C1.2 is severed"})
	if r.swap("C1.2"); stateOf(r, f) != StateMended {
		t.Errorf("%s is %s", f.Thing, stateOf(r, f))
	}
	r.must(Entry{Kind: EnterTakeUp, Task: no})
	r.must(Entry{Kind: EnterOn, Task: no}) // the last step is as it says
	r.must(Entry{Kind: EnterAnswer, Task: no, Text: "whole"})
	if due, _ := r.job.Tasks[no-1].current(); due == nil || due.Key != "lengths.manual_says" {
		t.Errorf("due %v, want the measuring", due)
	}
}

func TestLeftAndRightThatWereNotAlikeAreMeasured(t *testing.T) {
	for pulled, want := range map[string]string{"1": "", "2 rear rows": "all_whole", "3 alone": "all_whole"} {
		r := newLookRig(t)
		r.on(ProcSurvey)
		r.until("all_whole", map[string]string{"event": "1", "pulled": pulled})
		if due := r.due(); due != want {
			t.Errorf("%s: due %q, want %q", pulled, due, want)
		}
	}
}

// A plan of some lines cannot name the others: they are asked for, and left
// out they keep the wing on the ground.
func TestWhatThePlanDoesNotNameIsAskedFor(t *testing.T) {
	plan := strings.Replace(string(read(t, "../../procedures/sample/plan.toml")), "size = \"M\"\n", "size = \"M\"\npartial = true\n", 1)
	r := newLookRigOn(t, []byte(plan))
	no := r.on(ProcSurvey)
	r.until("", map[string]string{"event": "9", "look.unnamed": "3 dusk"})
	items := r.job.OpenItems()
	if len(items) != 1 || !items[0].Grounds || items[0].Text != "What the plan does not name was not looked at: look at it, then answer this anew." {
		t.Errorf("%+v", items)
	}
	r.must(Entry{Kind: EnterReopen, Task: no, Key: "look.unnamed", Text: "morning"})
	r.until("", nil)
	if len(r.job.OpenItems()) != 0 {
		t.Errorf("still open: %+v", r.job.OpenItems())
	}
}

func TestAPlanWithoutLinesIsNoGroundForALook(t *testing.T) {
	r := newLookRigOn(t, []byte(`linewright_plan = 1
name = "Paper"
size = "S"
partial = true
paths_from = "riser"
[source]
text = "check sheet"
date = "2026"
[[path]]
point = "A1"
row = "A"
length_mm = 7000
`))
	for _, id := range []string{ProcSurvey, ProcRelease} {
		if _, err := r.enter(r.adding(id, wing.Whole())); err == nil || !strings.HasPrefix(err.Error(), "The plan names no line of this wing") {
			t.Errorf("%s: %v", id, err)
		}
	}
}
