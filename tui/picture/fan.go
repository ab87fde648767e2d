package picture

import (
	"fmt"
	"slices"
	"strings"

	"example.org/linewright/engine/wing"
)

// Fan draws the fan of one side from riser to canopy: the row of the line in
// hand, and more rows where there is room. The tip of the left side is on the
// left, as the pilot sits. marked holds what is shown of each line, by code.
func Fan(plan *wing.Plan, side wing.Side, marked map[string]Mark, w, h int, signs Signs) []string {
	v := newView(plan, side, marked, w, signs)
	if v == nil || h <= 0 {
		return nil
	}
	v.first = v.mainRow()
	return v.draw(h)
}

// newView begins a fan; nil where there is none to draw.
func newView(plan *wing.Plan, side wing.Side, marked map[string]Mark, w int, signs Signs) *view {
	f := forestOf(plan)
	if len(f.rows) == 0 || side.Other() == "" || w <= 0 {
		return nil
	}
	return &view{f: f, plan: plan, side: side, marked: marked, kin: f.relate(marked), w: w, signs: signs}
}

// view is a fan under way to its drawing.
type view struct {
	f      *forest
	plan   *wing.Plan
	side   wing.Side
	marked map[string]Mark
	kin    map[*node]kin
	first  int  // the row that is drawn whatever the room
	survey bool // the other rows stand behind it, and what was looked at is counted
	w      int
	signs  Signs
}

// mainRow is the row of the line in hand, else the first one with a mark.
func (v *view) mainRow() int {
	for _, wanted := range []Mark{InHand, Damaged | Finding | Possible | Void | Done | Touched} {
		for at, r := range v.f.rows {
			if slices.ContainsFunc(r.nodes, func(n *node) bool { return v.marked[n.line.Code]&wanted != 0 }) {
				return at
			}
		}
	}
	return 0
}

func (v *view) draw(h int) []string {
	head, legend := v.head(), v.legend(v.first)
	rest := h - len(head) - len(legend)
	if head == nil || widest(legend) > v.w {
		return nil
	}
	main := v.plot(v.first, rest)
	if v.survey && (main == nil || !main.whole()) {
		if table := v.rowTable(rest); table != nil {
			return v.sheets(head, table, legend, rest-len(table))
		}
	}
	if main == nil {
		return nil
	}
	rest -= main.height()
	notes := v.notes(main, &rest)
	strip := v.strip()
	if len(strip) > 1 || rest < 1 {
		strip, head = nil, v.counted(head)
	}
	rest -= len(strip)
	plots, legend := v.withOthers(main, &rest, legend)
	if len(plots) == len(v.f.rows) && !v.survey {
		rest += len(strip)
		strip = nil
	}
	main.stretch(rest)
	return slices.Concat(head, strip, v.sheet(plots), notes, legend)
}

// sheets puts a table of the row between head and legend, with what was looked
// at where a line is left.
func (v *view) sheets(head, table, legend []string, rest int) []string {
	strip := v.strip()
	if len(strip) > rest {
		strip = nil
	}
	return slices.Concat(head, strip, table, legend)
}

// withOthers adds the rows around the main one that find room, and explains
// their marks too; where that takes the room there are none.
func (v *view) withOthers(main *plot, rest *int, legend []string) ([]*plot, []string) {
	left := *rest
	plots := v.others(main, &left)
	var rows []int
	for at, r := range v.f.rows {
		if slices.ContainsFunc(plots, func(p *plot) bool { return p.row == r }) {
			rows = append(rows, at)
		}
	}
	more := v.legend(rows...)
	left -= len(more) - len(legend)
	if left < 0 || widest(more) > v.w {
		return []*plot{main}, legend
	}
	*rest = left
	return plots, more
}

// plot lays out a row. One that is looked at line by line is drawn with shorter
// codes before any of them is left out.
func (v *view) plot(at, h int) *plot {
	if v.survey && at != v.first {
		return plotRow(v.sketch(at), faint, v.w, h)
	}
	p := plotRow(v.sketch(at), styles, v.w, h)
	if v.survey && (p == nil || !p.whole()) {
		if q := plotRow(v.short(at), styles[:3], v.w, h); q != nil && q.whole() {
			return q
		}
	}
	return p
}

func (v *view) sketch(at int) sketch {
	return sketch{row: v.f.rows[at], f: v.f, left: v.side == wing.Left, marked: v.marked, kin: v.kin}
}

// others lays out the rows around the main one that still find room, nearest
// first, and gives all in their order from front to rear.
func (v *view) others(main *plot, rest *int) []*plot {
	plots := map[int]*plot{v.first: main}
	for away := 1; away < len(v.f.rows); away++ {
		for _, at := range []int{v.first + away, v.first - away} {
			if at < 0 || at >= len(v.f.rows) {
				continue
			}
			extra := 1
			if len(plots) == 1 {
				extra = 2
			}
			if p := v.plot(at, *rest-extra); p != nil && p.deepest == p.row.depth {
				plots[at] = p
				*rest -= p.height() + extra
			}
		}
	}
	var out []*plot
	for at := range v.f.rows {
		if p := plots[at]; p != nil {
			out = append(out, p)
		}
	}
	return out
}

