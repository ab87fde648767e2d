package metrology

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.org/linewright/engine/quantity"
)

func readings(micrometres ...quantity.Length) []Reading {
	rs := make([]Reading, len(micrometres))
	for i, v := range micrometres {
		rs[i] = Reading{Value: v}
	}
	return rs
}

// Directive 2014/32/EU, annex X, chapter I. The trap: 7.213 m counts as 8 m,
// so class II is 1.9 mm, not 1.74.
func TestTapeError(t *testing.T) {
	for _, c := range []struct {
		class  string
		length quantity.Length
		hook   bool
		want   float64
	}{
		{"I", 1000000, false, 0.2},
		{"II", 1000000, false, 0.5},
		{"III", 1000000, false, 1.0},
		{"I", 1000000, true, 0.3},
		{"II", 1000000, true, 0.7},
		{"III", 1000000, true, 1.3},
		{"II", 7213000, false, 1.9},
		{"II", 7213000, true, 2.1},
		{"I", 750000, false, 0.2},
		{"III", 10000000, false, 4.6},
		{"III", 10000001, false, 5.0},
		{"II", 7000000, false, 1.7},
		{"II", 7000001, false, 1.9},
		{"II", 6999999, false, 1.7},
		{"II", 1, false, 0.5},
		{"II", 0, false, 0.3},
	} {
		got, ok := TapeError(c.class, c.length, c.hook)
		if !ok || math.Abs(got-c.want) > 1e-12 {
			t.Errorf("class %s, %v, hook %t: %v, want %v", c.class, c.length, c.hook, got, c.want)
		}
	}
	if got, ok := TapeError("IV", 1000000, false); ok || got != 0 {
		t.Errorf("class IV: %v, %t", got, ok)
	}
	if got, ok := TapeError("I", -1, false); ok || got != 0 {
		t.Errorf("below zero: %v, %t", got, ok)
	}
}

// One budget by hand: class II at 4.2 m is 0.3 + 0.2·5 = 1.3 mm, rectangular
// 0.750555 mm; graduation 1/√12 = 0.288675 mm twice; together
// √(0.563333 + 0.083333 + 0.083333) = 0.854400 mm; U = 1.7088 mm, up to 1.709.
func TestSimpleRuleByHand(t *testing.T) {
	m, err := Evaluate(Object{Nominal: 4205000, State: StateLoose}, readings(4207000, 4208000), simpleBench())
	if err != nil {
		t.Fatal(err)
	}
	if m.Value != 4207500 || m.Mean != 4207500 || m.U != 1709 || m.N != 2 || m.Spread != 1000 || m.K != 2 || m.DoF != 0 {
		t.Errorf("got %+v", m)
	}
	if math.Abs(m.StandardMM-0.8544003745) > 1e-9 {
		t.Errorf("u = %v mm", m.StandardMM)
	}
	if m.Rule != SimpleRule || m.Bench != "default bench" || !m.BenchDefault || m.State != StateLoose {
		t.Errorf("got %+v", m)
	}
}

func TestSimpleRuleThroughEachVerdict(t *testing.T) {
	for _, c := range []struct {
		readings []Reading
		want     string
	}{
		{readings(4207000, 4208000), "3 mm long, sure within 2 mm, limit 10: inside"},
		{readings(4196000, 4197000), "9 mm short, sure within 2 mm, limit 10: not proved"},
		{readings(4217000, 4217000), "12 mm long, sure within 1.8 mm, limit 10: outside"},
		// U is 1.709 mm: exactly on limit - U, then a micrometre beyond.
		{readings(4213291), "8 mm long, sure within 2 mm, limit 10: inside"},
		{readings(4213292), "8.3 mm long, sure within 1.8 mm, limit 10: not proved"},
	} {
		m, err := Evaluate(Object{Nominal: 4205000, State: StateLoose}, c.readings, simpleBench())
		if err != nil {
			t.Fatal(err)
		}
		j, err := Judge(m.Value-4205000, m.U, 10000)
		if err != nil {
			t.Fatal(err)
		}
		if got := j.Words(); got != c.want {
			t.Errorf("%v:\n got %s\nwant %s", c.readings, got, c.want)
		}
	}
}

