package wing

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// cascade ties the lines together and notes what cannot hang as it is written.
func (b *builder) cascade() {
	p := b.plan
	p.byAnchor = map[Anchor][]int{}
	p.byPoint = map[string]int{}
	for i, l := range p.Lines {
		if b.anchored(i, l) {
			p.byAnchor[l.On] = append(p.byAnchor[l.On], i)
		}
		if l.Point != "" {
			p.byPoint[l.Point] = i
		}
	}
	for _, on := range p.byAnchor {
		slices.SortStableFunc(on, func(i, j int) int { return cmp.Compare(p.Lines[i].Pos, p.Lines[j].Pos) })
	}
	p.countFromTip()
	b.loops()
	for i, l := range p.Lines {
		if !b.looped[i] {
			b.tiers(i, l)
			b.top(i, l)
		}
	}
	for _, anchor := range p.anchors() {
		b.places(anchor, p.byAnchor[anchor])
	}
	b.brakeMain()
	if len(b.looped) == 0 {
		p.gatherPoints()
	}
}

// gatherPoints lists once for each line what it carries at the canopy: walking
// the cascade anew for each question would take long on a deep one.
func (p *Plan) gatherPoints() {
	p.points, p.open = make(map[string][]string, len(p.Lines)), map[string]bool{}
	for anchor, lines := range p.byAnchor {
		if anchor.Kind == OnLine {
			continue
		}
		for _, i := range lines {
			p.gather(i)
		}
	}
}

func (p *Plan) gather(i int) (points []string, open bool) {
	l := &p.Lines[i]
	above := p.byAnchor[Anchor{OnLine, l.Code}]
	if l.Point != "" {
		points = append(points, l.Point)
	}
	open = len(above) == 0 && l.Point == ""
	for _, n := range above {
		more, openAbove := p.gather(n)
		points, open = append(points, more...), open || openAbove
	}
	p.points[l.Code] = points
	if open {
		p.open[l.Code] = true
	}
	return points, open
}

// countFromTip numbers the points of each row from the tip.
func (p *Plan) countFromTip() {
	rows := map[string][]string{}
	for point, i := range p.byPoint {
		rows[p.Lines[i].Row] = append(rows[p.Lines[i].Row], point)
	}
	p.tipmost = make(map[string]int, len(p.byPoint))
	for _, points := range rows {
		slices.SortFunc(points, func(a, b string) int {
			return cmp.Or(cmp.Compare(pointNumber(b), pointNumber(a)), cmp.Compare(b, a))
		})
		for i, point := range points {
			p.tipmost[point] = i + 1
		}
	}
}

// anchors lists what lines hang on, in the order of the file.
func (p *Plan) anchors() []Anchor {
	var all []Anchor
	seen := map[Anchor]bool{}
	for _, l := range p.Lines {
		if len(p.byAnchor[l.On]) > 0 && !seen[l.On] {
			seen[l.On] = true
			all = append(all, l.On)
		}
	}
	return all
}

// anchored checks that what the line hangs on is there.
func (b *builder) anchored(i int, l Line) bool {
	key := b.key(i, "on")
	if l.On == (Anchor{Kind: OnLine}) {
		return false
	}
	ok := true
	switch l.On.Kind {
	case OnLink:
		_, ok = b.plan.Link(l.On.Name)
	case OnRiser:
		_, ok = b.plan.Riser(l.On.Name)
	case OnLine:
		_, ok = b.plan.byCode[l.On.Name]
	}
	if !ok && l.On.Kind == OnLine && b.plan.isLoose(l.On.Name) {
		b.doc.Add(key, fmt.Sprintf("%s hangs on %s, which does not say what it hangs on itself", l.Code, l.On),
			"give that line its on, or leave it out here too")
	} else if !ok && !b.bad[string(l.On.Kind)] {
		b.doc.Add(key, fmt.Sprintf("%s hangs on %s, which is not in the plan", l.Code, l.On),
			`write a line code, "link:" and a link, "riser:" and a branch, or "handle"; C1 and c1 are two codes`)
	}
	return ok
}

// tiers checks that no line is of a lower storey than the one it hangs on.
func (b *builder) tiers(i int, l Line) {
	n, ok := b.below(i)
	if !ok {
		return
	}
	below := b.plan.Lines[n]
	if slices.Index(Tiers, l.Tier) < slices.Index(Tiers, below.Tier) && l.Tier != "" {
		b.doc.Add(b.key(i, "tier"), fmt.Sprintf("%s is %s but hangs on %s, which is %s", l.Code, l.Tier, below.Code, below.Tier),
			"tiers count from the pilot: correct the tier, or what the line hangs on")
	}
}

