package job

import (
	"testing"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

// Papers that state whole paths and no lines at all are enough to measure by:
// from the riser, where they begin.
func TestStatedPathsAloneAreMeasured(t *testing.T) {
	r := newTrimRigOn(t, []byte(`linewright_plan = 1
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
[[path]]
point = "B2"
row = "B"
length_mm = 7100
`), Start{Bench: *bench("I", metrology.PullWeight, 1, 500)})
	r.upTo("row@A", nil)
	v := r.view()
	if c := v.cell("A1 left"); v.From != wing.FromRiser || c.Expected != 7*quantity.Metre || !c.Stated || v.Total != 2 {
		t.Errorf("%+v, expected %s", v, c.Expected)
	}
	if v.LimitOf != "fallback: common practice, no source" || v.Limit != 10*quantity.Millimetre || v.Source != "check sheet" {
		t.Errorf("limit %s (%s), source %s", v.Limit, v.LimitOf, v.Source)
	}
	r.types("7000", "7003", "")
	if r.due() != "row@B" {
		t.Fatalf("due %s", r.due())
	}
	r.types("7100", "7101", "", "")
	if e := r.job.Events()[len(r.journal)-1]; len(e.Trim.Paths) != 4 || e.Lengths != nil {
		t.Errorf("%+v", e.Trim)
	}
	if n := len(r.job.PathLengths()); n != 4 {
		t.Errorf("%d lengths, want 4", n)
	}
}

// Where the plan knows no length a path is measured and not judged; a row none
// of whose lines leads to the canopy is passed over.
func TestWhatThePlanDoesNotKnowIsNotJudged(t *testing.T) {
	r := newTrimRigOn(t, []byte(`linewright_plan = 1
name = "Found"
size = "S"
partial = true
as_found = true
[source]
text = "as found"
date = "2026"
[[riser]]
branch = "A"
[[link]]
name = "A"
branch = "A"
kind = "soft"
[[line]]
code = "A1"
row = "A"
tier = "lower"
on = "link:A"
point = "A1"
sheathed = true
[[line]]
code = "B1"
row = "B"
tier = "lower"
on = "link:A"
sheathed = true
`), Start{Bench: *bench("I", metrology.PullWeight, 1, 500)})
	r.upTo("row@A", nil)
	if e := r.must(r.typing("49")); e.Outcome != Open || e.Why.Code != Implausible {
		t.Errorf("49 mm of a path: %+v", e)
	}
	r.types("6450", "6451")
	e := r.must(r.typing(""))
	if l := e.Lengths[0]; l.Verdict != "" || l.Expected != 0 || l.Value != 6450*quantity.Millimetre || l.U == 0 {
		t.Errorf("%+v", l)
	}
	if r.due() != "report" {
		t.Errorf("row B has nothing to measure, and due is %s", r.due())
	}
	if len(r.job.Blocking(1, r.stamp().At)) != 0 {
		t.Errorf("what cannot be judged keeps the wing on the ground: %+v", r.job.Blocking(1, r.stamp().At))
	}
}

// No text that somebody types makes more of it than a refusal.
func TestTextsThatAreNoReading(t *testing.T) {
	r := newTrimRig(t)
	r.upTo("row@A", nil)
	for _, text := range []string{"l", "L 5", "left", "left 5", "A1", "A1 left", "A1L", "A1 left left 6450", "ä 6450", "6450 left", "A1 left 6450 mm mm", "A1 up 6450", "@", "  "} {
		if e, err := r.try(text); err == nil {
			t.Errorf("%q was written: %+v", text, e)
		}
	}
	if v := r.view(); v.Read != 0 {
		t.Errorf("%d read", v.Read)
	}
}
