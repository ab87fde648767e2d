package sample

import (
	"os"
	"strings"
	"testing"

	"example.org/linewright/engine/wing"
)

func plan(t *testing.T) *wing.Plan {
	t.Helper()
	data, err := os.ReadFile("plan.toml")
	if err != nil {
		t.Fatal(err)
	}
	p, err := wing.ParsePlan(data, "plan.toml")
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestDemoLine(t *testing.T) {
	p := plan(t)
	l, ok := p.Line("C1.2")
	if !ok || l.Length.MM() != 4205 || l.Bare || l.Tier != wing.Lower {
		t.Errorf("C1.2 is %+v", l)
	}
	if got := codes(p.OnLink("C")); got != "C1.1 C1.2 C1.3" {
		t.Errorf("on link C: %s", got)
	}
	if got := codes(p.Carries("C1.2")); got != "C2.3 C2.4" {
		t.Errorf("C1.2 carries %s", got)
	}
	if got := strings.Join(p.Points("C1.2"), " "); got != "C5 C6 C7 C8" {
		t.Errorf("C1.2 carries the points %s", got)
	}
	if got := codes(p.OnLink("B")); got != "B1.1 B1.2 B1.3 S1.1" {
		t.Errorf("on link B: %s", got)
	}
	link, _ := p.Link("C")
	if turns, ok := link.Turns(); !ok || turns != 5 {
		t.Errorf("link C has %v turns", turns)
	}
	if d, down, ok := p.Brake.Move("high", "low"); !ok || !down || d.MM() != 135 {
		t.Errorf("pulley from high to low: %s, down %v", d, down)
	}
}

func codes(lines []wing.Line) string {
	var all []string
	for _, l := range lines {
		all = append(all, l.Code)
	}
	return strings.Join(all, " ")
}

// The usual ranges: common practice, no source.
func TestUsualRanges(t *testing.T) {
	ranges := map[wing.Tier]struct{ lowMM, highMM, lowN, highN float64 }{
		wing.Lower:  {3500, 5500, 1000, 2500},
		wing.Middle: {1000, 2000, 600, 1500},
		wing.Upper:  {300, 1000, 400, 900},
	}
	p := plan(t)
	if n := len(p.Lines); n < 80 || n > 100 {
		t.Errorf("%d lines a side", n)
	}
	for _, r := range p.Risers {
		if mm := r.Length.MM(); mm < 400 || mm > 600 {
			t.Errorf("riser %s: %v mm", r.Branch, mm)
		}
	}
	bare, sewn := 0, 0
	for _, l := range p.Lines {
		r := ranges[l.Tier]
		if mm := l.Length.MM(); mm < r.lowMM || mm > r.highMM {
			t.Errorf("%s, %s: %v mm", l.Code, l.Tier, mm)
		}
		if n := l.Strength.N(); n < r.lowN || n > r.highN {
			t.Errorf("%s, %s: %v N", l.Code, l.Tier, n)
		}
		if l.Bare != (l.Tier == wing.Upper) {
			t.Errorf("%s, %s: bare %v", l.Code, l.Tier, l.Bare)
		}
		if l.Bare {
			bare++
		}
		if l.Sewn {
			sewn++
		}
	}
	if bare == 0 || sewn != 1 {
		t.Errorf("%d bare and %d sewn lines", bare, sewn)
	}
}

func TestOnePairDiffersInCaseOnly(t *testing.T) {
	seen := map[string]string{}
	var pairs []string
	for _, l := range plan(t).Lines {
		folded := strings.ToLower(l.Code)
		if other, ok := seen[folded]; ok {
			pairs = append(pairs, other+" "+l.Code)
		}
		seen[folded] = l.Code
	}
	if len(pairs) != 1 || pairs[0] != "S2.1 s2.1" {
		t.Errorf("pairs: %v", pairs)
	}
}

// Lengths run on smoothly: along a row no line leaves the middle of the lines
// two places to either side of it by much, which keeps the two lines of one
// fork apart from each other but not from their own kind.
func TestLengthsRunSmoothly(t *testing.T) {
	p := plan(t)
	tiers := map[string][]float64{}
	for _, l := range p.Lines {
		if strings.Contains("ABCD", l.Row) {
			key := l.Row + " " + string(l.Tier)
			tiers[key] = append(tiers[key], l.Length.MM())
		}
	}
	for key, mm := range tiers {
		for i := 4; i < len(mm); i++ {
			if bend := mm[i] - 2*mm[i-2] + mm[i-4]; bend > 40 || bend < -40 {
				t.Errorf("%s: place %d bends by %.0f mm", key, i-1, bend)
			}
		}
	}
	for _, row := range []string{"A", "B", "C", "D"} {
		last := 0.0
		for _, path := range p.Paths(wing.Left) {
			if path.Row != row {
				continue
			}
			mm := path.Nominal.MM()
			if last > 0 && (mm-last > 15 || last-mm > 40) {
				t.Errorf("path %s steps from %.0f to %.0f mm", path.Point, last, mm)
			}
			last = mm
		}
	}
}
