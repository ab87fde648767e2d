package trim

import (
	"os"
	"testing"

	"example.org/linewright/engine/wing"
)

// C 9 mm long, A and B at the plan, 0, 500 and 1000 mm rearward: the slope is
// Σ x·d / Σ x² about the middle row = 500 · 9 / (500² + 500²) = 0.009, and atan
// 0.009 = 0.5156° nose down, by hand.
func TestChordOfPlan(t *testing.T) {
	data, err := os.ReadFile("testdata/small.toml")
	if err != nil {
		t.Fatal(err)
	}
	equal(t, "none stated", len(ChordOf(small(t)).Rows), 0)
	rows := "[[row]]\nname = 'A'\nchord_mm = 0\nsource = 'one'\n[[row]]\nname = 'B'\nchord_mm = 500\nsource = 'two'\n[[row]]\nname = 'C'\nchord_mm = 1000\nsource = 'one'\n"
	p, err := wing.ParsePlan(append(data, rows...), "small.toml")
	if err != nil {
		t.Fatal(err)
	}
	chord := ChordOf(p)
	equal(t, "rows", len(chord.Rows), 3)
	equal(t, "B", chord.Rows[1], RowPlace{Row: "B", At: 500 * milli})
	equal(t, "source", chord.Source, "one; two")
	r := report(t, p, stated(t, p, milli, byRow(map[string]float64{"C": 9})), chord)
	near(t, "incidence", r.Pitch[0].Degrees, -0.5156, 1e-4)
	equal(t, "source of it", r.Pitch[0].Source, "one; two")
}
