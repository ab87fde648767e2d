package picture

import (
	"fmt"
	"slices"
	"strings"
)

// LengthRow is one point of a row that is measured: both sides of it and what
// they differ by.
type LengthRow struct {
	Point                   string
	Left, Right, Difference Cell
}

// Cell is one length as it stands in the table.
type Cell struct {
	Text  string // as measured; empty: not yet
	Due   bool   // it is measured now
	Again bool   // it is measured again without sight of the number, which is not shown
	Out   bool   // out of its band
}

// blind is what stands for a number that must not be seen.
const blind = "again"

// Lengths draws the lengths of a row as a table: point, left, right and left
// minus right. The cell that is due stands in brackets, and what is scrolled
// away is counted. A cell that is read again shows no number, nor does the
// difference that it belongs to.
func Lengths(rows []LengthRow, w, h int, signs Signs) []string {
	if len(rows) == 0 || w <= 0 || h <= 0 {
		return nil
	}
	legend := foldParts(lengthsLegend(rows), "  ", w)
	for _, t := range lengthsTitles {
		for _, notes := range [][]string{legend, nil} {
			if lines := lengthsTable(rows, t, notes, w, h, signs); lines != nil {
				return lines
			}
		}
	}
	return nil
}

// titling is the columns of a table of lengths beside the points, and how far
// they stand apart.
type titling struct {
	titles []string
	gap    int
}

// lengthsTitles is what is tried, the best first.
var lengthsTitles = []titling{
	{[]string{"left", "right", "left-right"}, 2}, {[]string{"left", "right", "l-r"}, 2},
	{[]string{"left", "right", "l-r"}, 0}, {[]string{"left", "right"}, 2}, {[]string{"left", "right"}, 0},
}

// lengthsWide is how wide a column is at least, so that nothing moves or goes
// as numbers come in: room for "[ 6276.5!]", and for "  -12.5! ".
var lengthsWide = []int{10, 10, 9}

// cells gives what may be seen of a row, left to right: a difference would give
// away a number that is read again.
func (r LengthRow) cells() []Cell {
	if r.Left.Again || r.Right.Again {
		r.Difference = Cell{}
	}
	return []Cell{r.Left, r.Right, r.Difference}
}

// shown gives the text of a cell between what marks it.
func (c Cell) shown() string {
	text, sign := clean(c.Text), " "
	switch {
	case c.Again:
		text = blind
	case c.Out:
		sign = "!"
	}
	if c.Due {
		return "[ " + text + sign + "]"
	}
	return "  " + text + sign + " "
}

// lengthsTable draws as many columns beside the points as there are titles, and
// as many rows as there is room for, around the cell that is due.
func lengthsTable(rows []LengthRow, t titling, legend []string, w, h int, signs Signs) []string {
	const fewest = 3
	titles, gap := t.titles, t.gap
	wide := []int{columns("point")}
	for i, title := range titles {
		wide = append(wide, max(columns(title)+2, lengthsWide[i]))
	}
	for _, r := range rows {
		wide[0] = max(wide[0], columns(clean(r.Point)))
		for i, cell := range r.cells()[:len(titles)] {
			wide[i+1] = max(wide[i+1], columns(cell.shown()))
		}
	}
	all := -gap
	for _, n := range wide {
		all += n + gap
	}
	first, last, foot := window(rows, h-2-len(legend))
	if all > w || last-first < min(fewest, len(rows)) || widest(append(legend, foot...)) > w {
		return nil
	}
	c := newCanvas(all, 2+last-first, signs)
	c.put(0, 0, "point")
	c.across(-1, all, 1, light)
	for y, r := range rows[first:last] {
		c.put(0, 2+y, clean(r.Point))
	}
	x := wide[0] + gap
	for i, title := range titles {
		c.put(x+wide[i+1]-2-columns(title), 0, title)
		for y, r := range rows[first:last] {
			text := r.cells()[i].shown()
			c.put(x, 2+y, text[:1]+strings.Repeat(" ", wide[i+1]-columns(text))+text[1:])
		}
		x += wide[i+1] + gap
	}
	return slices.Concat(c.lines(), foot, legend)
}

// window gives the rows to be shown in so many lines, and the line that says
// what lies above and below.
func window(rows []LengthRow, room int) (first, last int, foot []string) {
	if len(rows) <= room {
		return 0, len(rows), nil
	}
	room--
	due := slices.IndexFunc(rows, func(r LengthRow) bool { return r.Left.Due || r.Right.Due })
	first = min(max(0, due-room/2), len(rows)-max(room, 0))
	last = first + max(room, 0)
	var parts []string
	for i, n := range []int{first, len(rows) - last} {
		if n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, []string{"above", "below"}[i]))
		}
	}
	return first, last, []string{strings.Join(parts, ", ")}
}

// lengthsLegend explains the signs that are there.
func lengthsLegend(rows []LengthRow) []string {
	var parts []string
	if anyCell(rows, func(c Cell) bool { return c.Out && !c.Again }) {
		parts = append(parts, "! out of its band")
	}
	if anyCell(rows, func(c Cell) bool { return c.Again }) {
		parts = append(parts, blind+": once more, blind")
	}
	return parts
}

func anyCell(rows []LengthRow, is func(Cell) bool) bool {
	return slices.ContainsFunc(rows, func(r LengthRow) bool { return slices.ContainsFunc(r.cells(), is) })
}

// LengthsFacts says in words what Lengths shows: what is due, each point with
// a length, and the points without.
func LengthsFacts(rows []LengthRow) []string {
	var due, out, none []string
	for _, r := range rows {
		point := clean(r.Point)
		var parts []string
		for i, c := range r.cells() {
			name := []string{"left", "right", "left against right"}[i]
			if c.Due {
				due = append(due, fmt.Sprintf("Due: %s %s.", point, name))
			}
			if text := c.words(i == 2); text != "" {
				parts = append(parts, name+" "+text)
			}
		}
		if len(parts) == 0 {
			none = append(none, point)
			continue
		}
		out = append(out, point+": "+strings.Join(parts, "; ")+".")
	}
	out = append(due, out...)
	if len(none) > 0 {
		out = append(out, "Not measured yet: "+listed(none)+".")
	}
	return out
}

// words says a cell, or how the left side is against the right one: a sign before
// a number is not heard. Empty where there is nothing to say yet.
func (c Cell) words(against bool) string {
	text := clean(c.Text)
	switch {
	case c.Again:
		return "to be read again"
	case text == "":
		return ""
	case against && strings.HasPrefix(text, "-"):
		text = text[1:] + " mm shorter"
	case against && text == "0":
		text = "the same"
	case against:
		text = strings.TrimPrefix(text, "+") + " mm longer"
	default:
		text += " mm"
	}
	if c.Out {
		text += ", out of its band"
	}
	return text
}
