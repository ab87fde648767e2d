package job

import "testing"

func TestOnlyWhatIsThePlansIsCalledPlan(t *testing.T) {
	for source, want := range map[string]string{
		"sample plan, invented":                                "plan",
		"the order, by the plan: sample plan, invented":        "plan",
		"the order: copy of its twin, C1.3 right, as measured": "expected",
	} {
		if got := (&Scale{Source: source}).Holds(); got != want {
			t.Errorf("%s is called %s, want %s", source, got, want)
		}
	}
	if got := (&Scale{Source: "the plan", Against: "twin_mm"}).Holds(); got != "against" {
		t.Errorf("what was measured is called %s", got)
	}
}
