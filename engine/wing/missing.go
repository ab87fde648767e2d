package wing

import "fmt"

// Missing says, one sentence each, what the plan does not hold and what cannot
// be computed or judged without it. A complete plan may lack things too, as
// makers' sheets do.
func (p *Plan) Missing() []string {
	var m missing
	m.add(p.Partial, "only some lines are in this plan: rows, symmetry and trim of the wing cannot be computed")
	m.add(p.Pull.Force == 0, "no measuring pull: it has to be stated at the bench")
	for _, l := range limitUses {
		m.add(p.limits[l.name].Length == 0, fmt.Sprintf("no limit %q: %s", l.name, l.use))
	}
	for _, r := range p.Risers {
		m.add(r.Length == 0, fmt.Sprintf("riser %s has no length: its paths cannot be computed", r.Branch))
	}
	for _, l := range p.Links {
		m.link(l)
	}
	for _, l := range p.Lines {
		m.line(p, l)
	}
	m.brake(p.Brake)
	return m
}

// limitUses says what each limit is needed for.
var limitUses = []struct {
	name LimitName
	use  string
}{
	{LimitLine, "a line cannot be judged against the plan"},
	{LimitTwin, "a new line cannot be judged against its twin"},
	{LimitPath, "a path cannot be judged against the plan"},
	{LimitSides, "left and right cannot be judged against each other"},
	{LimitRows, "rows cannot be judged against row A"},
	{LimitRiser, "risers cannot be judged against the plan"},
	{LimitPulleys, "the pulley distances of the two sides cannot be judged"},
	{LimitKnot, "the place of a brake knot cannot be judged"},
	{LimitIdentity, "a length cannot help to find out which line it is"},
}

type missing []string

func (m *missing) add(absent bool, text string) {
	if absent {
		*m = append(*m, text)
	}
}

func (m *missing) link(l Link) {
	if l.Kind == Soft {
		return
	}
	_, known := l.Turns()
	m.add(!known, fmt.Sprintf("link %s has no pitch or thread length: its turns cannot be computed, count them on the twin link", l.Name))
	m.add(l.Torque == 0, fmt.Sprintf("link %s has no torque: a torque wrench cannot be set", l.Name))
}

func (m *missing) line(p *Plan, l Line) {
	m.add(l.Length == 0, l.Code+" has no length: it cannot be measured against the plan, nor can its paths be computed")
	m.add(l.Strength == 0, l.Code+" has no strength: the pre-stretch and the strength of a substitute cannot be computed")
	m.add(l.Pos == 0 && len(p.byAnchor[l.On]) > 1, fmt.Sprintf("%s has no place on %s: the order there cannot be checked", l.Code, l.On))
	m.add(l.Point == "" && len(p.byAnchor[Anchor{OnLine, l.Code}]) == 0,
		l.Code+" has no line above it and no point: its way to the canopy cannot be followed")
}

func (m *missing) brake(b *Brake) {
	if b == nil {
		m.add(true, "no brake: pulleys and knots cannot be computed")
		return
	}
	m.add(len(b.Pulleys) < 2, "fewer than two pulley places: a pulley cannot be moved by this plan")
	for i, p := range b.Pulleys {
		m.add(i > 0 && p.Below == 0, fmt.Sprintf("pulley place %s has no distance: measure it on the wing", p.Name))
	}
	m.add(b.LeastTail.Length == 0, "no least tail of the brake knot: the spare length cannot be judged")
	m.add(b.LeastFreePlay.Length == 0, "no least free play of the brakes: it cannot be judged")
}
