package procedure

import (
	"testing"

	"example.org/linewright/engine/wing"
)

const tabPlan = `linewright_plan = 1
name = "Tab"
size = "S"
source = { text = "invented", date = "2026-03-01" }
partial = true
[[riser]]
branch = "T"
[[riser]]
branch = "U"
[[line]]
code = "T2"
row = "T"
tier = "lower"
on = "riser:T"
pos = 2
point = "T3"
sheathed = true
[[line]]
code = "T1"
row = "T"
tier = "lower"
on = "riser:T"
pos = 1
sheathed = true
[[line]]
code = "T1a"
row = "T"
tier = "upper"
on = "T1"
pos = 1
point = "T1"
sheathed = false
[[line]]
code = "U1"
row = "U"
tier = "lower"
on = "riser:U"
point = "U1"
sheathed = true
`

func TestWhatLiesOnARiserTab(t *testing.T) {
	plan, err := wing.ParsePlan([]byte(tabPlan), "tab.toml")
	if err != nil {
		t.Fatal(err)
	}
	for code, want := range map[string]Facts{
		"T1":  {"tab.name": "T", "tab.lines": 2.0, "tab.codes": "T1 T2", "line.on_riser": true},
		"T1a": {"tab.name": "T", "tab.lines": 2.0, "tab.codes": "T1 T2", "line.on_riser": true},
		"U1":  {"tab.name": "U", "tab.lines": 1.0, "tab.codes": "U1", "line.on_riser": true},
	} {
		got := factsOf(plan, wing.LineRef(code, wing.Left))
		for name, value := range want {
			if got[name] != value {
				t.Errorf("%s: %s = %v, want %v", code, name, got[name], value)
			}
		}
	}
	small, err := wing.ParsePlan([]byte(smallPlan), "small.toml")
	if err != nil {
		t.Fatal(err)
	}
	for _, ref := range []wing.Ref{wing.LineRef("C1", wing.Left), wing.LineRef("K", wing.Left), wing.LinkRef("C", wing.Left), wing.Brakes()} {
		if f := factsOf(small, ref); f["tab.name"] != "" || f["tab.lines"] != 0.0 || f["tab.codes"] != "" {
			t.Errorf("%s lies on tab %v with %v lines: %v", ref, f["tab.name"], f["tab.lines"], f["tab.codes"])
		}
	}
}

// What lies on the tab gives a covered target away, as its link would.
func TestATabIsCoveredWithTheTarget(t *testing.T) {
	for _, name := range []string{"tab.name", "tab.lines", "tab.codes", "link.name", "line.code", "side"} {
		if !shows(name, Once) {
			t.Errorf("%s may stand on a covered card", name)
		}
	}
}
