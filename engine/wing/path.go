package wing

import (
	"cmp"
	"slices"

	"example.org/linewright/engine/quantity"
)

// Path runs from the riser, or the brake handle, to one attachment point.
type Path struct {
	Point string
	Row   string // of the top line
	Side  Side
	Riser Riser  // zero for the brakes
	Lines []Line // from the riser up, with the exceptions of this side
	// Nominal is riser branch plus segments as the plan gives them. What joints
	// and loops add or take is the wing's own and not in it. It is 0 where a
	// length is missing. For the brakes it begins at the knot.
	Nominal quantity.Length
	// Stated is the length that the papers state for the whole, from where the
	// plan's PathsFrom says; 0 where they do not.
	Stated quantity.Length
}

// Path gives the path of one side to an attachment point.
func (p *Plan) Path(point string, side Side) (Path, bool) {
	i, ok := p.byPoint[point]
	if !ok || side.Other() == "" {
		return Path{}, false
	}
	top := p.Lines[i]
	stated, _ := p.StatedPath(point)
	path := Path{Point: point, Row: top.Row, Side: side, Lines: p.Chain(top.Code), Stated: stated.Length}
	sum, known := quantity.Length(0), true
	if top, _ := p.Foot(top.Code); top.Kind != OnHandle {
		path.Riser, _ = p.Branch(path.Lines[0].Code)
		sum, known = path.Riser.Length, path.Riser.Length > 0
	}
	for n, l := range path.Lines {
		path.Lines[n], _ = p.LineAt(LineRef(l.Code, side))
		sum += path.Lines[n].Length
		known = known && path.Lines[n].Length > 0
	}
	if known {
		path.Nominal = sum
	}
	return path, true
}

// Paths lists the paths of one side: row by row in the order of the file, each
// row from the centre.
func (p *Plan) Paths(side Side) []Path {
	rank := map[string]int{}
	for _, row := range p.Rows() {
		rank[row] = len(rank)
	}
	paths := make([]Path, 0, len(p.byPoint))
	for point := range p.byPoint {
		if path, ok := p.Path(point, side); ok {
			paths = append(paths, path)
		}
	}
	slices.SortFunc(paths, func(a, b Path) int {
		return cmp.Or(
			cmp.Compare(rank[a.Row], rank[b.Row]),
			cmp.Compare(pointNumber(a.Point), pointNumber(b.Point)),
			cmp.Compare(a.Point, b.Point))
	})
	return paths
}

// Rows lists the rows in the order in which the file first names them.
func (p *Plan) Rows() []string {
	var rows []string
	for _, l := range p.Lines {
		if !slices.Contains(rows, l.Row) {
			rows = append(rows, l.Row)
		}
	}
	return rows
}
