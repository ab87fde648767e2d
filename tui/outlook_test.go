package tui

import (
	"slices"
	"testing"
)

func TestABenchThatCannotDecideSaysSoBeforeTheFirstReading(t *testing.T) {
	u := onBench(t, 80, 24, badBench)
	u.sees("limit 10: not enough.", "What would help most: ", "limit 10 mm either way").seesNot("nobody described", "not described")
	u.types("4208").sees("understood: 4208 mm", "limit 10: not enough.", "limit 10 mm either way")
	u.press("enter").seesNot("not enough.")
	u.press("?").sees("1 of 2 readings").press("pgdown").sees("Held against", "plan 4205 mm")
}

func TestABenchThatDecidesIsSilent(t *testing.T) {
	onBench(t, 80, 24, goodBench).sees("type it, then enter").seesNot("not enough", "nobody described", "not described")
}

// What nobody described is asked for at the first judged length, not again.
func TestTheBenchIsAskedForOnce(t *testing.T) {
	u := golden(t, 80, 24, "new_mm").sees("nobody described the bench: tab, 0")
	u.press("tab", "0").sees("What is used to measure lengths, and how").press("esc", "esc")
	u.types("4205").press("enter").types("4205").press("enter", "enter")
	u.press("esc", "r").types("again").press("enter").sees("MEASURE THE NEW LINE", "type it, then enter").seesNot("nobody described the bench: tab, 0")
}

// A bench that leaves next to nothing of the limit is said before the first
// reading: most of what is inside would not be proved.
func TestABenchThatLeavesLittleOfTheLimitSaysSo(t *testing.T) {
	tight := append(slices.Clone(goodBench), [2]string{"repeatability_mm", "5"})
	u := onBench(t, 80, 24, tight)
	u.sees("limit 10, only", "What would help most: ").types("4208").sees("limit 10, only", "understood: 4208 mm")
}
