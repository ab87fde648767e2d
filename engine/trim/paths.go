package trim

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"example.org/linewright/engine/wing"
)

// pathsOf lists the paths of one side, row by row and from the centre: those
// of the lines, and those of which the papers state the length alone, which
// have no lines.
func pathsOf(plan *wing.Plan, side wing.Side) []wing.Path {
	paths := plan.Paths(side)
	known := make(map[string]bool, len(paths))
	for _, p := range paths {
		known[p.Point] = true
	}
	alone := len(paths)
	for _, s := range plan.Stated {
		if !known[s.Point] {
			paths = append(paths, statedAlone(s, side))
		}
	}
	if len(paths) > alone {
		rank := map[string]int{}
		for _, p := range paths {
			if _, ok := rank[p.Row]; !ok {
				rank[p.Row] = len(rank)
			}
		}
		slices.SortStableFunc(paths, func(a, b wing.Path) int {
			return cmp.Or(cmp.Compare(rank[a.Row], rank[b.Row]), cmp.Compare(number(a.Point), number(b.Point)))
		})
	}
	return paths
}

func statedAlone(s wing.StatedPath, side wing.Side) wing.Path {
	return wing.Path{Point: s.Point, Row: s.Row, Side: side, Stated: s.Length}
}

// pathOf finds one path.
func pathOf(plan *wing.Plan, ref PathRef) (wing.Path, bool) {
	if p, ok := plan.Path(ref.Point, ref.Side); ok {
		return p, true
	}
	s, ok := plan.StatedPath(ref.Point)
	return statedAlone(s, ref.Side), ok && ref.Side.Other() != ""
}

// bothSides lists the paths of the plan, the left one of a point first.
func bothSides(plan *wing.Plan) []wing.Path {
	left, right := pathsOf(plan, wing.Left), pathsOf(plan, wing.Right)
	all := make([]wing.Path, 0, 2*len(left))
	for i := range left {
		all = append(all, left[i], right[i])
	}
	return all
}

// number is the one at the end of a point's name, its place from the centre.
func number(point string) int {
	n, _ := strconv.Atoi(point[len(strings.TrimRight(point, "0123456789")):])
	return n
}

// onHandle says whether a path is one of the brakes.
func onHandle(p *wing.Path) bool { return len(p.Lines) > 0 && p.Lines[0].On.Kind == wing.OnHandle }

// given turns a span that is negative where the plan has none into one that is nil.
func given(span float64) *float64 {
	if span < 0 {
		return nil
	}
	return &span
}

// spanOf is the place of a path's point along the span; negative: not given.
func spanOf(p *wing.Path) float64 {
	if len(p.Lines) == 0 {
		return -1
	}
	return p.Lines[len(p.Lines)-1].Span
}
