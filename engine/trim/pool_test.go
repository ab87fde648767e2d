package trim

import (
	"math"
	"testing"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
	"pgregory.net/rapid"
)

// drawBench gives any bench of the budget.
func drawBench(t *rapid.T) metrology.Bench {
	b := goodBench()
	b.TapeClass = rapid.SampledFrom([]string{"I", "II", "III"}).Draw(t, "class")
	b.Hook = rapid.Bool().Draw(t, "hook")
	b.PullHow = rapid.SampledFrom([]string{metrology.PullHand, metrology.PullWeight, metrology.PullBalance}).Draw(t, "how")
	b.Pull = quantity.Force(rapid.Int64Range(30e3, 60e3).Draw(t, "pull"))
	b.PullError = quantity.Force(rapid.Int64Range(100, 15e3).Draw(t, "pull error"))
	b.AirC = rapid.Float64Range(5, 35).Draw(t, "air")
	b.Repeatability = quantity.Length(rapid.Int64Range(100, 3000).Draw(t, "repeatability"))
	if rapid.Bool().Draw(t, "simple") {
		b.Rule = metrology.RuleSimple
	}
	return b
}

func drawMeasurement(t *rapid.T, b metrology.Bench) metrology.Measurement {
	length := quantity.Length(rapid.Int64Range(5e6, 9e6).Draw(t, "length"))
	o := metrology.Object{
		Nominal: length, State: metrology.StateInstalled,
		Material: rapid.SampledFrom([]string{"aramid", "uhmwpe", ""}).Draw(t, "material"),
		Strength: quantity.Force(rapid.Int64Range(400e3, 2e6).Draw(t, "strength")),
	}
	rs := make([]metrology.Reading, rapid.IntRange(1, 4).Draw(t, "readings"))
	for i := range rs {
		rs[i].Value = length + quantity.Length(rapid.Int64Range(-2000, 2000).Draw(t, "off"))
	}
	m, err := metrology.Evaluate(o, rs, b)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// For two measurements the pool comes to the U of metrology.Compare.
func TestPoolIsCompareForTwo(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		one := drawBench(t)
		two := one
		if rapid.Bool().Draw(t, "two benches") {
			two = drawBench(t)
			two.Name = "meadow"
		}
		a, b := drawMeasurement(t, one), drawMeasurement(t, two)
		d, err := metrology.Compare(a, b)
		if err != nil {
			t.Fatal(err)
		}
		pool := newPool([]path{{m: a}, {m: b}})
		u := roundUp(pool.u([]weighed{{0, 1}, {1, -1}}, 1))
		if (u - d.U).Abs() > 1 {
			t.Fatalf("U %s, Compare %s", u, d.U)
		}
		alone := roundUp(pool.u([]weighed{{0, 1}}, 1))
		if (alone - a.U).Abs() > 1 {
			t.Fatalf("U of one %s, Evaluate %s", alone, a.U)
		}
	})
}

// In a mean of n alike lines chance shrinks by √n and nothing else does: a
// tape's error stays whole, however many lines it measured.
func TestMeanKeepsTheTapesError(t *testing.T) {
	for _, rule := range []string{metrology.RuleSimple, metrology.RuleBudget} {
		bench := goodBench()
		bench.Rule = rule
		o := metrology.Object{Nominal: 7000 * milli, State: metrology.StateInstalled, Material: "aramid", Strength: 1000 * quantity.Newton}
		m, err := metrology.Evaluate(o, []metrology.Reading{{Value: 7000 * milli}}, bench)
		if err != nil {
			t.Fatal(err)
		}
		var chanced, fixed float64
		for _, term := range m.Terms {
			if kindOf(&term) == chance {
				chanced += term.UMM * term.UMM
			} else {
				fixed += term.UMM * term.UMM
			}
		}
		if chanced == 0 || fixed == 0 {
			t.Fatalf("%s: the names of the terms have changed: chance %v, else %v", rule, chanced, fixed)
		}
		const n = 25
		paths := make([]path, n)
		ws := make([]weighed, n)
		for i := range paths {
			paths[i].m = m
			ws[i] = weighed{i, 1}
		}
		want := math.Sqrt(fixed + chanced/n)
		pool := newPool(paths)
		got := pool.u(ws, n)
		k := got / want
		if k < 2-1e-9 || k > 2.4 { // Student's factor for nine degrees of freedom or more
			t.Errorf("%s: U of the mean %v, standard %v", rule, got, want)
		}
		// Half of them minus the other half: the shared tape cancels, chance does not.
		for i := range ws {
			ws[i].weight = 1
			if i%2 == 1 {
				ws[i].weight = -1
			}
		}
		ws = ws[:n-1]
		if rule == metrology.RuleBudget {
			if less := pool.u(ws, (n-1)/2); less > got {
				t.Errorf("U of the difference %v is above that of the mean %v", less, got)
			}
		}
	}
}

