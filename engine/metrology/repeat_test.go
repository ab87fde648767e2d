package metrology

import (
	"math"
	"testing"

	"example.org/linewright/engine/quantity"
)

func TestRepeats(t *testing.T) {
	b := goodBench() // 0.5 mm: 1.4 mm for two readings, 1.65 for three
	for _, c := range []struct {
		name     string
		rs       []Reading
		agrees   bool
		allowed  quantity.Length
		farthest int
	}{
		{"one", readings(4205000), true, 0, -1},
		{"two alike", readings(4205000, 4205000), true, 1400, -1},
		{"two on the edge", readings(4205000, 4206400), true, 1400, -1},
		{"two beyond", readings(4205000, 4206401), false, 1400, -1},
		{"three on the edge", readings(4205000, 4206650, 4206000), true, 1650, -1},
		{"the last far off", readings(4205000, 4205500, 4209000), false, 1650, 2},
		{"the first far off", readings(4201000, 4205500, 4205000), false, 1650, 0},
		{"two of four apart alike", readings(4200000, 4205000, 4205000, 4210000), false, 1800, 0},
		{"even count", readings(4205000, 4205200, 4205100, 4211000), false, 1800, 3},
	} {
		got, err := Repeats(c.rs, b)
		if err != nil {
			t.Fatal(err)
		}
		want := Repeat{Spread: Spread(c.rs), Allowed: c.allowed, Agrees: c.agrees, Farthest: c.farthest, Rule: RepeatRule}
		if got != want {
			t.Errorf("%s: %+v, want %+v", c.name, got, want)
		}
	}
}

func TestRepeatsDropsNothing(t *testing.T) {
	rs := readings(4209000, 4205000, 4205500)
	if _, err := Repeats(rs, goodBench()); err != nil {
		t.Fatal(err)
	}
	if rs[0].Value != 4209000 || rs[1].Value != 4205000 || rs[2].Value != 4205500 {
		t.Errorf("the readings were touched: %v", rs)
	}
}

func TestRepeatsWithoutARepeatability(t *testing.T) {
	got, err := Repeats(readings(4205000, 4207800), Bench{})
	if err != nil || got.Allowed != 2800 || !got.Agrees {
		t.Errorf("%+v, %v", got, err)
	}
}

func TestRepeatsOfManyReadings(t *testing.T) {
	rs := make([]Reading, 25)
	got, err := Repeats(rs, goodBench())
	if err != nil || got.Allowed != 2250 || !got.Agrees {
		t.Errorf("%+v, %v", got, err)
	}
}

func TestRepeatsRefuses(t *testing.T) {
	if _, err := Repeats(nil, goodBench()); codeOf(err) != CodeNoReadings {
		t.Errorf("no readings: %v", err)
	}
	if _, err := Repeats(readings(-1), goodBench()); codeOf(err) != CodeReading {
		t.Errorf("below zero: %v", err)
	}
}

// The factors of ISO 5725-6 are the 95 % points of the range of n normal
// values, to one decimal: P(range ≤ w) = n ∫ φ(x)·(Φ(x+w) - Φ(x))ⁿ⁻¹ dx.
func TestCriticalRangeFactors(t *testing.T) {
	for i, factor := range criticalRange {
		n := float64(i + 2)
		below := func(w float64) float64 {
			const step = 0.001
			var area float64
			for x := -9.0; x < 9; x += step {
				density := math.Exp(-x*x/2) / math.Sqrt(2*math.Pi)
				area += density * math.Pow(normalBelow(x+w)-normalBelow(x), n-1) * step
			}
			return n * area
		}
		if low, high := below(factor-0.055), below(factor+0.055); low > 0.95 || high < 0.95 {
			t.Errorf("n = %v: factor %v, the probabilities beside it are %v and %v", n, factor, low, high)
		}
	}
}

func TestReference(t *testing.T) {
	for _, c := range []struct {
		name string
		rs   []Reading
		want Code
	}{
		{"two that agree", readings(4205000, 4206000), ""},
		{"one", readings(4205000), CodeOneReading},
		{"none", nil, CodeNoReadings},
		{"a sheath that slides", readings(4205000, 4212000), CodeNotRepeating},
	} {
		if err := Reference(c.rs, goodBench()); codeOf(err) != c.want {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
}