func TestMeanRoundsHalfAwayFromZero(t *testing.T) {
	for _, c := range []struct {
		rs   []Reading
		want quantity.Length
	}{
		{readings(1, 2), 2},
		{readings(1, 1, 2), 1},
		{readings(1, 2, 2), 2},
		{readings(0, 1), 1},
		{readings(4205000), 4205000},
	} {
		if got := mean(c.rs); got != c.want {
			t.Errorf("mean of %v = %d, want %d", c.rs, got, c.want)
		}
	}
}

func TestIdenticalReadingsStillHaveU(t *testing.T) {
	for _, rs := range [][]Reading{readings(4205000), readings(4205000, 4205000, 4205000)} {
		m, err := Evaluate(Object{State: StateInstalled}, rs, simpleBench())
		if err != nil || m.U < 1700 || m.Spread != 0 {
			t.Errorf("%d readings: %+v, %v", len(rs), m, err)
		}
	}
}

func TestEvaluateRefuses(t *testing.T) {
	good := simpleBench()
	with := func(change func(*Bench)) Bench {
		b := good
		change(&b)
		return b
	}
	for _, c := range []struct {
		name  string
		state State
		rs    []Reading
		bench Bench
		want  Code
	}{
		{"no readings", StateLoose, nil, good, CodeNoReadings},
		{"below zero", StateLoose, readings(-1), good, CodeReading},
		{"second below zero", StateLoose, readings(4205000, -4205000), good, CodeReading},
		{"too long", StateLoose, readings(MaxLength + 1), good, CodeReading},
		{"overflow of the sum", StateLoose, readings(math.MaxInt64, math.MaxInt64), good, CodeReading},
		{"no state", "", readings(4205000), good, CodeState},
		{"unknown state", "tight", readings(4205000), good, CodeState},
		{"no bench", StateLoose, readings(4205000), Bench{}, CodeBench},
		{"class", StateLoose, readings(4205000), with(func(b *Bench) { b.TapeClass = "2" }), CodeBench},
		{"no graduation", StateLoose, readings(4205000), with(func(b *Bench) { b.Graduation = 0 }), CodeBench},
		{"graduation", StateLoose, readings(4205000), with(func(b *Bench) { b.Graduation = 100001 }), CodeBench},
		{"pull", StateLoose, readings(4205000), with(func(b *Bench) { b.Pull = -1 }), CodeBench},
		{"rule", StateLoose, readings(4205000), with(func(b *Bench) { b.Rule = "guess" }), CodeBench},
	} {
		m, err := Evaluate(Object{State: c.state}, c.rs, c.bench)
		if codeOf(err) != c.want {
			t.Errorf("%s: %v, want %s", c.name, err, c.want)
		}
		if !cmp.Equal(m, Measurement{}) {
			t.Errorf("%s: returned %+v beside its error", c.name, m)
		}
	}
}

