package trim

import (
	"math/rand/v2"
	"slices"
	"testing"
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
