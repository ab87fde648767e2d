package wing

import (
	"encoding/json"
	"errors"
	"os"
	"strings"
	"testing"

	"example.org/linewright/engine/quantity"
	"pgregory.net/rapid"
)

// lines joins steps as a person reads them.
func lines(steps []Step) string {
	var b strings.Builder
	for _, s := range steps {
		b.WriteString(s.String() + "\n")
	}
	return b.String()
}

// refusal checks that an error is a *SumError and gives its text.
func refusal(t *testing.T, err error) string {
	t.Helper()
	var e *SumError
	if !errors.As(err, &e) {
		t.Fatalf("no refusal: %v", err)
	}
	if strings.Count(e.Error(), "\n") != 1 {
		t.Errorf("not two lines: %q", e.Error())
	}
	return e.What
}

// Arithmetic: 510 + 4205 + 1510 + 612.5 + 2·3 − 10.
func TestPathOfNumbers(t *testing.T) {
	sum, err := PathTerms{
		Riser: 510 * mm, Segments: []quantity.Length{4205 * mm, 1510 * mm, 612500},
		Joint: 3 * mm, Loop: 10 * mm, OwnSource: "loop table of this wing",
	}.Sum()
	equal(t, "error", err, nil)
	equal(t, "total", sum.TotalMM, 6833.5)
	golden(t, "testdata/sums/path.txt", lines(sum.Steps()))
	data, err := json.Marshal(sum)
	equal(t, "json error", err, nil)
	equal(t, "json", string(data), `{"riser_mm":510,"segments":[{"name":"segment 1","length_mm":4205},{"name":"segment 2","length_mm":1510},{"name":"segment 3","length_mm":612.5}],"joints":2,"joint_mm":3,"loop_mm":10,"total_mm":6833.5,"source":"as given","joint_and_loop_source":"loop table of this wing"}`)
}

func TestPathRefuses(t *testing.T) {
	one := []quantity.Length{4000 * mm}
	for want, terms := range map[string]PathTerms{
		"a path has one segment at least":     {Riser: 500 * mm},
		"a riser of 49 mm cannot be":          {Riser: 49 * mm, Segments: one},
		"a riser of -500 mm cannot be":        {Riser: -500 * mm, Segments: one},
		"segment 2 of 12000.001 mm cannot be": {Segments: []quantity.Length{one[0], 12000001}},
		"-10.001 mm for one joint cannot be":  {Segments: one, Joint: -10001},
		"a loop that takes -1 mm cannot be":   {Segments: one, Loop: -mm},
		"a loop that takes 101 mm cannot be":  {Segments: one, Loop: 101 * mm},
	} {
		_, err := terms.Sum()
		equal(t, "refusal", refusal(t, err), want)
	}
}

func TestPathOfThePlan(t *testing.T) {
	p := parse(t, small(t))
	sum, err := p.PathSum("A1", Right, 2*mm, 8*mm, "measured on this wing")
	equal(t, "error", err, nil)
	equal(t, "total", sum.TotalMM, 500+4000+510+400+2*2-8)
	equal(t, "segment", sum.Segments[1], PathPart{"A2.1", 510})
	equal(t, "source", sum.Source, "invented for a test")
	brake, err := p.PathSum("Br1", Left, 0, 0, "")
	equal(t, "brake error", err, nil)
	equal(t, "brake", brake.TotalMM, 6000)
	_, err = p.PathSum("a1", Left, 0, 0, "")
	equal(t, "no point", refusal(t, err), `there is no attachment point "a1" left`)
	_, err = p.PathSum("A1", Left, 11*mm, 0, "")
	equal(t, "joint", refusal(t, err), "11 mm for one joint cannot be")
	_, err = partial(t).PathSum("C5", Left, 0, 0, "")
	equal(t, "lacking", refusal(t, err), "the plan lacks a length on the path to C5: riser C")
}

func partial(t *testing.T) *Plan {
	t.Helper()
	data, err := os.ReadFile("testdata/partial.toml")
	if err != nil {
		t.Fatal(err)
	}
	return parse(t, string(data))
}

// The mean by hand: A1.1 carries 3 of the 4 points of row A, A1.2 the fourth.
func TestChangeMovesPointsAndMean(t *testing.T) {
	p := parse(t, small(t))
	c, err := p.Change("A1.1", -8*mm)
	equal(t, "error", err, nil)
	equal(t, "points", strings.Join(c.Points, " "), "A1 A2 A3")
	equal(t, "rows", len(c.Rows), 1)
	equal(t, "row", c.Rows[0], RowMove{"A", -8, 3, 4, -6})
	golden(t, "testdata/sums/change.txt", lines(c.Steps()))
	_, err = p.Change("a1.1", mm)
	equal(t, "no line", refusal(t, err), `there is no line "a1.1" in the plan`)
	c, err = partial(t).Change("C1.2", 5*mm)
	equal(t, "partial error", err, nil)
	equal(t, "partial", len(c.Rows) == 0 && len(c.Notes) == 1 && len(c.Points) == 1, true)
}

// Arithmetic: 10 mm on one of three points.
func TestMoveRowOfNumbers(t *testing.T) {
	m, err := MoveRow(10*mm, 1, 3)
	equal(t, "error", err, nil)
	equal(t, "steps", lines(m.Steps()), "mean of row, this side = 10 mm × 1 / 3 = 3.333 mm (change × points above / points of the row)\n")
}

func TestMoveRowRefuses(t *testing.T) {
	for want, c := range map[string]struct {
		change    quantity.Length
		above, of int
	}{
		"5 of 4 points cannot be":            {mm, 5, 4},
		"0 of 0 points cannot be":            {mm, 0, 0},
		"-1 of 4 points cannot be":           {mm, -1, 4},
		"a change of 12000.001 mm cannot be": {12000001, 1, 4},
	} {
		_, err := MoveRow(c.change, c.above, c.of)
		equal(t, "refusal", refusal(t, err), want)
	}
}

// A changed line moves each path above it by the change and no other; the mean
// of the new paths less that of the old ones is the move of the row's mean.
func TestChangeAgainstThePaths(t *testing.T) {
	p := sample(t)
	rapid.Check(t, func(t *rapid.T) {
		l := rapid.SampledFrom(p.Lines).Draw(t, "line")
		change := quantity.Length(rapid.Int64Range(-20000, 20000).Draw(t, "change"))
		c, err := p.Change(l.Code, change)
		if err != nil {
			t.Fatal(err)
		}
		moved, n := map[string]quantity.Length{}, map[string]int{}
		for _, path := range p.Paths(Left) {
			n[path.Row]++
			for _, on := range path.Lines {
				if on.Code == l.Code {
					moved[path.Row] += change
				}
			}
		}
		for _, m := range c.Rows {
			want := moved[m.Row].MM() / float64(n[m.Row])
			if m.MeanMM < want-0.00051 || m.MeanMM > want+0.00051 {
				t.Fatalf("%s: row %s moves %v, want %v", l.Code, m.Row, m.MeanMM, want)
			}
			delete(moved, m.Row)
		}
		if change != 0 && len(moved) > 0 {
			t.Fatalf("%s: rows left out: %v", l.Code, moved)
		}
	})
}
