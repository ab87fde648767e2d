package trim

import (
	"math"
	"strings"
	"testing"

	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"
)

// Arithmetic: front row 6 mm long, rear row 4 mm short, 1200 mm apart:
// atan(10/1200) = 0.4775° nose up. Front lines that are longer let the nose
// rise.
func TestIncidenceOfTwoRows(t *testing.T) {
	p := small(t)
	set := stated(t, p, milli, func(path *wing.Path) float64 {
		switch path.Row {
		case "A":
			return 6
		case "C":
			return -4
		}
		return math.NaN()
	})
	chord := Chord{Rows: []RowPlace{{"A", 200 * milli, 0}, {"C", 1400 * milli, 0}}, Source: "a drawing"}
	r := report(t, p, set, chord)
	equal(t, "fits", len(r.Pitch), 3)
	for i, side := range bothFirst {
		in := r.Pitch[i]
		equal(t, "side", in.Side, side)
		equal(t, "degrees", in.Degrees, round(math.Atan(10.0/1200)*180/math.Pi, 4))
		equal(t, "slope", in.SlopeMMPerM, round(-10.0/1.2, 4))
		equal(t, "method", in.Method, "atan((front - rear) / spacing)")
		// A difference of two means with 1 mm each, over 1200 mm.
		near(t, "U", in.UDegrees, math.Sqrt2/1200*180/math.Pi, 2e-4)
		equal(t, "source", in.Source, "a drawing")
	}
	equal(t, "words", r.Pitch[0].words(), "Incidence, both sides: 0.48° nose up, sure within 0.07°; rows A C.")
}

// gonum's weighted linear regression of the row means on their places has to
// have the same slope, and so has the QR solution of the weighted equations.
func TestIncidenceAgainstGonum(t *testing.T) {
	p := sample(t)
	rapid.Check(t, func(rt *rapid.T) {
		rows := []string{"A", "B", "C", "D"}
		deviation := map[PathRef]float64{}
		set := stated(t, p, milli, func(path *wing.Path) float64 {
			d := float64(rapid.Int64Range(-30e3, 30e3).Draw(rt, path.Point+string(path.Side))) / 1000
			deviation[PathRef{path.Point, path.Side}] = d
			return d
		})
		weighted := rapid.Bool().Draw(rt, "weighted")
		chord := Chord{}
		var x, w []float64
		for _, row := range rows {
			place := RowPlace{Row: row, At: quantity.Length(rapid.Int64Range(0, 2e6).Draw(rt, "place"))}
			weight := 1.0
			if weighted {
				weight = float64(rapid.IntRange(1, 50).Draw(rt, "load"))
				place.Load = weight
			}
			chord.Rows = append(chord.Rows, place)
			x, w = append(x, place.At.MM()), append(w, weight)
		}
		if stat.Variance(x, nil) < 100 {
			rt.Skip("the rows sit on one place")
		}
		in := report(t, p, set, chord).Pitch[0]
		y := make([]float64, len(rows))
		for i, row := range rows {
			var of []float64
			for ref, d := range deviation {
				if path, _ := p.Path(ref.Point, ref.Side); path.Row == row {
					of = append(of, d)
				}
			}
			y[i] = stat.Mean(of, nil)
		}
		_, slope := stat.LinearRegression(x, y, w, false)
		if math.Abs(in.SlopeMMPerM-slope*1000) > 1e-4+1e-9*math.Abs(slope*1000) {
			rt.Fatalf("slope %v, gonum %v", in.SlopeMMPerM, slope*1000)
		}
		if want := -math.Atan(slope) * 180 / math.Pi; math.Abs(in.Degrees-want) > 1e-4 {
			rt.Fatalf("%v°, gonum %v°", in.Degrees, want)
		}
		if byQR := solveQR(rt, x, y, w); math.Abs(in.SlopeMMPerM-byQR*1000) > 1e-4+1e-8*math.Abs(byQR*1000) {
			rt.Fatalf("slope %v, by QR %v", in.SlopeMMPerM, byQR*1000)
		}
	})
}

// solveQR gives the slope of √w·(a + b·x) = √w·y in the sense of least squares.
func solveQR(t *rapid.T, x, y, w []float64) float64 {
	a, b := mat.NewDense(len(x), 2, nil), mat.NewVecDense(len(x), nil)
	for i := range x {
		root := math.Sqrt(w[i])
		a.SetRow(i, []float64{root, root * x[i] / 1000})
		b.SetVec(i, root*y[i])
	}
	var solution mat.VecDense
	if err := solution.SolveVec(a, b); err != nil {
		t.Skip("too near to one place")
	}
	return solution.AtVec(1) / 1000
}

// A common offset turns nothing; longer rear rows put the nose down.
func TestIncidenceSign(t *testing.T) {
	p := sample(t)
	offset := report(t, p, stated(t, p, milli, func(*wing.Path) float64 { return -9 }), sampleChord()).Pitch[0]
	equal(t, "offset", offset.Degrees, 0)
	if math.Signbit(offset.Degrees) {
		t.Error("minus zero")
	}
	equal(t, "words", offset.turn(), "0° off")
	rear := report(t, p, stated(t, p, milli, byRow(map[string]float64{"D": 8})), sampleChord()).Pitch[0]
	if rear.Degrees >= 0 || !strings.HasSuffix(rear.turn(), "nose down") {
		t.Errorf("a long rear row: %s", rear.turn())
	}
	equal(t, "rows", strings.Join(rear.Rows, ""), "ABCD")
	equal(t, "weighted", rear.Weighted, true)
}
