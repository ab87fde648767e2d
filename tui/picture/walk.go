package picture

import (
	"cmp"
	"math"
	"slices"

	"example.org/linewright/engine/wing"
)

// Direction is a step on the fan as it stands on the screen.
type Direction int

// The directions. Front and Rear change the row at once; Up and Down do so
// where the cascade ends.
const (
	Left Direction = iota
	Right
	Up
	Down
	Front
	Rear
)

// Walk gives the line beside another one as a person sees it on the fan. Left
// and Right go along the span in the same row and storey; past the centre
// lies the twin on the other side, at the tip the walk ends. Up goes to the
// first line it carries, nearest the centre, and from the canopy to the foot
// of the row in front; Down goes to what it hangs on, and from the foot to the
// canopy end of the row behind. Front and Rear go to the next row in the same
// storey, as near as can be along the span. Where there is nothing, from stays.
//
// A from that is no line of the plan gives the first line of its side, or of
// the left; an empty Ref if the plan has no lines.
func Walk(plan *wing.Plan, from wing.Ref, d Direction) wing.Ref {
	f := forestOf(plan)
	n := f.byCode[from.Code]
	if n == nil || from.Kind != wing.KindLine || from.Side.Other() == "" {
		return f.start(from.Side)
	}
	switch d {
	case Left, Right:
		return f.along(n, from, (d == Left) == (from.Side == wing.Left))
	case Up:
		if len(n.kids) > 0 {
			return wing.LineRef(n.kids[0].line.Code, from.Side)
		}
		return f.across(n, from, -1, func(m *node) bool { return m.depth == 0 })
	case Down:
		if n.parent != nil {
			return wing.LineRef(n.parent.line.Code, from.Side)
		}
		return f.across(n, from, 1, func(m *node) bool { return len(m.kids) == 0 })
	case Front, Rear:
		step := 1
		if d == Front {
			step = -1
		}
		return f.across(n, from, step, nil)
	}
	return from
}

func (f *forest) start(side wing.Side) wing.Ref {
	if len(f.rows) == 0 {
		return wing.Ref{}
	}
	if side.Other() == "" {
		side = wing.Left
	}
	return wing.LineRef(f.rows[0].nodes[0].line.Code, side)
}

// along goes to the next line of the same row and storey, or over the centre.
func (f *forest) along(n *node, from wing.Ref, outward bool) wing.Ref {
	var last *node
	found := false
	for _, m := range f.rows[n.row].nodes {
		switch {
		case m.depth != n.depth:
			continue
		case m == n && !outward:
			if last == nil {
				return from.Twin()
			}
			return wing.LineRef(last.line.Code, from.Side)
		case m == n:
			found = true
		case found:
			return wing.LineRef(m.line.Code, from.Side)
		}
		last = m
	}
	return from
}

// across goes to the nearest line of another row that fits; without a choice
// it is one of the same storey, or of the next lower one that the row has.
func (f *forest) across(n *node, from wing.Ref, step int, fits func(*node) bool) wing.Ref {
	to := n.row + step
	if to < 0 || to >= len(f.rows) {
		return from
	}
	if fits == nil {
		depth := min(n.depth, f.rows[to].depth)
		fits = func(m *node) bool { return m.depth == depth }
	}
	best, least := (*node)(nil), math.Inf(1)
	for _, m := range f.rows[to].nodes {
		if away := math.Abs(m.span - n.span); fits(m) && away < least {
			best, least = m, away
		}
	}
	if best == nil {
		return from
	}
	return wing.LineRef(best.line.Code, from.Side)
}

// NextInRow gives the line beside another one of the same row, as a person
// sees it on the fan of that side: dx below 0 goes left, above 0 right, dy
// above 0 up to what the line carries, below 0 down to what it hangs on. Where
// the row has none there, it is the nearest of the next storey, so that every
// line of the row is reached. At the centre, the tip and both ends of the
// cascade the line stays.
//
// A code that is no line of the row gives the first line of the row; an empty
// one if the plan has no such row.
func NextInRow(plan *wing.Plan, side wing.Side, row, code string, dx, dy int) string {
	f := forestOf(plan)
	nodes := f.ofRow(row)
	at := slices.IndexFunc(nodes, func(n *node) bool { return n.line.Code == code })
	switch {
	case len(nodes) == 0:
		return ""
	case at < 0:
		return nodes[0].line.Code
	}
	n := nodes[at]
	if dx != 0 {
		n = sideways(nodes, at, (dx < 0) == (side == wing.Left))
	}
	if dy != 0 {
		n = storeyways(nodes, n, dy > 0)
	}
	return n.line.Code
}

// ofRow lists the lines of a row storey by storey from the riser, each from
// the centre. A line may be of another row than what it hangs on.
func (f *forest) ofRow(name string) []*node {
	var out []*node
	for _, r := range f.rows {
		for _, n := range r.nodes {
			if n.line.Row == name {
				out = append(out, n)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b *node) int { return cmp.Compare(a.depth, b.depth) })
	return out
}

func sideways(nodes []*node, at int, outward bool) *node {
	to := at - 1
	if outward {
		to = at + 1
	}
	if to < 0 || to >= len(nodes) || nodes[to].depth != nodes[at].depth {
		return nodes[at]
	}
	return nodes[to]
}

// storeyways goes along the cascade, or to the nearest line of the next storey.
func storeyways(nodes []*node, n *node, up bool) *node {
	best := n
	for _, m := range nodes {
		switch {
		case m.depth == n.depth || (m.depth > n.depth) != up:
		case up && m.parent == n, !up && n.parent == m:
			return m
		case best == n || nearer(m, best, n):
			best = m
		}
	}
	return best
}

// nearer says whether a line is nearer to another one than a third: first by
// storeys, then along the span.
func nearer(a, b, to *node) bool {
	storeys := func(n *node) int { return max(n.depth-to.depth, to.depth-n.depth) }
	if storeys(a) != storeys(b) {
		return storeys(a) < storeys(b)
	}
	return math.Abs(a.span-to.span) < math.Abs(b.span-to.span)
}
