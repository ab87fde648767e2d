package trim

import (
	"fmt"
	"math/rand/v2"
	"testing"
)

// BenchmarkLoops chooses for 2 × 16 lower lines and five loops, 8 points a
// line as a rule 4: the sizes of a whole wing.
func BenchmarkLoops(b *testing.B) {
	for _, s := range []shape{
		{rows: 4, lines: 4, points: 4, loops: 5, worn: 2},
		{rows: 4, lines: 4, points: 4, loops: 5, worn: 2, eachSide: true},
		{rows: 2, lines: 8, points: 4, loops: 5, worn: 4},
		{rows: 2, lines: 8, points: 4, loops: 5, worn: 4, eachSide: true},
		{rows: 4, lines: 4, points: 1, loops: 5, worn: 2},
		{rows: 4, lines: 4, points: 1, loops: 5, worn: 2, eachSide: true},
		{rows: 2, lines: 8, points: 1, loops: 5, worn: 4, eachSide: true},
		{rows: 4, lines: 4, points: 4, loops: 5, worn: 2, eachSide: true, shared: true},
	} {
		b.Run(fmt.Sprintf("%+v", s), func(b *testing.B) {
			r := rand.New(rand.NewPCG(3, 4))
			var problems []*problem
			for len(problems) < 20 {
				if p := randomProblem(r, s); len(p.obstacles()) == 0 {
					problems = append(problems, p)
				}
			}
			nodes, spent, n, worst, poss := 0, 0, 0, 0, 0
			for b.Loop() {
				search := &search{problem: problems[n%20], limit: DefaultNodeLimit}
				_, o := search.best()
				if o == Found {
					poss++
				}
				if search.spent {
					spent++
				}
				worst = max(worst, search.nodes)
				nodes += search.nodes
				n++
			}
			b.ReportMetric(float64(nodes)/float64(n), "nodes")
			b.ReportMetric(float64(worst), "worstnodes")
			b.ReportMetric(float64(spent)/float64(n), "spent")
			b.ReportMetric(float64(poss)/float64(n), "found")
		})
	}
}
