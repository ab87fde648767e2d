package picture

import (
	"slices"
	"strconv"
	"strings"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/quantity"
)

// Scale draws a measurement along a line: where it should be, the limit as
// brackets, each reading by its number, and the value with its uncertainty as
// (--+--). Nothing that is inside its limit is drawn outside, nor the other way
// round, however coarse the columns. What lies off the scale is an arrow.
// Readings that are covered are not drawn.
func Scale(s *job.Scale, w, h int, signs Signs) []string {
	if s == nil {
		return nil
	}
	g := gaugeOf(s, w, signs)
	if g == nil {
		return nil
	}
	low := g.band()
	return firstOf(
		pile(w, h, g.head(), slices.Concat(g.axis(), g.readings(3), low), g.foot()),
		pile(w, h, g.head(), slices.Concat(g.axis(), g.readings(1), low), g.foot()),
		pile(w, h, nil, slices.Concat(g.axis(), g.readings(1), low), g.foot()),
	)
}

// gauge is a scale under way to its drawing. Lengths are thousandths of the
// unit of the quantity: whole µm, mN, mN·m, thousandths of a turn.
type gauge struct {
	s      *job.Scale
	kind   quantity.Kind
	signs  Signs
	half   int   // columns from the middle to either end
	centre int64 // what stands in the middle
	span   int64 // from the middle to either end
	points []point
}

// point is a reading that counts.
type point struct {
	no int
	at int64
}

const (
	leastWidth = 15
	mostWidth  = 81
)

func gaugeOf(s *job.Scale, w int, signs Signs) *gauge {
	if w < leastWidth {
		return nil
	}
	g := &gauge{s: s, kind: s.Quantity, signs: signs, half: (min(w, mostWidth) - 1) / 2}
	if !g.kind.Valid() {
		g.kind = quantity.KindLength
	}
	for i, r := range s.Readings {
		if r.Outcome == job.Taken && r.Struck == "" && !s.Covered {
			g.points = append(g.points, point{i + 1, bounded(thousandths(r.Value))})
		}
	}
	if !s.HasValue && !g.valued() && len(g.points) == 0 {
		if s.Covered && len(s.Readings) > 0 {
			return g
		}
		return nil
	}
	g.centre = g.middle()
	g.span = g.reach()
	return g
}

func thousandths(v quantity.Value) int64 {
	if v.Kind == quantity.KindCount {
		return v.N * 1000
	}
	return v.N
}

// valued reports whether the value may be drawn.
func (g *gauge) valued() bool { return g.s.Value != nil && !g.s.Covered }

func (g *gauge) middle() int64 {
	switch {
	case g.s.HasValue:
		return bounded(int64(g.s.Expected))
	case g.valued():
		return bounded(int64(g.s.Value.Value))
	}
	sum := int64(0)
	for _, p := range g.points {
		sum += p.at / int64(len(g.points))
	}
	return sum
}

// bounded keeps a number far within what can be reckoned with here, a thousand
// kilometres.
func bounded(n int64) int64 {
	const most = 1e12
	return min(max(n, -most), most)
}

// limit is how far from the middle is still inside.
func (g *gauge) limit() int64 { return bounded(int64(g.s.Limit)) }

// limited reports whether there is a limit to either side of the middle.
func (g *gauge) limited() bool { return g.s.HasLimit && g.s.HasValue && g.s.Limit > 0 }

// reach is what the scale shows to either side: somewhat more than the limit,
// else a round number that holds all there is.
func (g *gauge) reach() int64 {
	if g.limited() {
		return g.limit() * 13 / 10
	}
	most := int64(0)
	for _, p := range g.points {
		most = max(most, abs(p.at-g.centre))
	}
	if g.valued() {
		most = max(most, abs(g.deviation())+g.u())
	}
	return roundAbove(most)
}

// roundAbove gives a round number of the unit with room above what it has to hold.
func roundAbove(most int64) int64 {
	for unit := int64(1000); ; unit *= 10 {
		for _, step := range []int64{1, 2, 5} {
			if unit*step >= most+most/10 {
				return unit * step
			}
		}
	}
}

// deviation is the value against what is expected, or 0 where nothing is.
func (g *gauge) deviation() int64 {
	if !g.s.HasValue {
		return 0
	}
	return bounded(int64(g.s.Deviation))
}

func (g *gauge) u() int64 { return max(0, bounded(int64(g.s.U))) }

// column gives the place of a deviation; it may lie off the sheet. It stands
// on the bracket at most if the deviation is inside the limit, and beyond it if
// it is not.
func (g *gauge) column(deviation int64) int {
	x := g.scaled(deviation)
	if !g.limited() {
		return g.half + x
	}
	bracket := g.scaled(g.limit())
	if abs(deviation) <= g.limit() {
		return g.half + min(max(x, -bracket), bracket)
	}
	if deviation > 0 {
		return g.half + max(x, bracket+1)
	}
	return g.half + min(x, -bracket-1)
}

// scaled rounds to the nearest column, half away from the middle.
func (g *gauge) scaled(deviation int64) int {
	n, sign := deviation, 1
	if n < 0 {
		n, sign = -n, -1
	}
	const far = 1 << 20
	if n > g.span*8 {
		return sign * far
	}
	return sign * int((2*n*int64(g.half)+g.span)/(2*g.span))
}

