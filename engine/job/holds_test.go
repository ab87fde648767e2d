package job

import "testing"

// A length is the plan's where it is the plan's, whoever is named as its source:
// an ordered copy of the twin may be another.
func TestOnlyWhatIsThePlansIsCalledPlan(t *testing.T) {
	for _, c := range []struct {
		scale Scale
		want  string
	}{
		{Scale{Expected: 4205, Nominal: 4205, Source: "papers of the maker"}, "plan"},
		{Scale{Expected: 4200, Nominal: 4205, Source: "the order: copy of its twin, not by the plan"}, "expected"},
		{Scale{Expected: 1000, Source: "sample plan, invented"}, "expected"},
		{Scale{Expected: 4205, Nominal: 4205, Against: "twin_mm"}, "against"},
	} {
		if got := c.scale.Holds(); got != c.want {
			t.Errorf("%+v is called %s, want %s", c.scale, got, c.want)
		}
	}
}
