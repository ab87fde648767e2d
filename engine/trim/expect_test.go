package trim

import (
	"testing"

	"example.org/linewright/engine/wing"
)

// Whoever shows what a path has to read must not show another number than the
// one that a report holds it against.
func TestExpectIsWhatAReportExpects(t *testing.T) {
	for name, p := range map[string]*wing.Plan{"small": small(t), "sample": sample(t)} {
		for _, from := range wing.Froms {
			set := stated(t, p, milli, byRow(nil))
			set.From = from
			for _, row := range report(t, p, set, Chord{}).Paths {
				want, ok := Expect(p, row.PathRef, from)
				if !ok || want.Length != um(row.ExpectedMM) || want.Stated != row.Stated {
					t.Errorf("%s, %s from the %s: %v %v, the report has %v", name, row.PathRef, from, want, ok, row.ExpectedMM)
				}
			}
		}
	}
	if _, ok := Expect(small(t), PathRef{"Z9", wing.Left}, wing.FromLink); ok {
		t.Error("a path that the plan does not have is expected")
	}
}

func TestRefsGoCentreOutAndLeftFirst(t *testing.T) {
	p := small(t)
	refs := Refs(p, "A")
	want := []string{"A1 left", "A1 right", "A2 left", "A2 right", "A3 left", "A3 right", "A4 left", "A4 right"}
	if len(refs) != len(want) {
		t.Fatalf("%v", refs)
	}
	for i := range want {
		equal(t, "path", refs[i].String(), want[i])
		equal(t, "there", Has(p, refs[i]), true)
	}
	equal(t, "paths of the wing", len(Refs(p, "")), 30)
	equal(t, "a path of no side", Has(p, PathRef{Point: "A1"}), false)
}

// Where the papers state whole paths the tape begins where they do.
func TestFromOf(t *testing.T) {
	equal(t, "no stated paths", FromOf(small(t)), wing.FromLink)
	p := small(t)
	p.Stated, p.PathsFrom = []wing.StatedPath{{Point: "A1", Row: "A", Length: 5000 * milli}}, wing.FromRiser
	equal(t, "stated from the riser", FromOf(p), wing.FromRiser)
}
