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
	for n := range 400 {
		s := shape{
			rows: 1 + r.IntN(3), lines: 1 + r.IntN(2), points: 1 + r.IntN(3), loops: 2 + r.IntN(3),
			worn: float64(r.IntN(6)), eachSide: r.IntN(2) == 0, shared: r.IntN(3) == 0, withoutA: r.IntN(8) == 0,
		}
		if s.eachSide && s.rows*s.lines > 4 {
			s.lines = 1
		}
		p := randomProblem(r, s)
		want, possible := bruteForce(p)
		if len(p.obstacles()) > 0 {
			if possible {
				t.Fatalf("problem %d: obstacles, but it is possible", n)
			}
			outcomes["obstacle"]++
			continue
		}
		search := &search{problem: p, limit: DefaultNodeLimit}
		got, outcome := search.best()
		outcomes[outcome]++
		if possible != (outcome == Found) || search.spent {
			t.Fatalf("problem %d: %s, possible %t", n, outcome, possible)
		}
		if possible && (!slices.Equal(got.pick, want.pick) || got.cost != want.cost || got.low != want.low || got.high != want.high) {
			t.Fatalf("problem %d %+v:\n got %+v\nwant %+v", n, s, got, want)
		}
	}
	t.Logf("outcomes: %v", outcomes)
	if outcomes[Found] < 100 || outcomes[Impossible] < 10 || outcomes["obstacle"] < 10 {
		t.Errorf("the random problems are too much alike: %v", outcomes)
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
