package picture

import (
	"fmt"
	"slices"
	"strings"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/quantity"
)

// LengthAt is what a line or path was found to be at one time. A Limit of 0 is
// not known.
type LengthAt struct {
	Label        string // date or job
	Deviation, U quantity.Length
	Limit        quantity.Length
	Fallback     bool // the limit is not from the wing's papers
}

// History draws the deviation of one line or path from job to job, the oldest
// on the left, long upward: each value with its uncertainty as an upright bar,
// the limit as a band. Nothing that is inside its limit is drawn outside, nor
// the other way round. The first, the last and what lies far off stand with
// their numbers. Where there is no room for all of them the latest are drawn,
// and it is said of how many.
func History(points []LengthAt, w, h int, signs Signs) []string {
	if len(points) == 0 || w <= 0 || h <= 0 {
		return nil
	}
	t := timeline{points: points, signs: signs}
	lines := t.draw(w, h, true)
	if lines == nil && !slices.ContainsFunc(points, LengthAt.fallback) {
		t = timeline{points: points, signs: signs}
		lines = t.draw(w, h, false)
	}
	return lines
}

// timeline is a history under way to its drawing.
type timeline struct {
	points []LengthAt
	signs  Signs
	half   int   // lines from the middle to either end
	span   int64 // µm from the middle to either end
	x0, x1 int   // of the first and the last point
	axis   int   // columns of the numbers of the axis
}

const (
	leastHalf = 2
	mostHalf  = 8
)

func (t *timeline) draw(w, h int, legend bool) []string {
	t.span = t.reach()
	t.axis = max(columns(t.axisNumber(1)), columns(t.axisNumber(-1))) + 1
	wide := 0
	for _, p := range t.points {
		wide = max(wide, columns(p.value()))
	}
	t.x0, t.x1 = t.axis+wide+1, w-2-wide
	fits := (t.x1-t.x0)/2 + 1
	if t.x1 < t.x0 || fits < min(2, len(t.points)) {
		return nil
	}
	var notes []string
	if n := len(t.points); n > fits {
		notes = fold(fmt.Sprintf("the last %d of %d", fits, n), w)
		t.points = t.points[n-fits:]
	}
	if legend {
		notes = append(notes, foldParts(t.legend(), "  ", w)...)
	}
	labels := t.labels(w)
	t.half = min((h-len(labels)-len(notes)-1)/2, mostHalf)
	if t.half < leastHalf || labels == nil || widest(slices.Concat(labels, notes)) > w {
		return nil
	}
	return slices.Concat(t.plot(w), labels, notes)
}

// reach is what the chart shows to either side: somewhat more than the limit
// and than all there is, but for what lies very far off.
func (t *timeline) reach() int64 {
	limit, most := int64(0), int64(0)
	for _, p := range t.points {
		limit = max(limit, bounded(int64(p.Limit)))
		most = max(most, abs(bounded(int64(p.Deviation)))+uOf(p))
	}
	if limit > 0 {
		return max(limit*13/10, min(most, limit*3))
	}
	return roundAbove(most)
}

func uOf(p LengthAt) int64 { return max(0, bounded(int64(p.U))) }

// line gives how many lines above the middle a deviation stands; it may be off
// the sheet. It stands on the edge of its band at most if it is inside, and
// beyond it if it is not.
func (t *timeline) line(deviation int64, limit quantity.Length) int {
	n := t.scaled(abs(deviation))
	if limit > 0 {
		edge := t.edge(limit)
		if abs(deviation) <= bounded(int64(limit)) {
			n = min(n, edge)
		} else {
			n = max(n, edge+1)
		}
	}
	if deviation < 0 {
		return -n
	}
	return n
}

// edge gives the line of a limit: never the outermost, for there is something
// outside of it.
func (t *timeline) edge(limit quantity.Length) int {
	return min(max(1, t.scaled(bounded(int64(limit)))), t.half-1)
}

// scaled rounds to the nearest line.
func (t *timeline) scaled(n int64) int {
	if n > t.span*2 {
		return 2 * t.half
	}
	return int((2*n*int64(t.half) + t.span) / (2 * t.span))
}

func (t *timeline) column(i int) int {
	n := len(t.points) - 1
	if n == 0 {
		return (t.x0 + t.x1) / 2
	}
	return t.x0 + i*(t.x1-t.x0)/n
}

func (t *timeline) plot(w int) []string {
	c := newCanvas(w, 2*t.half+1, t.signs)
	t.band(c)
	c.put(t.axis-2, t.half, "0")
	for i := range t.points {
		t.point(c, i)
	}
	for i, p := range t.points {
		if i == 0 || i == len(t.points)-1 || t.far(p) {
			t.number(c, i)
		}
	}
	return c.lines()
}

// band draws the middle and the limit of each point as far as half way to the
// next, and names the last limit.
func (t *timeline) band(c *canvas) {
	for x := t.axis; x < c.w; x += 2 {
		c.put(x, t.half, ".")
	}
	last := len(t.points) - 1
	for i, p := range t.points {
		if p.Limit <= 0 {
			continue
		}
		from, to := t.axis, c.w
		if i > 0 {
			from = (t.column(i-1) + t.column(i)) / 2
		}
		if i < last {
			to = (t.column(i) + t.column(i+1)) / 2
		}
		for _, y := range []int{t.half - t.edge(p.Limit), t.half + t.edge(p.Limit)} {
			c.across(from, to, y, light)
		}
	}
	for _, sign := range []int{1, -1} {
		y := t.half - sign*t.half
		if limit := t.points[last].Limit; limit > 0 {
			y = t.half - sign*t.edge(limit)
		}
		text := t.axisNumber(sign)
		c.put(t.axis-1-columns(text), y, text)
	}
}

