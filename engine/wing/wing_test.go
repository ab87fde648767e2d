package wing

import (
	"os"
	"strings"
	"testing"

	"example.org/linewright/engine/quantity"
)

func parse(t testing.TB, text string) *Plan {
	t.Helper()
	p, err := ParsePlan([]byte(text), "test.toml")
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func sample(t testing.TB) *Plan {
	t.Helper()
	data, err := os.ReadFile("../../procedures/sample/plan.toml")
	if err != nil {
		t.Fatal(err)
	}
	return parse(t, string(data))
}

func list(lines []Line) string {
	codes := make([]string, len(lines))
	for i, l := range lines {
		codes[i] = l.Code
	}
	return strings.Join(codes, " ")
}

func equal[T comparable](t *testing.T, what string, got, want T) {
	t.Helper()
	if got != want {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

func TestHeadAndNumbers(t *testing.T) {
	p := parse(t, small(t))
	equal(t, "name", p.Name+" "+p.Size+" "+p.Source.Date, "Small S 2026-01-01")
	equal(t, "pull not given", p.Pull, Pull{})
	limit, ok := p.Limit(LimitLine)
	equal(t, "limit", limit, Limit{10 * quantity.Millimetre, "invented"})
	equal(t, "limit given", ok, true)
	_, ok = p.Limit(LimitTwin)
	equal(t, "limit not given", ok, false)
	l, _ := p.Line("A1.2")
	equal(t, "half millimetres", l.Length, 5000500)
	equal(t, "strength not given", l.Strength, 0)
	_, ok = p.Line("a1.2")
	equal(t, "other case", ok, false)
}

func TestCascade(t *testing.T) {
	p := parse(t, small(t))
	equal(t, "carried, from the centre", list(p.Carries("A1.1")), "A2.1 A2.2")
	equal(t, "on the link", list(p.OnLink("A")), "A1.1 A1.2")
	equal(t, "on no link", list(p.OnLink("Z")), "")
	equal(t, "chain", list(p.Chain("A3.2")), "A1.1 A2.1 A3.2")
	equal(t, "chain of no line", list(p.Chain("a3.2")), "")
	equal(t, "points", strings.Join(p.Points("A1.1"), " "), "A1 A2 A3")
	equal(t, "own point", strings.Join(p.Points("A3.2"), " "), "A2")
	equal(t, "points of no line", len(p.Points("X")), 0)
	equal(t, "neighbours at a joint", list(p.Neighbours("A3.2")), "A3.1")
	equal(t, "neighbours on the handle", list(p.Neighbours("Br1.1")), "T1.1")
	equal(t, "neighbours of a line alone", list(p.Neighbours("B1.1")), "")
	equal(t, "neighbours of no line", list(p.Neighbours("X")), "")
	equal(t, "joints below a top line", p.Joints("A3.2"), 2)
	equal(t, "joints below a line on a link", p.Joints("A1.1"), 0)
	equal(t, "joints of no line", p.Joints("X"), -1)
	equal(t, "rows", strings.Join(p.Rows(), " "), "A B Br T")
	link, ok := p.LinkOf("A3.2")
	equal(t, "link", link.Name+" "+string(link.Kind), "A soft")
	equal(t, "has a link", ok, true)
	for _, code := range []string{"B1.1", "Br1.1", "X"} {
		_, ok := p.LinkOf(code)
		equal(t, "link of "+code, ok, false)
	}
	branch, _ := p.Branch("B1.1")
	equal(t, "branch of a tab", branch.Branch, "B")
	_, ok = p.Branch("Br1.1")
	equal(t, "branch of the brake", ok, false)
}

func TestSampleNeighbours(t *testing.T) {
	p := sample(t)
	equal(t, "C1.2", list(p.Neighbours("C1.2")), "C1.1 C1.3")
	equal(t, "outermost B, beside the stabilo", list(p.Neighbours("B1.3")), "B1.2 S1.1")
	equal(t, "stabilo", list(p.Neighbours("S1.1")), "B1.3")
}

func TestException(t *testing.T) {
	p := parse(t, small(t))
	left, _ := p.LineAt(LineRef("A2.1", Left))
	right, _ := p.LineAt(LineRef("A2.1", Right))
	equal(t, "left", left.Length.MM(), 500)
	equal(t, "right", right.Length.MM(), 510)
	equal(t, "right, colour", right.Colour, "blue")
	equal(t, "right, the rest", right.Bare && right.On == left.On && right.Tier == Middle, true)
	_, ok := p.LineAt(LinkRef("A", Left))
	equal(t, "a link is no line", ok, false)
	_, ok = p.LineAt(Ref{Kind: KindLine, Code: "A2.1"})
	equal(t, "a line without a side", ok, false)
}

func TestPaths(t *testing.T) {
	p := parse(t, small(t))
	for _, c := range []struct {
		point string
		side  Side
		mm    float64
		lines string
	}{
		{"A1", Left, 500 + 4000 + 500 + 400, "A1.1 A2.1 A3.1"},
		{"A1", Right, 500 + 4000 + 510 + 400, "A1.1 A2.1 A3.1"},
		{"A4", Left, 500 + 5000.5, "A1.2"},
		{"B1", Left, 510 + 5200, "B1.1"},
		{"Br1", Left, 6000, "Br1.1"}, // from the knot, no riser
	} {
		path, ok := p.Path(c.point, c.side)
		equal(t, c.point, ok, true)
		equal(t, c.point+" mm", path.Nominal.MM(), c.mm)
		equal(t, c.point+" lines", list(path.Lines), c.lines)
	}
	_, ok := p.Path("a1", Left)
	equal(t, "no such point", ok, false)
	_, ok = p.Path("A1", "port")
	equal(t, "no such side", ok, false)
	var points []string
	for _, path := range p.Paths(Left) {
		points = append(points, path.Point)
	}
	equal(t, "all", strings.Join(points, " "), "A1 A2 A3 A4 B1 Br1 T1")
}

// A path is the riser and every segment once, whatever the cascade.
func TestSamplePathsAddUp(t *testing.T) {
	p := sample(t)
	paths := p.Paths(Right)
	equal(t, "paths", len(paths), 12+12+12+8+4+6)
	for _, path := range paths {
		sum := path.Riser.Length
		for _, l := range path.Lines {
			sum += l.Length
		}
		equal(t, path.Point, path.Nominal, sum)
		equal(t, path.Point+" top", path.Lines[len(path.Lines)-1].Point, path.Point)
		equal(t, path.Point+" riser", path.Riser.Length > 0, path.Row != "Br")
	}
}

func TestPartialPlanComputesWhatItCan(t *testing.T) {
	data, err := os.ReadFile("testdata/partial.toml")
	if err != nil {
		t.Fatal(err)
	}
	p := parse(t, string(data))
	path, ok := p.Path("C5", Left)
	equal(t, "path is known", ok, true)
	equal(t, "path is not reckoned", path.Nominal, 0)
	_, ok = p.Feature(LineRef("C1.2", Left), FeatureTabs, 0)
	equal(t, "tabs with an unknown top", ok, false)
	carries, ok := p.Feature(LineRef("C1.2", Left), FeatureCarries, 0)
	equal(t, "carries", carries, "2")
	equal(t, "carries is known", ok, true)
	_, ok = p.Feature(LineRef("C1.1", Left), FeatureCarries, 0)
	equal(t, "a top without a point", ok, false)
	equal(t, "place not in the plan rules nothing out",
		len(p.Matching([]Observation{{FeaturePlaceOnLink, 0, "3"}, {FeatureJointsBelow, 0, "0"}, {FeatureSide, 0, "left"}})), 2)
	golden(t, "testdata/partial.missing.txt", strings.Join(p.Missing(), "\n")+"\n")
}

func TestMissingOfTheSampleIsNothing(t *testing.T) {
	if m := sample(t).Missing(); len(m) > 0 {
		t.Error(m)
	}
}

func TestMissingOfSmall(t *testing.T) {
	golden(t, "testdata/small.missing.txt", strings.Join(parse(t, small(t)).Missing(), "\n")+"\n")
}

func TestHas(t *testing.T) {
	p := parse(t, small(t))
	for text, want := range map[string]bool{
		"line:A1.1@left": true, "line:a1.1@left": false, "link:A@right": true, "link:B@right": false, "brakes": true,
	} {
		ref, err := ParseRef(text)
		if err != nil {
			t.Fatal(err)
		}
		equal(t, text, p.Has(ref), want)
	}
	equal(t, "a link without a side", p.Has(Ref{Kind: KindLink, Code: "A"}), false)
	p.Brake = nil
	equal(t, "no brake in the plan", p.Has(Brakes()), false)
}
