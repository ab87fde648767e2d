package trim

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

// bigPlan has lines lower lines in each of four rows, and points attachment
// points on each of them.
func bigPlan(t testing.TB, lines, points int) *wing.Plan {
	t.Helper()
	var b strings.Builder
	b.WriteString("linewright_plan = 1\nname = 'Big Curtain'\nsize = 'L'\n[source]\ntext = 'invented'\ndate = '2026'\n")
	for _, row := range []string{"A", "B", "C", "D"} {
		fmt.Fprintf(&b, "[[riser]]\nbranch = '%s'\nlength_mm = 500\n[[link]]\nname = '%s'\nbranch = '%s'\nkind = 'soft'\n", row, row, row)
		for l := range lines {
			fmt.Fprintf(&b, "[[line]]\ncode = '%s1.%d'\nrow = '%s'\ntier = 'lower'\non = 'link:%s'\npos = %d\nlength_mm = 5000\nsheathed = true\nmaterial = 'aramid'\nstrength_n = 1500\n", row, l, row, row, l+1)
			for i := range points {
				n := l*points + i + 1
				fmt.Fprintf(&b, "[[line]]\ncode = '%s2.%d'\nrow = '%s'\ntier = 'upper'\non = '%s1.%d'\npos = %d\npoint = '%s%d'\nspan = %.3f\nlength_mm = 1500\nsheathed = true\nmaterial = 'aramid'\nstrength_n = 800\n",
					row, n, row, row, l, i+1, row, n, float64(n)/float64(lines*points+1))
			}
		}
	}
	p, err := wing.ParsePlan([]byte(b.String()), "big.toml")
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// drift is a used wing whose rear rows have shrunk, lower line by lower line,
// much the same on both sides.
func drift(seed uint64) func(*wing.Path) float64 {
	r := rand.New(rand.NewPCG(seed, 7))
	lines := map[string]float64{}
	return func(p *wing.Path) float64 {
		code := p.Lines[0].Code
		if _, ok := lines[code]; !ok {
			rear := float64(p.Row[0] - 'A')
			lines[code] = 3 - 3.5*rear + r.NormFloat64()*3
		}
		return math.Round((lines[code]+r.NormFloat64())*10) / 10
	}
}

// BenchmarkReport is the trim report of 400 paths, each measured on a bench
// with a full budget, with its words.
func BenchmarkReport(b *testing.B) {
	p := bigPlan(b, 10, 5)
	paths, err := Evaluate(p, wing.FromRiser, typed(p, drift(1)), goodBench())
	if err != nil {
		b.Fatal(err)
	}
	set := Set{From: wing.FromRiser, Trimmers: "closed", SpeedSystem: "off", Paths: paths}
	if len(paths) != 400 {
		b.Fatalf("%d paths", len(paths))
	}
	b.ReportAllocs()
	for b.Loop() {
		r, err := NewReport(p, set, sampleChord())
		if err != nil || len(r.Paths) != 400 || len(r.Words()) == 0 {
			b.Fatal(err)
		}
	}
}

// BenchmarkChoose chooses for 2 × 16 lower lines of four rows and five loops,
// 128 paths. The seeds differ in how much there is to do; the slowest of them
// counts.
func BenchmarkChoose(b *testing.B) {
	p := bigPlan(b, 4, 4)
	table := LoopTable{Source: "measured for a test"}
	for i, takes := range []int{0, 6, 10, 15, 21} {
		table.Loops = append(table.Loops, Loop{fmt.Sprint("loop ", i), quantity.Length(takes) * milli})
	}
	for _, eachSide := range []bool{false, true} {
		for seed := range uint64(4) {
			r := report(b, p, stated(b, p, 2*milli, drift(seed)), Chord{})
			b.Run(fmt.Sprintf("each_side=%t/seed=%d", eachSide, seed), func(b *testing.B) {
				b.ReportAllocs()
				var c Choice
				for b.Loop() {
					c = choose(b, p, r, Loops{Table: table, Others: "loop 2"}, Demand{EachSide: eachSide})
				}
				if !c.Proved {
					b.Errorf("%s without a proof", c.Outcome)
				}
				b.ReportMetric(float64(c.Nodes), "nodes")
				b.ReportMetric(float64(len(c.Changes)), "changes")
			})
		}
	}
}

// BenchmarkSearch is the search alone on random problems of the same size: two
// rows and four, lines that carry points of two rows, limits near to what can
// just be kept.
func BenchmarkSearch(b *testing.B) {
	for _, s := range []shape{
		{rows: 4, lines: 4, points: 4, loops: 5, worn: 2},
		{rows: 4, lines: 4, points: 4, loops: 5, worn: 2, eachSide: true},
		{rows: 2, lines: 8, points: 4, loops: 5, worn: 4},
		{rows: 2, lines: 8, points: 4, loops: 5, worn: 4, eachSide: true},
		{rows: 4, lines: 4, points: 4, loops: 5, worn: 2, shared: true},
		{rows: 4, lines: 4, points: 4, loops: 5, worn: 2, shared: true, eachSide: true},
	} {
		b.Run(fmt.Sprintf("rows=%d/each_side=%t/shared=%t", s.rows, s.eachSide, s.shared), func(b *testing.B) {
			r := rand.New(rand.NewPCG(3, 4))
			var problems []*problem
			for len(problems) < 50 {
				if p := randomProblem(r, s); len(p.obstacles()) == 0 {
					problems = append(problems, p)
				}
			}
			most, unproved := 0, 0
			n := 0
			for b.Loop() {
				search := &search{problem: problems[n%len(problems)], limit: DefaultNodeLimit}
				search.best()
				most = max(most, search.nodes)
				if search.spent {
					unproved++
				}
				n++
			}
			b.ReportMetric(float64(most), "most_nodes")
			b.ReportMetric(float64(unproved)/float64(n), "unproved")
		})
	}
}
