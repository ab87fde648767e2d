package job

import (
	"reflect"
	"testing"

	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

// fitting asks for the look at a new line where it was not looked at before,
// and for its length against what was ordered.
const fitting = `linewright_procedure = 1
id = "fitting-test"
edition = "1"
title.en = "Fit"
target = "line"
[[phase]]
id = "fit"
title.en = "Fit"
[[phase.card]]
id = "label"
when = "!received"
only.en = "it was not received in a task of its own"
action.en = "LOOK AT THE LABEL"
reason.en = "So."
[[phase.card.step]]
id = "label"
kind = "do"
ask.en = "Label"
[[phase.card]]
id = "length"
action.en = "MEASURE"
reason.en = "So."
[[phase.card.step]]
id = "new"
kind = "measure"
quantity = "length"
state = "loose"
ask.en = "New line"
expect = "wanted_mm"
source = "{wanted_source}"
limit = "10"
limit_source = "test"
`

// fits begins a fitting on A1.1 left.
func (r *surveyRig) fits() {
	r.t.Helper()
	r.shas["fitting-test"] = r.pins.pin([]byte(fitting))
	r.begin("fitting-test", wing.LineRef("A1.1", wing.Left))
}

// ordered orders A1.1 left with a length, or without one where it is 0.
func (r *surveyRig) ordered(length quantity.Length, of string) {
	r.t.Helper()
	en := list("line:A1.1@left")
	en.Part.Part.Length, en.Part.Part.LengthOf = length, of
	r.must(en)
	no := len(r.job.Parts())
	r.must(move(PartRead, no, "A1.1"))
	r.must(move(PartOrder, 0, ""))
}

func TestAPartThatWasReceivedIsNotLookedAtAgain(t *testing.T) {
	r := newSurveyRig(t)
	r.fits()
	if r.due() != "label" {
		t.Errorf("nothing was received, due: %s", r.due())
	}
	r.do(ProcReceipt, "line:A1.1@right")
	receipt := r.begin(ProcReceipt, wing.LineRef("A1.1", wing.Left))
	r.fits()
	if r.due() != "label" {
		t.Errorf("its twin was received, its own look is under way, due: %s", r.due())
	}
	r.must(Entry{Kind: EnterOn, Task: receipt})
	if r.due() != "new" {
		t.Errorf("received, due: %s", r.due())
	}
}

// A part that went back is no part at hand, though it was looked at.
func TestAPartThatWentBackIsLookedAtAgain(t *testing.T) {
	r := newSurveyRig(t)
	r.ordered(0, "")
	r.do(ProcReceipt, "line:A1.1@left")
	r.must(move(PartReturn, 1, "10 mm long"))
	r.fits()
	if r.due() != "label" {
		t.Errorf("due: %s", r.due())
	}
}

// A new line is held against what was ordered; else against the plan.
func TestALineIsHeldAgainstTheOrder(t *testing.T) {
	r := newSurveyRig(t)
	r.fits()
	r.types("")
	want := func(when string, mm int, source string) {
		t.Helper()
		s := r.field().Scale
		if s.Expected != quantity.Length(mm)*quantity.Millimetre || s.Source != source {
			t.Errorf("%s: %s from %q, want %d mm from %q", when, s.Expected, s.Source, mm, source)
		}
	}
	const plan = "invented for a test"
	want("nothing ordered", 5000, plan)
	r.must(list("line:A1.1@right"))
	r.must(move(PartDrop, 1, "not it"))
	r.ordered(4988*quantity.Millimetre, "copy of its twin")
	want("ordered", 4988, "the order: copy of its twin")
	r.must(move(PartReturn, 2, "short"))
	want("sent back", 5000, plan)
	r.must(move(PartDrop, 2, "not needed"))
	r.ordered(0, "")
	want("ordered without a length", 5000, plan)
}

// findings are those of the task itself that stand and are not sound.
func TestATaskCountsItsOwnFindings(t *testing.T) {
	r := surveyed(t)
	r.find("line:A1.1@left", "cut")
	struck := r.find("line:A1.2@left", "cut")
	r.find("line:A1.1@right", "slid")
	r.find("line:B1.1@left", "stain")
	r.find("retainer:C@left", "gone")
	r.must(Entry{Kind: EnterStrike, Line: struck.Line, Text: "dirt"})
	task := r.job.Tasks[0]
	n, _ := task.Beyond("findings", wing.Whole())
	codes, _ := task.Beyond("findings.codes", wing.Whole())
	if n != 3.0 || !reflect.DeepEqual(codes, []string{"A1.1"}) {
		t.Errorf("%v findings on %v, want 3 on A1.1", n, codes)
	}
	if _, ok := task.Beyond("weather", wing.Whole()); ok {
		t.Error("the job knows the weather")
	}
	other := r.job.Tasks[r.begin(ProcRelease, wing.Whole())-1]
	if n, _ := other.Beyond("findings", wing.Whole()); n != 0.0 {
		t.Errorf("another task counts %v of them", n)
	}
}
