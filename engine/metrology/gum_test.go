package metrology

import (
	"math"
	"testing"
)

// endGauge is the budget of JCGM 100:2008, example H.1, in nm.
func endGauge() []Term {
	return []Term{
		{Source: "reference standard", UMM: 25, DoF: 18},
		{Source: "temperature difference", UMM: 16.6, DoF: 2},
		{Source: "comparison", UMM: 9.7, DoF: 25.6},
		{Source: "expansion difference", UMM: 2.9, DoF: 50},
	}
}

// JCGM 100:2008, H.1: u_c 32 nm (31.66 unrounded), ν_eff 16.7, truncated to
// 16, k at 99 % 2.92, U 93 nm (ν_eff, k and U from memory, recomputed). The
// printed 9.7 is rounded from 9.68, so the last digits differ by one.
func TestGUMEndGauge(t *testing.T) {
	u, dof := Combine(endGauge())
	if math.Abs(u-31.66) > 0.015 || math.Round(u) != 32 {
		t.Errorf("u_c = %v nm", u)
	}
	if math.Abs(dof-16.7) > 0.1 || math.Floor(dof) != 16 {
		t.Errorf("ν_eff = %v", dof)
	}
	k := CoverageFactor(0.99, dof)
	if math.Abs(k-2.92) > 0.005 {
		t.Errorf("k = %v", k)
	}
	if U := math.Ceil(k * u); U != 93 {
		t.Errorf("U = %v nm", U)
	}
}

// Rounding u_c to 32 nm before Welch and Satterthwaite gives 17 degrees of
// freedom, one too many: round only when printing.
func TestRoundingEarlyGivesTheWrongDegreesOfFreedom(t *testing.T) {
	u, dof := Combine(endGauge())
	early := math.Pow(math.Round(u), 4) / (math.Pow(u, 4) / dof)
	if math.Floor(early) != 17 || math.Floor(dof) != 16 {
		t.Errorf("rounded early %v, unrounded %v", early, dof)
	}
}

// NIST TN 1297, table B.1.
func TestCoverageFactor(t *testing.T) {
	for _, c := range []struct{ dof, p95, p9545, p99 float64 }{
		{1, 12.71, 13.97, 63.66},
		{2, 4.30, 4.53, 9.92},
		{4, 2.78, 2.87, 4.60},
		{8, 2.31, 2.37, 3.36},
		{16, 2.12, 2.17, 2.92},
		{30, 2.04, 2.09, 2.75},
		{0, 1.960, 2.000, 2.576}, // infinite
	} {
		tolerance := 0.005
		if c.dof == 0 {
			tolerance = 0.0005
		}
		for p, want := range map[float64]float64{0.95: c.p95, coverage: c.p9545, 0.99: c.p99} {
			if got := CoverageFactor(p, c.dof); math.Abs(got-want) > tolerance+1e-9 {
				t.Errorf("ν %v, p %v: %v, want %v", c.dof, p, got, want)
			}
		}
	}
}

func TestCoverageFactorTruncatesAndFallsToTwo(t *testing.T) {
	if CoverageFactor(0.99, 16.7) != CoverageFactor(0.99, 16) {
		t.Error("16.7 is not truncated to 16")
	}
	if CoverageFactor(coverage, 0.5) != CoverageFactor(coverage, 1) {
		t.Error("below 1 does not count as 1")
	}
	if k := CoverageFactor(coverage, 0); math.Abs(k-2) > 1e-12 {
		t.Errorf("k = %v with infinite degrees of freedom", k)
	}
	last := math.Inf(1)
	for _, dof := range []float64{1, 2, 3, 5, 10, 100, 1e4, 1e6, 1e7} {
		k := CoverageFactor(coverage, dof)
		if k > last || k < 2-1e-12 {
			t.Errorf("ν %v: k = %v after %v", dof, k, last)
		}
		last = k
	}
}

func TestCombineWithoutTermsOrSpread(t *testing.T) {
	if u, dof := Combine(nil); u != 0 || dof != 0 {
		t.Errorf("no terms: %v, %v", u, dof)
	}
	if u, dof := Combine([]Term{{UMM: 3}, {UMM: 4, DoF: 0}}); u != 5 || dof != 0 {
		t.Errorf("infinite degrees of freedom: %v, %v", u, dof)
	}
	if u, dof := Combine([]Term{{UMM: 3}, {UMM: 0, DoF: 1}}); u != 3 || dof != 0 {
		t.Errorf("a term of nothing: %v, %v", u, dof)
	}
}

// JCGM 106:2012 (from memory, recomputed): y = -5.47 V, u = 0.05 V, upper
// limit -5.40 V, conformance probability 0.92; and the speed limit of 100 km/h
// with u of 2 %: at 106.6 km/h the limit is passed with 99.9 %.
func TestConformanceProbability(t *testing.T) {
	if p := probabilityWithin(-5.47, 0.05, 0, math.Inf(-1), -5.40); math.Abs(p-0.9192) > 0.00005 {
		t.Errorf("breakdown voltage: %v", p)
	}
	// v beyond 100/(1 - 2 %·z) with z at 99.9 %, which JCGM 106 rounds to 107.
	z := 3.0902
	v := 100 / (1 - 0.02*z)
	if math.Abs(v-106.6) > 0.05 {
		t.Errorf("speed %v", v)
	}
	if p := probabilityWithin(v, 0.02*v, 0, 100, math.Inf(1)); math.Abs(p-0.999) > 0.00001 {
		t.Errorf("speed limit: %v", p)
	}
}

func TestProbabilityWithStudent(t *testing.T) {
	// The interval ±U holds 95.45 % by its own distribution, whatever ν.
	for _, dof := range []float64{0, 1, 4, 16, 200} {
		k := CoverageFactor(coverage, dof)
		if p := probabilityWithin(0, 1, dof, -k, k); math.Abs(p-coverage) > 1e-6 {
			t.Errorf("ν %v: %v", dof, p)
		}
	}
	if p := probabilityWithin(0, 1, 3, math.Inf(-1), math.Inf(1)); p != 1 {
		t.Errorf("everything: %v", p)
	}
}

// What is kept is what would be found again.
func TestExpansionFactorIsTheCoverageFactor(t *testing.T) {
	for _, dof := range []float64{0, 0.5, 1, 1.9, 9, 9.7, 98.8, 999, 999.9, 1000, 1e7} {
		for range 2 {
			if got, want := expansionFactor(dof), CoverageFactor(coverage, dof); got != want {
				t.Errorf("%v degrees of freedom: %v, want %v", dof, got, want)
			}
		}
	}
}
