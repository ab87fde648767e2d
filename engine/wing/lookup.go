package wing

import "slices"

// Line finds a line by its code, with regard to case.
func (p *Plan) Line(code string) (Line, bool) {
	i, ok := p.byCode[code]
	if !ok {
		return Line{}, false
	}
	return p.Lines[i], true
}

// LineAt finds the line of one side, with that side's exception applied.
func (p *Plan) LineAt(ref Ref) (Line, bool) {
	if ref.Kind != KindLine || ref.Side.Other() == "" {
		return Line{}, false
	}
	if l, ok := p.exceptions[ref]; ok {
		return l, true
	}
	return p.Line(ref.Code)
}

// Link finds a link by its name.
func (p *Plan) Link(name string) (Link, bool) {
	for _, l := range p.Links {
		if l.Name == name {
			return l, true
		}
	}
	return Link{}, false
}

// Riser finds a riser branch by its name.
func (p *Plan) Riser(branch string) (Riser, bool) {
	for _, r := range p.Risers {
		if r.Branch == branch {
			return r, true
		}
	}
	return Riser{}, false
}

// Has says whether the plan holds what a Ref points at.
func (p *Plan) Has(ref Ref) bool {
	if shapes[ref.Kind].side && ref.Side.Other() == "" {
		return false
	}
	ok := false
	switch ref.Kind {
	case KindLine:
		_, ok = p.LineAt(ref)
	case KindLink, KindRetainer:
		_, ok = p.Link(ref.Code)
	case KindRiser:
		_, ok = p.Riser(ref.Code)
	case KindTab:
		_, ok = p.byPoint[ref.Code]
	case KindBrakes, KindPulley, KindHandle, KindKnot, KindParking:
		ok = p.Brake != nil
	case KindWing, KindCloth:
		ok = true
	}
	return ok
}

// Carries lists the lines that are looped into a line, from the centre.
func (p *Plan) Carries(code string) []Line { return p.on(Anchor{OnLine, code}) }

// OnLink lists the lines on a link, from the centre.
func (p *Plan) OnLink(name string) []Line { return p.on(Anchor{OnLink, name}) }

func (p *Plan) on(anchor Anchor) []Line {
	found := p.byAnchor[anchor]
	lines := make([]Line, len(found))
	for i, n := range found {
		lines[i] = p.Lines[n]
	}
	return lines
}

// Neighbours lists the lines beside a line on the same link, joint or tab: the
// one toward the centre first. There are none, one or two. They need not be of
// the same row: a stabilo may sit beside a B line.
func (p *Plan) Neighbours(code string) []Line {
	l, ok := p.Line(code)
	if !ok {
		return nil
	}
	all := p.on(l.On)
	at := slices.IndexFunc(all, func(m Line) bool { return m.Code == code })
	var beside []Line
	if at > 0 {
		beside = append(beside, all[at-1])
	}
	if at+1 < len(all) {
		beside = append(beside, all[at+1])
	}
	return beside
}

// Chain lists the lines from the link, riser tab or handle up to a line, the
// line itself last. It is empty where there is no such line.
func (p *Plan) Chain(code string) []Line {
	places := p.chain(code)
	chain := make([]Line, len(places))
	for i, n := range places {
		chain[i] = p.Lines[n]
	}
	return chain
}

// chain is Chain as places in Lines.
func (p *Plan) chain(code string) []int {
	var chain []int
	for i, ok := p.byCode[code]; ok; i, ok = p.below(i) {
		chain = append(chain, i)
	}
	slices.Reverse(chain)
	return chain
}

// below gives the place of the line that a line hangs on.
func (p *Plan) below(i int) (int, bool) {
	on := &p.Lines[i].On
	if on.Kind != OnLine {
		return 0, false
	}
	n, ok := p.byCode[on.Name]
	return n, ok
}

// Foot gives what the chain of a line hangs on in the end: a link, a riser tab
// or the handle.
func (p *Plan) Foot(code string) (Anchor, bool) {
	i, ok := p.byCode[code]
	if !ok {
		return Anchor{}, false
	}
	for n, on := p.below(i); on; n, on = p.below(n) {
		i = n
	}
	return p.Lines[i].On, true
}

// LinkOf gives the link at the foot of a line's chain; false for a line that
// hangs on a riser tab or on the handle.
func (p *Plan) LinkOf(code string) (Link, bool) {
	foot, ok := p.Foot(code)
	if !ok || foot.Kind != OnLink {
		return Link{}, false
	}
	return p.Link(foot.Name)
}

// Branch gives the riser branch that a line hangs on in the end; false for the
// brakes.
func (p *Plan) Branch(code string) (Riser, bool) {
	foot, ok := p.Foot(code)
	switch {
	case ok && foot.Kind == OnLink:
		link, found := p.Link(foot.Name)
		if !found {
			return Riser{}, false
		}
		return p.Riser(link.Branch)
	case ok && foot.Kind == OnRiser:
		return p.Riser(foot.Name)
	}
	return Riser{}, false
}

// Joints counts the joints between riser and line: 0 for a line on a link, 1
// for the one above it. It is -1 where there is no such line.
func (p *Plan) Joints(code string) int {
	joints := -1
	for i, ok := p.byCode[code]; ok; i, ok = p.below(i) {
		joints++
	}
	return joints
}

// Points lists the attachment points that a line carries, from the centre: for
// a top line its own. In a partial plan it holds the points that are known.
func (p *Plan) Points(code string) []string { return slices.Clone(p.points[code]) }

// isLoose says whether a code is that of a line whose place is not given.
func (p *Plan) isLoose(code string) bool {
	return slices.ContainsFunc(p.Loose, func(l Line) bool { return l.Code == code })
}
