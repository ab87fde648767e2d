package metrology

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.org/linewright/engine/quantity"
)

// One whole budget by hand, at 4207.5 mm on the good bench:
//
//	tape class I     0.1 + 0.1·5 = 0.6, /√3                     0.346410
//	graduation       1/√12, twice                               0.288675
//	pull             0.5 N/√3 · 4207.5·0.045/1500 mm/N          0.036438
//	pull × stretch   0.5 N/√3 · 0.015/√3 · 4207.5/1500          0.007012
//	temperature      1 °C/√3 · 4207.5·(11.6 + 12)·1e-6          0.057329
//	expansion        6e-6/√3 · 4207.5·4 °C                      0.058301
//	repeatability    pooled 9·0.5² + 1·0.5 over 10, /√2         0.370810
//
// u² = 0.12 + 0.083333·2 + 0.001328 + 0.000049 + 0.003287 + 0.003399 + 0.1375,
// u = 0.657441; ν = u⁴·10/0.370810⁴ = 98.81, t of 98 is 2.026; U = 1.3320.
// Corrected for 4 °C: + 4207.5·23.6e-6·4 = 0.397 mm.
func TestBudgetByHand(t *testing.T) {
	m := evaluate(t, goodObject(), goodBench(), 4207000, 4208000)
	want := map[string]float64{
		"tape class I":              0.346410,
		"graduation at the zero":    0.288675,
		"graduation at the reading": 0.288675,
		"pull, hung weight":         0.036438,
		"pull times stretch":        0.0070125,
		"temperature":               0.057329,
		"expansion of the line":     0.058301,
		"repeatability":             0.370810,
	}
	for _, term := range m.Terms {
		if math.Abs(term.UMM-want[term.Source]) > 1e-6 {
			t.Errorf("%s: %v mm, want %v", term.Source, term.UMM, want[term.Source])
		}
		if math.Abs(math.Abs(term.Sens)*term.U-term.UMM) > 1e-9 {
			t.Errorf("%s: %v · %v is not %v", term.Source, term.Sens, term.U, term.UMM)
		}
		delete(want, term.Source)
	}
	if len(want) != 0 {
		t.Errorf("missing: %v", want)
	}
	if math.Abs(m.StandardMM-0.657441) > 1e-5 || math.Abs(m.DoF-98.81) > 0.05 || math.Abs(m.K-2.026) > 0.001 {
		t.Errorf("u %v mm, ν %v, k %v", m.StandardMM, m.DoF, m.K)
	}
	if m.Mean != 4207500 || m.Value != 4207897 || m.U != quantity.Length(math.Ceil(m.K*m.StandardMM*1000)) {
		t.Errorf("mean %v, value %v, U %v", m.Mean, m.Value, m.U)
	}
	if m.Rule != BudgetRule || m.Bench != "club room" || m.BenchDefault || m.Pin != 6000 {
		t.Errorf("got %+v", m)
	}
	wantCorrections := []Correction{{
		Source: "temperature", AddedMM: 0.397188,
		Detail: "24 °C against 20 °C, tape 1.16e-05 and line -1.2e-05 for each °C",
	}}
	if diff := cmp.Diff(wantCorrections, m.Corrections); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

func correctionMM(m Measurement, source string) float64 {
	for _, c := range m.Corrections {
		if c.Source == source {
			return c.AddedMM
		}
	}
	return 0
}

func termOf(m Measurement, source string) Term {
	for _, t := range m.Terms {
		if t.Source == source {
			return t
		}
	}
	return Term{}
}

// 30 N by hand where the plan asks for 50: 4207.5·0.045·20/1500 = 2.5245 mm
// short, so that much is added.
func TestPullIsCorrected(t *testing.T) {
	m := evaluate(t, goodObject(), badBench(), 4207500)
	if got := correctionMM(m, "pull"); math.Abs(got-2.5245) > 1e-6 {
		t.Errorf("pull: %v mm", got)
	}
	if got := termOf(m, "stretch of the line").UMM; math.Abs(got-20*4207.5/1500*0.015/math.Sqrt(3)) > 1e-6 {
		t.Errorf("stretch of the line: %v mm", got)
	}
	atPlan := goodObject()
	atPlan.PlanPull = 30 * quantity.Newton
	m = evaluate(t, atPlan, badBench(), 4207500)
	if got := correctionMM(m, "pull"); got != 0 {
		t.Errorf("pulled as this plan asks, yet corrected by %v mm", got)
	}
}

// A balance that shows 52 N under a known 50 N pulls 48 N when it shows 50.
func TestBalanceCheckIsTakenOff(t *testing.T) {
	b := goodBench()
	b.PullHow = PullBalance
	b.Balance = &BalanceCheck{Known: 50 * quantity.Newton, Shown: 52 * quantity.Newton, Date: "2026-03-01"}
	m := evaluate(t, goodObject(), b, 4207500)
	if got, want := correctionMM(m, "pull"), 2*4207.5*0.045/1500; math.Abs(got-want) > 1e-6 {
		t.Errorf("pull: %v mm, want %v", got, want)
	}
}

func TestChainAddsUp(t *testing.T) {
	chain := goodObject()
	chain.State = StateInstalled
	chain.Chain = []Segment{
		{Length: 4205 * quantity.Millimetre, Strength: 1500 * quantity.Newton},
		{Length: 1300 * quantity.Millimetre, Strength: 900 * quantity.Newton},
		{Length: 500 * quantity.Millimetre, Strength: 500 * quantity.Newton},
	}
	m := evaluate(t, chain, badBench(), 6505000)
	want := 20 * 0.045 * (4205.0/1500 + 1300.0/900 + 500.0/500)
	if got := correctionMM(m, "pull"); math.Abs(got-want) > 1e-6 {
		t.Errorf("pull over three lines: %v mm, want %v", got, want)
	}
	if got, want := termOf(m, "pull, hand").SensFrom, "(4205 mm / 1500 N + 1300 mm / 900 N + 500 mm / 500 N) · 0.045"; got != want {
		t.Errorf("sensitivity from %q, want %q", got, want)
	}
}

func TestUnknownStrength(t *testing.T) {
	o := goodObject()
	o.Strength = 0
	near := goodBench()
	near.Pull = 49600 * quantity.Millinewton
	m := evaluate(t, o, near, 4207500)
	// Not told from the plan's pull: no correction, but the 0.4 N count, and
	// the line is taken for one of 200 N.
	want := 0.9 / math.Sqrt(3) * 4207.5 * 0.045 / 200
	if got := termOf(m, "pull, hung weight").UMM; correctionMM(m, "pull") != 0 || math.Abs(got-want) > 1e-6 {
		t.Errorf("pull: %v mm, want %v", got, want)
	}
	_, err := Evaluate(o, readings(4207500), badBench())
	if codeOf(err) != CodeStrength {
		t.Errorf("30 N instead of 50 on a line of unknown strength: %v", err)
	}
	near.Pull = 49500 * quantity.Millinewton // its error is 0.5 N: just not told apart
	if _, err := Evaluate(o, readings(4207500), near); err != nil {
		t.Errorf("0.5 N beside the plan's pull, known to 0.5 N: %v", err)
	}
	near.Pull--
	if _, err := Evaluate(o, readings(4207500), near); codeOf(err) != CodeStrength {
		t.Errorf("a millinewton further: %v", err)
	}
	inChain := goodObject()
	inChain.Chain = []Segment{{Length: 4205000, Strength: 1500000}, {Length: 500000}}
	if _, err := Evaluate(inChain, readings(4705000), badBench()); codeOf(err) != CodeStrength {
		t.Errorf("one strength of two: %v", err)
	}
}

func TestPlainDistanceIsNotPulled(t *testing.T) {
	o := Object{Nominal: 135 * quantity.Millimetre, State: StatePlain}
	m := evaluate(t, o, badBench(), 135000)
	for _, term := range m.Terms {
		if strings.HasPrefix(term.Source, "pull") || term.Source == "stretch of the line" {
			t.Errorf("%s on a plain distance", term.Source)
		}
	}
	if m.Pin != 0 {
		t.Errorf("pin %v on a plain distance", m.Pin)
	}
}

func TestCalibratedTape(t *testing.T) {
	b := goodBench()
	b.TapeClass = ClassCalibrated
	b.Calibration = &Calibration{ErrorUMPerM: 120, U: 300, Date: "2026-03-01"}
	m := evaluate(t, goodObject(), b, 4207500)
	if got := correctionMM(m, "tape calibration"); math.Abs(got+0.5049) > 1e-9 {
		t.Errorf("a tape that reads 0.12 mm a metre too long: %v mm", got)
	}
	if got := termOf(m, "tape calibration").UMM; got != 0.15 {
		t.Errorf("u = %v mm, want half of U", got)
	}
	if termOf(m, "tape class "+ClassCalibrated) != (Term{}) {
		t.Error("a class error beside the certificate")
	}
}

func TestHangingTape(t *testing.T) {
	b := goodBench()
	b.TapeRun = &TapeRun{
		Hangs: true, Pull: 20 * quantity.Newton, PullError: 5 * quantity.Newton, ReferencePull: 50 * quantity.Newton,
		WeightNPerM: 0.13, SectionMM2: 2.6, ModulusGPa: 200,
	}
	m := evaluate(t, goodObject(), b, 4207500)
	sag := 0.13 * 0.13 * math.Pow(4.2075, 3) / (24 * 20 * 20) * 1000
	stretch := -30 * 4207.5 / (2.6 * 200000)
	if got := correctionMM(m, "sag of the tape"); math.Abs(got+sag) > 1e-6 {
		t.Errorf("sag: %v mm, want %v", got, -sag)
	}
	if got := correctionMM(m, "stretch of the tape"); math.Abs(got-stretch) > 1e-6 {
		t.Errorf("stretch: %v mm, want %v", got, stretch)
	}
	want := 5 / math.Sqrt(3) * (4207.5/(2.6*200000) + 2*sag/20)
	if got := termOf(m, "pull on the tape").UMM; math.Abs(got-want) > 1e-6 {
		t.Errorf("pull on the tape: %v mm, want %v", got, want)
	}
	b.TapeRun.Hangs = false
	if m := evaluate(t, goodObject(), b, 4207500); correctionMM(m, "sag of the tape") != 0 {
		t.Error("a tape that lies does not sag")
	}
}

func TestHookIsATermOfItsOwn(t *testing.T) {
	m := evaluate(t, goodObject(), badBench(), 4207500)
	if got := termOf(m, "hook of the tape").UMM; math.Abs(got-0.3/math.Sqrt(3)) > 1e-9 {
		t.Errorf("hook: %v mm", got)
	}
}

// One reading has the bench's repeatability, identical ones do not lose it,
// and each further reading that agrees makes U smaller.
func TestBandNarrowsAsReadingsComeIn(t *testing.T) {
	last := quantity.Length(math.MaxInt64)
	for n := 1; n <= 6; n++ {
		rs := make([]quantity.Length, n)
		for i := range rs {
			rs[i] = 4207500
		}
		m := evaluate(t, goodObject(), goodBench(), rs...)
		if m.U >= last || m.U < 800 {
			t.Errorf("%d identical readings: U = %v after %v", n, m.U, last)
		}
		if m.Terms[len(m.Terms)-1].UMM <= 0 {
			t.Errorf("%d identical readings: no repeatability left", n)
		}
		last = m.U
	}
}

func TestGoodAndBadBenchJudgeDifferently(t *testing.T) {
	// 6 mm long at 50 N and 20 °C; the hand that pulls 30 N reads it shorter.
	for _, c := range []struct {
		bench   Bench
		reading quantity.Length
		want    Verdict
	}{
		{goodBench(), 4211000, Inside},
		{badBench(), 4210000, NotProved},
	} {
		o := goodObject()
		m := evaluate(t, o, c.bench, c.reading)
		j, err := m.Judge(o.Nominal, 10*quantity.Millimetre)
		if err != nil || j.Verdict != c.want {
			t.Errorf("%s: %s, %v, want %s", c.bench.Name, j.Words(), err, c.want)
		}
	}
}

func TestBudgetReadsBackFromJSON(t *testing.T) {
	for _, b := range []Bench{goodBench(), badBench()} {
		m := evaluate(t, goodObject(), b, 4207000, 4208000)
		text, err := json.Marshal(m)
		if err != nil {
			t.Fatal(err)
		}
		var back Measurement
		if err := json.Unmarshal(text, &back); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(m, back); diff != "" {
			t.Errorf("%s (-written +read)\n%s", b.Name, diff)
		}
	}
}

// drawBench makes any bench that Validate takes.
func drawBench(t *rapid.T) Bench {
	force := func(name string, low, high int64) quantity.Force {
		return quantity.Force(rapid.Int64Range(low, high).Draw(t, name))
	}
	b := Bench{
		Name: "any", Rule: RuleBudget,
		TapeClass:        rapid.SampledFrom([]string{"I", "II", "III", ClassCalibrated}).Draw(t, "class"),
		Graduation:       quantity.Length(rapid.Int64Range(1, 100000).Draw(t, "graduation")),
		Hook:             rapid.Bool().Draw(t, "hook"),
		Pull:             force("pull", 1000, 1000000),
		TapeMaterial:     "steel",
		PullHow:          rapid.SampledFrom([]string{PullHand, PullBalance, PullWeight}).Draw(t, "how"),
		PullError:        force("pull error", 1, 500000),
		AirC:             rapid.Float64Range(-30, 60).Draw(t, "air"),
		AirErrorC:        rapid.Float64Range(0.1, 40).Draw(t, "air error"),
		Repeatability:    quantity.Length(rapid.Int64Range(1, 50000).Draw(t, "repeatability")),
		RepeatabilityDoF: rapid.Float64Range(9, 1e6).Draw(t, "dof"),
	}
	if b.TapeClass == ClassCalibrated {
		b.Hook = false
		b.Calibration = &Calibration{ErrorUMPerM: rapid.Float64Range(-5000, 5000).Draw(t, "error"), U: 300, Date: "x"}
	}
	if rapid.Bool().Draw(t, "run") {
		b.TapeRun = &TapeRun{
			Hangs: rapid.Bool().Draw(t, "hangs"), Pull: force("tape pull", 2, 1000000), PullError: 1, ReferencePull: force("reference", 1, 1000000),
			WeightNPerM: rapid.Float64Range(0.001, 10).Draw(t, "weight"), SectionMM2: 2, ModulusGPa: 200,
		}
	}
	return b
}

// Whatever the bench, nothing is NaN or infinite, U is above zero, and the
// printed budget adds up to it.
func TestBudgetOfAnyBench(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBench(t)
		o := Object{
			Strength: quantity.Force(rapid.Int64Range(1, 5000000).Draw(t, "strength")),
			State:    rapid.SampledFrom([]State{StateLoose, StateInstalled, StatePlain}).Draw(t, "state"),
			Material: rapid.SampledFrom([]string{"", "aramid", "uhmwpe", "wool"}).Draw(t, "material"),
		}
		rs := readings(rapid.SliceOfN(rapid.Custom(func(t *rapid.T) quantity.Length {
			return quantity.Length(rapid.Int64Range(50000, 12000000).Draw(t, "reading"))
		}), 1, 8).Draw(t, "readings")...)
		m, err := Evaluate(o, rs, b)
		if err != nil {
			t.Fatal(err)
		}
		if m.U <= 0 || m.K < 2-1e-9 || m.DoF < 0 {
			t.Fatalf("%+v", m)
		}
		text, err := json.Marshal(m) // fails on NaN and infinity
		if err != nil || len(text) == 0 {
			t.Fatal(err)
		}
		u, _ := Combine(m.Terms)
		if math.Abs(u-m.StandardMM) > 1e-8*u {
			t.Fatalf("terms give %v, stated %v", u, m.StandardMM)
		}
		var added float64
		for _, c := range m.Corrections {
			added += c.AddedMM
		}
		if math.Abs((m.Value-m.Mean).MM()-added) > 0.00051 {
			t.Fatalf("corrected by %v, stated %v mm", m.Value-m.Mean, added)
		}
	})
}
