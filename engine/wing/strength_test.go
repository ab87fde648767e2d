package wing

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"example.org/linewright/engine/quantity"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

// EN 926-1, read through a summary: 14·g·m with g = 9.81, at least 14 000 N.
func TestLevelSum(t *testing.T) {
	near(t, "120 kg", LevelSumN(120), 16480.8, 1e-9)
	near(t, "90 kg", LevelSumN(90), 14000, 0)
	near(t, "just below where they meet", LevelSumN(101.93), 14000, 0)
	near(t, "where they meet", LevelSumN(101.94), 14000.4396, 1e-6)
}

// The association rule by hand: at 110 kg A and B lines bear 8·110 = 880 kgf, C
// to E lines 6·110 = 660 kgf; at 90 kg the least sums 800 and 600 kgf govern.
// National association form for line data.
func TestAssociationRule(t *testing.T) {
	s, err := StrengthCounts{MassKG: 110, Front: []int{12, 24, 48}, Rear: []int{10, 20, 40}}.Sum()
	equal(t, "error", err, nil)
	equal(t, "front", s.FrontKGF, 880)
	equal(t, "rear", s.RearKGF, 660)
	for i, want := range []struct {
		kgf, leastN float64
		governs     string
	}{
		{880.0 / 12, 750, "a line of the first level"}, // 719.2 N by the association
		{880.0 / 24, 880.0 / 24 * 9.80665, "the association rule"},
		{880.0 / 48, 30 * 9.80665, "the floor for upper lines"},
		{66, 750, "a line of the first level"},
		{33, 33 * 9.80665, "the association rule"},
		{16.5, 30 * 9.80665, "the floor for upper lines"},
	} {
		l := s.Levels[i]
		near(t, fmt.Sprint(i, " kgf"), l.AssociationKGF, want.kgf, 1e-12)
		near(t, fmt.Sprint(i, " N"), l.LeastN, want.leastN, 1e-9)
		equal(t, fmt.Sprint(i), l.Governs, want.governs)
	}
	light, err := StrengthCounts{MassKG: 90, Front: []int{8}, Rear: nil}.Sum()
	equal(t, "light error", err, nil)
	equal(t, "light front", light.FrontKGF, 800)
	equal(t, "light rear", light.RearKGF, 600)
	equal(t, "light", light.Levels[0].AssociationKGF, 100)
	equal(t, "a storey alone is no upper one", light.Levels[0].Upper, false)
	golden(t, "testdata/sums/strength.txt", lines(s.Steps()))
}

func TestStrengthRefuses(t *testing.T) {
	for want, c := range map[string]StrengthCounts{
		"a greatest mass of 0 kg cannot be":                      {Front: []int{12}},
		"a greatest mass of NaN kg cannot be":                    {MassKG: math.NaN(), Front: []int{12}},
		"a greatest mass of 601 kg cannot be":                    {MassKG: 601, Front: []int{12}},
		"no lines of the rows A and B are counted":               {MassKG: 110, Rear: []int{10}},
		"0 lines of A+B in storey 1 cannot be":                   {MassKG: 110, Front: []int{0}},
		"10 lines of C+D+E in storey 2 cannot be":                {MassKG: 110, Front: []int{12}, Rear: []int{12, 10}},
		"9223372036854775807 lines of A+B in storey 1 cannot be": {MassKG: 110, Front: []int{math.MaxInt}},
	} {
		_, err := c.Sum()
		equal(t, "refusal", refusal(t, err), want)
	}
}

func TestWeakLineIsRefusedWithTheNumbers(t *testing.T) {
	s, err := StrengthCounts{MassKG: 110, Front: []int{12, 24}}.Sum()
	equal(t, "error", err, nil)
	var w *WeakLine
	if err := s.CheckLine(Front, 1, 700*quantity.Newton); !errors.As(err, &w) || len(w.Broken) != 2 {
		t.Fatal(err)
	}
	equal(t, "text", w.Error(), "a line of 700 N is too weak for A+B, storey 1: the association rule, above 719.2 N (national association form for line data); a line of the first level, at least 750 N (EN 926-1, read through a summary)\nfit a line that is as strong as the plan's")
	equal(t, "strong enough", s.CheckLine(Front, 1, 750*quantity.Newton), nil)
	equal(t, "no such storey", refusal(t, s.CheckLine(Rear, 1, 750*quantity.Newton)), "no lines of C+D+E were counted in storey 1")
	equal(t, "no strength", refusal(t, s.CheckLine(Front, 1, 0)), "a strength of 0 N cannot be")
	data, err := json.Marshal(w.Broken[1])
	equal(t, "json error", err, nil)
	equal(t, "json", string(data), `{"rule":"a line of the first level","least_n":750,"above":false,"source":"EN 926-1, read through a summary"}`)
}

