package metrology

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"example.org/linewright/engine/quantity"
)

// Propagation of distributions in the manner of JCGM 101:2008, fixed seed: the
// readings are made by the physics of tape, line and hand, with each unknown
// drawn anew, and then go through Evaluate and Judge. Print the table, and
// with more trials a sharper one, with
//
//	LINEWRIGHT_TRIALS=60000 go test ./engine/metrology -run MonteCarlo -v
const fewTrials = 3000

func trialCount(t *testing.T) int {
	text := os.Getenv("LINEWRIGHT_TRIALS")
	if text == "" {
		return fewTrials
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < fewTrials {
		t.Fatalf("LINEWRIGHT_TRIALS is %q, want a number from %d", text, fewTrials)
	}
	return n
}

// trial is one truth and the readings that it gives.
type trial struct {
	bench  Bench // with the repeatability that these hands once found
	trueMM float64
	rs     []Reading
}

// draw makes readings of a line that is trueMM long at 20 °C and the plan's
// pull. It shares no formula with the package.
func draw(rng *rand.Rand, o Object, b Bench, sigmaMM float64, n int) trial {
	either := func(half float64) float64 { return (2*rng.Float64() - 1) * half }
	trueMM := o.Nominal.MM() + either(0.5)

	pullN := b.Pull.N() + either(b.PullError.N())
	strain := 0.03 + 0.03*rng.Float64()
	airC := b.AirC + either(b.AirErrorC)
	lineMM := trueMM * (1 + strain*(pullN-50)/o.Strength.N())
	lineMM *= 1 + (-12e-6+either(6e-6))*(airC-20)
	onTapeMM := lineMM / (1 + 11.6e-6*(airC-20))

	class := map[string][3]float64{"I": {0.1, 0.1, 0.1}, "II": {0.3, 0.2, 0.2}, "III": {0.6, 0.4, 0.3}}[b.TapeClass]
	onTapeMM += either(class[0] + class[1]*math.Ceil(trueMM/1000))
	if b.Hook {
		onTapeMM += either(class[2])
	}
	step := b.Graduation.MM()
	onTapeMM += either(step / 2) // at the zero

	t := trial{bench: b, trueMM: trueMM}
	for range n {
		readMM := math.Round((onTapeMM+sigmaMM*rng.NormFloat64())/step) * step
		t.rs = append(t.rs, Reading{Value: quantity.Length(math.Round(readMM * 1000))})
	}
	var squares float64
	for range int(b.RepeatabilityDoF) {
		z := rng.NormFloat64()
		squares += z * z
	}
	found := sigmaMM * math.Sqrt(squares/b.RepeatabilityDoF)
	t.bench.Repeatability = quantity.Length(max(1, math.Round(found*1000)))
	return t
}

// cell is one place of the grid and what was counted there.
type cell struct {
	bench    Bench
	length   quantity.Length
	limit    quantity.Length
	n        int
	covered  int
	accepted int // with the truth on the limit, so falsely
}

func (c *cell) run(rng *rand.Rand, trials int) error {
	o := Object{Nominal: c.length, Strength: 1500 * quantity.Newton, State: StateInstalled, Material: "uhmwpe"}
	sigmaMM := c.bench.Repeatability.MM()
	for range trials {
		t := draw(rng, o, c.bench, sigmaMM, c.n)
		m, err := Evaluate(o, t.rs, t.bench)
		if err != nil {
			return err
		}
		if math.Abs(m.Value.MM()-t.trueMM) <= m.U.MM() {
			c.covered++
		}
		// The expected value stands so that the truth lies on the limit.
		expected := quantity.Length(math.Round(t.trueMM*1000)) - c.limit
		j, err := m.Judge(expected, c.limit)
		if err != nil {
			return err
		}
		if j.Verdict == Inside {
			c.accepted++
		}
	}
	return nil
}

// The interval covers the truth in 95.45 % and false acceptance stays below
// 2.5 %, both within the sampling error in each cell and strictly over all.
// Where one rectangular term rules the budget, U covers more than it says: the
// tails that k allows for are not there (JCGM 100:2008, G.2.2). So the bound
// from above is held where no such term rules.
func TestMonteCarloCoverage(t *testing.T) {
	normal := goodBench()
	normal.Name, normal.Repeatability, normal.RepeatabilityDoF = "rough hands", 3*quantity.Millimetre, 20
	few := goodBench()
	few.Name, few.Repeatability, few.RepeatabilityDoF = "few repeats", 2*quantity.Millimetre, leastDoF
	fallback := DefaultBench()
	fallback.Rule = RuleBudget

	rng := rand.New(rand.NewPCG(1, 2))
	trials := trialCount(t)
	// Three and a half standard deviations: sixty cells, one chance in thirty
	// that any strays.
	sampling := 3.5 * math.Sqrt(coverage*(1-coverage)/float64(trials))
	samplingFalse := 3.5 * math.Sqrt(0.025*0.975/float64(trials))
	var cells, allCovered, allFalse float64
	var table strings.Builder
	fmt.Fprintf(&table, "\n%-14s %10s %2s %8s %9s %8s\n", "bench", "length", "n", "limit", "covered", "falsely")
	for _, bench := range []Bench{goodBench(), badBench(), fallback, normal, few} {
		for _, length := range []quantity.Length{50, 500, 4205, 12000} {
			for _, n := range []int{1, 2, 5} {
				limit := quantity.Length(10)
				if n == 2 {
					limit = 20
				}
				c := cell{bench: bench, length: length * quantity.Millimetre, n: n, limit: limit * quantity.Millimetre}
				if err := c.run(rng, trials); err != nil {
					t.Fatal(err)
				}
				covered, falsely := float64(c.covered)/float64(trials), float64(c.accepted)/float64(trials)
				cells, allCovered, allFalse = cells+1, allCovered+covered, allFalse+falsely
				fmt.Fprintf(&table, "%-14s %10s %2d %8s %8.2f%% %7.2f%%\n", bench.Name, c.length, n, c.limit, 100*covered, 100*falsely)
				if covered < coverage-sampling {
					t.Errorf("%s, %v, %d readings: covered %.2f %%", bench.Name, c.length, n, 100*covered)
				}
				if bench.Name == normal.Name && n == 1 && covered > coverage+sampling {
					t.Errorf("%s, %v, one reading: covered %.2f %%, too wide", bench.Name, c.length, 100*covered)
				}
				if falsely > 0.025+samplingFalse {
					t.Errorf("%s, %v, %d readings: falsely inside %.2f %%", bench.Name, c.length, n, 100*falsely)
				}
			}
		}
	}
	t.Log(table.String())
	if covered, falsely := allCovered/cells, allFalse/cells; covered < coverage || falsely >= 0.025 {
		t.Errorf("over all cells: covered %.2f %%, falsely inside %.2f %%", 100*covered, 100*falsely)
	}
}

// The quantile that U rests on, drawn rather than computed.
func TestStudentFactorByDrawing(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for _, dof := range []float64{2, 10} {
		student := distuv.StudentsT{Sigma: 1, Nu: dof, Src: rng}
		k, inside := CoverageFactor(coverage, dof), 0
		const draws = 100000
		for range draws {
			if math.Abs(student.Rand()) <= k {
				inside++
			}
		}
		if got := float64(inside) / draws; math.Abs(got-coverage) > 3*math.Sqrt(coverage*(1-coverage)/draws) {
			t.Errorf("ν %v: %v", dof, got)
		}
	}
}