// axisNumber is the number above or below the middle: the last limit, or where
// none is known the end of the chart.
func (t *timeline) axisNumber(sign int) string {
	n := t.span
	if limit := t.points[len(t.points)-1].Limit; limit > 0 {
		n = bounded(int64(limit))
	}
	text := strings.TrimSuffix(quantity.Length(n).String(), " mm")
	if sign < 0 {
		return "-" + text
	}
	return "+" + text
}

// point draws a value with its uncertainty.
func (t *timeline) point(c *canvas, i int) {
	p := t.points[i]
	x, d := t.column(i), bounded(int64(p.Deviation))
	low, high := t.line(d-uOf(p), p.Limit), t.line(d+uOf(p), p.Limit)
	for y := max(low, -t.half); y <= min(high, t.half); y++ {
		c.put(x, t.half-y, c.upright())
	}
	sign := "o"
	switch {
	case t.far(p) && d > 0:
		sign = "^"
	case t.far(p):
		sign = "v"
	}
	c.put(x, t.height(p), sign)
}

// number writes the value of the first point on its left, of any other on its
// right.
func (t *timeline) number(c *canvas, i int) {
	p := t.points[i]
	text, x := " "+p.value()+" ", t.column(i)+1
	if i == 0 && len(t.points) > 1 {
		x = t.column(i) - columns(text)
	}
	if i == 0 || i == len(t.points)-1 || c.bare(x, x+columns(text), t.height(p)) {
		c.put(x, t.height(p), text)
	}
}

// far reports whether a value lies off the chart.
func (t *timeline) far(p LengthAt) bool { return abs(bounded(int64(p.Deviation))) > t.span }

// height gives the line of text in which a value stands.
func (t *timeline) height(p LengthAt) int {
	switch {
	case !t.far(p):
		return t.half - t.line(bounded(int64(p.Deviation)), p.Limit)
	case p.Deviation > 0:
		return 0
	}
	return 2 * t.half
}

// fallback reports whether its limit has to be called one.
func (p LengthAt) fallback() bool { return p.Limit > 0 && p.Fallback }

func (p LengthAt) value() string { return signedTenths(p.Deviation.MM()) }

// labels names the last and the first point, and those between as far as there
// is room. nil if there is none for those two.
func (t *timeline) labels(w int) []string {
	last := len(t.points) - 1
	c := newCanvas(w, 2, t.signs)
	for i := range t.points {
		at := (i + last) % (last + 1) // the last, the first, then those between
		text := clean(t.points[at].Label)
		wide := columns(text)
		x := min(max(t.column(at)-wide/2, 0), w-wide)
		if x < 0 && (at == 0 || at == last) {
			return nil
		}
		switch {
		case c.bare(x-1, x+wide, 0):
			c.put(x, 0, text)
		case at == 0:
			c.put(x, 1, text)
		}
	}
	return c.lines()
}

// legend explains the signs that are there.
func (t *timeline) legend() []string {
	bar := "| sure within"
	if t.signs == Richer {
		bar = "│ sure within"
	}
	parts := []string{"o mm, + long", bar}
	has := func(is func(LengthAt) bool) bool { return slices.ContainsFunc(t.points, is) }
	if has(func(p LengthAt) bool { return p.Limit > 0 }) {
		lines := "lines: limit"
		if last := t.points[len(t.points)-1]; has(func(p LengthAt) bool { return p.Limit != last.Limit }) {
			lines = "lines: limit of each"
		}
		if has(LengthAt.fallback) {
			lines += " (fallback)"
		}
		parts = append(parts, lines)
	}
	if has(t.far) {
		parts = append(parts, "^ v further")
	}
	return parts
}

// HistoryFacts says in words what History shows, one time a line, and what
// changed from the first to the last.
func HistoryFacts(points []LengthAt) []string {
	var out []string
	for _, p := range points {
		out = append(out, clean(p.Label)+": "+p.words()+".")
	}
	if n := len(points); n > 1 {
		change := bounded(int64(points[n-1].Deviation)) - bounded(int64(points[0].Deviation))
		out = append(out, fmt.Sprintf("From %s to %s: %s.", clean(points[0].Label), clean(points[n-1].Label), changeWords(quantity.Length(change))))
	}
	return out
}

// words says a value as its judgement does, or where it was not judged, itself.
func (p LengthAt) words() string {
	if j, err := metrology.Judge(p.Deviation, p.U, p.Limit); err == nil {
		if p.fallback() {
			return j.Words() + "; the limit is a fallback"
		}
		return j.Words()
	}
	text := longOrShort(p.Deviation.MM())
	if p.U > 0 {
		text += ", sure within " + quantity.Length(up(uOf(p))).String()
	}
	return text
}

func changeWords(change quantity.Length) string {
	switch {
	case change > 0:
		return change.String() + " longer"
	case change < 0:
		return change.Abs().String() + " shorter"
	}
	return "no change"
}