// A bound that has to be passed is not kept by a strength that equals it.
func TestBoundsAtTheirEdge(t *testing.T) {
	for _, c := range []struct {
		strength quantity.Force
		above    bool
		want     bool
	}{{200000, true, false}, {200001, true, true}, {200000, false, true}, {199999, false, false}} {
		equal(t, fmt.Sprint(c), StrengthBound{LeastN: 200, Above: c.above}.holds(c.strength), c.want)
	}
}

// Counted by hand on the sample wing: 3 A and 3 B, 3 C and 2 D lower lines.
func TestStrengthOfTheSample(t *testing.T) {
	s, err := sample(t).Strength()
	equal(t, "error", err, nil)
	var counts []string
	for _, l := range s.Levels {
		counts = append(counts, fmt.Sprintf("%s %d: %d", l.Group, l.Storey, l.Lines))
	}
	equal(t, "counts", strings.Join(counts, ", "), "A+B 1: 12, A+B 2: 24, A+B 3: 48, C+D+E 1: 10, C+D+E 2: 20, C+D+E 3: 40")
	equal(t, "notes", s.Notes[1], "rows not counted: S, Br")
	for _, st := range s.Storeys {
		if !st.Holds {
			t.Errorf("%+v", st)
		}
	}
	golden(t, "testdata/sums/strength_sample.txt", lines(s.Steps()))
}

// small.toml by hand: A has a line that goes straight to its tab beside a fork
// of three, B one line alone on the riser; T and Br hang on the handle.
func TestUnevenForksCountByCuts(t *testing.T) {
	p := parse(t, strings.Replace(small(t), `size = "S"`, "size = \"S\"\ngreatest_mass_kg = 80", 1))
	s, err := p.Strength()
	equal(t, "error", err, nil)
	equal(t, "levels", len(s.Levels), 3)
	for i, want := range []int{2 * 3, 2 * 4, 2 * 5} {
		equal(t, fmt.Sprint("storey ", i+1), s.Levels[i].Lines, want)
	}
	equal(t, "no sums", len(s.Storeys), 0)
	equal(t, "notes", strings.Join(s.Notes[1:], "\n"), "rows not counted: Br, T\nthe sums cannot be compared: 7 lines have no strength in the plan, the first is A1.1")
}

func TestStrengthNeedsAWholePlan(t *testing.T) {
	_, err := parse(t, small(t)).Strength()
	equal(t, "no mass", refusal(t, err), "the plan has no greatest mass in flight")
	_, err = partial(t).Strength()
	equal(t, "partial", refusal(t, err), "only some lines are in this plan: they cannot be counted")
}

// Every line of the sample may be replaced by its like, and by nothing weaker.
func TestSubstituteOnTheSample(t *testing.T) {
	p := sample(t)
	for _, l := range p.Lines {
		for _, side := range Sides {
			ref := LineRef(l.Code, side)
			if err := p.Substitute(ref, l.Strength); err != nil {
				t.Error(err)
			}
			var w *WeakLine
			if err := p.Substitute(ref, l.Strength-1); !errors.As(err, &w) || w.Broken[0].Rule != "the line of the plan" {
				t.Errorf("%s: %v", ref, err)
			}
		}
	}
	equal(t, "no line", refusal(t, p.Substitute(LineRef("c1.2", Left), 1)), `there is no line "c1.2 left" in the plan`)
}

// Without a strength in the plan the rules alone hold: 750 N on a link or tab,
// above 200 N elsewhere, the brake's main line too (EN 926-1).
func TestSubstituteWithoutThePlansStrength(t *testing.T) {
	p := parse(t, small(t))
	for code, least := range map[string]quantity.Force{"A1.1": 750000, "B1.1": 750000, "A3.1": 200001, "Br1.1": 200001} {
		equal(t, code, p.Substitute(LineRef(code, Left), least), nil)
		var w *WeakLine
		equal(t, code+" weaker", errors.As(p.Substitute(LineRef(code, Left), least-1), &w), true)
	}
}

// A strand that the plan makes too weak is said, storey by storey.
func TestSumsThatDoNotHold(t *testing.T) {
	text := small(t)
	text = strings.Replace(text, `size = "S"`, "size = \"S\"\ngreatest_mass_kg = 80", 1)
	text = strings.ReplaceAll(text, "sheathed = true", "sheathed = true\nstrength_n = 1000")
	text = strings.ReplaceAll(text, "sheathed = false", "sheathed = false\nstrength_n = 400")
	s, err := parse(t, text).Strength()
	equal(t, "error", err, nil)
	var b strings.Builder
	for _, st := range s.Storeys {
		b.WriteString(st.step().String() + "\n")
	}
	golden(t, "testdata/sums/strength_weak.txt", b.String())
}
