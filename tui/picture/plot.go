package picture

import (
	"strings"

	"example.org/linewright/engine/wing"
)

// plot is one row laid out: what its lines hang on, each with its twigs, and
// how many lines of text each storey has.
type plot struct {
	*sketch
	feet    []*twig
	width   int
	strands []int // by storey, from the foot
	deepest int
}

// plotRow lays out a row in the first style that fits; nil if none does.
func plotRow(s sketch, styles []style, w, h int) *plot {
	highest := min(s.row.depth, (h-3)/2) // each storey takes two lines of text
	for storey := highest; storey >= s.least(); storey-- {
		for _, st := range styles {
			s.style = st
			s.storey = storey
			if p := s.plot(); p.width <= w && p.height() <= h {
				return p
			}
		}
	}
	return nil
}

// least is the storey that has to be drawn to show the lines in hand.
func (s *sketch) least() int {
	depth := 0
	for n, k := range s.kin {
		if k&inHand != 0 && n.row == s.row.nodes[0].row {
			depth = max(depth, n.depth)
		}
	}
	return depth
}

func (s *sketch) plot() *plot {
	own := *s
	p := &plot{sketch: &own, width: s.margin()}
	for _, anchor := range s.anchors() {
		foot := &twig{label: footName(anchor)}
		for _, n := range s.turned(s.hanging(anchor)) {
			foot.kids = append(foot.kids, s.twig(n))
		}
		foot.wide = columns(foot.label) + 2
		foot.settle(s.gap)
		first, last := foot.kids[0], foot.kids[len(foot.kids)-1]
		if bar := last.left + last.x - first.left - first.x + 3; bar > foot.wide {
			foot.wide = bar
			foot.settle(s.gap)
		}
		p.feet = append(p.feet, foot)
	}
	if s.left {
		for i, j := 0, len(p.feet)-1; i < j; i, j = i+1, j-1 {
			p.feet[i], p.feet[j] = p.feet[j], p.feet[i]
		}
	}
	for i, foot := range p.feet {
		if i > 0 {
			p.width += 2
		}
		foot.move(p.width)
		p.width += foot.width
		p.deepest = max(p.deepest, foot.depth())
	}
	p.strands = make([]int, p.deepest+1)
	for d := range p.strands {
		p.strands[d] = 1
	}
	return p
}

// whole reports whether every line of the row is drawn with its code.
func (p *plot) whole() bool {
	return p.deepest == p.row.depth && p.names == everything && p.trees == everything
}

// depth gives the deepest storey drawn above a foot.
func (t *twig) depth() int {
	depth := 0
	if t.node != nil {
		depth = t.node.depth
	}
	for _, k := range t.kids {
		depth = max(depth, k.depth())
	}
	return depth
}

// anchors lists what the lines of the row hang on, from the centre.
func (s *sketch) anchors() []wing.Anchor {
	var all []wing.Anchor
	for _, n := range s.row.roots {
		if len(all) == 0 || all[len(all)-1] != n.line.On {
			all = append(all, n.line.On)
		}
	}
	return all
}

// hanging lists the lines of the row on one anchor, with those of other rows
// that hang beside them.
func (s *sketch) hanging(anchor wing.Anchor) []*node {
	var out []*node
	at := s.row.nodes[0].row
	feet := s.f.feet[anchor]
	for i, n := range feet {
		if n.row == at || i > 0 && feet[i-1].row == at || i+1 < len(feet) && feet[i+1].row == at {
			out = append(out, n)
		}
	}
	return out
}

func footName(a wing.Anchor) string {
	switch a.Kind {
	case wing.OnLink:
		return " link " + clean(a.Name) + " "
	case wing.OnRiser:
		return " riser tab " + clean(a.Name) + " "
	}
	return " brake handle "
}

// height is the lines that the plot takes: one for the canopy, the strands and
// the joint above each storey, and one for what all of it hangs on.
func (p *plot) height() int {
	h := 2 + p.deepest
	for _, n := range p.strands {
		h += n
	}
	return h
}

