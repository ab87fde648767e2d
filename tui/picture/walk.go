package picture

import (
	"math"

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
