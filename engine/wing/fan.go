package wing

import (
	"cmp"
	"slices"
)

// Strand is a line as it lies in the fan of one side, from riser to canopy.
// Bottom and Top are places along the span, 0 the centre of the wing and 1 the
// tip; they say which line lies beside which, not how far the cloth spreads.
type Strand struct {
	Ref    Ref
	Row    string
	Tier   Tier
	Joints int // from the riser
	Bottom float64
	Top    float64
}

// Fan lays out the lines of one side for drawing. A top line ends at its
// attachment point: at its span if the plan gives one for every point of the
// row, else the points of a row are spread evenly. A joint lies in the middle
// of what is above it, the riser and the handle at the centre. Strands come
// row by row in the order of the file, from the riser up and from the centre.
func (p *Plan) Fan(side Side) []Strand {
	f := fan{plan: p, tops: make(map[string]float64, len(p.Lines))}
	f.spread()
	strands := make([]Strand, 0, len(p.Lines))
	rank := map[string]int{}
	for _, row := range p.Rows() {
		rank[row] = len(rank)
	}
	for _, l := range p.Lines {
		s := Strand{Ref: LineRef(l.Code, side), Row: l.Row, Tier: l.Tier, Joints: p.Joints(l.Code), Top: f.top(l.Code)}
		if l.On.Kind == OnLine {
			s.Bottom = f.top(l.On.Name)
		}
		strands = append(strands, s)
	}
	slices.SortStableFunc(strands, func(a, b Strand) int {
		return cmp.Or(cmp.Compare(rank[a.Row], rank[b.Row]), cmp.Compare(a.Joints, b.Joints), cmp.Compare(a.Top, b.Top))
	})
	return strands
}

// fan keeps the upper ends that are already placed, by line code.
type fan struct {
	plan *Plan
	tops map[string]float64
}

// spread places the lines that nothing hangs on.
func (f *fan) spread() {
	rows := map[string][]Line{}
	for _, l := range f.plan.Lines {
		if len(f.plan.byAnchor[Anchor{OnLine, l.Code}]) == 0 {
			rows[l.Row] = append(rows[l.Row], l)
		}
	}
	for _, tops := range rows {
		slices.SortStableFunc(tops, func(a, b Line) int { return cmp.Compare(pointNumber(a.Point), pointNumber(b.Point)) })
		given := !slices.ContainsFunc(tops, func(l Line) bool { return l.Span < 0 })
		for n, l := range tops {
			f.tops[l.Code] = (float64(n) + 0.5) / float64(len(tops))
			if given {
				f.tops[l.Code] = l.Span
			}
		}
	}
}

// top gives the upper end of a line: the mean of the upper ends above it.
func (f *fan) top(code string) float64 {
	if at, ok := f.tops[code]; ok {
		return at
	}
	above := f.plan.Carries(code)
	sum := 0.0
	for _, l := range above {
		sum += f.top(l.Code)
	}
	f.tops[code] = sum / float64(len(above))
	return f.tops[code]
}
