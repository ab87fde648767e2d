package job

import (
	"strings"
	"testing"

	"example.org/linewright/engine/procedure"
)

// What a finding asks for: the part, its twin where both are renewed, and a
// retainer for each link that is opened; once each.
func TestFindingsSuggestParts(t *testing.T) {
	for on, want := range map[string]string{
		"line:A1.1@left":   "A1.1 left, retainer of link A left",
		"line:A2.1@left":   "A2.1 left, retainer of link A left",
		"line:S1.1@right":  "S1.1 right, S1.1 left, retainer of link B right",
		"line:Br1.1@left":  "Br1.1 left, Br1.1 right",
		"knot@left":        "Br1.1 left, Br1.1 right",
		"link:C@left":      "link C left, retainer of link C left",
		"retainer:C@right": "retainer of link C right",
		"pulley@left":      "brake pulley left",
	} {
		r := withFindings(t, screwed(t), procedure.Replace, on, on)
		var got []string
		for _, p := range r.job.SuggestParts() {
			got = append(got, p.Thing.String())
			if p.Finding != "3/1-a" || p.Why == "" {
				t.Errorf("%s for %q, because %q", p.Thing, p.Finding, p.Why)
			}
		}
		if strings.Join(got, ", ") != want {
			t.Errorf("%s: %s, want %s", on, got, want)
		}
	}
}

// A line comes with what the plan says of it, a pair with its reason.
func TestASuggestedLineSaysWhatIsOrdered(t *testing.T) {
	parts := withFindings(t, screwed(t), procedure.Replace, "line:S1.1@left").job.SuggestParts()
	line, twin := parts[0], parts[1]
	if line.Length.MM() != 6300 || line.LengthOf != "plan: invented for a test" || line.Material != "aramid" || line.Count != 1 || line.Why != "sheath cut, found 2025-09-01" {
		t.Errorf("%+v", line)
	}
	if !strings.HasPrefix(twin.Why, "pair of S1.1 left: ") || !strings.HasSuffix(twin.Why, "(common practice, no source)") {
		t.Errorf("%q", twin.Why)
	}
}

// What is on the list, at hand, mended or only to be put right is not
// suggested.
func TestPartsAreSuggestedOnce(t *testing.T) {
	r := withFindings(t, screwed(t), procedure.Replace, "line:A1.1@left")
	count := func(want int, when string) {
		t.Helper()
		if n := len(r.job.SuggestParts()); n != want {
			t.Errorf("%s: %d parts, want %d", when, n, want)
		}
	}
	r.must(list("line:A1.1@left"))
	count(1, "the line is listed")
	r.must(move(PartDrop, 1, "a mistake"))
	count(2, "it was dropped")
	r.have("line:A1.1@left", "retainer:A@left")
	count(0, "both are at hand")
	r = withFindings(t, screwed(t), procedure.Replace, "line:A1.1@left")
	r.do(ProcSwap, "line:A1.1@left")
	count(0, "it is swapped")
	for _, by := range procedure.Dispositions {
		r = withFindings(t, screwed(t), by, "line:A1.1@left")
		if n := len(r.job.SuggestParts()); (n > 0) != (by == procedure.Replace) {
			t.Errorf("%s suggests %d parts", by, n)
		}
	}
}
