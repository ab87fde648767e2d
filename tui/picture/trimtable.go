package picture

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/wing"
)

// trimColumn is something said of each row beside its ends.
type trimColumn struct {
	title string
	words bool // not a number: it stands on the left of its column
	text  func(*endRow) string
}

var (
	meanColumn    = trimColumn{"mean", false, func(r *endRow) string { return r.mean("") }}
	leftColumn    = trimColumn{"left", false, func(r *endRow) string { return r.mean(wing.Left) }}
	rightColumn   = trimColumn{"right", false, func(r *endRow) string { return r.mean(wing.Right) }}
	againstColumn = trimColumn{"to A", false, (*endRow).againstNumber}
	verdictColumn = trimColumn{"", true, (*endRow).againstVerdict}
)

// trimTables lists what may stand beside the rows, the richest first.
var trimTables = [][]trimColumn{
	{meanColumn, leftColumn, rightColumn, againstColumn, verdictColumn},
	{meanColumn, againstColumn, verdictColumn},
	{meanColumn},
}

// wide gives the columns that it takes.
func (col trimColumn) wide(rows []*endRow) int {
	w := columns(col.title)
	for _, r := range rows {
		w = max(w, columns(col.text(r)))
	}
	return w
}

func (col trimColumn) aligned(rows []*endRow, text string) string {
	if col.words {
		return text
	}
	return strings.Repeat(" ", col.wide(rows)-columns(text)) + text
}

func (r *endRow) mean(side wing.Side) string {
	m, ok := r.means[side]
	if !ok {
		return ""
	}
	return signedTenths(m.MeanMM)
}

func (r *endRow) againstNumber() string {
	f, _, ok := r.gravest()
	if !ok {
		return ""
	}
	return signedTenths(f.DeviationMM)
}

func (r *endRow) againstVerdict() string {
	f, side, ok := r.gravest()
	switch {
	case r.apart:
		return "apart"
	case !ok:
		return ""
	case side != "":
		return fmt.Sprintf("%s, %s", f.Verdict, side)
	}
	return string(f.Verdict)
}

// exact prints millimetres as they are: a limit is never rounded.
func exact(mm float64) string { return strconv.FormatFloat(mm, 'f', -1, 64) }

func signedTenths(mm float64) string {
	text := tenths(mm)
	if mm > 0 && text != "0" {
		return "+" + text
	}
	return text
}

// legend explains the signs that are there.
func (v *trimView) legend() []string {
	var parts []string
	add := func(is bool, text string) {
		if is {
			parts = append(parts, text)
		}
	}
	limit := v.report.Limits.Path
	band := "band " + exact(limit.MM) + " mm either way"
	if limit.Fallback {
		band += " (fallback)"
	}
	add(v.lines > 0, band)
	add(v.lines > 0 && v.any(func(e *end) bool { steps, _ := e.beyond(1); return steps > 0 }),
		"out of it: long up, short down, "+exact(limit.MM*2/stepsPerLimit)+" mm a line")
	add(v.lines > 0 && v.any(func(e *end) bool { _, further := e.beyond(2 * v.lines); return further }), "^ v further")
	add(v.lines == 0 && v.any(func(e *end) bool { return e.flatSign() == "^" }), "^ long")
	add(v.lines == 0 && v.any(func(e *end) bool { return e.flatSign() == "v" }), "v short")
	add(v.any(func(e *end) bool { return e.Verdict == metrology.NotProved }), "? not proved")
	add(v.any(func(e *end) bool { return e.again }), "* again")
	add(v.lines == 0 && limit.Fallback, "limit: fallback")
	planned := v.report.Planned
	add(len(v.report.Paths) < planned, fmt.Sprintf("gaps: %d of %d not measured", planned-len(v.report.Paths), planned))
	add(v.mixed(), "rows without spans in the plan: evenly")
	add(len(v.table) > 0, "mm, + long")
	lines := foldParts(parts, "  ", v.w)
	if slices.ContainsFunc(v.rows, func(r *endRow) bool { return r.moved }) {
		if more := foldParts(append(parts, "tip not to scale"), "  ", v.w); len(more) == len(lines) {
			return more // it is not worth a line of the drawing
		}
	}
	return lines
}

func (v *trimView) any(is func(*end) bool) bool {
	found := false
	for _, r := range v.rows {
		r.each(func(_ wing.Side, _ int, e *end) { found = found || is(e) })
	}
	return found
}

// furthest names the ends that lie furthest out, in the lines that are left.
func (v *trimView) furthest(rest int) []string {
	var out []*end
	for _, r := range v.rows {
		r.each(func(_ wing.Side, _ int, e *end) {
			if e.Verdict == metrology.Outside {
				out = append(out, e)
			}
		})
	}
	furthestFirst(out)
	var lines []string
	parts := []string{"furthest out:"}
	for _, e := range out {
		parts = append(parts, fmt.Sprintf("%s %s", clean(e.PathRef.String()), longOrShort(e.DeviationMM)))
		longer := foldParts(parts, "  ", v.w)
		if len(longer) > min(rest, 2) || widest(longer) > v.w {
			break
		}
		lines = longer
	}
	return lines
}