func TestErrorSaysWhatAndCure(t *testing.T) {
	for _, c := range []struct {
		err        *Error
		what, cure string
	}{
		{&Error{Code: CodeNoReadings}, "there is no reading to evaluate", "measure once at least"},
		{
			&Error{Code: CodeReading, A: "-4 mm"}, "a reading of -4 mm cannot be a length on the bench",
			"read again: up to 100000 mm is taken, and nothing below zero",
		},
		{&Error{Code: CodeState, A: "a\x1b"}, `there is no state "a\x1b"`, "use loose, installed or plain"},
		{
			&Error{Code: CodeBench, A: "tape_class", B: `"I", "II" or "III"`},
			"bench profile: tape_class is not one that is taken", `set tape_class to "I", "II" or "III"`,
		},
		{
			&Error{Code: CodeNotAlike, A: "loose", B: "installed"}, "not alike: one was measured loose, the other installed",
			"measure both the same way: loose with loose, installed with installed",
		},
		{
			&Error{Code: CodeForce, A: "-1 N"}, "a force of -1 N cannot be a strength or a pull",
			"give a force above 0 N, or none where it is not known",
		},
		{
			&Error{Code: CodeStrength, A: "30 N", B: "50 N"},
			"pulled at 30 N, the plan asks for 50 N, and without the strength of the line its stretch is not known",
			"pull as the plan asks, or give the strength of each line",
		},
		{
			&Error{Code: CodeNominal}, "without an expected length nothing can be foreseen",
			"give the expected length with its source",
		},
		{&Error{Code: CodeOneReading}, "one reading alone is no reference", "measure it a second time, from the start"},
		{
			&Error{Code: CodeNotRepeating, A: "5 mm", B: "2.8 mm"},
			"the readings lie 5 mm apart, 2.8 mm are allowed: they are no reference",
			"settle the line and measure again; a bare core whose sheath slides is compared with its twin instead",
		},
		{
			&Error{Code: CodeNotEvaluated}, "a measurement without its uncertainty cannot be compared",
			"measure both on a bench first",
		},
		{
			&Error{Code: CodeNoUncertainty}, "a deviation without its uncertainty proves nothing",
			"evaluate the readings on a bench first",
		},
		{
			&Error{Code: CodeLimit, A: "0 mm"}, "a limit of 0 mm cannot be judged against",
			"give a limit above 0 mm, with its source",
		},
	} {
		if got := c.err.Error(); got != c.what {
			t.Errorf("%s:\n got %s\nwant %s", c.err.Code, got, c.what)
		}
		if got := c.err.Cure(); got != c.cure {
			t.Errorf("%s:\n got %s\nwant %s", c.err.Code, got, c.cure)
		}
	}
}

// From 50 to 12 000 mm U is finite, above zero, and grows with the length.
func TestSimpleRuleOverTheWholeRange(t *testing.T) {
	for class := range tapeClasses {
		b := simpleBench()
		b.TapeClass = class
		var last quantity.Length
		for l := 50 * quantity.Millimetre; l <= 12*quantity.Metre; l += 25 * quantity.Millimetre {
			m, err := Evaluate(Object{State: StateLoose}, readings(l), b)
			if err != nil {
				t.Fatal(err)
			}
			if m.U <= 0 || m.U < last || math.IsNaN(m.StandardMM) || m.Value != l {
				t.Fatalf("class %s at %v: %+v", class, l, m)
			}
			last = m.U
		}
	}
}

func TestUIsNeverRoundedDown(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := simpleBench()
		b.TapeClass = rapid.SampledFrom([]string{"I", "II", "III"}).Draw(t, "class")
		b.Hook = rapid.Bool().Draw(t, "hook")
		b.Graduation = quantity.Length(rapid.Int64Range(1, 10000).Draw(t, "graduation"))
		l := quantity.Length(rapid.Int64Range(0, int64(MaxLength)).Draw(t, "length"))
		m, err := Evaluate(Object{State: StatePlain}, readings(l), b)
		if err != nil {
			t.Fatal(err)
		}
		if exact := m.K * m.StandardMM; m.U.MM() < exact-1e-8 || m.U.MM() > exact+0.001 {
			t.Fatalf("U = %v, k·u = %v mm", m.U, exact)
		}
	})
}

func TestMeasurementReadsBackFromJSON(t *testing.T) {
	m, err := Evaluate(Object{State: StateLoose}, readings(4207000, 4208000), simpleBench())
	if err != nil {
		t.Fatal(err)
	}
	text, err := json.Marshal(m)
	if err != nil {
		t.Fatal(err)
	}
	var back Measurement
	if err := json.Unmarshal(text, &back); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(m, back); diff != "" {
		t.Errorf("(-written +read)\n%s", diff)
	}
	again, err := json.Marshal(back)
	if err != nil || string(again) != string(text) {
		t.Errorf("written again: %v\n%s\n%s", err, text, again)
	}
}

func TestSpread(t *testing.T) {
	for _, c := range []struct {
		rs   []Reading
		want quantity.Length
	}{
		{nil, 0},
		{readings(4205000), 0},
		{readings(4207000, 4205000, 4206000), 2000},
	} {
		if got := Spread(c.rs); got != c.want {
			t.Errorf("spread of %v = %v, want %v", c.rs, got, c.want)
		}
	}
}
