package sample

import (
	"testing"

	"example.org/linewright/engine/wing"
)

const kgf = 9.80665 // N, exact

// National association form for line data, older rule: the summed strength of
// A and B lines exceeds 8 m and 800 kgf, that of C and D lines 6 m and 600
// kgf, in every storey, without the stabilo; each storey's sum is above that
// of the lower lines. Upper lines: at least 30 kgf each.
func TestStrengthByTheAssociationRule(t *testing.T) {
	p := plan(t)
	m := p.GreatestMassKG
	for _, group := range []struct {
		rows  [2]string
		least float64 // kgf
	}{
		{[2]string{"A", "B"}, max(8*m, 800)},
		{[2]string{"C", "D"}, max(6*m, 600)},
	} {
		lower := sum(p, wing.Lower, group.rows[:]...)
		for _, tier := range wing.Tiers {
			got := sum(p, tier, group.rows[:]...)
			if got <= group.least*kgf {
				t.Errorf("%v %s: %.0f N, least %.0f N", group.rows, tier, got, group.least*kgf)
			}
			if tier != wing.Lower && got <= lower {
				t.Errorf("%v %s: %.0f N is not above the lower lines' %.0f N", group.rows, tier, got, lower)
			}
		}
	}
	for _, l := range p.Lines {
		if l.Tier == wing.Upper && l.Strength.N() < 30*kgf {
			t.Errorf("%s: %s", l.Code, l.Strength)
		}
	}
}

// EN 926-1, read second-hand: the strengths of one cascade level sum up to at
// least 14 g m and 14 000 N; each first-level line 750 N, any line over 200 N.
// The standard means bent lines; half the new strength is taken for those.
func TestStrengthByTheLevelSum(t *testing.T) {
	p := plan(t)
	least := max(14*9.81*p.GreatestMassKG, 14000)
	for _, tier := range wing.Tiers {
		if got := sum(p, tier, "A", "B", "C", "D") / 2; got < least {
			t.Errorf("%s: %.0f N, least %.0f N", tier, got, least)
		}
	}
	for _, l := range p.Lines {
		if n := l.Strength.N(); n <= 200 || l.Tier == wing.Lower && n < 750 {
			t.Errorf("%s: %v N", l.Code, n)
		}
	}
}

// What is looped into a line is together stronger than the line.
func TestEachForkIsStrongerThanItsStem(t *testing.T) {
	p := plan(t)
	for _, l := range p.Lines {
		above := p.Carries(l.Code)
		total := 0.0
		for _, a := range above {
			total += a.Strength.N()
		}
		if len(above) > 0 && total <= l.Strength.N() {
			t.Errorf("%s bears %s, the lines on it %v N", l.Code, l.Strength, total)
		}
	}
}

// sum adds the strengths of a tier of some rows, both sides, in N.
func sum(p *wing.Plan, tier wing.Tier, rows ...string) float64 {
	total := 0.0
	for _, l := range p.Lines {
		for _, row := range rows {
			if l.Row == row && l.Tier == tier {
				total += 2 * l.Strength.N()
			}
		}
	}
	return total
}
