package picture

import (
	"fmt"
	"strings"
	"testing"

	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

const mm = quantity.Millimetre

// lineOf finds the line with a text; -1 if there is none.
func lineOf(lines []string, text string) int {
	for y, l := range lines {
		if strings.Contains(l, text) {
			return y
		}
	}
	return -1
}

// Pulley lower: knot toward the tail, by the same distance; pulley higher: away
// from it. Common practice, no source.
func TestKnotGoesAsThePulley(t *testing.T) {
	places := []wing.Pulley{{Name: "high"}, {Name: "mid", Below: 50 * mm}, {Name: "low", Below: 100 * mm}}
	for _, way := range [][2]int{{1, 3}, {3, 1}, {1, 2}, {2, 3}, {3, 2}, {2, 2}} {
		for h := 8; h < 30; h++ {
			got := Pulleys(Move{Places: places, Found: way[0], New: way[1]}, 60, h, ASCII)
			if got == nil {
				continue
			}
			found, knot := lineOf(got, ": found"), lineOf(got, "new knot")
			if way[0] == way[1] {
				equal(t, "stays", lineOf(got, "the knot stays") > 0 && lineOf(got, "old mark") < 0, true)
				continue
			}
			equal(t, fmt.Sprint(way, h, " knot"), knot, lineOf(got, ": new"))
			equal(t, fmt.Sprint(way, h, " mark"), lineOf(got, "old mark"), found)
			equal(t, fmt.Sprint(way, h, " direction"), lineOf(got, "toward the tail") > 0, way[1] > way[0])
			equal(t, fmt.Sprint(way, h, " tail below"), lineOf(got, "' tail") > max(knot, found), true)
		}
	}
}

func TestPlacesStandInProportion(t *testing.T) {
	m := Move{Places: []wing.Pulley{{Name: "a"}, {Name: "b", Below: 40 * mm}, {Name: "c", Below: 80 * mm}}}
	equal(t, "40 and 80", fmt.Sprint(m.heights(9)), "[0 3 9]")
	m.Places[2].Below = 0
	equal(t, "not given", fmt.Sprint(m.heights(8)), "[0 4 8]")
	equal(t, "none given", fmt.Sprint(Move{}.heights(6)), "[0 6]")
}

func TestTailStandsInProportion(t *testing.T) {
	m := Move{Places: []wing.Pulley{{Name: "high"}, {Name: "low", Below: 100 * mm}}, Found: 1, New: 2, Distance: 100 * mm, Tail: 150 * mm, HasTail: true}
	got := Pulleys(m, 60, 40, ASCII)
	mark, knot, end := lineOf(got, "old mark"), lineOf(got, "new knot"), lineOf(got, "tail 50 mm")
	equal(t, "tail", 2*(end-mark), 3*(knot-mark)+(3*(knot-mark))%2)
	m.Tail = 60 * mm
	if got := Pulleys(m, 60, 40, ASCII); lineOf(got, "too short") < 0 {
		t.Errorf("a line that ends before its knot:\n%s", strings.Join(got, "\n"))
	}
	m.Found, m.New = 2, 1
	equal(t, "longer", lineOf(Pulleys(m, 60, 40, ASCII), "tail 160 mm") > 0, true)
}

func TestGateRuler(t *testing.T) {
	g := Gate{Counts: []TurnCount{{"counted", 4.5}, {"by the plan", 5}}, Thread: 3 * mm, Pitch: 600}
	got := g.ruler(60, ASCII)
	zero, five := strings.Index(got[0], "0"), strings.Index(got[0], "5")
	equal(t, "4.5", 10*strings.Count(got[1], "#"), 9*(five-zero))
	equal(t, "bare", strings.Count(got[1], "/"), strings.Count(got[2], "#")-strings.Count(got[1], "#"))
	equal(t, "5", strings.Count(got[2], "#"), five-zero)
	equal(t, "legend", got[3], "# thread covered  / bare")
	equal(t, "narrow", strings.Join(g.ruler(20, ASCII), "/"), "Turns: counted 4.5,/by the plan 5")
	equal(t, "none", len(Gate{}.ruler(60, ASCII)), 0)
}

// A count that is not the whole thread never looks like it, however coarse.
func TestNutNeverLooksHomeWhenItIsNot(t *testing.T) {
	g := Gate{Thread: 3 * mm, Pitch: 600}
	for _, step := range []int{2, 3, 4} {
		home := g.bar(5, step)
		for _, turns := range []float64{0, 0.25, 2.5, 4.5, 4.75, 4.99, 5.01, 5.25, 6, 9} {
			got := g.bar(turns, step)
			equal(t, fmt.Sprint(turns, " bare ", step), strings.Contains(got, "/"), turns < 5)
			equal(t, fmt.Sprint(turns, " past ", step), strings.Contains(got, "!"), turns > 5)
			equal(t, fmt.Sprint(turns, " home ", step), got == home, false)
		}
	}
}

func TestSoftLinkHasNoNut(t *testing.T) {
	g := Gate{Link: "link A left", Soft: true}
	for _, text := range append(g.Draw(60, 20, ASCII), g.facts()...) {
		if strings.Contains(text, "nut") || strings.Contains(text, "thread") {
			t.Errorf("%q", text)
		}
	}
	equal(t, "drawn", len(g.Draw(60, 20, ASCII)) > 0, true)
}

// The way of the knot and what is left of the tail stand in one proportion.
func TestShiftStandsInProportion(t *testing.T) {
	m := Move{Distance: 100 * mm, Tail: 250 * mm, HasTail: true}
	for rows := 2; rows <= 4; rows += 2 {
		for _, down := range []bool{true, false} {
			b := m.oneWay(rows, down, true)
			equal(t, fmt.Sprint("knot ", rows, down), b.knot-b.old, map[bool]int{true: rows, false: -rows}[down])
			equal(t, fmt.Sprint("tail ", rows, down), 2*(b.end-b.old), 5*rows)
		}
	}
	text := strings.Join(Shift(m, 48, 22, ASCII), "\n")
	for _, want := range []string{"100 mm", "tail 150 mm", "tail 350 mm"} {
		equal(t, want, strings.Contains(text, want), true)
	}
	m.Tail = 60 * mm
	equal(t, "short", lineOf(Shift(m, 48, 22, ASCII), "too short") > 0, true)
	m.Tail = 2000 * mm
	equal(t, "broken", lineOf(Shift(m, 48, 22, ASCII), ":") > 0, true)
}
