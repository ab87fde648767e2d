package picture

import (
	"math"
	"strings"
	"testing"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/quantity"
)

// at finds a sign in a scale; -1 if it is not there.
func at(lines []string, sign string) int {
	for _, l := range lines {
		if i := strings.Index(l, sign); i >= 0 {
			return i
		}
	}
	return -1
}

// The value stands where its deviation is, to half a column, and never on the
// wrong side of a bracket.
func TestScaleIsTrue(t *testing.T) {
	for w := leastWidth; w <= 90; w++ {
		middle, low, high := 0, 0, 0
		for um := -15_000; um <= 15_000; um += 125 {
			s := long(float64(um)/1000, 0.5)
			got := Scale(&s, w, 5, ASCII)
			middle, low, high = at(got, "|"), at(got, "["), at(got, "]")
			if middle-low != high-middle || low <= 0 {
				t.Fatalf("width %d: brackets at %d and %d around %d", w, low, high, middle)
			}
			inside := um >= -10_000 && um <= 10_000
			x := strings.Index(got[len(got)-2], "+")
			if x < 0 {
				if inside {
					t.Fatalf("width %d: %d um is not drawn", w, um)
				}
				continue
			}
			if (x >= low && x <= high) != inside {
				t.Fatalf("width %d: %d um at column %d of %d to %d", w, um, x, low, high)
			}
			atBracket := x == low || x == high || x == low-1 || x == high+1
			exact := float64(middle) + float64(um)/13_000*float64(middle)
			if math.Abs(float64(x)-exact) > 0.51 && !atBracket {
				t.Fatalf("width %d: %d um at column %d, exact %.2f", w, um, x, exact)
			}
		}
	}
}

// The band is as wide as its uncertainty: what is proved inside ends inside.
func TestBandIsTrue(t *testing.T) {
	for _, c := range []struct {
		deviationMM, uMM float64
		inside           bool // of the upper end
	}{
		{6, 4, true}, {6, 4.001, false}, {5.999, 4, true}, {-6, 4, true}, {9, 0.5, true}, {10, 0.001, false}, {0, 12, false},
	} {
		s := long(c.deviationMM, c.uMM)
		got := Scale(&s, 41, 5, ASCII)
		band := got[len(got)-2]
		end := strings.LastIndexAny(band, ")>")
		equal(t, band, end <= at(got, "]"), c.inside)
	}
}

func TestScaleOffItsEnds(t *testing.T) {
	s := long(40, 4)
	s.Readings = []job.Reading{{Value: quantity.Value{Kind: quantity.KindLength, N: 4_165_000}, Outcome: job.Taken}, {Value: quantity.Value{Kind: quantity.KindLength, N: 4_245_000}, Outcome: job.Taken}}
	got := strings.Join(Scale(&s, 41, 8, ASCII), "\n")
	for _, want := range []string{"\n<1", "2>\n", "40 long >"} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in\n%s", want, got)
		}
	}
}

// A reading that is implausible, struck or covered is no mark on the scale.
func TestScaleShowsWhatCounts(t *testing.T) {
	s := long(0, 4)
	s.Value = nil
	value := quantity.Value{Kind: quantity.KindLength, N: 4_207_000}
	s.Readings = []job.Reading{{Value: value, Outcome: job.Open}, {Value: value, Outcome: job.Taken, Struck: "slipped"}, {Value: value, Outcome: job.Taken}}
	got := Scale(&s, 41, 8, ASCII)
	marks := got[2]
	equal(t, "marks", strings.TrimSpace(marks), "3")
	s.Covered = true
	for _, text := range append(Scale(&s, 41, 8, ASCII), scaleFacts(&s)...) {
		if strings.Contains(text, "4207") {
			t.Errorf("covered, yet %q", text)
		}
	}
	if marks := Scale(&s, 41, 8, ASCII)[2]; strings.ContainsAny(marks, "0123456789+()") {
		t.Errorf("covered, yet marked: %q", marks)
	}
}

func TestScaleOfOtherQuantities(t *testing.T) {
	s := job.Scale{Quantity: quantity.KindTorque, HasValue: true, Expected: 1000, HasLimit: true, Limit: 200,
		Readings: []job.Reading{{Value: quantity.Value{Kind: quantity.KindTorque, N: 1100}, Outcome: job.Taken}}}
	equal(t, "words", strings.Join(scaleFacts(&s), " "), "Expected 1 N·m. Limit 0.2 N·m either way. Reading 1: 1.1 N·m, +0.1 N·m.")
	count := job.Scale{Quantity: quantity.KindCount, Readings: []job.Reading{{Value: quantity.Value{Kind: quantity.KindCount, N: 4}, Outcome: job.Taken}}}
	equal(t, "words", strings.Join(scaleFacts(&count), " "), "Reading 1: 4.")
	if got := Scale(nil, 40, 10, ASCII); got != nil {
		t.Errorf("no scale, yet %q", got)
	}
}
