package metrology

import (
	"math"
	"testing"
)

const (
	footMM    = 304.8
	poundN    = 4.4482216152605
	perFoot   = poundN / 0.3048 // lb a foot in N a metre
	psiPerGPa = 145037.73773
)

// Taping corrections of surveying lectures, recomputed from their inputs; the
// results are published to the hundredth of a foot.
func TestTapingTemperature(t *testing.T) {
	// 368.50 ft, 68 → 22 °F, α 6.5e-6 /°F: C_t -0.11 ft. The trap is α per °F
	// used with °C.
	perC := 6.5e-6 * 1.8
	airC := (22.0 - 32) / 1.8
	got := temperatureMM(368.50*footMM, perC, 0, airC) / footMM
	if math.Round(got*100) != -11 {
		t.Errorf("C_t = %v ft", got)
	}
	if length := 368.50 + got; math.Round(length*100) != 36839 {
		t.Errorf("true length = %v ft, published 368.39", length)
	}
}

func TestTapingSag(t *testing.T) {
	for _, c := range []struct {
		spansFt []float64
		pullLb  float64
		want    float64
	}{
		{[]float64{100, 100, 100, 48.75}, 12, 0.71},
		{[]float64{100, 100, 100, 48.75}, 18, 0.31},
		{[]float64{50, 50, 50, 50, 50, 50, 48.75}, 12, 0.20},
	} {
		var sag float64
		for _, span := range c.spansFt {
			sag += sagMM(span*footMM, 2.8/100*perFoot, c.pullLb*poundN) / footMM
		}
		if math.Round(sag*100) != math.Round(c.want*100) {
			t.Errorf("spans %v at %v lb: %v ft, published %v", c.spansFt, c.pullLb, sag, c.want)
		}
	}
}

func TestTapingPull(t *testing.T) {
	// 100 ft, 18 lb against 12 lb, A 0.015 in², E 29e6 lb/in²: C_p 0.0014 ft.
	got := tapeStretchMM(100*footMM, 18*poundN, 12*poundN, 0.015*25.4*25.4, 29e6/psiPerGPa) / footMM
	if math.Round(got*10000) != 14 {
		t.Errorf("C_p = %v ft", got)
	}
}

// National Research Council, table 3-1 (bare fibre), recomputed for 7 m and
// +20 K: aramid -0.28 mm, UHMWPE -1.68 mm, a steel tape +1.62 mm; so UHMWPE
// on a steel tape looks 3.3 mm short.
func TestFibresInTheWarmth(t *testing.T) {
	for _, c := range []struct {
		tape, line, want float64
	}{
		{0, fibres["aramid"].perC, 0.28},
		{0, fibres["uhmwpe"].perC, 1.68},
		{steelPerC, 0, 1.62},
		{steelPerC, fibres["uhmwpe"].perC, 3.3},
	} {
		got := temperatureMM(7000, c.tape, c.line, 40)
		if math.Abs(got-c.want) > 0.005 {
			t.Errorf("tape %v, line %v: %v mm, want %v", c.tape, c.line, got, c.want)
		}
	}
	if temperatureMM(7000, steelPerC, fibres["uhmwpe"].perC, 20) != 0 {
		t.Error("at 20 °C there is nothing to correct")
	}
}

// A hand pull of 30 N instead of 50 N on a 6 m chain is some 4 mm short
// (common practice, no source), here with lines of 1400 N.
func TestHandPullOnAChain(t *testing.T) {
	var short float64
	for _, lengthMM := range []float64{4200, 1300, 500} {
		short += 20 * stretchMMPerN(lengthMM, breakStrain, 1400)
	}
	if math.Abs(short-3.9) > 0.1 {
		t.Errorf("%v mm short", short)
	}
}

func TestUnknownFibreSpansTheKnownOnes(t *testing.T) {
	for name, f := range fibres {
		if f.perC-f.half < unknownFibre.perC-unknownFibre.half-1e-12 || f.perC+f.half > unknownFibre.perC+unknownFibre.half+1e-12 {
			t.Errorf("%s lies outside: %+v", name, f)
		}
	}
}
