package wing

import (
	"fmt"
	"strings"
)

// Missing says, one sentence each, what the plan does not hold and what cannot
// be computed or judged without it. A complete plan may lack things too, as
// makers' sheets do.
func (p *Plan) Missing() []string {
	var m missing
	m.add(p.Partial && len(p.Stated) == 0, "only some lines are in this plan: rows, symmetry and trim of the wing cannot be computed")
	m.add(p.Partial && len(p.Stated) > 0, "only some lines are in this plan: rows, symmetry and trim can be computed over the stated paths alone")
	m.add(p.AsFound, "the lengths are of this wing as found, not of its maker: what is worn or wrong on it is in them too")
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
	m.lines(p)
	m.loose(p)
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

// Serves says, one sentence each, what the plan is good for: the other side of
// Missing. Whether a verdict can be given is up to the limits.
func (p *Plan) Serves() []string {
	var m missing
	m.add(len(p.Lines) > 0, fmt.Sprintf("%s can be found, swapped and checked on what it hangs on", oneOfN(len(p.Lines), "line")))
	m.add(len(p.Loose) > 0, fmt.Sprintf("%s can be ordered and measured by itself, and no more", oneOfN(len(p.Loose), "line")))
	sums := 0
	for _, path := range p.Paths(Left) {
		if path.Nominal > 0 {
			sums++
		}
	}
	m.add(sums > 0, fmt.Sprintf("%s can be summed up from its lines", oneOfN(sums, "path")))
	m.add(len(p.Stated) > 0, fmt.Sprintf("%s can be measured against its stated length, from the %s", oneOfN(len(p.Stated), "path"), p.PathsFrom))
	return m
}

func oneOfN(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("each of %d %ss", n, thing)
}

func (m *missing) link(l Link) {
	if l.Kind == Soft {
		return
	}
	_, known := l.Turns()
	m.add(!known, fmt.Sprintf("link %s has no pitch or thread length: its turns cannot be computed, count them on the twin link", l.Name))
	m.add(l.Torque == 0, fmt.Sprintf("link %s has no torque: a torque wrench cannot be set", l.Name))
}

func (m *missing) lines(p *Plan) {
	m.each(p.Lines, func(l Line) bool { return l.Length == 0 },
		"no length, so nothing to measure against and no sum of their paths")
	m.each(p.Lines, func(l Line) bool { return l.Strength == 0 },
		"no strength, so no pre-stretch by it and no judging of a substitute")
	m.each(p.Lines, func(l Line) bool { return l.Pos == 0 && len(p.byAnchor[l.On]) > 1 },
		"no place from the centre, so the order there cannot be checked")
	m.each(p.Lines, func(l Line) bool { return l.Point == "" && len(p.byAnchor[Anchor{OnLine, l.Code}]) == 0 },
		"no line above and no point, so the way to the canopy cannot be followed")
}

func (m *missing) loose(p *Plan) {
	m.each(p.Loose, func(Line) bool { return true },
		"not said what they hang on, so they cannot be swapped, found or summed up to paths")
	m.each(p.Loose, func(l Line) bool { return l.Length == 0 }, "no length, so nothing to measure against")
}

// each says one sentence for all lines that lack the same: a table of a maker
// may lack a column.
func (m *missing) each(lines []Line, lacks func(Line) bool, sentence string) {
	var codes []string
	for _, l := range lines {
		if lacks(l) {
			codes = append(codes, l.Code)
		}
	}
	m.add(len(codes) > 0, sentence+": "+few(codes))
}

// few names the first of many.
func few(codes []string) string {
	const shown = 6
	if len(codes) > shown+1 {
		return fmt.Sprintf("%s and %d more", strings.Join(codes[:shown], ", "), len(codes)-shown)
	}
	return strings.Join(codes, ", ")
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
