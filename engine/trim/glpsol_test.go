package trim

import (
	"bufio"
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.org/linewright/engine/wing"
)

// TestBestAgainstGlpsol holds 320 random choices against glpsol of the GNU
// Linear Programming Kit (Debian package glpk-utils), which knows nothing of
// units, blocks or windows: it gets one binary number for each line, side and
// loop, and the limits as they stand.
//
// The aims come one after the other, so glpsol solves three times: first the
// least number of changes; then, with no more changes, the least spread; then,
// with no greater spread, the least total. Weights in one sum would have to be
// so far apart that its floats could not hold them. All data are whole
// millimetres, so each optimum is a whole number and has to be equal.
func TestBestAgainstGlpsol(t *testing.T) {
	if _, err := exec.LookPath("glpsol"); err != nil {
		if os.Getenv("LINEWRIGHT_NEED_TOOLS") == "1" {
			t.Fatal("glpsol is not installed and LINEWRIGHT_NEED_TOOLS=1")
		}
		t.Skip("glpsol (Debian: glpk-utils) is not installed")
	}
	const problems = 320
	r := rand.New(rand.NewPCG(20, 26))
	outcomes := map[Outcome]int{}
	for n := range problems {
		s := shape{
			rows: 1 + r.IntN(4), lines: 1 + r.IntN(3), points: 1 + r.IntN(3), loops: 3 + r.IntN(3),
			worn: float64(r.IntN(6)), eachSide: n%2 == 0, shared: n%5 == 0,
		}
		p := randomProblem(r, s)
		g := glpk{problem: p, dir: t.TempDir()}
		want, possible := g.lexicographic(t)
		search := &search{problem: p, limit: 100 * DefaultNodeLimit}
		var got solution
		outcome := Impossible
		if len(p.obstacles()) == 0 {
			got, outcome = search.best()
		}
		outcomes[outcome]++
		if search.spent || possible != (outcome == Found) {
			t.Fatalf("problem %d %+v: %s, glpsol: possible %t", n, s, outcome, possible)
		}
		if have := (optimum{got.changes, (got.high - got.low) / millimetre, got.total / millimetre}); possible && have != want {
			t.Fatalf("problem %d %+v: %+v, glpsol %+v", n, s, have, want)
		}
	}
	t.Logf("outcomes: %v", outcomes)
	if outcomes[Found] < 150 || outcomes[Impossible] < 50 {
		t.Errorf("the random problems are too much alike: %v", outcomes)
	}
}

// optimum is the value of a choice in whole changes and millimetres.
type optimum struct {
	changes       int
	spread, total int64
}

// glpk writes a problem in the LP format that glpsol reads.
type glpk struct {
	*problem
	dir string
	b   bytes.Buffer
}

func (g *glpk) lexicographic(t *testing.T) (optimum, bool) {
	changes, ok := g.minimum(t, g.changes(), "")
	if !ok {
		return optimum{}, false
	}
	keep := fmt.Sprintf(" keep: %s <= %d\n", g.changes(), changes)
	spread, ok1 := g.minimum(t, "high - low", keep)
	total, ok2 := g.minimum(t, g.total(), keep+fmt.Sprintf(" even: high - low <= %d\n", spread))
	if !ok1 || !ok2 {
		t.Fatal("glpsol lost a choice that it had found")
	}
	return optimum{int(changes), spread, total}, true
}

