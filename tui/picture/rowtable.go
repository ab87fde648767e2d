package picture

import "strings"

// short gives a row with codes that are written without what all of a tier begin
// with; that stands once before the tier.
func (v *view) short(at int) sketch {
	s := v.sketch(at)
	s.begins = beginnings(s.row)
	return s
}

// rowTable writes the codes of a row tier by tier, each line over what it hangs
// on, where there is no room to draw the lines themselves: every line of the row
// and its signs are seen. The joints stand between the tiers, if they find room
// there. Nil where the codes do not fit.
func (v *view) rowTable(h int) []string {
	s := v.short(v.first)
	s.style = style{gap: 1, storey: s.row.depth}
	p := s.plot()
	if p.width > v.w || len(s.begins) > h {
		return nil
	}
	if joints := p.height() - 2; joints <= h {
		c := newCanvas(v.w, joints, v.signs)
		p.draw(c, 0, -1) // canopy and link fall off the sheet
		return c.lines()
	}
	c := newCanvas(v.w, len(s.begins), v.signs)
	for depth, begin := range s.begins {
		c.put(0, p.deepest-depth, begin)
	}
	for _, foot := range p.feet {
		foot.each(func(t *twig) { c.put(t.at, p.deepest-t.node.depth, t.label) })
	}
	return c.lines()
}

// margin gives the columns of what stands before the tiers.
func (s *sketch) margin() int {
	if wide := widest(s.begins); wide > 0 {
		return wide + 1
	}
	return 0
}

// beginnings gives for each tier of a row how all of its codes begin, up to their
// last dot; empty where they begin otherwise.
func beginnings(r *row) []string {
	out := make([]string, r.depth+1)
	seen := make([]bool, r.depth+1)
	for _, n := range r.nodes {
		begin := n.code[:strings.LastIndex(n.code, ".")+1]
		if !seen[n.depth] {
			out[n.depth] = begin
		} else if out[n.depth] != begin {
			out[n.depth] = ""
		}
		seen[n.depth] = true
	}
	return out
}
