package metrology

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/linewright/engine/quantity"
)

func TestJudge(t *testing.T) {
	for _, c := range []struct {
		name                string
		deviation, u, limit quantity.Length
		want                Verdict
	}{
		{"well inside", 2000, 4000, 10000, Inside},
		{"well outside", 16000, 4000, 10000, Outside},
		{"in the guard band", 8000, 4000, 10000, NotProved},
		{"exactly on limit - U", 6000, 4000, 10000, Inside},
		{"one micrometre beyond limit - U", 6001, 4000, 10000, NotProved},
		{"exactly on the limit", 10000, 4000, 10000, NotProved},
		{"exactly on limit + U", 14000, 4000, 10000, NotProved},
		{"one micrometre beyond limit + U", 14001, 4000, 10000, Outside},
		{"U equal to the limit, no deviation", 0, 10000, 10000, Inside},
		{"U above the limit, no deviation", 0, 10001, 10000, NotProved},
		// ILAC-G8:09/2019, worked case: limit ±0.003 mm, U 0.0010 mm, guard
		// band U: +0.0017 conforms, +0.0025 is in the tolerance, not proved.
		// One micrometre here stands for a nanometre there.
		{"ILAC-G8 +0.0017", 1700, 1000, 3000, Inside},
		{"ILAC-G8 acceptance limit", 2000, 1000, 3000, Inside},
		{"ILAC-G8 +0.0025", 2500, 1000, 3000, NotProved},
	} {
		for _, sign := range []quantity.Length{1, -1} {
			j, err := Judge(sign*c.deviation, c.u, c.limit)
			if err != nil || j.Verdict != c.want {
				t.Errorf("%s (%+d): %s, %v, want %s", c.name, sign, j.Verdict, err, c.want)
			}
			if j.Rule != DecisionRule || j.Deviation != sign*c.deviation || j.U != c.u || j.Limit != c.limit {
				t.Errorf("%s: %+v does not carry what it rests on", c.name, j)
			}
		}
	}
}

func TestJudgeRefuses(t *testing.T) {
	for _, c := range []struct {
		deviation, u, limit quantity.Length
		want                Code
	}{
		{0, 0, 10000, CodeNoUncertainty},
		{0, -1, 10000, CodeNoUncertainty},
		{0, math.MaxInt64, 10000, CodeNoUncertainty},
		{0, 1000, 0, CodeLimit},
		{0, 1000, -10000, CodeLimit},
		{0, 1000, math.MaxInt64, CodeLimit},
		{math.MinInt64, 1000, 10000, CodeReading},
		{math.MaxInt64, 1000, 10000, CodeReading},
	} {
		j, err := Judge(c.deviation, c.u, c.limit)
		if code := codeOf(err); code != c.want || j != (Judgement{}) {
			t.Errorf("Judge(%d, %d, %d) = %+v, %v, want %s", c.deviation, c.u, c.limit, j, err, c.want)
		}
	}
}

// codeOf returns the code of a *Error, "" for another error or none.
func codeOf(err error) Code {
	var refused *Error
	if errors.As(err, &refused) {
		return refused.Code
	}
	return ""
}

func TestWords(t *testing.T) {
	for _, c := range []struct {
		deviation, u, limit quantity.Length
		want                string
	}{
		{2000, 4000, 10000, "2 mm long, sure within 4 mm, limit 10: inside"},
		{-2000, 4000, 10000, "2 mm short, sure within 4 mm, limit 10: inside"},
		{0, 4000, 10000, "exact, sure within 4 mm, limit 10: inside"},
		{300, 4000, 10000, "under 1 mm long, sure within 4 mm, limit 10: inside"},
		{-499, 4000, 10000, "under 1 mm short, sure within 4 mm, limit 10: inside"},
		{2500, 1709, 10000, "3 mm long, sure within 2 mm, limit 10: inside"},
		// U goes up to the millimetre shown, never down.
		{2000, 3001, 10000, "2 mm long, sure within 4 mm, limit 10: inside"},
		{12000, 4000, 10000, "12 mm long, sure within 4 mm, limit 10: not proved"},
		{16000, 4000, 10000, "16 mm long, sure within 4 mm, limit 10: outside"},
		// In whole millimetres this reads 5, 5 and 10, which looks inside.
		{5450, 4600, 10000, "5.5 mm long, sure within 4.6 mm, limit 10: not proved"},
		// In tenths it reads 5.4 and 4.6, which still looks inside.
		{5440, 4570, 10000, "5.44 mm long, sure within 4.57 mm, limit 10: not proved"},
		// In whole millimetres this reads 6, 5 and 10, which looks not proved.
		{5900, 4100, 10000, "5.9 mm long, sure within 4.1 mm, limit 10: inside"},
		{6001, 4000, 10000, "6.001 mm long, sure within 4 mm, limit 10: not proved"},
		{14200, 4100, 10000, "14.2 mm long, sure within 4.1 mm, limit 10: outside"},
		{1000, 500, 2500, "1 mm long, sure within 1 mm, limit 2.5: inside"},
	} {
		j, err := Judge(c.deviation, c.u, c.limit)
		if err != nil {
			t.Fatal(err)
		}
		got := j.Words()
		if got != c.want {
			t.Errorf("%d, %d, %d:\n got %s\nwant %s", c.deviation, c.u, c.limit, got, c.want)
		}
	}
}

func TestPrintedNumbersGiveThePrintedVerdict(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j, err := Judge(
			quantity.Length(rapid.Int64Range(-40000, 40000).Draw(t, "deviation")),
			quantity.Length(rapid.Int64Range(1, 20000).Draw(t, "u")),
			quantity.Length(rapid.Int64Range(1, 30000).Draw(t, "limit")),
		)
		if err != nil {
			t.Fatal(err)
		}
		words := parseWords(t, j.Words())
		if words.Verdict != j.Verdict {
			t.Fatalf("%s: the numbers say %s", j.Words(), words.Verdict)
		}
		if words.U < j.U {
			t.Fatalf("%s: U was %v, printed smaller", j.Words(), j.U)
		}
		deviation, u := j.Printed()
		if deviation.Abs() != words.Deviation.Abs() || u != words.U {
			t.Fatalf("%s: drawn as %v and %v", j.Words(), deviation, u)
		}
	})
}

func TestVerdictIsTheSameEitherSide(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := quantity.Length(rapid.Int64Range(0, 40000).Draw(t, "deviation"))
		u := quantity.Length(rapid.Int64Range(1, 20000).Draw(t, "u"))
		limit := quantity.Length(rapid.Int64Range(1, 30000).Draw(t, "limit"))
		long, err := Judge(d, u, limit)
		if err != nil {
			t.Fatal(err)
		}
		short, err := Judge(-d, u, limit)
		if err != nil {
			t.Fatal(err)
		}
		if long.Verdict != short.Verdict || math.Abs(long.Probability-short.Probability) > 1e-9 {
			t.Fatalf("long %+v, short %+v", long, short)
		}
		if long.Probability < 0 || long.Probability > 1 {
			t.Fatalf("probability %v", long.Probability)
		}
	})
}

// Chance of a false acceptance for a guard band w, the true value on the limit
// (ILAC-G8:09/2019): below 50 %, 5 %, 2.5 % and 0.16 %.
func TestGuardBandRisk(t *testing.T) {
	for _, c := range []struct{ w, below float64 }{{0, 0.5000001}, {0.83, 0.05}, {1, 0.025}, {1.5, 0.0016}} {
		if risk := normalBelow(-2 * c.w); risk >= c.below {
			t.Errorf("w = %v U: %v, want below %v", c.w, risk, c.below)
		}
	}
}