// minimum gives the optimum of one aim; false where no choice keeps the limits.
func (g *glpk) minimum(t *testing.T, aim, more string) (int64, bool) {
	g.b.Reset()
	fmt.Fprintf(&g.b, "Minimize\n aim: %s\nSubject To\n%s", aim, more)
	g.choices()
	g.limits()
	g.end()
	model, result := filepath.Join(g.dir, "model.lp"), filepath.Join(g.dir, "result")
	if err := os.WriteFile(model, g.b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("glpsol", "--lp", model, "-w", result).CombinedOutput()
	if err != nil {
		t.Fatalf("glpsol: %v\n%s", err, out)
	}
	return readResult(t, result)
}

// readResult reads the line "s mip ROWS COLUMNS STATUS VALUE" of glpsol's
// result: status o is optimal, n is not possible.
func readResult(t *testing.T, name string) (int64, bool) {
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	for scan := bufio.NewScanner(bytes.NewReader(data)); scan.Scan(); {
		var rows, columns int
		var status string
		var value float64
		if n, _ := fmt.Sscanf(scan.Text(), "s mip %d %d %s %g", &rows, &columns, &status, &value); n == 4 {
			whole := math.Round(value)
			if status == "o" && math.Abs(value-whole) > 1e-6 {
				t.Fatalf("glpsol's optimum %v is not whole", value)
			}
			return int64(whole), status == "o"
		}
	}
	t.Fatalf("no result of glpsol in:\n%s", data)
	return 0, false
}

// variable is 1 where the side of a unit gets the loop; loop -1 is one that is
// not known.
func variable(unit, side, loop int) string { return fmt.Sprintf("x%d_%d_%d", unit, side, loop+1) }

// each calls f for every loop that a side of a unit may have.
func (g *glpk) each(f func(unit, side, loop int)) {
	for i := range g.units {
		for side := range wing.Sides {
			for _, loop := range g.loopsOf(&g.units[i], side) {
				f(i, side, loop)
			}
		}
	}
}

func (g *glpk) changes() string {
	terms := []string{"0 low"} // where nothing may change the sum is not empty
	g.each(func(unit, side, loop int) {
		if loop != g.units[unit].now[side] {
			terms = append(terms, variable(unit, side, loop))
		}
	})
	return strings.Join(terms, " + ")
}

func (g *glpk) total() string {
	var terms []string
	for i := range g.units {
		for side := range wing.Sides {
			for n := range g.units[i].paths[side] {
				terms = append(terms, fmt.Sprintf("t%d_%d_%d", i, side, n))
			}
		}
	}
	return strings.Join(terms, " + ")
}

// shifted gives what the loops of a side take off, times a factor.
func (g *glpk) shifted(unit, side int, factor int64) string {
	var b strings.Builder
	for _, loop := range g.loopsOf(&g.units[unit], side) {
		fmt.Fprintf(&b, " %+d %s", factor*g.units[unit].shift(g.table, side, loop)/millimetre, variable(unit, side, loop))
	}
	return b.String()
}

// within writes left + constant within ±bound.
func (g *glpk) within(left string, constant, bound int64) {
	fmt.Fprintf(&g.b, "%s <= %d\n%s >= %d\n", left, bound-constant, left, -bound-constant)
}

// choices: one loop for each side of a line. Where left and right have to be
// alike, y says that both stay as they are, and z that both get one loop.
func (g *glpk) choices() {
	for i := range g.units {
		u := &g.units[i]
		for side := range wing.Sides {
			var terms []string
			for _, loop := range g.loopsOf(u, side) {
				terms = append(terms, variable(i, side, loop))
			}
			fmt.Fprintf(&g.b, " %s = 1\n", strings.Join(terms, " + "))
		}
		if g.eachSide || u.now[0] < 0 || u.now[1] < 0 {
			continue
		}
		one := []string{fmt.Sprintf("y%d", i)}
		for loop := range g.table.Loops {
			both := fmt.Sprintf("z%d_%d", i, loop)
			one = append(one, both)
			for side := range wing.Sides {
				left := " - " + both
				if slices.Contains(g.loopsOf(u, side), loop) {
					left += " + " + variable(i, side, loop)
				}
				if loop == u.now[side] {
					left += " - " + one[0]
				}
				fmt.Fprintf(&g.b, "%s = 0\n", left)
			}
		}
		fmt.Fprintf(&g.b, " %s = 1\n", strings.Join(one, " + "))
	}
}

// limits of paths, sides and rows; low and high hold all that is left, and each
// t its amount.
func (g *glpk) limits() {
	for i := range g.units {
		u := &g.units[i]
		for side := range wing.Sides {
			for n, m := range u.paths[side] {
				d, taken := m.deviation/millimetre, g.shifted(i, side, -1)
				g.within(taken, d-g.aim/millimetre, m.bound/millimetre)
				fmt.Fprintf(&g.b, " high %s >= %d\n low %s <= %d\n", g.shifted(i, side, 1), d, g.shifted(i, side, 1), d)
				fmt.Fprintf(&g.b, " t%d_%d_%d %s >= %d\n", i, side, n, g.shifted(i, side, 1), d-g.aim/millimetre)
				fmt.Fprintf(&g.b, " t%d_%d_%d %s >= %d\n", i, side, n, taken, g.aim/millimetre-d)
			}
		}
		for _, pair := range u.pairs {
			g.within(g.shifted(i, 0, -1)+g.shifted(i, 1, 1), pair.difference/millimetre, pair.bound/millimetre)
		}
	}
	for r := range g.rows {
		for side := range wing.Sides {
			n, nA := g.rows[r].paths[side], g.rows[g.reference].paths[side]
			if r == g.reference || n == 0 || nA == 0 {
				continue
			}
			left, constant := g.against(r, side, nA, -n)
			g.within(left, constant, g.rows[r].bound[side]/millimetre*n*nA)
		}
	}
}

// against gives factor times the sum of a row plus factorA times that of row A;
// constant is what does not hang on a loop.
func (g *glpk) against(r, side int, factor, factorA int64) (left string, constant int64) {
	factors := map[int]int64{r: factor, g.reference: factorA}
	var b strings.Builder
	for i := range g.units {
		weight := int64(0)
		for _, m := range g.units[i].paths[side] {
			weight += factors[m.row]
			constant += factors[m.row] * m.deviation / millimetre
		}
		b.WriteString(g.shifted(i, side, -weight))
	}
	return b.String(), constant
}

func (g *glpk) end() {
	fmt.Fprintf(&g.b, "Bounds\n -10000 <= low <= 10000\n -10000 <= high <= 10000\nBinary\n")
	g.each(func(unit, side, loop int) { fmt.Fprintf(&g.b, " %s\n", variable(unit, side, loop)) })
	g.b.WriteString("End\n")
}
