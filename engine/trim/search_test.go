package trim

import (
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// Every small problem is also searched without any cleverness: outcome, value
// and the very choice have to be the same.
func TestBestAgainstBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	outcomes := map[Outcome]int{}
	for range 400 {
		s := shape{
			rows: 1 + r.IntN(3), lines: 1 + r.IntN(2), points: 1 + r.IntN(3), loops: 2 + r.IntN(3),
			worn: float64(r.IntN(6)), eachSide: r.IntN(2) == 0, shared: r.IntN(3) == 0, withoutA: r.IntN(8) == 0,
		}
		if s.eachSide && s.rows*s.lines > 4 {
			s.lines = 1
		}
		outcomes[compareWithBruteForce(t, r, s)]++
	}
	if outcomes[Found] < 100 || outcomes[Impossible] < 10 || outcomes["obstacle"] < 10 {
		t.Errorf("the random problems are too much alike: %v", outcomes)
	}
}

// In steps of 5 mm many choices are equal, and the tie-break decides.
func TestTieBreakAgainstBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	found := 0
	for range 1500 {
		s := shape{
			rows: 2 + r.IntN(2), lines: 1 + r.IntN(2), points: 1 + r.IntN(2), loops: 3,
			worn: float64(r.IntN(6)), eachSide: r.IntN(4) == 0, coarse: true,
		}
		if s.eachSide {
			s.rows, s.lines = 2, 1
		}
		if compareWithBruteForce(t, r, s) == Found {
			found++
		}
	}
	if found < 500 {
		t.Errorf("only %d were possible", found)
	}
}

// Within one window there are more equal choices still: fewest changes, then
// least total, whatever the spread.
func TestSolveAgainstBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	cheaper := func(s, t solution) bool { return s.cost.compare(t.cost) < 0 }
	for n := range 3000 {
		s := shape{rows: 2 + r.IntN(2), lines: 2, points: 1, loops: 3, worn: float64(r.IntN(8)), coarse: true}
		if n < 150 {
			s.rows, s.lines, s.loops = 2, 3, 4
		}
		p := randomProblem(r, s)
		want, possible := bruteForce(p, cheaper)
		got, found := (&search{problem: p, limit: DefaultNodeLimit}).solve(open, 2*len(p.units), false)
		if possible != found || possible && (!slices.Equal(got.pick, want.pick) || got.cost != want.cost) {
			t.Fatalf("%+v:\n got %+v\nwant %+v", s, got, want)
		}
	}
}

// compareWithBruteForce draws a problem and gives its outcome, "obstacle" where
// a line alone makes it impossible.
func compareWithBruteForce(t *testing.T, r *rand.Rand, s shape) Outcome {
	t.Helper()
	p := randomProblem(r, s)
	want, possible := bruteForce(p, solution.better)
	if len(p.obstacles()) > 0 {
		if possible {
			t.Fatalf("%+v: obstacles, but it is possible", s)
		}
		return "obstacle"
	}
	search := &search{problem: p, limit: DefaultNodeLimit}
	got, outcome := search.best()
	if possible != (outcome == Found) || search.spent {
		t.Fatalf("%+v: %s, possible %t", s, outcome, possible)
	}
	if possible && (!slices.Equal(got.pick, want.pick) || got.cost != want.cost || got.low != want.low || got.high != want.high) {
		t.Fatalf("%+v:\n got %+v\nwant %+v", s, got, want)
	}
	return outcome
}

// 7 / 2 is 3.5: rounded down 3, up 4; below zero the other way round.
func TestDivisionsRoundOutward(t *testing.T) {
	for _, c := range []struct{ a, b, floor, ceil int64 }{{7, 2, 3, 4}, {-7, 2, -4, -3}, {8, 2, 4, 4}, {-8, 2, -4, -4}, {0, 3, 0, 0}} {
		if floorDiv(c.a, c.b) != c.floor || ceilDiv(c.a, c.b) != c.ceil {
			t.Errorf("%d / %d: %d and %d", c.a, c.b, floorDiv(c.a, c.b), ceilDiv(c.a, c.b))
		}
	}
}

// A search that runs out of nodes may miss the best, but what it gives keeps
// all limits, and it never calls a choice impossible.
func TestSearchOutOfNodes(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	found, tried := 0, 0
	for tried < 60 {
		p := randomProblem(r, shape{rows: 4, lines: 3, points: 2, loops: 4, worn: 3, eachSide: true})
		full := &search{problem: p, limit: DefaultNodeLimit}
		if len(p.obstacles()) > 0 {
			continue
		}
		best, outcome := full.best()
		if outcome != Found || full.nodes < 40 {
			continue
		}
		tried++
		short := &search{problem: p, limit: 1 + tried%39}
		got, outcome := short.best()
		if !short.spent || outcome == Impossible {
			t.Fatalf("%s with %d nodes of %d", outcome, short.nodes, full.nodes)
		}
		if outcome == Undecided {
			continue
		}
		found++
		if have, ok := judge(p, got.pick); !ok || have.better(best) {
			t.Fatalf("%+v, best %+v, limits kept: %t", have, best, ok)
		}
	}
	if found < tried*3/4 {
		t.Errorf("only %d of %d had a choice", found, tried)
	}
}

// Left and right are only names: mirrored, a problem has the same value. And a
// wider limit never asks for more changes.
func TestSearchProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		seed := rapid.Uint64().Draw(t, "seed")
		s := shape{
			rows: rapid.IntRange(1, 4).Draw(t, "rows"), lines: rapid.IntRange(1, 3).Draw(t, "lines"), points: rapid.IntRange(1, 3).Draw(t, "points"),
			loops: rapid.IntRange(2, 5).Draw(t, "loops"), worn: rapid.Float64Range(0, 5).Draw(t, "worn"),
			eachSide: rapid.Bool().Draw(t, "each side"), shared: rapid.Bool().Draw(t, "shared"),
		}
		p := randomProblem(rand.New(rand.NewPCG(seed, 1)), s)
		value := func(p *problem) (solution, bool) {
			if len(p.obstacles()) > 0 {
				return solution{}, false
			}
			best, outcome := (&search{problem: p, limit: DefaultNodeLimit}).best()
			return best, outcome == Found
		}
		best, possible := value(p)

		mirrored := randomProblem(rand.New(rand.NewPCG(seed, 1)), s)
		mirrored.mirror()
		other, mirroredPossible := value(mirrored)
		if possible != mirroredPossible || best.cost != other.cost || best.high-best.low != other.high-other.low {
			t.Fatalf("%+v, mirrored %+v", best, other)
		}

		wider := randomProblem(rand.New(rand.NewPCG(seed, 1)), s)
		wider.widen(int64(rapid.IntRange(0, 5).Draw(t, "wider")) * millimetre)
		easier, widerPossible := value(wider)
		if possible && (!widerPossible || easier.changes > best.changes) {
			t.Fatalf("%+v, with wider limits %+v", best, easier)
		}
	})
}