// sheet draws the rows one below the other, each under its name if there are
// several.
func (v *view) sheet(plots []*plot) []string {
	width, height := 0, 0
	for _, p := range plots {
		width = max(width, p.width)
		height += p.height() + 1
	}
	c := newCanvas(v.w, height, v.signs)
	y := 0
	for _, p := range plots {
		if len(plots) > 1 {
			c.put(0, y, "row "+clean(p.row.name))
			y++
		}
		p.draw(c, (width-p.width)/2, y)
		y += p.height()
	}
	return c.lines()
}

// head says which side and row it is, and where tip and centre are.
func (v *view) head() []string {
	side := fmt.Sprintf("%s side, row %s", strings.ToUpper(string(v.side)), clean(v.f.rows[v.first].name))
	a, b := "tip", "centre"
	if v.side == wing.Right {
		a, b = b, a
	}
	room := v.w
	if v.side == wing.Left {
		room-- // so that both sides break at the same widths
	}
	for _, lines := range [][]string{
		{a + " <-- " + side + " --> " + b},
		{a + " < " + side + " > " + b},
		{a + " <" + side + "> " + b},
		{side, a + " < > " + b},
	} {
		if widest(lines) <= room {
			return lines
		}
	}
	return nil
}

// strip names all rows from front to rear, with the one that is drawn.
func (v *view) strip() []string {
	if v.survey {
		return v.tally()
	}
	text := "rows:"
	for at, r := range v.f.rows {
		name := clean(r.name)
		if at == v.first {
			name = "[" + name + "]"
		}
		text += " " + name
	}
	return fold(text, v.w)
}

// legend explains the marks on the lines of some rows, and on those of other rows
// that hang beside them.
func (v *view) legend(rows ...int) []string {
	there := Mark(0)
	for _, at := range rows {
		for _, n := range v.f.rows[at].nodes {
			there |= v.marked[n.line.Code]
			if n.parent == nil {
				for _, m := range v.f.feet[n.line.On] {
					there |= v.marked[m.line.Code]
				}
			}
		}
	}
	if v.survey {
		for _, m := range v.marked {
			there |= m & (Damaged | Finding) // they stand beside what is counted
		}
	}
	var parts []string
	for _, s := range markSigns {
		if there&s.mark != 0 {
			parts = append(parts, s.sign+" "+s.word)
		}
	}
	if v.survey {
		parts = append(parts, "no sign: "+toLook)
	}
	return foldParts(parts, "  ", v.w)
}

// notes says of a single line in hand what the drawing may leave out, and how
// many lines that is, as far as there is room.
func (v *view) notes(main *plot, rest *int) []string {
	code := v.only()
	if code == "" || v.survey {
		return nil
	}
	texts := []string{"twin: " + clean(code) + " " + string(v.side.Other())}
	if above := codes(v.plan.Carries(code)); len(above) > 0 {
		carries := "carries " + strings.Join(above, " ")
		if main.open(v.f.byCode[code]) {
			carries = "@ its joint, " + carries
		}
		texts = append(texts, carries)
	}
	if beside := codes(v.plan.Neighbours(code)); len(beside) > 0 {
		texts = append(texts, "beside it: "+strings.Join(beside, " "))
	}
	if beyond := main.beyond(v.f.byCode[code]); beyond != "" {
		texts = append(texts, beyond)
	}
	var out []string
	for _, t := range texts {
		if lines := fold(t, v.w); len(lines) <= *rest && widest(lines) <= v.w {
			out = append(out, lines...)
			*rest -= len(lines)
		}
	}
	return out
}

// only gives the line in hand, if it is one.
func (v *view) only() string {
	found := ""
	for code, m := range v.marked {
		if m&InHand != 0 && v.f.byCode[code] != nil {
			if found != "" {
				return ""
			}
			found = code
		}
	}
	return found
}

func codes(lines []wing.Line) []string {
	out := make([]string, len(lines))
	for i, l := range lines {
		out[i] = clean(l.Code)
	}
	return out
}

// fold breaks a text between words into lines of at most w columns; a longer
// word stays whole, and the caller sees that it is too wide.
func fold(text string, w int) []string { return foldParts(strings.Fields(text), " ", w) }

// foldParts is fold for parts that stay whole, with what stands between them.
func foldParts(parts []string, between string, w int) []string {
	var lines []string
	line := ""
	for _, part := range parts {
		switch {
		case line == "":
			line = part
		case columns(line+between+part) <= w:
			line += between + part
		default:
			lines = append(lines, line)
			line = part
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

func widest(lines []string) int {
	w := 0
	for _, l := range lines {
		w = max(w, columns(l))
	}
	return w
}
