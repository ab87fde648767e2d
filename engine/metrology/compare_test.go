package metrology

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.org/linewright/engine/quantity"
)

func evaluate(t testing.TB, o Object, b Bench, micrometres ...quantity.Length) Measurement {
	t.Helper()
	m, err := Evaluate(o, readings(micrometres...), b)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// Without credit for what the two share, U is that of the parts in
// quadrature: 2·√(2·0.73) = 2.4166 mm.
func TestCompareUnderTheSimpleRule(t *testing.T) {
	left := evaluate(t, Object{State: StateInstalled}, simpleBench(), 4207000)
	right := evaluate(t, Object{State: StateInstalled}, simpleBench(), 4210000)
	d, err := Compare(left, right)
	if err != nil {
		t.Fatal(err)
	}
	if d.Value != -3000 || d.U != 2417 || d.K != 2 || len(d.Terms) != 6 || d.State != StateInstalled {
		t.Errorf("left - right: %+v", d)
	}
	back, err := Compare(right, left)
	if err != nil || back.Value != 3000 || back.U != d.U {
		t.Errorf("right - left: %+v, %v", back, err)
	}
}

func TestCompareRefuses(t *testing.T) {
	loose := evaluate(t, Object{State: StateLoose}, simpleBench(), 4207000)
	installed := evaluate(t, Object{State: StateInstalled}, simpleBench(), 4207000)
	for _, c := range []struct {
		name string
		a, b Measurement
		want Code
	}{
		{"loose against installed", loose, installed, CodeNotAlike},
		{"installed against loose", installed, loose, CodeNotAlike},
		{"nothing measured", Measurement{}, loose, CodeNotEvaluated},
		{"a value without terms", loose, Measurement{Value: 4207000, State: StateLoose}, CodeNotEvaluated},
	} {
		d, err := Compare(c.a, c.b)
		if codeOf(err) != c.want || !cmp.Equal(d, Difference{}) {
			t.Errorf("%s: %+v, %v, want %s", c.name, d, err, c.want)
		}
	}
}

// Left and right on one bench: tape, hook, air and a hung weight are the same
// error on both and fall away at equal lengths; graduation and repeatability
// stay, and the product of pull and stretch, 0.007 mm, as each line has its own
// stretch: √(4/12 + 2·0.25 + 2·0.0070117²) = 0.9129 mm.
func TestCompareCountsSharedTermsOnce(t *testing.T) {
	left := evaluate(t, goodObject(), goodBench(), 4207000)
	right := evaluate(t, goodObject(), goodBench(), 4207000)
	d, err := Compare(left, right)
	if err != nil {
		t.Fatal(err)
	}
	product := 0.5 / math.Sqrt(3) * 0.015 / math.Sqrt(3) * 4207 / 1500
	if want := math.Sqrt(4.0/12 + 2*0.25 + 2*product*product); math.Abs(d.StandardMM-want) > 1e-9 {
		t.Errorf("u = %v mm, want %v", d.StandardMM, want)
	}
	if d.Value != 0 {
		t.Errorf("difference %v", d.Value)
	}
	for _, term := range d.Terms {
		if term.Shared != "" && term.UMM != 0 {
			t.Errorf("%s is shared and leaves %v mm at equal lengths", term.Source, term.UMM)
		}
	}
	apart := 2 * math.Hypot(left.U.MM()/2, right.U.MM()/2)
	if d.U.MM() >= apart {
		t.Errorf("U = %v, no smaller than %v mm without credit", d.U, apart)
	}
}

// At 4.2 m and 7.2 m the class errors 0.6 and 0.9 mm are one error that moves
// both; the difference keeps (0.9 - 0.6)/√3.
func TestSharedTermKeepsTheDifferenceOfItsEffects(t *testing.T) {
	short := evaluate(t, goodObject(), goodBench(), 4207000)
	long := evaluate(t, goodObject(), goodBench(), 7207000)
	d, err := Compare(long, short)
	if err != nil {
		t.Fatal(err)
	}
	if got := d.Terms[0]; got.Source != "tape class I" || math.Abs(got.UMM-0.3/math.Sqrt(3)) > 1e-9 {
		t.Errorf("%+v", got)
	}
}

func TestWhatIsNotShared(t *testing.T) {
	base := goodBench()
	a := evaluate(t, goodObject(), base, 4207000)
	kept := func(source string, other Measurement) bool {
		t.Helper()
		d, err := Compare(a, other)
		if err != nil {
			t.Fatal(err)
		}
		count := 0
		for _, term := range d.Terms {
			if term.Source == source {
				count++
			}
		}
		return count == 2
	}
	elsewhere := base
	elsewhere.Name = "hangar"
	colder := base
	colder.AirC = 23
	finer := base
	finer.TapeClass = "II"
	aramid := goodObject()
	aramid.Material = "aramid"
	for _, c := range []struct {
		name, source string
		other        Measurement
	}{
		{"another bench", "tape class I", evaluate(t, goodObject(), elsewhere, 4207000)},
		{"another bench", sourceRepeatability, evaluate(t, goodObject(), elsewhere, 4207000)},
		{"another air", "temperature", evaluate(t, goodObject(), colder, 4207000)},
		{"another fibre", "expansion of the line", evaluate(t, aramid, base, 4207000)},
		{"the same bench", "graduation at the zero", evaluate(t, goodObject(), base, 4207000)},
	} {
		if !kept(c.source, c.other) {
			t.Errorf("%s: %s was counted once", c.name, c.source)
		}
	}
	other := evaluate(t, goodObject(), finer, 4207000)
	d, err := Compare(a, other)
	if err != nil || d.Terms[0].Shared == "" || d.Terms[0].UMM != a.Terms[0].UMM {
		t.Errorf("another tape: %+v, %v", d.Terms[0], err)
	}
	hand := base
	hand.PullHow = PullHand
	a = evaluate(t, goodObject(), hand, 4207000)
	if !kept("pull, hand", a) {
		t.Error("two pulls by hand are two errors")
	}
}

// Both repeatabilities lean on the bench's own: their degrees of freedom do
// not add up.
func TestRepeatabilitiesOfOneBench(t *testing.T) {
	a := evaluate(t, goodObject(), goodBench(), 4207000)
	b := evaluate(t, goodObject(), goodBench(), 4207000, 4207500, 4208000)
	d, err := Compare(a, b)
	if err != nil {
		t.Fatal(err)
	}
	var found []Term
	for _, term := range d.Terms {
		if term.Source == sourceRepeatability {
			found = append(found, term)
		}
	}
	if len(found) != 1 || found[0].DoF != 9 {
		t.Fatalf("%+v", found)
	}
	if want := math.Hypot(termOf(a, sourceRepeatability).UMM, termOf(b, sourceRepeatability).UMM); math.Abs(found[0].UMM-want) > 1e-9 {
		t.Errorf("%v mm, want %v", found[0].UMM, want)
	}
}

func TestCompareAcrossRules(t *testing.T) {
	simple := evaluate(t, goodObject(), simpleBench(), 4207000)
	budget := evaluate(t, goodObject(), goodBench(), 4207000)
	d, err := Compare(simple, budget)
	if err != nil {
		t.Fatal(err)
	}
	if d.Rule != SimpleRule+"; and "+BudgetRule {
		t.Errorf("rule %q", d.Rule)
	}
	if want := math.Hypot(simple.StandardMM, budget.StandardMM); math.Abs(d.StandardMM-want) > 1e-6 {
		t.Errorf("u = %v mm, want %v", d.StandardMM, want)
	}
}

func TestLooseOnOtherPinsIsNotAlike(t *testing.T) {
	thick := goodBench()
	thick.Pin = 8 * quantity.Millimetre
	unknown := goodBench()
	unknown.Pin = 0
	a := evaluate(t, goodObject(), goodBench(), 4207000)
	_, err := Compare(a, evaluate(t, goodObject(), thick, 4207000))
	if codeOf(err) != CodeNotAlike || err.Error() != "not alike: one was measured on pins of 6 mm, the other on pins of 8 mm" {
		t.Errorf("6 mm against 8 mm pins: %v", err)
	}
	if _, err := Compare(a, evaluate(t, goodObject(), unknown, 4207000)); err != nil {
		t.Errorf("pins not known: %v", err)
	}
}

func TestDifferenceIsJudged(t *testing.T) {
	left := evaluate(t, goodObject(), goodBench(), 4211000)
	right := evaluate(t, goodObject(), goodBench(), 4207000)
	d, err := Compare(left, right)
	if err != nil {
		t.Fatal(err)
	}
	j, err := d.Judge(10 * quantity.Millimetre)
	if err != nil || j.Words() != "4 mm long, sure within 2 mm, limit 10: inside" || j.U != d.U {
		t.Errorf("%s, %v", j.Words(), err)
	}
}

func TestCompareIsTheSameEitherWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bench := drawBench(t)
		o := Object{Strength: 1500 * quantity.Newton, State: StateLoose}
		value := rapid.Int64Range(50000, 12000000)
		a, err := Evaluate(o, readings(quantity.Length(value.Draw(t, "a"))), bench)
		if err != nil {
			t.Fatal(err)
		}
		b, err := Evaluate(o, readings(quantity.Length(value.Draw(t, "b"))), bench)
		if err != nil {
			t.Fatal(err)
		}
		there, err := Compare(a, b)
		if err != nil {
			t.Fatal(err)
		}
		back, err := Compare(b, a)
		if err != nil {
			t.Fatal(err)
		}
		if there.Value != -back.Value || (there.U-back.U).Abs() > 1 || there.U <= 0 {
			t.Fatalf("there %+v\nback %+v", there, back)
		}
	})
}
