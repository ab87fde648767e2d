package job

import (
	"strings"
	"testing"

	"example.org/linewright/engine/wing"
)

// What was inside before a line was worked on proves nothing behind it.
func TestALengthFromBeforeTheWorkDoesNotRelease(t *testing.T) {
	r := newTrimRig(t)
	stale := func() (n int) {
		for _, it := range r.job.Blocking(0, "2026-03-01T10:00:00Z") {
			if strings.Contains(it.Text, "was measured before the work on it") {
				n++
			}
		}
		return n
	}
	r.upTo("", nil)
	if n := stale(); n != 0 {
		t.Fatalf("%d paths block before any work", n)
	}
	line := r.job.Plan.OnLink(r.job.Plan.Links[0].Name)[0]
	r.work(wing.LineRef(line.Code, wing.Left))
	if n := stale(); n != len(r.job.Plan.Points(line.Code)) {
		t.Errorf("%d paths block after work on %s, which carries %v", n, line.Code, r.job.Plan.Points(line.Code))
	}
	r.begin("after-test", wing.Whole())
	r.upTo("", nil)
	if n := stale(); n != 0 {
		t.Errorf("%d paths block though they were measured again", n)
	}
}

// A verdict goes with the reading that it stood on.
func TestAStruckReadingTakesItsVerdictAlong(t *testing.T) {
	r := withTask(t)
	r.to("loose")
	r.must(Entry{Kind: EnterAnswer, Text: "4231"})
	r.must(Entry{Kind: EnterAnswer, Text: "4231"})
	if e := r.must(Entry{Kind: EnterOn}); e.Why == nil || e.Why.Code != OutsideLimit {
		t.Fatalf("26 mm off a line of 4205 mm: %+v", e.Why)
	}
	r.must(Entry{Kind: EnterStrike, Line: len(r.journal) - 1, Text: "misread"})
	c, _ := r.job.Card(1, 1)
	if f := c.Fields[c.At]; f.Why != nil || f.Scale.Judgement != nil {
		t.Errorf("the old verdict stays: %+v %+v", f.Why, f.Scale.Judgement)
	}
}

// Readings whose value was refused do not count in the next one.
func TestReadingsThatFailedTogetherCountNoMore(t *testing.T) {
	r := newRig(t)
	text := strings.Replace(loopFitting, `ask.en = "Twin"`, "readings = 2\nspread_mm = 3\nmust = \"value < 4200\"\nelse.en = \"Again.\"\nask.en = \"Twin\"", 1)
	r.must(Entry{Kind: EnterAdd, Add: &Add{Procedure: "fitting", Edition: "1", SHA256: r.pins.pin([]byte(text)), Target: wing.LineRef("C1.2", wing.Left)}})
	for i, typed := range []string{"plain", "4201", "4202", "4180", "4181"} {
		e := r.must(Entry{Kind: EnterAnswer, Text: typed})
		if failed := e.Why != nil && e.Why.Code == MustFails; failed != (i == 2) {
			t.Errorf("%s: %+v", typed, e.Why)
		}
	}
	if a := r.job.Tasks[0].At("twin_mm"); a.State != Ready || a.Measurement.N != 2 {
		t.Errorf("%+v", a)
	}
}