// A path of segments carries the tape's error of each of them, added, not in
// squares: one tape measured all.
func TestSegmentsAddUp(t *testing.T) {
	p := small(t)
	bench := goodBench()
	set := Set{From: wing.FromRiser}
	var shared float64
	for _, code := range []string{"A1.1", "A2.1"} {
		l, _ := p.Line(code)
		for _, side := range wing.Sides {
			o := metrology.Object{Nominal: l.Length, State: metrology.StateLoose, Material: "aramid", Strength: l.Strength}
			m, err := metrology.Evaluate(o, []metrology.Reading{{Value: l.Length + 2*milli}}, bench)
			if err != nil {
				t.Fatal(err)
			}
			set.Segments = append(set.Segments, SegmentReading{wing.LineRef(code, side), m})
			if side == wing.Left {
				for _, term := range m.Terms {
					if term.Source == "tape class I" {
						shared += term.UMM
					}
				}
			}
		}
	}
	r := report(t, p, set, Chord{})
	equal(t, "paths", len(r.Paths), 2)
	a1 := r.Paths[0]
	equal(t, "path", a1.String(), "A1 left")
	equal(t, "composed", a1.Composed, true)
	near(t, "deviation", a1.DeviationMM, 4, 0.9) // two corrections for temperature
	equal(t, "expected", a1.ExpectedMM, 500+5000+1450)
	rd, err := read(p, set)
	if err != nil {
		t.Fatal(err)
	}
	for _, term := range rd.paths[0].m.Terms {
		if term.Source == "tape class I" {
			near(t, "tape", term.UMM, shared, 1e-9)
		}
	}
	// Left and right of the same tape: its error cancels.
	equal(t, "pairs", len(r.Sides), 1)
	equal(t, "left and right", r.Sides[0].DeviationMM, 0)
	if r.Sides[0].UMM >= a1.UMM*math.Sqrt2 {
		t.Errorf("the tape counts twice: %v against %v", r.Sides[0].UMM, a1.UMM)
	}
	set.Segments[0].Measurement.State = metrology.StateInstalled
	if _, err := NewReport(p, set, Chord{}); what(t, err) != "not alike: one was measured installed, the other loose" {
		t.Errorf("loose and installed: %v", err)
	}
}

// What was made of segments is not compared with what was measured whole.
func TestLooseIsNotComparedWithInstalled(t *testing.T) {
	p := small(t)
	set := stated(t, p, milli, func(path *wing.Path) float64 {
		if path.Point == "A1" && path.Side == wing.Left {
			return math.NaN()
		}
		return 0
	})
	for _, code := range []string{"A1.1", "A2.1"} {
		l, _ := p.Line(code)
		m, err := metrology.Evaluate(metrology.Object{State: metrology.StateLoose}, []metrology.Reading{{Value: l.Length}}, metrology.DefaultBench())
		if err != nil {
			t.Fatal(err)
		}
		set.Segments = append(set.Segments, SegmentReading{wing.LineRef(code, wing.Left), m})
	}
	r := report(t, p, set, Chord{})
	equal(t, "pairs", len(r.Sides), 14)
	golden(t, "mixed.txt", text(r.Missing))
}
