package metrology

import (
	"testing"

	"github.com/google/go-cmp/cmp"

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
	left := evaluate(t, Object{State: StateInstalled}, DefaultBench(), 4207000)
	right := evaluate(t, Object{State: StateInstalled}, DefaultBench(), 4210000)
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
	loose := evaluate(t, Object{State: StateLoose}, DefaultBench(), 4207000)
	installed := evaluate(t, Object{State: StateInstalled}, DefaultBench(), 4207000)
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
