package metrology

import (
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

func nistData(t *testing.T, name string) []float64 {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("testdata", "nist", name+".txt"))
	if err != nil {
		t.Fatal(err)
	}
	var xs []float64
	for _, field := range strings.Fields(string(text)) {
		x, err := strconv.ParseFloat(field, 64)
		if err != nil {
			t.Fatal(err)
		}
		xs = append(xs, x)
	}
	return xs
}

// numAcc makes NumAcc2 to NumAcc4 by NIST's rule: base + 0.2, then 500 pairs
// of base + 0.1 and base + 0.3.
func numAcc(middle, low, high float64) []float64 {
	xs := []float64{middle}
	for range 500 {
		xs = append(xs, low, high)
	}
	return xs
}

// digits is the log relative error: how many digits of want got holds.
func digits(got, want float64) float64 {
	if got == want {
		return 16
	}
	return -math.Log10(math.Abs(got-want) / math.Abs(want))
}

// NIST StRD, univariate summary statistics, all nine sets. NIST certifies 15
// digits. Binary floating point cannot hold them where the deviation is small
// beside the values: 10 000 000.1 keeps its tenth to 8 digits (NumAcc4),
// 1 000 000.1 to 9 (NumAcc3), 2.0018 and 299.85 their spread to 13 (Mavro,
// Michelso).
func TestNISTUnivariate(t *testing.T) {
	for _, c := range []struct {
		name                        string
		data                        []float64
		n                           int
		mean, deviation             float64
		meanDigits, deviationDigits float64
	}{
		{"PiDigits", nistData(t, "pidigits"), 5000, 4.53480000000000, 2.86733906028871, 15, 15},
		{"Lottery", nistData(t, "lottery"), 218, 518.958715596330, 291.699727470969, 15, 15},
		{"Lew", nistData(t, "lew"), 200, -177.435000000000, 277.332168044316, 15, 15},
		{"Mavro", nistData(t, "mavro"), 50, 2.00185600000000, 0.000429123454003053, 15, 13},
		{"Michelso", nistData(t, "michelso"), 100, 299.852400000000, 0.0790105478190518, 15, 13},
		{"NumAcc1", nistData(t, "numacc1"), 3, 10000002, 1, 16, 16},
		{"NumAcc2", numAcc(1.2, 1.1, 1.3), 1001, 1.2, 0.1, 15, 15},
		{"NumAcc3", numAcc(1000000.2, 1000000.1, 1000000.3), 1001, 1000000.2, 0.1, 15, 9},
		{"NumAcc4", numAcc(10000000.2, 10000000.1, 10000000.3), 1001, 10000000.2, 0.1, 15, 8},
	} {
		if len(c.data) != c.n {
			t.Errorf("%s: %d values, want %d", c.name, len(c.data), c.n)
		}
		mean, deviation := meanAndDeviation(c.data)
		if d := digits(mean, c.mean); d < c.meanDigits {
			t.Errorf("%s: mean %.17g, %.1f digits of %v", c.name, mean, d, c.meanDigits)
		}
		if d := digits(deviation, c.deviation); d < c.deviationDigits {
			t.Errorf("%s: deviation %.17g, %.1f digits of %v", c.name, deviation, d, c.deviationDigits)
		}
	}
}

func TestDeviationOfOneAndOfEqualValues(t *testing.T) {
	for _, xs := range [][]float64{{4205000}, {4205000, 4205000}, {0, 0, 0}} {
		mean, deviation := meanAndDeviation(xs)
		if mean != xs[0] || deviation != 0 {
			t.Errorf("%v: %v, %v", xs, mean, deviation)
		}
	}
}
