package trim

import (
	"math"
	"testing"

	"example.org/linewright/engine/quantity"
	"pgregory.net/rapid"
)

// The trade's own example (common practice, no source): neighbours −12 mm, a
// new line 0: a loop of 10 mm leaves it 2 mm long relative to them.
func TestFitNew(t *testing.T) {
	f, err := FitNew(FallbackLoops(), "plain", 0, []quantity.Length{-11 * milli, -13 * milli})
	if err != nil {
		t.Fatal(err)
	}
	equal(t, "target", f.TargetMM, -12)
	equal(t, "best", f.Fits[0], Fit{"wrapped", 10, 2})
	equal(t, "second", f.Fits[1], Fit{"hitched", 15, -3})
	equal(t, "fallback", f.LoopFallback, true)
	golden(t, "newline.txt", text(f.Words()))
	// Measured with a wrapped loop on, plain makes it longer again.
	f, _ = FitNew(FallbackLoops(), "wrapped", -14*milli, []quantity.Length{-4 * milli})
	equal(t, "longer", f.Fits[0], Fit{"plain", 0, 0})
	// Of two that leave as much, the one that takes less.
	f, _ = FitNew(FallbackLoops(), "plain", 5*milli, []quantity.Length{0})
	equal(t, "less", f.Fits[0], Fit{"plain", 0, 5})
}

func TestFitNewRanks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		table := LoopTable{Source: "drawn"}
		for _, code := range []string{"a", "b", "c", "d", "e"} {
			table.Loops = append(table.Loops, Loop{code, quantity.Length(rapid.Int64Range(0, 30e3).Draw(t, code))})
		}
		neighbours := make([]quantity.Length, rapid.IntRange(1, 2).Draw(t, "neighbours"))
		sum := quantity.Length(0)
		for i := range neighbours {
			neighbours[i] = quantity.Length(rapid.Int64Range(-30e3, 30e3).Draw(t, "neighbour"))
			sum += neighbours[i]
		}
		d := quantity.Length(rapid.Int64Range(-30e3, 30e3).Draw(t, "new"))
		on := rapid.IntRange(0, 4).Draw(t, "on")
		f, err := FitNew(table, table.Loops[on].Code, d, neighbours)
		if err != nil {
			t.Fatal(err)
		}
		best := math.Inf(1)
		for _, l := range table.Loops {
			left := (d - l.Shortens + table.Loops[on].Shortens).MM() - sum.MM()/float64(len(neighbours))
			best = min(best, math.Abs(left))
		}
		if len(f.Fits) != 5 || math.Abs(math.Abs(f.Fits[0].LeftMM)-best) > 0.0006 {
			t.Fatalf("%+v, best %v", f.Fits, best)
		}
	})
}

func TestFitNewRefuses(t *testing.T) {
	one := []quantity.Length{0}
	for want, try := range map[string]func() error{
		`the loop "square" is not in the table`:  func() error { _, err := FitNew(FallbackLoops(), "square", 0, one); return err },
		"a line alone has no neighbours to meet": func() error { _, err := FitNew(FallbackLoops(), "plain", 0, nil); return err },
		"a table of 0 loops cannot be":           func() error { _, err := FitNew(LoopTable{}, "plain", 0, one); return err },
		"a neighbour 2000 mm off cannot be": func() error {
			_, err := FitNew(FallbackLoops(), "plain", 0, []quantity.Length{2000 * milli})
			return err
		},
		`loop "a" is without a name or there twice`: func() error {
			_, err := FitNew(LoopTable{Loops: []Loop{{"a", 0}, {"a", 1}}}, "a", 0, one)
			return err
		},
		"a loop that takes -1 mm cannot be": func() error {
			_, err := FitNew(LoopTable{Loops: []Loop{{"a", -milli}}}, "a", 0, one)
			return err
		},
		`"a\x1b" has control characters in it`: func() error {
			_, err := FitNew(LoopTable{Loops: []Loop{{"a\x1b", 0}}}, "a", 0, one)
			return err
		},
	} {
		equal(t, "refusal", what(t, try()), want)
	}
}
