package quantity

import (
	"math/big"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"
)

// Exact factors, in base units. The definitions stand in NIST SP 811, appendix
// B.8 (inch, foot) and ISO 80000-4 (pound and standard gravity, from memory);
// SP 811 prints the products as 4.448 222 N and 0.112 984 8 N·m.
func TestFactorsAreExact(t *testing.T) {
	inch := rat("25.4")        // mm, NIST SP 811 B.8
	foot := rat("304.8")       // mm, NIST SP 811 B.8
	pound := rat("0.45359237") // kg
	gravity := rat("9.80665")  // m/s²
	thousand := rat("1000")    // base units in a mm, N or N·m
	metre := rat("1/1000")     // m in a mm
	poundForce := mul(pound, gravity)
	for _, c := range []struct {
		kind Kind
		unit string
		want *big.Rat
	}{
		{KindLength, "mm", thousand},
		{KindLength, "cm", rat("10000")},
		{KindLength, "m", rat("1000000")},
		{KindLength, "in", mul(inch, thousand)},
		{KindLength, "ft", mul(foot, thousand)},
		{KindForce, "N", thousand},
		{KindForce, "daN", rat("10000")},
		{KindForce, "kgf", mul(gravity, thousand)},
		{KindForce, "lbf", mul(poundForce, thousand)},
		{KindTorque, "N·m", thousand},
		{KindTorque, "Nm", thousand},
		{KindTorque, "lbf·in", mul(poundForce, inch, metre, thousand)},
		{KindTorque, "lbf·ft", mul(poundForce, foot, metre, thousand)},
	} {
		if got := kinds[c.kind].units[c.unit]; got == nil || got.Cmp(c.want) != 0 {
			t.Errorf("%s: %v base units, want %v", c.unit, got, c.want)
		}
	}
}

func mul(factors ...*big.Rat) *big.Rat {
	product := big.NewRat(1, 1)
	for _, f := range factors {
		product.Mul(product, f)
	}
	return product
}

// The rounded factors as NIST SP 811 prints them.
func TestFactorsAsPrinted(t *testing.T) {
	for _, c := range []struct {
		kind     Kind
		unit     string
		decimals int
		printed  string
	}{
		{KindForce, "lbf", 6, "4.448222"},      // N, NIST SP 811 B.8
		{KindForce, "kgf", 5, "9.80665"},       // N, NIST SP 811 B.8
		{KindTorque, "lbf·in", 7, "0.1129848"}, // N·m, NIST SP 811 B.8
	} {
		got := mul(kinds[c.kind].units[c.unit], rat("1/1000")).FloatString(c.decimals)
		if got != c.printed {
			t.Errorf("%s: %s, SP 811 prints %s", c.unit, got, c.printed)
		}
	}
}

// 5 kgf is 49.033 25 N, so "5 kg" of pull is 1.9 % below 50 N (arithmetic).
func TestFiveKilogramForce(t *testing.T) {
	got, err := ParseForce("5 kgf")
	if err != nil || got != 49033*Millinewton {
		t.Errorf("5 kgf = %v, %v, want 49.033 N", got, err)
	}
}

func TestFactorsAgainstGNUUnits(t *testing.T) {
	tool, err := exec.LookPath("units")
	if err != nil {
		if os.Getenv("LINEWRIGHT_NEED_TOOLS") == "1" {
			t.Fatal("GNU units is not installed")
		}
		t.Skip("GNU units is not installed")
	}
	base := map[Kind]string{KindLength: "micrometre", KindForce: "millinewton", KindTorque: "millinewton metre"}
	spelled := map[string]string{"N·m": "N m", "Nm": "N m", "lbf·in": "lbf in", "lbf·ft": "lbf ft"}
	for kind, to := range base {
		for unit, factor := range kinds[kind].units {
			from := unit
			if s, ok := spelled[unit]; ok {
				from = s
			}
			out, err := exec.Command(tool, "-t", "-o", "%.16g", "1 "+from, to).Output()
			if err != nil {
				t.Errorf("units 1 %s in %s: %v", from, to, err)
				continue
			}
			theirs, err := strconv.ParseFloat(strings.TrimSpace(string(out)), 64)
			if err != nil {
				t.Errorf("units 1 %s in %s: %q", from, to, out)
				continue
			}
			// GNU units computes in binary floating point, ours is exact.
			if ours, _ := factor.Float64(); theirs < ours*(1-1e-14) || theirs > ours*(1+1e-14) {
				t.Errorf("1 %s: ours %.16g %s, units says %.16g", unit, ours, to, theirs)
			}
		}
	}
}
