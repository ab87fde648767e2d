package picture

import (
	"strings"
	"testing"

	"example.org/linewright/engine/job"
)

var brakeSides = []job.SidesRow{
	{Name: "place", Plain: true, Left: "1", Right: "1"},
	{Name: "tail found", Left: "165", Right: "160", Diff: "5", Least: "50"},
	{Name: "play found", Left: "100", Least: "100", Limit: "10", LimitOf: "fallback: common practice, no source"},
	{Name: "distance", Left: "135.5", Right: "137", Diff: "-1.5", Plan: "135", Limit: "5"},
}

// The table stands as on paper: numbers under each other, blank where nothing
// is read yet, and no wider and no higher than it may be.
func TestBothSidesStandInATable(t *testing.T) {
	for _, c := range []struct {
		w, h int
		want string
	}{
		{60, 9, `
mm           left  right   l-r  held to
---------------------------------------------
place           1      1
tail found    165    160     5  min 50
play found    100               min 100 +-10*
distance    135.5    137  -1.5  135 +-5
* fallback: common practice, no source`},
		{41, 6, `
mm          left right  l-r held to
-----------------------------------------
play found   100            min 100 +-10*
distance   135.5   137 -1.5 135 +-5
* fallback: common practice, no source
2 earlier: ? shows all`},
		{32, 9, `
mm           left  right   l-r
------------------------------
place           1      1
tail found    165    160     5
play found    100
distance    135.5    137  -1.5`},
		{20, 9, ""},
		{60, 3, ""},
	} {
		lines := Sides(brakeSides, c.w, c.h, ASCII)
		for i, l := range lines {
			lines[i] = strings.TrimRight(l, " ")
		}
		if got := strings.Join(lines, "\n"); got != strings.TrimPrefix(c.want, "\n") {
			t.Errorf("in %d x %d:\n%s\nwant%s", c.w, c.h, got, c.want)
		}
	}
}

func TestBothSidesInWords(t *testing.T) {
	want := "Place: left 1, right 1.\n" +
		"Tail found: left 165 mm, right 160 mm, left less right 5 mm; at least 50 mm.\n" +
		"Play found: left 100 mm, right not read yet; at least 100 mm; limit 10 mm (fallback: common practice, no source).\n" +
		"Distance: left 135.5 mm, right 137 mm, left less right -1.5 mm; plan 135 mm; limit 5 mm."
	card := job.Card{Picture: NameSides, Sides: brakeSides}
	if got := strings.Join(Facts(card, nil), "\n"); got != want {
		t.Errorf("%s", got)
	}
}

// A sketch that shows both ways shows no tail that a knot could not hold.
func TestASketchShowsNoTailBelowTheLeast(t *testing.T) {
	m := Move{Tail: 165 * mm, HasTail: true, Distance: 135 * mm, Least: 50 * mm, Found: 2, New: 1}
	seen := strings.Join(append(Shift(m, 60, 20, ASCII), m.shiftFacts()...), "\n")
	if strings.Contains(seen, "tail 30 mm") || !strings.Contains(seen, "too short") || !strings.Contains(seen, "tail 300 mm") {
		t.Errorf("%s", seen)
	}
}
