package job

import (
	"strings"
	"testing"

	"example.org/linewright/engine/wing"
)

// The release of a wing on which nothing was found: another person goes over
// it, nothing is open, the pilot signs.
func TestAReleaseOfTheSampleWing(t *testing.T) {
	r := newLookRig(t)
	no := r.on(ProcRelease)
	r.until("look.row_again@A.left", nil)
	if _, err := r.try("1"); code(err) != LookerFirst {
		t.Errorf("the doer looks at their own work: %v", err)
	}
	if _, err := r.enter(Entry{Kind: EnterLook, Task: no, Text: "ann"}); code(err) != SamePerson {
		t.Errorf("the doer says they are the second person: %v", err)
	}
	r.until("pilot", nil)
	task := r.job.Tasks[no-1]
	if a := task.At("look.row_again@Br.right"); a == nil || a.Event.Who != "bea" {
		t.Errorf("the last row stands under %+v", a)
	}
	if task.At("look.row@A.left") != nil || task.At("look.cloth@left") != nil {
		t.Error("a release asks for the first look")
	}
	r.until("", nil)
	t.Logf("%d cards, %d keys", len(r.cards), r.keys)
	if task.State() != Done || len(r.cards) > 26 || r.keys > 80 {
		t.Errorf("%s, %d cards and %d keys; at most 26 and 80", task.State(), len(r.cards), r.keys)
	}
	items := r.job.OpenItems()
	if len(items) != 1 || items[0].Grounds || !strings.HasPrefix(items[0].Text, "Look at what was renewed") {
		t.Errorf("%+v", items)
	}
}

// What the release itself left open keeps the wing on the ground too.
func TestAReleaseWithoutInflationIsNotClear(t *testing.T) {
	r := newLookRig(t)
	no := r.on(ProcRelease)
	r.until("clear", map[string]string{"inflation": "2 no wind today"})
	if r.job.Tasks[no-1].At("edge") != nil {
		t.Error("the trailing edge of a wing on the ground is asked for")
	}
	_, err := r.try("")
	if code(err) != NotClear || !strings.Contains(err.Error(), "Not inflated on the ground since the work") {
		t.Errorf("cleared: %v", err)
	}
	if f := r.field(); len(f.Blocking) != 1 || f.Blocking[0].Key != "inflation" {
		t.Errorf("the card says %+v", f.Blocking)
	}
	r.must(Entry{Kind: EnterReopen, Task: no, Key: "inflation", Text: "wind"})
	r.until("", nil)
}

// What is taken back in a release leaves the survey before it as it was signed.
func TestAReleaseTakesNothingBackFromTheSurvey(t *testing.T) {
	r := newLookRig(t)
	survey := r.on(ProcSurvey)
	r.until("", map[string]string{"event": "9"})
	no := r.on(ProcRelease)
	r.until("clear", map[string]string{"inflation": "2 no wind today"})
	e := r.must(Entry{Kind: EnterReopen, Task: no, Key: "inflation", Text: "wind"})
	if len(e.Voids) != 1 || r.job.Tasks[survey-1].State() != Done {
		t.Errorf("void: %v; the survey is %s", e.Voids, r.job.Tasks[survey-1].State())
	}
}

// A finding of the second person grounds the wing; the work on it makes their
// look old, and they look again.
func TestWorkBehindTheLookAsksForAnother(t *testing.T) {
	r := newLookRig(t)
	no := r.on(ProcRelease)
	r.until("look.row_again@C.left", nil)
	f := r.finds("line:C1.2@left", "loop", "")
	if f.Who != "bea" {
		t.Errorf("found by %s", f.Who)
	}
	r.until("look.kin_again", nil)
	r.until("clear", nil)
	if _, err := r.try(""); code(err) != NotClear || !strings.Contains(err.Error(), "C1.2 left: loop worn or torn") {
		t.Errorf("cleared with a torn loop: %v", err)
	}
	swap := r.swap("C1.2")
	if stateOf(r, f) != StateMended || swap != no+1 {
		t.Fatalf("%s after task %d", stateOf(r, f), swap)
	}
	r.must(Entry{Kind: EnterOn, Task: no}) // the last step is as it says
	_, err := r.enter(Entry{Kind: EnterOn, Task: no})
	want := `task 2, line-swap on C1.2 left, was worked on after this look: re-open "Row A left: every line" and look again`
	if code(err) != NotClear || !strings.Contains(err.Error(), want) {
		t.Errorf("cleared by an old look: %v", err)
	}
	r.must(Entry{Kind: EnterReopen, Task: no, Key: "look.row_again@A.left", Text: "the swap"})
	r.must(Entry{Kind: EnterLook, Task: no, Text: "bea"})
	r.must(Entry{Kind: EnterAnswer, Task: no, Key: "look.row_again@A.left", Text: "1"})
	if left := r.job.Blocking(no, r.stamp().At); len(left) != 1 || !strings.Contains(left[0].Text, "its paths were not measured since") {
		t.Errorf("behind a line that was held against nothing: %+v", left)
	}
}

// Nobody signs that the tag is off while something was felt.
func TestAFirstFlightThatWasFelt(t *testing.T) {
	r := newLookRig(t)
	no := r.on(ProcFirstFlight)
	r.until("tag_now", map[string]string{"flown": "2 pulled to the left", "turn": "2 left", "minutes": "4"})
	r.noted("off", MustFails)
	r.types("on")
	r.until("", nil)
	items := r.job.OpenItems()
	if len(items) != 1 || !items[0].Grounds || items[0].Text != "The wing turns with hands up: tag on, measure left against right." {
		t.Errorf("%+v", items)
	}
	if a := r.job.Tasks[no-1].At("closing"); a == nil || a.Event.Sign.Role != "pilot" {
		t.Errorf("signed by %+v", a)
	}
}

func TestAFirstFlightWithoutAFinding(t *testing.T) {
	r := newLookRig(t)
	no := r.on(ProcFirstFlight)
	r.until("", nil)
	t.Logf("%d cards, %d keys", len(r.cards), r.keys)
	if r.job.Tasks[no-1].State() != Done || len(r.job.OpenItems()) != 0 || len(r.cards) > 8 {
		t.Errorf("due %s, open %+v, %d cards", r.due(), r.job.OpenItems(), len(r.cards))
	}
}

func TestAFirstFlightThatWasNotMade(t *testing.T) {
	r := newLookRig(t)
	no := r.on(ProcFirstFlight)
	r.until("", map[string]string{"flown": "3 fog"})
	if r.job.Tasks[no-1].At("turn") != nil {
		t.Error("what was felt is asked of nobody")
	}
	items := r.job.OpenItems()
	if len(items) != 1 || items[0].Text != "The first flight after the work was not made." {
		t.Errorf("%+v", items)
	}
}

// The look by itself ends with one signature and is no release.
func TestALookByItself(t *testing.T) {
	r := newLookRig(t)
	r.must(r.adding("wing-look", wing.Whole()))
	r.until("", nil)
	signs := 0
	for _, e := range r.job.Events() {
		if e.Kind == Signed {
			signs++
		}
	}
	if signs != 1 || len(r.cards) > 20 {
		t.Errorf("%d signatures, %d cards", signs, len(r.cards))
	}
}
