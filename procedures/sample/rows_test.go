package sample

import (
	"math"
	"slices"
)

// rib gives the part of the half span of a rib with tabs, counted from the
// centre. Cells become narrower toward the tip.
func rib(n int) float64 {
	u := (float64(n) - 0.5) / 12.5
	return u * (1.15 - 0.15*u)
}

// regular ties one row: points from 1 up, two uppers on a middle line and two
// middles on a lower one.
func regular(points int, chord float64) []tree {
	var trees []tree
	for n := 1; n <= points; n += 4 {
		trees = append(trees, tree{
			{{rib(n), chord}, {rib(n + 1), chord}},
			{{rib(n + 2), chord}, {rib(n + 3), chord}},
		})
	}
	return trees
}

func sheathed(mm float64, newtons int) cord { return cord{"aramid", true, mm, newtons} }
func bare(mm float64, newtons int) cord     { return cord{"UHMWPE", false, mm, newtons} }

// foot gives the place of a link; the branches stand one behind the other.
func foot(n float64) vec { return vec{footBack + 0.03*n, footOut, 0} }

func rows() []row {
	return []row{
		{"A", "link:A", foot(0), 1, "red", sheathed(1.5, 1600), sheathed(1.1, 950), bare(0.7, 550), 1.65, regular(12, 0.10)},
		{"B", "link:B", foot(1), 1, "yellow", sheathed(1.5, 1600), sheathed(1.1, 950), bare(0.7, 550), 1.65, regular(12, 0.31)},
		{"C", "link:C", foot(2), 1, "blue", sheathed(1.3, 1300), sheathed(1.0, 800), bare(0.65, 500), 1.65, regular(12, 0.56)},
		{"D", "link:D", foot(3), 1, "green", sheathed(1.2, 1100), sheathed(0.95, 700), bare(0.6, 450), 1.65, regular(8, 0.79)},
		{"S", "link:B", foot(1), 4, "orange", sheathed(1.1, 1000), sheathed(0.9, 650), bare(0.6, 450), 1.65,
			[]tree{{{{0.955, 0.15}, {0.970, 0.40}, {0.985, 0.65}}, {{0.995, 0.90}}}}},
		{"Br", "handle", vec{footBack + 0.1, footOut, -0.35}, 1, "white", sheathed(1.8, 1500), sheathed(0.9, 650), bare(0.6, 450), 1.2, brakeFan()},
	}
}

// brakeFan ties the brakes: one main line, three middles, two points on each.
func brakeFan() []tree {
	var t tree
	for n := 0; n < 3; n++ {
		inner := 0.12 + 0.28*float64(n)
		t = append(t, []tab{{inner, 1}, {inner + 0.14, 1}})
	}
	return []tree{t}
}

type sheet struct {
	Links []string
	Lines []line
}

func lines() sheet {
	w := sheet{Links: []string{"A", "B", "C", "D"}}
	for _, r := range rows() {
		w.Lines = append(w.Lines, r.lines()...)
	}
	w.Lines = tip(w.Lines)
	for i, l := range w.Lines {
		w.Lines[i].MM = int(math.Round(1000 * l.low.to(l.high).len()))
	}
	return w
}

// tip gives the wing what a regular cascade has not: the second middle line of
// the stabilo, written with a small s, runs straight to the rear tab of the
// tip, and the upper line beside it is sewn in.
func tip(all []line) []line {
	rear, sewn, top := index(all, "S2.2"), index(all, "S3.3"), index(all, "S3.4")
	all[rear].Code = "s2.1"
	all[rear].Point, all[rear].Span, all[rear].high = all[top].Point, all[top].Span, all[top].high
	all[sewn].Sewn = true
	return slices.Delete(all, top, top+1)
}

func index(all []line, code string) int {
	return slices.IndexFunc(all, func(l line) bool { return l.Code == code })
}
