package job

import (
	"strings"
	"testing"

	"example.org/linewright/engine/wing"
)

// What a pilot signed last stands with what was answered beside it, until the
// wing is worked on or something keeps it on the ground.
func TestWhatThePilotSignedStands(t *testing.T) {
	r := newLookRig(t)
	at := func() string { return r.stamp().At }
	r.on(ProcRelease)
	if w := r.job.PilotsWord(at()); w != nil {
		t.Errorf("nobody signed yet: %+v", w)
	}
	r.until("", nil)
	if w := r.job.PilotsWord(at()); w == nil || !w.Stands || len(w.Said) != 0 || !strings.Contains(w.States, "I take the tag off myself") {
		t.Errorf("after the release: %+v", w)
	}
	r.on(ProcFirstFlight)
	if w := r.job.PilotsWord(at()); w == nil || !w.Stands {
		t.Errorf("a flight is planned: %+v", w)
	}
	r.until("", map[string]string{"turn": "2 to the left", "tag_now": "2"})
	w := r.job.PilotsWord(at())
	if w == nil || w.Stands || len(w.Said) != 1 || w.Said[0] != "Where is the tag now? on the wing again, by my hand" {
		t.Errorf("the wing turns: %+v", w)
	}
}

func TestWorkBehindThePilotsWord(t *testing.T) {
	r := newSurveyRig(t)
	no := r.begin(ProcRelease, wing.Whole())
	r.pass("pilot")
	r.sign(no, "pilot", "pat", "SHA256:pat")
	if w := r.job.PilotsWord(r.stamp().At); w == nil || w.Name != "pat" || !w.Stands {
		t.Errorf("signed: %+v", w)
	}
	r.do(ProcSwap, "line:A1.1@left")
	if w := r.job.PilotsWord(r.stamp().At); w == nil || w.Stands {
		t.Errorf("worked on since: %+v", w)
	}
}

// calm is a procedure that asks whether the wing was inflated, and leaves it open
// with words of its own.
func calm(id, leaves string) []byte {
	return []byte(`linewright_procedure = 1
id = "` + id + `"
edition = "1"
target = "wing"
source = "made for this test"
title.en = "Test"
purpose.en = "Something is left open."

[[phase]]
id = "end"
title.en = "End"

  [[phase.card]]
  id = "end"
  action.en = "INFLATE"
  reason.en = "A test."

    [[phase.card.step]]
    id = "inflation"
    kind = "choose"
    ask.en = "Inflated"

      [[phase.card.step.option]]
      id = "clean"
      text.en = "inflated"

      [[phase.card.step.option]]
      id = "not_done"
      text.en = "not today"
      open_item.en = "` + leaves + `"
      until = ["calm-a", "calm-b"]
`)
}

// What waits for a task is over with it, unless that leaves the like open.
func TestWhatIsLeftOpenEndsWithTheTaskThatDoesIt(t *testing.T) {
	r := newLookRig(t)
	r.shas["calm-a"] = r.pins.pin(calm("calm-a", "not inflated since a"))
	r.shas["calm-b"] = r.pins.pin(calm("calm-b", "not inflated since b"))
	for _, step := range []struct{ id, answer, left string }{
		{"calm-a", "2", "not inflated since a"},
		{"calm-b", "2", "not inflated since a, not inflated since b"},
		{"calm-a", "2", "not inflated since b, not inflated since a"},
		{"calm-b", "1", ""},
	} {
		r.on(step.id)
		r.must(Entry{Kind: EnterAnswer, Task: len(r.job.Tasks), Text: step.answer})
		var left []string
		for _, it := range r.job.OpenItems() {
			left = append(left, it.Text)
		}
		if got := strings.Join(left, ", "); got != step.left {
			t.Errorf("after %s with answer %s: %q, want %q", step.id, step.answer, got, step.left)
		}
	}
}
