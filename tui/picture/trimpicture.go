package picture

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/trim"
	"example.org/linewright/engine/wing"
)

// Trim draws the trim of a wing row by row: the upper ends of the paths side
// by side, the left tip on the left, the band of the limit as a line through
// the row. Ends lie where the plan says along the span, and side by side where
// it does not. An end that is inside lies on it; a long one sticks out upward and
// a short one downward, in steps of a quarter of the limit. Beside it stand the
// means of the row and what it is against row A. A limit that the plan does not
// state is called a fallback.
func Trim(report trim.Report, w, h int, signs Signs) []string {
	v := &trimView{report: report, rows: endRows(report), w: w, h: h, signs: signs}
	if len(v.rows) == 0 || w <= 0 || h <= 0 {
		return nil
	}
	for _, r := range v.rows {
		v.name = max(v.name, columns(clean(r.name))+1)
		v.places = max(v.places, len(r.ends[wing.Left]))
	}
	v.spans = spansOf(v.rows)
	for _, st := range trimStyles {
		v.trimStyle = st
		if lines := v.draw(); lines != nil {
			return lines
		}
	}
	return nil
}

// trimStyle says how a trim is drawn.
type trimStyle struct {
	table  []trimColumn
	lines  int // that an end may stick out
	step   int // columns from end to end; 0: all rows in one order along the span
	across int // rows side by side
}

// trimStyles lists what is tried in turn, the richest first.
var trimStyles = listTrimStyles()

func listTrimStyles() []trimStyle {
	var all []trimStyle
	add := func(table []trimColumn, across, most, least int) {
		for lines := most; lines >= least; lines-- {
			for _, step := range []int{0, 2, 1} {
				all = append(all, trimStyle{table, lines, step, across})
			}
		}
	}
	for _, table := range trimTables {
		add(table, 1, 3, 1)
	}
	for _, table := range trimTables {
		add(table, 2, 2, 1)
	}
	add(nil, 1, 3, 1)
	add(nil, 2, 2, 1)
	for _, table := range trimTables {
		add(table, 1, 0, 0)
	}
	add(nil, 1, 0, 0)
	return all
}

// trimView is a trim under way to its drawing.
type trimView struct {
	trimStyle
	report trim.Report
	rows   []*endRow
	w, h   int
	signs  Signs
	name   int // columns of the names of rows
	places int // of one side
	half   int // columns of one side
	spans  []float64
}

// strip gives the columns of one row of ends.
func (v *trimView) strip() int { return 2*v.half + 1 }

// besides gives the columns of all that stands beside the ends of a row.
func (v *trimView) besides() int {
	wide := v.name
	for _, col := range v.table {
		wide += 2 + col.wide(v.rows)
	}
	return wide
}

// cell gives the columns of a row with all that stands beside it.
func (v *trimView) cell() int { return v.besides() + v.strip() }

// column gives the column of a slot in its cell; slot 0 is the centre.
func (v *trimView) column(side wing.Side, slot int) int {
	if side == wing.Left {
		slot = -slot
	}
	return v.name + v.half + slot
}

// bandOf is rows side by side.
type bandOf struct {
	rows     []*endRow
	up, down int
}

func (v *trimView) bands() []bandOf {
	var all []bandOf
	for rows := range slices.Chunk(v.rows, v.across) {
		b := bandOf{rows: rows}
		for _, r := range rows {
			up, down := r.sticks(v.lines)
			b.up, b.down = max(b.up, up), max(b.down, down)
		}
		all = append(all, b)
	}
	return all
}

func (v *trimView) draw() []string {
	const gap = 3
	if !v.spread((v.w+gap)/v.across - gap - v.besides()) {
		return nil
	}
	wide := v.across*(v.cell()+gap) - gap
	legend := v.legend()
	bands := v.bands()
	tall := 1
	for i, b := range bands {
		tall += v.between(bands, i) + b.up + 1 + b.down
	}
	rest := v.h - tall - len(legend)
	if rest < 0 || widest(legend) > v.w {
		return nil
	}
	c := newCanvas(wide, tall, v.signs)
	for i := range min(v.across, len(v.rows)) {
		v.head(c, i*(v.cell()+gap))
	}
	y := 1
	for i, b := range bands {
		y += v.between(bands, i) + b.up
		for j, r := range b.rows {
			v.row(c, r, j*(v.cell()+gap), y)
		}
		y += 1 + b.down
	}
	return slices.Concat(c.lines(), legend, v.furthest(rest))
}

// between is the line left free above a band, where what sticks out of it would
// meet what sticks out of the one above.
func (v *trimView) between(bands []bandOf, i int) int {
	if i > 0 && bands[i-1].down > 0 && bands[i].up > 0 {
		return 1
	}
	return 0
}

