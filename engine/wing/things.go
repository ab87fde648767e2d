package wing

import "slices"

// What of a wing is looked at, side by side: cloth and tabs, the lines of each
// row, and the fittings between lines and pilot.

// ClothThings lists the cloth of one side and its tabs, row by row.
func (p *Plan) ClothThings(side Side) []Ref {
	out := []Ref{{Kind: KindCloth, Side: side}}
	for _, path := range p.Paths(side) {
		out = append(out, Ref{KindTab, path.Point, side})
	}
	return out
}

// LineThings lists the lines of a row of one side from the riser up, each tier
// from the centre.
func (p *Plan) LineThings(row string, side Side) []Ref {
	var out []Ref
	for _, s := range p.Fan(side) {
		if s.Row == row {
			out = append(out, s.Ref)
		}
	}
	return out
}

// FittingThings lists riser branches, links with their retainers, and what
// belongs to the brake, of one side.
func (p *Plan) FittingThings(side Side) []Ref {
	var out []Ref
	for _, r := range p.Risers {
		out = append(out, Ref{KindRiser, r.Branch, side})
	}
	for _, l := range p.Links {
		out = append(out, LinkRef(l.Name, side), Ref{KindRetainer, l.Name, side})
	}
	if p.Brake != nil {
		for _, kind := range []Kind{KindPulley, KindHandle, KindKnot, KindParking} {
			out = append(out, Ref{Kind: kind, Side: side})
		}
	}
	return out
}

// Kin lists what is looked at again wherever a thing was found damaged: the
// same on the other side, and what shares its link.
func (p *Plan) Kin(ref Ref) []Ref {
	out := []Ref{ref.Twin()}
	switch ref.Kind {
	case KindLine:
		root := ref.Code
		if chain := p.Chain(ref.Code); len(chain) > 0 {
			root = chain[0].Code
		}
		for _, l := range append(p.Neighbours(root), p.Neighbours(ref.Code)...) {
			if near := LineRef(l.Code, ref.Side); !slices.Contains(out, near) {
				out = append(out, near)
			}
		}
	case KindLink, KindRetainer:
		for _, l := range p.OnLink(ref.Code) {
			out = append(out, LineRef(l.Code, ref.Side))
		}
	case KindTab:
		if i, ok := p.byPoint[ref.Code]; ok {
			out = append(out, LineRef(p.Lines[i].Code, ref.Side))
		}
	}
	return out
}
