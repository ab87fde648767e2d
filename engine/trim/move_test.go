package trim

import (
	"math"
	"strings"
	"testing"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/wing"
)

func shownRefs(refs []PathRef) string { return list(refs, len(refs)) }

func TestRepeat(t *testing.T) {
	p := small(t)
	for _, c := range []struct {
		worked                  []wing.Ref
		changed, twins, control string
	}{
		{[]wing.Ref{wing.LineRef("A1.1", wing.Left)}, "A1 left, A2 left", "A1 right, A2 right", "A3 left"},
		{[]wing.Ref{wing.LineRef("A2.2", wing.Right)}, "A2 right", "A2 left", "A1 left"},
		{[]wing.Ref{wing.LineRef("A1.1", wing.Left), wing.LineRef("A1.1", wing.Right)}, "A1 left, A1 right, A2 left, A2 right", "", "A3 left"},
		{[]wing.Ref{wing.LinkRef("B", wing.Left)}, "B1 left, B2 left, B3 left, B4 left, S1 left", "B1 right, B2 right, B3 right, B4 right, S1 right", "A1 left"},
		{[]wing.Ref{wing.Brakes()}, "Br1 left, Br1 right, Br2 left, Br2 right", "", "A1 left"},
	} {
		r, err := Repeat(p, c.worked)
		if err != nil {
			t.Fatal(err)
		}
		equal(t, "changed", shownRefs(r.Changed), c.changed)
		equal(t, "twins", shownRefs(r.Twins), c.twins)
		equal(t, "control", r.Control.String(), c.control)
	}
	all := []wing.Ref{wing.LinkRef("A", wing.Left), wing.LinkRef("B", wing.Left), wing.LinkRef("C", wing.Left)}
	r, _ := Repeat(p, all)
	equal(t, "only the brakes are left", r.Control.String(), "Br1 left")
	r, _ = Repeat(p, append(all, wing.Brakes()))
	equal(t, "nothing is left", r.Control, nil)
	_, err := Repeat(p, nil)
	equal(t, "nothing", what(t, err), "nothing is named that was worked on")
	_, err = Repeat(p, []wing.Ref{wing.LineRef("a1.1", wing.Left)})
	equal(t, "no line", what(t, err), "there is no a1.1 left in the plan")
}

// evaluated measures paths on the good bench.
func evaluated(t *testing.T, p *wing.Plan, points string, deviation func(*wing.Path) float64) Set {
	t.Helper()
	rows := typed(p, deviation)
	if points != "" {
		var some []Row
		for _, r := range rows {
			if strings.Contains(" "+points+" ", " "+r.Point+string(r.Side[0])+" ") {
				some = append(some, r)
			}
		}
		rows = some
	}
	paths, err := Evaluate(p, wing.FromRiser, rows, goodBench())
	if err != nil {
		t.Fatal(err)
	}
	return Set{From: wing.FromRiser, Trimmers: "closed", SpeedSystem: "off", Paths: paths}
}

// A1.1 left was exchanged and became 10 mm longer; its twin and the control
// stayed but for the reading. Row A's mean moves by 10 × 2 points / 4 points on
// that side, and an eighth of a millimetre by the control.
func TestCompareBeforeAndAfter(t *testing.T) {
	p := small(t)
	worked := []wing.Ref{wing.LineRef("A1.1", wing.Left)}
	then := func(path *wing.Path) float64 { return -3 }
	now := func(path *wing.Path) float64 {
		if path.Side == wing.Left && (path.Point == "A1" || path.Point == "A2") {
			return 7
		}
		if path.Point == "A3" {
			return -2.5 // nobody reads the same twice
		}
		return -3
	}
	before := evaluated(t, p, "", then)
	m, err := Compare(p, before, evaluated(t, p, "A1l A2l A1r A2r A3l", now), Chord{Rows: []RowPlace{{"A", 0, 0}, {"C", 1200 * milli, 0}}}, worked)
	if err != nil {
		t.Fatal(err)
	}
	equal(t, "trusted", m.Trusted, true)
	equal(t, "lacking", len(m.Lacking), 0)
	equal(t, "paths", len(m.Paths), 5)
	for _, path := range m.Paths {
		want, role := 0.0, RoleTwin
		switch {
		case path.Side == wing.Left && path.Point == "A3":
			want, role = 0.5, RoleControl
		case path.Side == wing.Left:
			want, role = 10, RoleChanged
		}
		equal(t, path.String()+", role", path.Role, role)
		near(t, path.String()+", moved", path.MovedMM, want, 0.002) // corrected for temperature
		equal(t, path.String()+", proved", path.Proved, want > 5)
	}
	a, _ := m.Before.row("A", wing.Left)
	b, _ := m.After.row("A", wing.Left)
	near(t, "row A left", b.MeanMM-a.MeanMM, (10+10+0.5)/4, 0.002)
	golden(t, "move.txt", text(m.Words()))
}