func (g *gauge) width() int { return 2*g.half + 1 }

// head names the value in the middle.
func (g *gauge) head() []string {
	if !g.s.HasValue {
		return nil
	}
	return []string{g.centred(g.half, g.s.Holds()+" "+g.number(g.centre))}
}

// centred puts a text around a column, within the sheet.
func (g *gauge) centred(x int, text string) string {
	wide := columns(text)
	at := min(max(0, x-wide/2), max(0, g.width()-wide))
	return strings.Repeat(" ", at) + text
}

func (g *gauge) axis() []string {
	if g.span == 0 {
		return nil
	}
	c := newCanvas(g.width(), 1, g.signs)
	if !g.limited() {
		c.put(0, 0, strings.Repeat(".", g.width()))
	} else {
		low, high := g.column(-g.limit()), g.column(g.limit())
		c.put(low, 0, "["+strings.Repeat(".", high-low-1)+"]")
	}
	if g.s.HasValue {
		c.put(g.half, 0, g.bar())
	}
	return c.lines()
}

func (g *gauge) bar() string {
	if g.signs == Richer {
		return "│"
	}
	return "|"
}

// readings draws each reading by its number, in as many lines as asked for;
// what finds no free place is a star.
func (g *gauge) readings(high int) []string {
	if g.s.Covered && len(g.s.Readings) > 0 {
		return []string{g.centred(g.half, g.coveredText())}
	}
	c := newCanvas(g.width(), high, g.signs)
	for _, p := range g.points {
		g.reading(c, p, high)
	}
	return c.lines()
}

func (g *gauge) coveredText() string {
	if g.width() < 24 {
		return "covered"
	}
	return "readings are covered"
}

func (g *gauge) reading(c *canvas, p point, high int) {
	x := g.column(p.at - g.centre)
	label := strconv.Itoa(p.no)
	switch {
	case x < 0:
		x, label = 0, "<"+label
	case x >= g.width():
		label += ">"
		x = g.width() - len(label)
	default:
		x = min(max(0, x-(len(label)-1)/2), g.width()-len(label))
	}
	for y := range high {
		if c.free(x-1, x+len(label), y) {
			c.put(x, y, label)
			return
		}
	}
	c.put(x+(len(label)-1)/2, high-1, "*")
}

// band draws the value with its uncertainty.
func (g *gauge) band() []string {
	if !g.valued() {
		return nil
	}
	c := newCanvas(g.width(), 1, g.signs)
	d, u := g.deviation(), g.u()
	low, at, high := g.column(d-u), g.column(d), g.column(d+u)
	end := g.width() - 1
	c.across(min(max(low, 0), end), min(max(high, 0), end), 0, light)
	g.edge(c, low, "(")
	g.edge(c, high, ")")
	g.edge(c, at, "+")
	text := g.against(d, "")
	switch {
	case at < 0:
		c.put(2, 0, text)
	case at > end:
		c.put(end-1-len(text), 0, text)
	}
	return c.lines()
}

// edge puts a sign in its column, or an arrow at the end beyond which it lies.
func (g *gauge) edge(c *canvas, x int, sign string) {
	switch {
	case x < 0:
		c.put(0, 0, "<")
	case x >= g.width():
		c.put(g.width()-1, 0, ">")
	default:
		c.put(x, 0, sign)
	}
}

// foot names the ends of the scale and the width of the band.
func (g *gauge) foot() []string {
	if g.span == 0 {
		return nil
	}
	low, high := 0, g.width()-1
	left, right := g.signed(-g.span), g.signed(g.span)
	if g.limited() {
		low, high = g.column(-g.limit()), g.column(g.limit())
		left, right = g.signed(-g.limit()), g.signed(g.limit())
	} else if !g.s.HasValue {
		left, right = g.number(g.centre-g.span), g.number(g.centre+g.span)
	}
	c := newCanvas(g.width(), 1, g.signs)
	leftAt := max(0, low-(len(left)-1)/2)
	rightAt := min(high-(len(right)-1)/2, g.width()-len(right))
	c.put(leftAt, 0, left)
	c.put(rightAt, 0, right)
	room := rightAt - leftAt - len(left)
	for _, text := range g.width95() {
		if wide := columns(text); wide+2 <= room {
			at := min(max(g.half-wide/2, leftAt+len(left)+1), rightAt-1-wide)
			c.put(at, 0, text)
			break
		}
	}
	return c.lines()
}

// width95 says the uncertainty, the longest way first.
func (g *gauge) width95() []string {
	if !g.valued() {
		return []string{g.kind.Unit()}
	}
	u := g.number(up(g.u()))
	return []string{u + " " + g.kind.Unit() + " either way", u + " " + g.kind.Unit(), u}
}

// up rounds up to the tenth: an uncertainty is never made smaller.
func up(n int64) int64 { return (n + 99) / 100 * 100 }

func (g *gauge) signed(n int64) string {
	if n > 0 {
		return "+" + g.number(n)
	}
	return g.number(n)
}

// number prints thousandths as the unit's own number.
func (g *gauge) number(n int64) string {
	return strings.TrimSuffix(quantity.Length(n).String(), " mm")
}

func abs(n int64) int64 {
	if n < 0 {
		return -n
	}
	return n
}