// loops finds lines that hang on themselves, each loop once.
func (b *builder) loops() {
	b.looped = map[int]bool{}
	walk := make([]int, len(b.plan.Lines)) // which walk came by: 0 none
	for start := range b.plan.Lines {
		i, ok := start, true
		for ok && walk[i] == 0 {
			walk[i] = start + 1
			i, ok = b.below(i)
		}
		if ok && walk[i] == start+1 {
			b.loop(i)
		}
	}
}

// below gives the line that line i hangs on.
func (b *builder) below(i int) (int, bool) {
	on := b.plan.Lines[i].On
	n, ok := b.plan.byCode[on.Name]
	return n, ok && on.Kind == OnLine
}

func (b *builder) loop(start int) {
	const shown = 6
	var codes []string
	first := start
	for i := start; ; {
		b.looped[i] = true
		codes = append(codes, b.plan.Lines[i].Code)
		first = min(first, i)
		if i, _ = b.below(i); i == start {
			break
		}
	}
	if len(codes) > shown {
		codes = append(codes[:shown], "...")
	}
	codes = append(codes, b.plan.Lines[start].Code)
	b.doc.Add(b.key(first, "on"), "a loop that reaches no riser: "+strings.Join(codes, " on "),
		"let one of them hang on what it is looped to toward the pilot")
}

// top checks the canopy end: a line has either a point or lines above it.
func (b *builder) top(i int, l Line) {
	above := b.plan.byAnchor[Anchor{OnLine, l.Code}]
	switch {
	case len(above) > 0 && l.Point != "":
		b.doc.Add(b.key(i, "point"), fmt.Sprintf("%s has a point, but %s hangs on it", l.Code, b.plan.Lines[above[0]].Code),
			"only top lines have a point: leave it out, or correct what hangs on it")
	case len(above) > 0 && l.Sewn:
		b.doc.Add(b.key(i, "sewn"), fmt.Sprintf("%s is sewn into its tab, but %s hangs on it", l.Code, b.plan.Lines[above[0]].Code),
			"only top lines reach a tab: leave sewn out, or correct what hangs on it")
	case len(above) == 0 && l.Point == "" && !b.plan.Partial:
		b.missing(b.key(i, "point"), fmt.Sprintf("nothing hangs on %s: name its attachment point, such as C7", l.Code))
	}
	if l.Span >= 0 && l.Point == "" {
		b.doc.Add(b.key(i, "span"), "only an attachment point has a place along the span", "leave span out")
	}
}

// places checks that the lines on one link, line or tab are counted 1, 2, 3 ...
// from the centre. A partial plan may leave places out, but not give one twice.
func (b *builder) places(anchor Anchor, lines []int) {
	single := len(lines) == 1 && (anchor.Kind == OnRiser || anchor.Kind == OnHandle)
	want := 1
	for n, i := range lines {
		l := b.plan.Lines[i]
		key := b.key(i, "pos")
		switch {
		case l.Pos == 0:
			if !b.plan.Partial && !single {
				b.missing(key, fmt.Sprintf("give the place of %s from the centre among the lines on %s", l.Code, anchor))
			}
		case n > 0 && b.plan.Lines[lines[n-1]].Pos == l.Pos:
			b.doc.Add(key, fmt.Sprintf("place %d on %s is already taken by %s", l.Pos, anchor, b.plan.Lines[lines[n-1]].Code),
				"count the lines there from the centre, beginning with 1")
		case l.Pos > want && !b.plan.Partial && b.plan.Lines[lines[0]].Pos > 0:
			b.doc.Add(key, fmt.Sprintf("%s has place %d on %s, but nothing has place %d", l.Code, l.Pos, anchor, want),
				"count the lines there from the centre, beginning with 1")
			want = l.Pos + 1
		default:
			want = l.Pos + 1
		}
	}
}

func (b *builder) brakeMain() {
	br := b.plan.Brake
	if br == nil || !IsName(br.Main) {
		return
	}
	if l, ok := b.plan.Line(br.Main); !ok {
		b.doc.Add("brake.main", "there is no line "+br.Main, "correct the code; C1 and c1 are two codes")
	} else if l.On.Kind != OnHandle {
		b.doc.Add("brake.main", fmt.Sprintf("%s hangs on %s, not on the handle", br.Main, l.On), `correct the code, or write on = "handle" for that line`)
	}
}
