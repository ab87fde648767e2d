package trim

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

// measuredLoops is a table as somebody measured it.
func measuredLoops() LoopTable {
	t := FallbackLoops()
	t.Source, t.Fallback = "measured for a test", false
	return t
}

// fineLoops has one more on either side of the wrapped loop.
func fineLoops() LoopTable {
	t := measuredLoops()
	t.Loops = append(t.Loops, Loop{"half", 6 * milli}, Loop{"turned", 14 * milli})
	return t
}

func choose(t testing.TB, p *wing.Plan, r Report, loops Loops, d Demand) Choice {
	t.Helper()
	c, err := Choose(p, r, loops, d)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func changes(c Choice) string {
	var out []string
	for _, ch := range c.Changes {
		out = append(out, ch.Line.String()+" "+ch.From+" to "+ch.To)
	}
	return strings.Join(out, ", ")
}

// Row C is 14 mm short, its lines wrapped: plain brings them to −4, and with
// fewer changes C stays outside. The trade's formula: new d = d − (s − s0).
func TestChooseLengthensByALesserLoop(t *testing.T) {
	p := small(t)
	r := report(t, p, stated(t, p, milli, byRow(map[string]float64{"C": -14})), Chord{})
	c := choose(t, p, r, Loops{Table: measuredLoops(), Others: "wrapped"}, Demand{})
	equal(t, "outcome", c.Outcome, Found)
	equal(t, "proved", c.Proved, true)
	equal(t, "changes", changes(c), "C1.1 left wrapped to plain, C1.1 right wrapped to plain, C1.2 left wrapped to plain, C1.2 right wrapped to plain")
	equal(t, "moves", c.Changes[0].MovesMM, 10)
	equal(t, "before", c.Before, Evenness{14, 8 * 14})
	equal(t, "after", c.After, Evenness{4, 8 * 4})
	equal(t, "rows", c.Rows[2], RowAfter{"C", wing.Left, -14, -4})
	golden(t, "choice.txt", text(c.Words()))
	for _, path := range c.Paths {
		if path.Point == "C1" && path.AfterMM != -4 || path.Point == "A1" && path.AfterMM != 0 {
			t.Errorf("%+v", path)
		}
	}
	equal(t, "paths", len(c.Paths), 26) // without the brakes
}

// With all loops plain nothing can be made longer.
func TestChooseNeverLengthensWhatCannotBe(t *testing.T) {
	p := small(t)
	r := report(t, p, stated(t, p, milli, byRow(map[string]float64{"C": -14})), Chord{})
	c := choose(t, p, r, Loops{Table: measuredLoops(), Others: "plain"}, Demand{})
	equal(t, "outcome", c.Outcome, Impossible)
	equal(t, "proved", c.Proved, true)
	equal(t, "changes", len(c.Changes), 0)
	golden(t, "impossible.txt", text(c.Words()))
	// Held to the common offset the front may go up to it.
	c = choose(t, p, r, Loops{Table: measuredLoops(), Others: "plain"}, Demand{Aim: -7 * milli, Whole: true})
	equal(t, "with an aim", c.Outcome, Found)
	for _, ch := range c.Changes {
		if ch.MovesMM >= 0 {
			t.Errorf("%s was made longer", ch.Line)
		}
	}
}

func TestChooseStaysWhereAllIsInside(t *testing.T) {
	p := small(t)
	r := report(t, p, stated(t, p, milli, byRow(map[string]float64{"C": -3})), Chord{})
	c := choose(t, p, r, Loops{Table: measuredLoops(), Others: "plain"}, Demand{})
	equal(t, "outcome", c.Outcome, Found)
	equal(t, "changes", len(c.Changes), 0)
	equal(t, "words", c.Words()[0], "The loops can stay as they are: all limits are kept.")
}

// 9.5 mm with U 1 is not proved inside 10: the limit is narrowed, unless taken whole.
func TestChooseIsGuarded(t *testing.T) {
	p := small(t)
	r := report(t, p, stated(t, p, milli, func(path *wing.Path) float64 {
		if path.Lines[0].Code == "A1.1" {
			return 9.5
		}
		return 0
	}), Chord{})
	loops := Loops{Table: measuredLoops(), Others: "plain"}
	equal(t, "guarded", len(choose(t, p, r, loops, Demand{}).Changes), 2)
	equal(t, "whole", len(choose(t, p, r, loops, Demand{Whole: true}).Changes), 0)
}

// Only the left is long. Alike, both get the loop; asked for, one suffices.
func TestChooseEachSide(t *testing.T) {
	p := small(t)
	r := report(t, p, stated(t, p, milli, func(path *wing.Path) float64 {
		if path.Row == "A" && path.Point != "A3" && path.Point != "A4" && path.Side == wing.Left {
			return 12
		}
		return 6
	}), Chord{})
	loops := Loops{Table: measuredLoops(), Others: "plain"}
	equal(t, "alike", changes(choose(t, p, r, loops, Demand{})), "A1.1 left plain to wrapped, A1.1 right plain to wrapped")
	equal(t, "each side", changes(choose(t, p, r, loops, Demand{EachSide: true})), "A1.1 left plain to wrapped")
	// Where the twin keeps its loop and they have to be alike, nothing helps.
	c := choose(t, p, r, loops, Demand{Free: []wing.Ref{wing.LineRef("A1.1", wing.Left)}})
	equal(t, "twin not free", c.Outcome, Impossible)
	equal(t, "obstacle", c.Obstacles[0].What, "A1.1: no loop serves both sides alike")
	c = choose(t, p, r, loops, Demand{EachSide: true, Free: []wing.Ref{wing.LineRef("A1.1", wing.Left)}})
	equal(t, "twin not free, each side", changes(c), "A1.1 left plain to wrapped")
}

// A pair with unlike loops may stay so, and is named; if it is touched it
// becomes alike.
func TestChooseOfAnUnlikePair(t *testing.T) {
	p := small(t)
	loops := Loops{Table: measuredLoops(), Others: "plain", On: map[wing.Ref]string{wing.LineRef("B1.1", wing.Right): "wrapped"}}
	c := choose(t, p, report(t, p, stated(t, p, milli, func(*wing.Path) float64 { return 0 }), Chord{}), loops, Demand{})
	equal(t, "stays", changes(c), "")
	equal(t, "note", c.Notes[0], "left and right have unlike loops today, which may stay: B1.1")
	r := report(t, p, stated(t, p, milli, func(path *wing.Path) float64 {
		if path.Lines[0].Code == "B1.1" {
			return map[wing.Side]float64{wing.Left: 3, wing.Right: -11}[path.Side]
		}
		return 0
	}), Chord{})
	equal(t, "becomes alike", changes(choose(t, p, r, loops, Demand{})), "B1.1 right wrapped to plain")
}

// Every kind of obstacle, in words.
func TestObstacles(t *testing.T) {
	p := small(t)
	loops := Loops{Table: measuredLoops(), Others: "plain"}
	unknown := Loops{Table: measuredLoops(), On: map[wing.Ref]string{}}
	coarse := Loops{Table: LoopTable{Loops: []Loop{{"plain", 0}, {"long", 60 * milli}}, Source: "measured for a test"}, Others: "plain"}
	fine := Loops{Table: LoopTable{Loops: []Loop{{"plain", 0}, {"mid", 5 * milli}, {"long", 10 * milli}}, Source: "measured for a test"}, Others: "mid"}
	at := func(points map[string]float64) func(*wing.Path) float64 {
		return func(path *wing.Path) float64 { return points[path.Point+string(path.Side[0])] }
	}
	var out strings.Builder
	for _, c := range []struct {
		name      string
		deviation func(*wing.Path) float64
		loops     Loops
		demand    Demand
		u         quantity.Length
	}{
		{"short", at(map[string]float64{"B1l": -13}), loops, Demand{}, milli},
		{"long", at(map[string]float64{"B1l": 45, "B2l": 40}), loops, Demand{}, milli},
		{"points differ", at(map[string]float64{"B1l": 9, "B2l": -12}), loops, Demand{}, milli},
		{"between loops", at(map[string]float64{"B1l": 25, "B2l": 25, "B1r": 25, "B2r": 25}), coarse, Demand{}, milli},
		{"not free", at(map[string]float64{"B1l": 15, "B2l": 15}), loops, Demand{EachSide: true, Free: []wing.Ref{wing.LineRef("A1.1", wing.Left)}}, milli},
		{"loop not known", at(map[string]float64{"B1l": 15, "B2l": 15}), unknown, Demand{}, milli},
		{"alike", at(map[string]float64{"B1l": 12, "B2l": 12, "B1r": -6, "B2r": -6}), loops, Demand{}, milli},
		{"sides", at(map[string]float64{"B1l": 6, "B2l": -5, "B1r": -6, "B2r": 5}), loops, Demand{EachSide: true}, milli},
		{"uncertainty", at(nil), loops, Demand{}, 11 * milli},
		{"rows", byRow(map[string]float64{"A": 6, "B": -6, "C": 0}), Loops{Table: LoopTable{Loops: []Loop{{"plain", 0}}, Source: "measured for a test"}, Others: "plain"}, Demand{}, milli},
		{"rows together", byRow(map[string]float64{"A": 0, "B": 9, "C": -9}), fine, Demand{Free: []wing.Ref{
			wing.LineRef("A1.1", wing.Left), wing.LineRef("A1.2", wing.Left), wing.LineRef("A1.1", wing.Right), wing.LineRef("A1.2", wing.Right),
		}}, milli},
	} {
		choice := choose(t, p, report(t, p, stated(t, p, c.u, c.deviation), Chord{}), c.loops, c.demand)
		out.WriteString("== " + c.name + ": " + string(choice.Outcome) + "\n")
		if choice.Outcome == Impossible {
			out.WriteString(text(choice.obstacleWords()))
		}
	}
	golden(t, "obstacles.txt", out.String())
}

// Of C9 and A2 the papers state the length alone: no loop sets them, but they
// count in the means of their rows, and can be in the way.
func TestChooseWithPathsOfUnknownLines(t *testing.T) {
	p := planOf(t, "testdata/half.toml")
	set := Set{From: wing.FromLink}
	for point, mm := range map[string]int64{"A1": 7018, "A2": 6990, "C9": 6800} {
		for _, side := range wing.Sides {
			m, err := Stated(quantity.Length(mm)*milli, milli)
			if err != nil {
				t.Fatal(err)
			}
			set.Paths = append(set.Paths, PathReading{PathRef: PathRef{point, side}, Measurement: m})
		}
	}
	loops := Loops{Table: measuredLoops(), Others: "plain"}
	c := choose(t, p, report(t, p, set, Chord{}), loops, Demand{})
	equal(t, "changes", changes(c), "A1.1 left plain to wrapped, A1.1 right plain to wrapped")
	equal(t, "rows", c.Rows[0], RowAfter{"C", wing.Left, -6, -1})
	for i := range set.Paths {
		if set.Paths[i].Point == "C9" {
			set.Paths[i].Measurement.Value -= 12 * milli
		}
	}
	c = choose(t, p, report(t, p, set, Chord{}), loops, Demand{})
	equal(t, "obstacle", c.Obstacles[0].What, "point C9 left: outside, and no loop on a link sets it")
}

// A wing of the sample's size with the default bench's fallbacks: read whole.
func TestWordsOfTheSamplesChoice(t *testing.T) {
	p := sample(t)
	paths, err := Evaluate(p, wing.FromRiser, typed(p, worn), goodBench())
	if err != nil {
		t.Fatal(err)
	}
	r := report(t, p, Set{From: wing.FromRiser, Trimmers: "closed", SpeedSystem: "off", Paths: paths}, sampleChord())
	c := choose(t, p, r, Loops{Table: FallbackLoops(), Others: "wrapped"}, Demand{EachSide: true, Whole: true})
	golden(t, "samplechoice.txt", text(c.Words()))
}

// Whatever is chosen keeps the limits, by the report of the wing as it is then.
func TestChoiceHoldsInTheNextReport(t *testing.T) {
	p := sample(t)
	set := stated(t, p, milli, worn)
	r := report(t, p, set, Chord{})
	loops := Loops{Table: fineLoops(), Others: "wrapped"}
	c := choose(t, p, r, loops, Demand{EachSide: true})
	if c.Outcome != Found {
		t.Fatalf("%s: %s", c.Outcome, text(c.Words()))
	}
	after := map[PathRef]float64{}
	for _, path := range c.Paths {
		after[path.PathRef] = path.AfterMM
	}
	next := report(t, p, stated(t, p, milli, func(path *wing.Path) float64 {
		if d, ok := after[PathRef{path.Point, path.Side}]; ok {
			return d
		}
		return worn(path)
	}), Chord{})
	for _, path := range next.Paths {
		if path.Row != "Br" && path.Verdict != "inside" {
			t.Errorf("%s: %s", path.PathRef, path.Sentence)
		}
	}
	for _, s := range next.Sides {
		if s.Verdict != "inside" {
			t.Errorf("%s: %s", s.Point, s.Sentence)
		}
	}
	for _, row := range next.Rows {
		if row.Against != nil && row.Against.Verdict != "inside" {
			t.Errorf("row %s %s: %s", row.Row, row.Side, row.Against.Sentence)
		}
	}
}

// The order in which paths were measured and loops are named changes nothing.
func TestChoiceIsTheSameEveryTime(t *testing.T) {
	p := sample(t)
	set := stated(t, p, milli, worn)
	loops := Loops{Table: fineLoops(), On: map[wing.Ref]string{}}
	for _, l := range p.Lines {
		for _, side := range wing.Sides {
			loops.On[wing.LineRef(l.Code, side)] = "wrapped"
		}
	}
	first, err := json.Marshal(choose(t, p, report(t, p, set, Chord{}), loops, Demand{EachSide: true}))
	if err != nil {
		t.Fatal(err)
	}
	for range 5 {
		slices.Reverse(set.Paths)
		again, _ := json.Marshal(choose(t, p, report(t, p, set, Chord{}), loops, Demand{EachSide: true}))
		equal(t, "again", string(again), string(first))
	}
}

// At its limit the search says so, and gives what it has.
func TestNodeLimit(t *testing.T) {
	p := sample(t)
	r := report(t, p, stated(t, p, milli, worn), Chord{})
	loops := Loops{Table: fineLoops(), Others: "wrapped"}
	best := choose(t, p, r, loops, Demand{EachSide: true})
	for _, limit := range []int{1, 100, best.Nodes / 2, best.Nodes} {
		c := choose(t, p, r, loops, Demand{EachSide: true, NodeLimit: limit})
		equal(t, "limit", c.NodeLimit, limit)
		equal(t, "proved", c.Proved, limit == best.Nodes)
		if c.Outcome == Impossible {
			t.Errorf("limit %d: called impossible without a proof", limit)
		}
		if c.Outcome == Found && (len(c.Changes) < len(best.Changes) || len(c.Changes) == len(best.Changes) && c.After.SpreadMM < best.After.SpreadMM) {
			t.Errorf("limit %d: better than the best", limit)
		}
		if !c.Proved && !strings.Contains(text(c.Words()), "nodes") {
			t.Errorf("limit %d is not reported: %s", limit, text(c.Words()))
		}
	}
}

func TestChooseRefuses(t *testing.T) {
	p := small(t)
	r := report(t, p, stated(t, p, milli, func(*wing.Path) float64 { return 0 }), Chord{})
	brakes := report(t, p, stated(t, p, milli, func(path *wing.Path) float64 {
		if path.Row != "Br" {
			return math.NaN()
		}
		return 0
	}), Chord{})
	good := Loops{Table: measuredLoops(), Others: "plain"}
	for want, try := range map[string]func() error{
		"a table of 0 loops cannot be": func() error { _, err := Choose(p, r, Loops{}, Demand{}); return err },
		`the loop "square" is not in the table`: func() error {
			_, err := Choose(p, r, Loops{Table: measuredLoops(), Others: "square"}, Demand{})
			return err
		},
		`the loop "square" of A1.1 left is not in the table`: func() error {
			_, err := Choose(p, r, Loops{Table: measuredLoops(), On: map[wing.Ref]string{wing.LineRef("A1.1", wing.Left): "square"}}, Demand{})
			return err
		},
		"there is no line Z left in the plan": func() error {
			_, err := Choose(p, r, Loops{Table: measuredLoops(), On: map[wing.Ref]string{wing.LineRef("Z", wing.Left): "plain"}}, Demand{})
			return err
		},
		"there is no line Y left in the plan": func() error {
			_, err := Choose(p, r, good, Demand{Free: []wing.Ref{wing.LineRef("Y", wing.Left)}})
			return err
		},
		"A2.1 left is not on a link: no loop sets it": func() error {
			_, err := Choose(p, r, good, Demand{Free: []wing.Ref{wing.LineRef("A2.1", wing.Left)}})
			return err
		},
		"an aim 2000 mm off the plan cannot be":                         func() error { _, err := Choose(p, r, good, Demand{Aim: 2000 * milli}); return err },
		"a node limit below zero cannot be":                             func() error { _, err := Choose(p, r, good, Demand{NodeLimit: -1}); return err },
		"no path on a link was measured: there is nothing to choose by": func() error { _, err := Choose(p, brakes, good, Demand{}); return err },
	} {
		equal(t, "refusal", what(t, try()), want)
	}
}
