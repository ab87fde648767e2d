package wing

import (
	"slices"
	"strconv"
	"testing"
)

var riserEnd = []Feature{FeatureSide, FeatureBranch, FeaturePlaceOnLink, FeatureJointsBelow, FeatureForkPlace}
var canopyEnd = []Feature{FeatureSide, FeatureCanopyRow, FeatureFirstTab, FeatureJointsAbove}

// look answers features as a person would who holds the line.
func look(t *testing.T, p *Plan, ref Ref, features []Feature) []Observation {
	t.Helper()
	var seen []Observation
	for _, f := range features {
		first, last := 0, 0
		if f == FeatureForkPlace {
			first, last = 1, p.Joints(ref.Code)
		}
		for instance := first; instance <= last; instance++ {
			value, ok := p.Feature(ref, f, instance)
			if !ok {
				t.Fatalf("%s: %s is not known", ref, f)
			}
			seen = append(seen, Observation{f, instance, value})
		}
	}
	return seen
}

func TestEachEndAloneLeadsToTheLine(t *testing.T) {
	for _, p := range []*Plan{sample(t), parse(t, small(t))} {
		for _, l := range p.Lines {
			for _, side := range Sides {
				ref := LineRef(l.Code, side)
				for name, end := range map[string][]Feature{"riser": riserEnd, "canopy": canopyEnd} {
					if got := p.Matching(look(t, p, ref, end)); !slices.Equal(got, []Ref{ref}) {
						t.Errorf("%s end of %s: %v", name, ref, got)
					}
				}
			}
		}
	}
}

func TestFeaturesOfTheDemoLine(t *testing.T) {
	p := sample(t)
	for _, c := range []struct {
		code     string
		feature  Feature
		instance int
		want     string
	}{
		{"C1.2", FeatureSide, 0, "left"},
		{"C1.2", FeatureBranch, 0, "C"},
		{"C1.2", FeaturePlaceOnLink, 0, "2"},
		{"C1.2", FeaturePlaceFromTip, 0, "2"},
		{"C1.2", FeatureLastTab, 0, "5"}, // C5 to C8 of 12
		{"C1.2", FeatureLength, 0, "4205"},
		{"C1.2", FeatureJointsBelow, 0, "0"},
		{"C1.2", FeatureForkPlace, 1, None},
		{"C1.2", FeatureCarries, 0, "2"},
		{"C1.2", FeatureTabs, 0, "4"},
		{"C1.2", FeatureFirstTab, 0, "5"},
		{"C1.2", FeatureCanopyRow, 0, "C"},
		{"C1.2", FeatureJointsAbove, 0, "2"},
		{"C1.2", FeatureColour, 0, "blue"},
		{"C1.2", FeatureSheath, 0, "sheathed"},
		{"C3.6", FeatureForkPlace, 1, "1"},
		{"C3.6", FeatureForkPlace, 2, "2"},
		{"C3.6", FeatureForkPlace, 3, None},
		{"C3.6", FeatureCarries, 0, "0"},
		{"C3.6", FeatureTabs, 0, "1"},
		{"C3.6", FeatureJointsAbove, 0, "0"},
		{"C3.6", FeatureSheath, 0, "bare"},
		{"S1.1", FeatureBranch, 0, "B"}, // a neighbour on link B, not of the row
		{"S1.1", FeaturePlaceOnLink, 0, "4"},
		{"S1.1", FeaturePlaceFromTip, 0, "1"},
		{"B1.3", FeaturePlaceFromTip, 0, "2"}, // the stabilo is outside of it
		{"S1.1", FeatureLastTab, 0, "1"},
		{"S1.1", FeatureCanopyRow, 0, "S"},
		{"Br1.1", FeatureBranch, 0, "brake"},
		{"Br1.1", FeaturePlaceOnLink, 0, None},
		{"Br1.1", FeaturePlaceFromTip, 0, None},
	} {
		got, ok := p.Feature(LineRef(c.code, Left), c.feature, c.instance)
		if !ok || got != c.want {
			t.Errorf("%s %s %d: %q %v, want %q", c.code, c.feature, c.instance, got, ok, c.want)
		}
	}
}

func TestFeatureUnknown(t *testing.T) {
	p := sample(t)
	for _, c := range []struct {
		ref      Ref
		feature  Feature
		instance int
	}{
		{LineRef("c1.2", Left), FeatureSide, 0},
		{LinkRef("C", Left), FeatureSide, 0},
		{Brakes(), FeatureSide, 0},
		{LineRef("C1.2", Left), "taste", 0},
		{LineRef("C1.2", Left), FeatureForkPlace, 0},
	} {
		if got, ok := p.Feature(c.ref, c.feature, c.instance); ok {
			t.Errorf("%s %s %d: %q", c.ref, c.feature, c.instance, got)
		}
	}
}

func TestMatchingNarrows(t *testing.T) {
	p := sample(t)
	count := func(seen ...Observation) int { return len(p.Matching(seen)) }
	equal(t, "nothing seen", count(), 2*len(p.Lines))
	equal(t, "cannot tell", count(Observation{FeatureBranch, 0, ""}), 2*len(p.Lines))
	equal(t, "one side", count(Observation{FeatureSide, 0, "left"}), len(p.Lines))
	equal(t, "colour in any case", count(Observation{FeatureColour, 0, "BLUE"}), 2*21)
	equal(t, "row in the case of the plan", count(Observation{FeatureCanopyRow, 0, "c"}), 0)
	equal(t, "a contradiction", count(Observation{FeatureBranch, 0, "C"}, Observation{FeatureCanopyRow, 0, "A"}), 0)
	equal(t, "place on link rules the brakes out", count(Observation{FeaturePlaceOnLink, 0, "4"}), 2*6)
}

// An estimate fits within a tenth, at least 100 mm.
func TestRoughLength(t *testing.T) {
	p := sample(t)
	ref := LineRef("C1.2", Left) // 4205 mm
	for value, want := range map[string]bool{
		"4.2 m": true, "3784.5": true, "3784.4": false, "4625,5 mm": true, "4626": false, "long": true, "": true,
	} {
		equal(t, value, slices.Contains(p.Matching([]Observation{{FeatureLength, 0, value}}), ref), want)
	}
	equal(t, "short line", RoughLength(500*mm), 100*mm)
}

// The exception of one side is what is seen there.
func TestFeatureOfAnException(t *testing.T) {
	p := parse(t, small(t))
	colour, ok := p.Feature(LineRef("A2.1", Right), FeatureColour, 0)
	equal(t, "right", colour, "blue")
	equal(t, "right is known", ok, true)
	_, ok = p.Feature(LineRef("A2.1", Left), FeatureColour, 0)
	equal(t, "left is not given", ok, false)
}

func TestFeaturesListIsWhole(t *testing.T) {
	p := sample(t)
	for _, f := range Features {
		if _, ok := p.Feature(LineRef("C1.2", Left), f, 1); !ok {
			t.Errorf("%s is not known of C1.2", f)
		}
	}
	if n := len(slices.Compact(slices.Sorted(slices.Values(Features)))); n != 15 || n != len(Features) {
		t.Error(strconv.Itoa(n) + " features")
	}
}
