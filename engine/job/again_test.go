package job

import (
	"encoding/json"
	"strings"
	"testing"

	"example.org/linewright/engine/wing"
)

// againProcedure has a reading of each kind that can be far off.
const againProcedure = `linewright_procedure = 1
id = "again-test"
edition = "1"
title.en = "Again test"
target = "line"
[[phase]]
id = "work"
title.en = "Work"
[[phase.card]]
id = "tails"
each = "side"
action.en = "MEASURE THE TAIL"
reason.en = "So."
[[phase.card.step]]
id = "tail"
kind = "measure"
quantity = "length"
state = "plain"
ask.en = "Tail"
  [[phase.card.step.near]]
  is = "twin.tail"
  where.en = "the {here.other_side} side has {twin.tail} mm"
  [[phase.card.step.near]]
  is = "max(value, 50)"
  where.en = "at least 50 mm are wanted"
[[phase.card]]
id = "line"
action.en = "MEASURE THE LINE"
reason.en = "So."
[[phase.card.step]]
id = "installed"
kind = "measure"
quantity = "length"
state = "installed"
ask.en = "Line"
[[phase.card.step]]
id = "distance"
kind = "measure"
quantity = "length"
state = "plain"
ask.en = "Distance"
readings = 2
blind = true
[[phase.card]]
id = "look"
by = "second"
action.en = "MEASURE IT AGAIN"
reason.en = "So."
[[phase.card.step]]
id = "looked"
kind = "measure"
quantity = "length"
state = "plain"
ask.en = "Tail"
expect = "left.tail"
source = "measured before"
`

func againRig(t *testing.T) *rig {
	t.Helper()
	r := newRig(t)
	sha := r.pins.pin([]byte(againProcedure))
	r.must(Entry{Kind: EnterAdd, Add: &Add{Procedure: "again-test", Edition: "1", SHA256: sha, Target: wing.LineRef("C1.2", wing.Left)}})
	return r
}

// A reading that lies far off is asked for once more and nothing is written;
// typed again it is taken, and the journal keeps that it was.
func TestAFarReadingIsTypedTwice(t *testing.T) {
	r := againRig(t)
	type try struct{ text, again, want string }
	for _, step := range [][]try{
		{{"4.1", "", "4.1 mm, where at least 50 mm are wanted."}, {"4,2", "4.1", "4.2 mm, where at least 50 mm are wanted."}, {"41", "4.2", ""}},
		{{"410", "", "410 mm, where the left side has 41 mm."}, {"41cm", "410", ""}},
		{{"2", "", "2 mm, where the plan has 4205 mm."}, {"4310", "2", "4310 mm, where the plan has 4205 mm."}, {"4210", "4310", ""}},
		{{"135", "", ""}, {"13.5", "", "13.5 mm lies far from what was to be expected."}, {"136", "13.5", ""}},
	} {
		for _, s := range step {
			before := r.job.Lines
			e, err := r.enter(Entry{Kind: EnterAnswer, Text: s.text, Again: s.again})
			switch {
			case s.want == "" && err != nil:
				t.Errorf("%q is not taken: %v", s.text, err)
			case s.want != "" && (err == nil || !strings.HasPrefix(err.Error(), s.want) || r.job.Lines != before):
				t.Errorf("%q: %+v, %v, want %s", s.text, e, err, s.want)
			}
		}
	}
	var twice []string
	for _, e := range r.job.Events() {
		if e.FarFrom != "" {
			twice = append(twice, e.Typed+": "+e.FarFrom)
		}
	}
	if got := strings.Join(twice, "; "); got != "41cm: the left side has 41 mm" {
		t.Errorf("typed twice: %s", got)
	}
}

// The second person is not told what was measured before.
func TestTheSecondPersonIsNotToldWhatAReadingIsFarFrom(t *testing.T) {
	r := againRig(t)
	for _, text := range []string{"41", "40", "4180", "135", "136"} {
		r.must(Entry{Kind: EnterAnswer, Text: text})
	}
	r.must(Entry{Kind: EnterLook, Text: "bea"})
	_, err := r.enter(Entry{Kind: EnterAnswer, Text: "410"})
	if err == nil || !strings.HasPrefix(err.Error(), "410 mm lies far from what was to be expected.") {
		t.Fatalf("%v", err)
	}
	e := r.must(Entry{Kind: EnterAnswer, Text: "410", Again: "410.0"})
	if data, _ := json.Marshal(e); strings.Contains(string(data), "41 mm") {
		t.Errorf("%s", data)
	}
}

// What is real goes through at once: limits by common practice, no source.
func TestRealReadingsAreNotAskedForTwice(t *testing.T) {
	for _, tails := range [][2]string{{"41", "100"}, {"100", "35"}, {"250", "80"}, {"60", "52"}} {
		r := againRig(t)
		for _, text := range append(tails[:], "4140") {
			r.must(Entry{Kind: EnterAnswer, Text: text})
		}
	}
}