// head names the sides and what stands beside the rows.
func (v *trimView) head(c *canvas, x int) {
	middle := x + v.name + v.half
	first, last := x+v.name, x+v.name+v.strip()
	for _, words := range [][2]string{{"tip  LEFT", "RIGHT  tip"}, {"LEFT", "RIGHT"}, {"L", "R"}} {
		if half := middle - first; len(words[1])+1 <= half {
			c.put(first, 0, words[0])
			c.put(last-len(words[1]), 0, words[1])
			break
		}
	}
	c.put(middle, 0, c.upright())
	at := last
	for _, col := range v.table {
		at += 2 + col.wide(v.rows)
		c.put(at-col.wide(v.rows), 0, col.aligned(v.rows, col.title))
	}
}

// upright is a stroke as a text, where it must not join others.
func (c *canvas) upright() string {
	if c.signs == Richer {
		return "│"
	}
	return "|"
}

func (v *trimView) row(c *canvas, r *endRow, x, y int) {
	c.put(x, y, clean(r.name))
	c.put(x+v.column("", 0), y, c.upright())
	var out []*end
	r.each(func(side wing.Side, place int, e *end) {
		at := x + v.column(side, r.slots[place])
		for i := range r.inward(place, v.step) {
			inward := i
			if side == wing.Right {
				inward = -i
			}
			c.stroke(at+inward, y, toLeft, light)
			c.stroke(at+inward, y, toRight, light)
		}
		v.end(c, e, at, y)
		if steps, _ := e.beyond(2 * v.lines); steps > 0 {
			out = append(out, e)
		}
	})
	v.numbers(c, r, out, x, y)
	at := x + v.name + v.strip()
	for _, col := range v.table {
		at += 2 + col.wide(v.rows)
		c.put(at-col.wide(v.rows), y, col.aligned(v.rows, col.text(r)))
	}
}

// end draws where one path ends.
func (v *trimView) end(c *canvas, e *end, x, y int) {
	if v.lines == 0 {
		if sign := e.flatSign(); sign != "" {
			c.put(x, y, sign)
		}
		return
	}
	steps, further := e.beyond(2 * v.lines)
	if steps == 0 {
		switch {
		case e.Verdict == metrology.NotProved:
			c.put(x, y, "?")
		case e.again:
			c.put(x, y, "*")
		}
		return
	}
	tip, sign, half, beyond := v.tip(e, y), "", "'", "v"
	outward := uint8(toDown)
	if tip < y {
		half, beyond, outward = ".", "^", toUp
	}
	c.down(x, y, tip, light)
	if steps%2 == 0 {
		c.stroke(x, tip, outward, light)
	} else if v.signs == ASCII {
		sign = half
	}
	if further {
		sign = beyond
	}
	if e.Verdict == metrology.NotProved {
		sign = "?"
	}
	c.put(x, tip, sign)
}

// flatSign is the sign of an end where nothing can stick out.
func (e *end) flatSign() string {
	switch {
	case e.Verdict == metrology.NotProved:
		return "?"
	case e.Verdict == metrology.Inside && e.again:
		return "*"
	case e.Verdict == metrology.Inside:
		return ""
	case e.DeviationMM > 0:
		return "^"
	}
	return "v"
}

// tip gives the line of text in which an end lies, y being the middle.
func (v *trimView) tip(e *end, y int) int {
	steps, _ := e.beyond(2 * v.lines)
	if e.DeviationMM > 0 {
		return y - (steps+1)/2
	}
	return y + (steps+1)/2
}

// numbers writes the deviation beside the ends that lie furthest out, as long
// as there is a free place.
func (v *trimView) numbers(c *canvas, r *endRow, out []*end, x, y int) {
	const most = 4
	furthestFirst(out)
	for _, e := range out[:min(most, len(out))] {
		side := e.Side
		at := x + v.column(side, r.slots[slices.Index(r.ends[side], e)+1])
		text := tenths(math.Abs(e.DeviationMM))
		line, wide := v.tip(e, y), columns(text)
		first, last := x+v.name, x+v.name+v.strip()
		switch {
		case line == y:
		case at+1+wide <= last && c.bare(at+1, at+1+wide, line):
			c.put(at+1, line, text)
		case at-wide >= first && c.bare(at-wide-1, at-1, line):
			c.put(at-wide, line, text)
		}
	}
}

func furthestFirst(ends []*end) {
	slices.SortStableFunc(ends, func(a, b *end) int {
		return cmp.Compare(math.Abs(b.DeviationMM)-b.LimitMM, math.Abs(a.DeviationMM)-a.LimitMM)
	})
}

// bare reports whether nothing is written or drawn from a column to another.
func (c *canvas) bare(x0, x1, y int) bool {
	for x := max(x0, 0); x <= min(x1, c.w-1); x++ {
		if i := y*c.w + x; c.text[i] != 0 || c.strokes[i] != 0 {
			return false
		}
	}
	return true
}

// tenths prints millimetres rounded to the tenth.
func tenths(mm float64) string {
	return strconv.FormatFloat(math.Round(mm*10)/10+0, 'f', -1, 64)
}
