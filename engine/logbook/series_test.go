package logbook

import (
	"slices"
	"testing"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/trim"
	"example.org/linewright/engine/wing"
)

// Loose and installed, and what is held against the plan and against the twin,
// are not one curve; a length that was held against nothing is in none.
func TestASeriesHoldsWhatCanStandBesideOneAnother(t *testing.T) {
	h := newHangar(t)
	h.begin(march1, 0).swap("A1.2")
	h.begin(april1, 0).swap("A1.2")
	b := h.book("2026-04-02")
	all := b.Series("line:A1.2@left")
	var names []string
	for _, s := range all {
		names = append(names, s.String())
		if len(s.Lengths) != 2 || len(s.New) != 2 || s.Lengths[0].Moment.Day() != "2026-03-01" || s.Last().Moment.Day() != "2026-04-01" {
			t.Errorf("%s: %+v, new %+v", s, s.Lengths, s.New)
		}
	}
	if want := []string{"A1.2 left, loose, against the plan", "A1.2 left, installed, against Twin, on the wing"}; !slices.Equal(names, want) {
		t.Errorf("series %q, want %q", names, want)
	}
	if got := b.Series("line:A1.2@right"); got != nil {
		t.Errorf("series of a line that was not measured: %+v", got)
	}
}

func TestALengthAgainstNothingIsInNoSeries(t *testing.T) {
	place := PathPlace(trim.PathRef{Point: "A1", Side: wing.Left})
	page := Page{Job: 1, Wing: "cloth", Begun: march1, Measured: []Measured{
		{Measuring{State: pathState, Against: "the plan"}, []Length{{Of: place, Value: 7_001_000}}},
		{Measuring{State: pathState, Against: "the plan"}, []Length{{Of: place, Value: 7_001_000, Expected: 7_000_000, Verdict: metrology.Inside}}},
	}}
	b := Bind("cloth", []Page{page}, "2026-04-01", new(job.Hours))
	got := b.Series(place)
	if len(got) != 1 || len(got[0].Lengths) != 1 || got[0].String() != "path A1 left, against the plan" {
		t.Errorf("series %+v", got)
	}
}
