package metrology

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.org/linewright/engine/quantity"
)

func TestForeseeIsWhatReadingsThenGive(t *testing.T) {
	for _, b := range []Bench{goodBench(), badBench(), simpleBench()} {
		o := goodObject()
		out, err := Foresee(o, 1, b, 10*quantity.Millimetre)
		if err != nil {
			t.Fatal(err)
		}
		if m := evaluate(t, o, b, o.Nominal); out.U != m.U {
			t.Errorf("%s: foreseen %v, then %v", b.Name, out.U, m.U)
		}
	}
}

func TestForeseeSaysWhatHelpsMost(t *testing.T) {
	out, err := Foresee(goodObject(), 1, badBench(), 5*quantity.Millimetre)
	if err != nil {
		t.Fatal(err)
	}
	if out.Decides || out.Limit != 5000 || out.U <= 5000 {
		t.Errorf("the bad bench cannot decide 5 mm: %+v", out)
	}
	var order []string
	last := quantity.Length(0)
	for _, h := range out.Helps {
		order = append(order, h.Change)
		if h.U < last || h.U >= out.U || h.Decides != (h.U < 5000) {
			t.Errorf("%+v after %v", h, last)
		}
		last = h.U
	}
	want := []string{
		"ten readings", "a tape of class I", "five readings", "three readings",
		"a hung weight for the pull", "a thermometer beside the tape", "a tape whose zero is a printed line",
	}
	if diff := cmp.Diff(want, order); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

func TestForeseeOnAGoodBench(t *testing.T) {
	out, err := Foresee(goodObject(), 3, goodBench(), 10*quantity.Millimetre)
	if err != nil || !out.Decides {
		t.Fatalf("%+v, %v", out, err)
	}
	for _, h := range out.Helps {
		if h.Change != "five readings" && h.Change != "ten readings" {
			t.Errorf("%q cannot help this bench", h.Change)
		}
	}
}

func TestForeseeUnderTheSimpleRule(t *testing.T) {
	b := simpleBench()
	b.Hook = true
	out, err := Foresee(goodObject(), 1, b, 10*quantity.Millimetre)
	if err != nil {
		t.Fatal(err)
	}
	if len(out.Helps) != 2 || out.Helps[0].Change != "a tape of class I" || out.Helps[1].Change != "a tape whose zero is a printed line" {
		t.Errorf("%+v", out.Helps)
	}
}

func TestForeseeRefuses(t *testing.T) {
	unnamed := goodBench()
	unnamed.Name = ""
	noStrength := goodObject()
	noStrength.Strength = 0
	for _, c := range []struct {
		name  string
		o     Object
		n     int
		b     Bench
		limit quantity.Length
		want  Code
	}{
		{"no nominal", Object{State: StateLoose}, 1, goodBench(), 10000, CodeNominal},
		{"no readings", goodObject(), 0, goodBench(), 10000, CodeNoReadings},
		{"no limit", goodObject(), 1, goodBench(), 0, CodeLimit},
		{"no state", Object{Nominal: 4205000}, 1, goodBench(), 10000, CodeState},
		{"bench", goodObject(), 1, unnamed, 10000, CodeBench},
		{"strength", noStrength, 1, badBench(), 10000, CodeStrength},
	} {
		out, err := Foresee(c.o, c.n, c.b, c.limit)
		if codeOf(err) != c.want || !cmp.Equal(out, Outlook{}) {
			t.Errorf("%s: %+v, %v, want %s", c.name, out, err, c.want)
		}
	}
}

func TestReadingsToDecide(t *testing.T) {
	o := goodObject()
	m := evaluate(t, o, badBench(), 4207000)
	expectedFor := func(deviation quantity.Length) quantity.Length { return m.Value - deviation }
	limit := 10 * quantity.Millimetre
	if n, ok := m.ReadingsToDecide(expectedFor(1000), limit); n != 1 || !ok {
		t.Errorf("decided already: %d, %t", n, ok)
	}
	if n, ok := m.ReadingsToDecide(expectedFor(20000), limit); n != 1 || !ok {
		t.Errorf("outside already: %d, %t", n, ok)
	}
	if n, ok := m.ReadingsToDecide(expectedFor(10000), limit); ok {
		t.Errorf("on the limit no number decides, got %d", n)
	}
	// Just beyond limit - U: a few more bring U down far enough.
	deviation := limit - m.U + 500
	n, ok := m.ReadingsToDecide(expectedFor(deviation), limit)
	if !ok || n < 2 || n > MostReadings {
		t.Fatalf("%d, %t", n, ok)
	}
	if got := verdict(int64(deviation), int64(m.withReadings(n)), int64(limit)); got != Inside {
		t.Errorf("%d readings: %s", n, got)
	}
	if got := verdict(int64(deviation), int64(m.withReadings(n-1)), int64(limit)); got != NotProved {
		t.Errorf("%d readings: %s already", n-1, got)
	}
	if simple := evaluate(t, o, simpleBench(), 4207000); simple.withReadings(9) != simple.U {
		t.Error("under the simple rule more readings do not help")
	}
}

func TestChance(t *testing.T) {
	for p, want := range map[float64]string{
		1: "above 99.9 %", 0.99901: "above 99.9 %", 0.999: "99.9 %", 0.9789: "97.8 %",
		0.5: "50.0 %", 0.001: "0.1 %", 0.0009: "below 0.1 %", 0: "below 0.1 %",
	} {
		if got := (Judgement{Probability: p}).Chance(); got != want {
			t.Errorf("%v: %s, want %s", p, got, want)
		}
	}
}

func TestUAsLargeAsTheLimitDecidesNothing(t *testing.T) {
	out, err := Foresee(goodObject(), 1, goodBench(), 10*quantity.Millimetre)
	if err != nil {
		t.Fatal(err)
	}
	edge, err := Foresee(goodObject(), 1, goodBench(), out.U)
	if err != nil || edge.Decides {
		t.Errorf("U %v against a limit of the same: %+v, %v", out.U, edge, err)
	}
	above, err := Foresee(goodObject(), 1, goodBench(), out.U+1)
	if err != nil || !above.Decides {
		t.Errorf("a micrometre more: %+v, %v", above, err)
	}
}

// More readings that repeat as the bench says are foreseen from one reading
// just as Foresee has it, degrees of freedom included.
func TestMoreReadingsAreForeseenTheSameBothWays(t *testing.T) {
	o := goodObject()
	b := goodBench()
	b.Repeatability = 3 * quantity.Millimetre
	m := evaluate(t, o, b, o.Nominal)
	for _, n := range []int{2, 3, 8} {
		out, err := Foresee(o, n, b, 10*quantity.Millimetre)
		if err != nil {
			t.Fatal(err)
		}
		if got := m.withReadings(n); (got - out.U).Abs() > 1 {
			t.Errorf("%d readings: %v from the first, %v before it", n, got, out.U)
		}
	}
}

func TestABenchIsTightBelowAQuarterOfTheLimit(t *testing.T) {
	for u, want := range map[quantity.Length]bool{1000: false, 7500: false, 7501: true, 9999: true, 10000: false} {
		if o := (Outlook{U: u, Limit: 10000, Decides: u < 10000}); o.Tight() != want {
			t.Errorf("U %v of 10 mm: tight is %v", u, o.Tight())
		}
	}
}