// Everything reads 4 mm longer than before, the control too: the bench moved.
func TestCompareWhereTheBenchMoved(t *testing.T) {
	p := small(t)
	worked := []wing.Ref{wing.LineRef("A1.1", wing.Left)}
	m, err := Compare(p, evaluated(t, p, "", func(*wing.Path) float64 { return 0 }),
		evaluated(t, p, "A1l A1r A3l", func(*wing.Path) float64 { return 4 }), Chord{}, worked)
	if err != nil {
		t.Fatal(err)
	}
	equal(t, "trusted", m.Trusted, false)
	equal(t, "lacking", shownRefs(m.Lacking), "A2 left, A2 right")
	golden(t, "benchmoved.txt", text(m.Words()))

	m, err = Compare(p, evaluated(t, p, "A1r", func(*wing.Path) float64 { return 0 }),
		evaluated(t, p, "A1l A1r", func(*wing.Path) float64 { return 0 }), Chord{}, worked)
	if err != nil {
		t.Fatal(err)
	}
	equal(t, "no control", m.Trusted, false)
	equal(t, "lacking", shownRefs(m.Lacking), "A2 left, A2 right, A3 left")
	equal(t, "notes", text(m.Notes), "A1 left was not measured before the work: what it moved is not known\nno untouched path was measured before and after: whether the bench moved is not known\n")
}

// The tape's error is in both readings of a path, so a move is surer than a length.
func TestMoveSharesTheBench(t *testing.T) {
	p := small(t)
	zero := func(*wing.Path) float64 { return 0 }
	m, err := Compare(p, evaluated(t, p, "", zero), evaluated(t, p, "A1l", zero), Chord{}, []wing.Ref{wing.LineRef("A1.1", wing.Left)})
	if err != nil {
		t.Fatal(err)
	}
	if length := m.Before.Paths[0].UMM; m.Paths[0].UMM >= length*1.2 {
		t.Errorf("a move within %v mm, a length within %v", m.Paths[0].UMM, length)
	}
}

func TestCompareRefuses(t *testing.T) {
	p := small(t)
	worked := []wing.Ref{wing.LineRef("A1.1", wing.Left)}
	zero := func(*wing.Path) float64 { return 0 }
	before := evaluated(t, p, "", zero)
	after := before
	after.Trimmers = "open"
	_, err := Compare(p, before, after, Chord{}, worked)
	equal(t, "trimmers", what(t, err), `not alike: the trimmers was "closed" before and is "open" after`)
	after = before
	after.From = wing.FromLink
	_, err = Compare(p, before, after, Chord{}, worked)
	equal(t, "from", what(t, err), `not alike: the zero of the tape was "riser" before and is "link" after`)
	after = before
	after.Joint = milli
	_, err = Compare(p, before, after, Chord{}, worked)
	equal(t, "joint", what(t, err), "not alike: a joint was given another length before than after")
	_, err = Compare(p, before, before, Chord{}, nil)
	equal(t, "nothing", what(t, err), "nothing is named that was worked on")
}

// What was made of segments before and is measured whole afterwards, and the
// other way round, stands once in the set of after.
func TestMergeKeepsEachPathOnce(t *testing.T) {
	p := small(t)
	zero := func(*wing.Path) float64 { return 0 }
	loose := func(code string) SegmentReading {
		l, _ := p.Line(code)
		m, err := metrology.Evaluate(metrology.Object{State: metrology.StateLoose}, []metrology.Reading{{Value: l.Length + 5*milli}}, goodBench())
		if err != nil {
			t.Fatal(err)
		}
		return SegmentReading{wing.LineRef(code, wing.Left), m}
	}
	before := evaluated(t, p, "A1l A2l A1r", zero)
	after := Set{From: wing.FromRiser, Trimmers: "closed", SpeedSystem: "off", Segments: []SegmentReading{loose("A1.1"), loose("A2.1")}}
	m, err := Compare(p, before, after, Chord{}, []wing.Ref{wing.LineRef("A1.1", wing.Left)})
	if err != nil {
		t.Fatal(err)
	}
	equal(t, "paths", len(m.After.Paths), 3)
	equal(t, "of segments", m.After.Paths[0].Composed, true)
	if math.Abs(m.After.Paths[0].DeviationMM-10) > 1 {
		t.Errorf("the old value stands: %v", m.After.Paths[0].DeviationMM)
	}
	equal(t, "moves", len(m.Paths), 0)
	equal(t, "note", m.Notes[0], "A1 left before and after are not compared: not alike: one was measured loose, the other installed")
}