// stretch gives room to the strands, the lowest first, as their lengths are.
func (p *plot) stretch(rest int) {
	const lowest, others = 5, 3
	for grown := true; grown; {
		grown = false
		for d := range p.strands {
			most := others
			if d == 0 {
				most = lowest
			}
			if rest > 0 && p.strands[d] < most {
				p.strands[d]++
				rest--
				grown = true
			}
		}
	}
}

// top gives the first line of a storey's strands, counted from the plot's own.
func (p *plot) top(depth int) int {
	y := 1
	for d := p.deepest; d > depth; d-- {
		y += p.strands[d] + 1
	}
	return y
}

// middle gives the line of a storey's codes, counted from the plot's own.
func (p *plot) middle(depth int) int { return p.top(depth) + (p.strands[depth]-1)/2 }

// draw puts the plot on a sheet.
func (p *plot) draw(c *canvas, x, y int) {
	c.put(x+p.margin(), y, strings.Repeat("~", p.width-p.margin()))
	for d, begin := range p.begins[:min(len(p.begins), len(p.strands))] {
		c.put(x, y+p.middle(d), begin)
	}
	for _, foot := range p.feet {
		for _, k := range foot.kids {
			p.strand(c, k, x, y)
		}
		p.foot(c, foot, x, y+p.height()-1)
	}
}

func (p *plot) foot(c *canvas, foot *twig, x, y int) {
	c.across(x+foot.at, x+foot.at+foot.wide-1, y, heavy)
	c.put(x+foot.at, y, "(")
	c.put(x+foot.at+foot.wide-1, y, ")")
	c.put(x+foot.x-(columns(foot.label)-1)/2, y, foot.label)
}

// strand draws a line from its lower joint up, and all that it carries.
func (p *plot) strand(c *canvas, t *twig, x, y int) {
	d := t.node.depth
	top, mark := p.top(d), p.marked[t.node.line.Code]
	bottom := top + p.strands[d]
	w := light
	if p.kin[t.node]&inHand != 0 {
		w = heavy
	}
	up := top - 1
	if len(t.kids) == 0 && !t.more {
		up = 0
	}
	c.down(x+t.x, y+up, y+bottom, w)
	middle := y + p.middle(d)
	switch {
	case t.label != "":
		c.put(x+t.at, middle, t.label)
	default:
		c.put(x+t.x, middle, signOf(mark))
	}
	switch {
	case t.more:
		c.put(x+t.x, y+up, p.hidden(t.node))
	case len(t.kids) > 0:
		p.joint(c, t, x, y+up, w)
	}
}

// hidden gives the sign over a line that goes on: that of what is marked among
// the lines that are not drawn.
func (p *plot) hidden(n *node) string {
	if sign := signOf(p.above(n)); sign != "" {
		return sign
	}
	return ":"
}

// above gathers the marks of what a line carries. That nothing is left to do
// there has to hold for each of them.
func (p *plot) above(n *node) Mark {
	const settled = Done | Touched
	if len(n.kids) == 0 {
		return 0
	}
	some, each := Mark(0), settled
	for _, k := range n.kids {
		m, over := p.marked[k.line.Code], p.above(k)
		some, each = some|m|over, each&m
		if len(k.kids) > 0 {
			each &= over
		}
	}
	return some&^settled | each
}

// joint draws the lines that are looped together at a line's upper end.
func (p *plot) joint(c *canvas, t *twig, x, y int, w weight) {
	first, last := t.kids[0], t.kids[len(t.kids)-1]
	c.across(x+min(first.x, t.x), x+max(last.x, t.x), y, light)
	sign := "o"
	if w == heavy {
		sign = "@"
	}
	c.put(x+t.x, y, sign)
	for _, k := range t.kids {
		p.strand(c, k, x, y-p.top(t.node.depth)+1)
	}
}
