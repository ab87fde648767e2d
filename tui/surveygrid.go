package tui

import (
	"strings"

	"github.com/charmbracelet/x/ansi"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
)

// thingGrid shows what a survey step looks at where there is no fan of it: side
// by side in groups, in the order in which a hand goes over it.
type thingGrid struct {
	cells  []point // where each thing stood in the last drawing, before it was cut
	window list    // which lines of it are seen
}

// thingGroup is a line of the grid, or several: tabs of one row, lines of one
// tier or side, the risers, the links.
type thingGroup struct {
	label string
	names []string
}

// groups puts the things of a step together.
func (p *surveyPage) groups() []thingGroup {
	var out []thingGroup
	last := ""
	for _, t := range p.things() {
		label, key, name := p.grouped(t.Ref)
		if len(out) == 0 || key != last {
			out, last = append(out, thingGroup{label: label}), key
		}
		g := &out[len(out)-1]
		g.names = append(g.names, name+thingSign(t))
	}
	return out
}

// grouped gives the group of a thing, its label and key, and the name that the
// thing has in it: one by which it can be typed.
func (p *surveyPage) grouped(ref wing.Ref) (label, key, name string) {
	name = strings.TrimSuffix(ref.String(), " "+string(ref.Side))
	switch {
	case p.in().Of == procedure.OfKin:
		return string(ref.Side), string(ref.Side), name
	case ref.Kind == wing.KindTab:
		row := ""
		for _, path := range p.plan.Paths(ref.Side) {
			if path.Point == ref.Code {
				row = path.Row
			}
		}
		return "tabs " + row, "tabs " + row, ref.Code
	case ref.Kind == wing.KindLine:
		l, _ := p.plan.LineAt(ref)
		return string(l.Tier), string(l.Tier), name
	case ref.Kind == wing.KindLink || ref.Kind == wing.KindRetainer:
		return "", "links", name
	case ref.Kind == wing.KindRiser || ref.Kind == wing.KindCloth:
		return "", string(ref.Kind), name
	}
	return "", "brake", name
}

// thingSign marks a thing on which something was found, as the fan does.
func thingSign(t job.Thing) string {
	sign := ""
	for _, f := range t.Found {
		if f.Disposition.Grounds() {
			return "!"
		}
		sign = "*"
	}
	return sign
}

// layOut puts the groups into lines of at most w columns, the thing in hand in
// brackets. Each group begins a line of its own; where that needs more than h
// lines as many as it takes, from the last, go on behind the one before.
func (g *thingGrid) layOut(groups []thingGroup, hand, w, h int) []string {
	lines := g.lay(groups, hand, w, len(groups))
	for from := len(groups) - 1; from > 0 && len(lines) > h; from-- {
		lines = g.lay(groups, hand, w, from)
	}
	return lines
}

// lay lets the groups from one on go on behind the one before, if they fit.
func (g *thingGrid) lay(groups []thingGroup, hand, w, from int) []string {
	g.cells = nil
	labels := 0
	for _, gr := range groups {
		labels = max(labels, ansi.StringWidth(gr.label)+1)
	}
	var lines []string
	line := ""
	for i, gr := range groups {
		cells, wide := gr.cells(hand - len(g.cells))
		head, labels := pad(gr.label, labels), labels
		if gr.label == "" {
			head, labels = "", 0
		}
		all := ansi.StringWidth(line) + 2 + labels + wide*len(cells)
		if i >= from && all <= w {
			line += "  " + head
		} else {
			if i > 0 {
				lines = append(lines, line)
			}
			line = head
		}
		for _, cell := range cells {
			if at := ansi.StringWidth(line); at > labels && at+ansi.StringWidth(strings.TrimRight(cell, " ")) > w {
				lines = append(lines, line)
				line = pad("", labels)
			}
			g.cells = append(g.cells, point{len(lines), ansi.StringWidth(line)})
			line += cell
		}
	}
	return append(lines, line)
}

// cells draws the things of a group in one width, which it gives too.
func (gr thingGroup) cells(hand int) ([]string, int) {
	wide := 0
	for _, name := range gr.names {
		wide = max(wide, ansi.StringWidth(name)+2)
	}
	out := make([]string, len(gr.names))
	for i, name := range gr.names {
		out[i] = " " + name
		if i == hand {
			out[i] = "[" + name + "]"
		}
		out[i] = pad(out[i], wide)
	}
	return out, wide
}

// see cuts the lines to h of them around the thing in hand, and says where it is.
func (g *thingGrid) see(lines []string, hand, h int) ([]string, *point) {
	at := point{}
	if hand >= 0 && hand < len(g.cells) {
		at = g.cells[hand]
	}
	if len(lines) > h {
		g.window.at = at.row
		var mark *point
		lines, mark = g.window.window(lines, at.row, at.row+1, h)
		at.row = mark.row
	}
	if hand < 0 {
		return lines, nil
	}
	return lines, &point{at.row, at.col + 1}
}

// beside gives the thing of the line above or below that stands nearest.
func (g *thingGrid) beside(hand, lines int) int {
	if hand < 0 || hand >= len(g.cells) {
		return 0
	}
	from, best := g.cells[hand], hand
	for i, c := range g.cells {
		if c.row != from.row+lines {
			continue
		}
		if best == hand || abs(c.col-from.col) < abs(g.cells[best].col-from.col) {
			best = i
		}
	}
	return best
}

func abs(n int) int { return max(n, -n) }
