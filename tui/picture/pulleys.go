package picture

import (
	"fmt"
	"strconv"
	"strings"

	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

// Move is a brake pulley on its way from one place to another, and the knot
// that goes with it. Places run from the highest down; Found and New count
// them from 1, and 0 is not known.
type Move struct {
	Places   []wing.Pulley
	Found    int
	New      int
	Distance quantity.Length // between the two, of this side; 0 is not known
	Tail     quantity.Length // beyond the knot, as found
	HasTail  bool
	Least    quantity.Length // tail that a knot needs; 0 is not known
}

// shown reports whether it is known which way the pulley goes.
func (m Move) shown() bool {
	return m.Found > 0 && m.New > 0 && m.Found <= m.count() && m.New <= m.count()
}

func (m Move) count() int { return max(2, len(m.Places)) }

// the way of the knot: common practice, no source.
func (m Move) way() string {
	how := ""
	if m.Distance > 0 {
		how = m.Distance.String() + " "
	}
	switch {
	case m.New > m.Found:
		return "knot " + how + "toward the tail"
	case m.New < m.Found:
		return "knot " + how + "away from the tail"
	}
	return "the knot stays"
}

const hangLoop = "(__) hang loop"

const bothWays = "Pulley lower: knot toward the tail. Pulley higher: knot away from the tail."

// Pulleys draws the riser as in flight, its links at the top, with the places
// of the pulley, and beside it the brake line with old and new knot: both to
// the same scale, so that the knot goes as far as the pulley.
func Pulleys(m Move, w, h int, signs Signs) []string {
	for much := named; much <= numbered; much++ {
		words := fold(m.words(much), w)
		for rows := 9; rows >= m.count()-1; rows-- {
			drawing := m.draw(rows, w, much, signs)
			if out := pile(w, h, nil, drawing, words, note(w)); out != nil {
				return out
			}
			if out := pile(w, h, nil, drawing, note(w)); out != nil && !m.shown() && rows == m.count()-1 {
				return out
			}
		}
	}
	return nil
}

// said is how much is written beside riser and brake line.
type said int

const (
	named    said = iota // all of it
	short                // a word each on the brake line
	numbered             // nor the names of the places
)

// words say which way the knot goes, and beside short signs what is left of the
// tail.
func (m Move) words(much said) string {
	switch {
	case !m.shown():
		return bothWays
	case much > named && m.Found != m.New && m.HasTail && m.Distance > 0:
		return m.way() + ", then " + m.endWords(m.New > m.Found)
	}
	return m.way()
}

// heights gives the line of each place below the first, in true proportion as
// far as the plan gives the distances.
func (m Move) heights(rows int) []int {
	n := m.count()
	at := make([]quantity.Length, n)
	known := true
	for i := 1; i < n; i++ {
		step := quantity.Length(1)
		if i < len(m.Places) {
			step = m.Places[i].Below
		}
		known = known && step > 0
		at[i] = at[i-1] + step
	}
	out := make([]int, n)
	for i := range out {
		out[i] = i * rows / (n - 1)
		if known {
			out[i] = int((2*int64(at[i])*int64(rows) + int64(at[n-1])) / (2 * int64(at[n-1])))
		}
		if i > 0 {
			out[i] = max(out[i], out[i-1]+1)
		}
	}
	return out
}

// label names a place as it is chosen: by its number from the top.
func (m Move) label(i int, much said) string {
	text := strconv.Itoa(i + 1)
	if i < len(m.Places) && much < numbered {
		text += " " + clean(m.Places[i].Name)
	}
	var said []string
	if m.Found == i+1 {
		said = append(said, "found")
	}
	if m.New == i+1 {
		said = append(said, "new")
	}
	if len(said) > 0 {
		text += ": " + strings.Join(said, ", ")
	}
	return text
}

// draw puts riser and brake line side by side; nil if they are too wide.
func (m Move) draw(rows, w int, much said, signs Signs) []string {
	const above, x, gap = 2, 6, 2
	at := m.heights(rows)
	last := above + at[len(at)-1]
	wide := len(hangLoop)
	for i := range at {
		wide = max(wide, x+columns(m.label(i, much)))
	}
	brake := m.brake(at, above, much)
	sheet := wide
	if brake != nil {
		sheet = wide + gap + brake.wide
	}
	if sheet > w {
		return nil
	}
	c := newCanvas(sheet, last+3+m.below(brake, last), signs)
	c.put(0, 0, "links")
	c.down(1, 1, last+2, light)
	c.down(2, 1, last+2, light)
	c.put(0, last+2, hangLoop)
	for i, y := range at {
		c.across(2, 3, above+y, light)
		c.put(4, above+y, "o")
		c.put(x, above+y, m.label(i, much))
	}
	if brake != nil {
		brake.draw(c, wide+gap)
		m.arrows(c, brake, x-2, wide+gap)
	}
	return c.lines()
}

// arrows points the way of pulley and knot, halfway between the two places.
func (m Move) arrows(c *canvas, b *brakeLine, riser, line int) {
	middle := (b.old + b.knot) / 2
	if middle == b.old || middle == b.knot {
		return
	}
	arrow := "v"
	if b.knot < b.old {
		arrow = "^"
	}
	c.put(riser, middle, arrow)
	c.put(line, middle, arrow)
	if m.Distance > 0 {
		c.put(riser+2, middle, m.Distance.String())
	}
}

// brakeLine is the drawing of the brake line: where its old mark, its new knot
// and its end are, and what is said there.
type brakeLine struct {
	old, knot, end int
	signs          []sign
	wide           int
}

type sign struct {
	y          int
	sign, text string
}

// brake lays out the brake line beside the riser: old mark where the pulley
// was, new knot where it goes; nil where nothing goes anywhere. A tail that is
// too long for its drawing shows a break.
func (m Move) brake(at []int, above int, much said) *brakeLine {
	if !m.shown() || m.Found == m.New {
		return nil
	}
	b := &brakeLine{old: above + at[m.Found-1], knot: above + at[m.New-1]}
	b.end = max(b.old, b.knot) + 2
	if m.HasTail && m.Distance > 0 {
		rows := b.knot - b.old
		if rows < 0 {
			rows = -rows
		}
		b.end = b.old + proportion(m.Tail, m.Distance, rows)
		if most := max(b.old, b.knot) + 2*len(at) + rows; b.end > most {
			b.end = most
			b.signs = []sign{{most - 1, ":", ""}}
		}
	}
	texts := []string{"pulley", "old mark", "new knot", m.endWords(m.New > m.Found)}
	if much > named {
		texts = []string{"line", "mark", "knot", "end"}
	}
	for i, at := range []sign{{0, "", ""}, {b.old, "x", ""}, {b.knot, "O", ""}, {b.end, "'", ""}} {
		b.signs = append(b.signs, sign{at.y, at.sign, texts[i]})
	}
	for _, s := range b.signs {
		b.wide = max(b.wide, 2+columns(s.text))
	}
	return b
}

// below is how many more lines the brake line needs under the riser.
func (m Move) below(b *brakeLine, last int) int {
	if b == nil {
		return 0
	}
	return max(0, max(b.end, b.knot)-last-2)
}

func (b *brakeLine) draw(c *canvas, x int) {
	c.down(x, 0, b.end, light)
	for i := len(b.signs) - 1; i >= 0; i-- {
		s := b.signs[i]
		c.put(x, s.y, s.sign)
		c.put(x+2, s.y, s.text)
	}
}

// facts says the move in words.
func (m Move) facts() []string {
	var out []string
	for i := range m.count() {
		text := "Place " + strconv.Itoa(i+1) + " from the top"
		if i < len(m.Places) {
			text += ": " + clean(m.Places[i].Name)
			if i > 0 && m.Places[i].Below > 0 {
				text += ", " + m.Places[i].Below.String() + " below the one before it by the plan"
			}
		}
		out = append(out, text+".")
	}
	if !m.shown() {
		return append(out, bothWays)
	}
	if m.Found == m.New {
		return append(out, fmt.Sprintf("The pulley stays at place %d, and the knot with it.", m.Found))
	}
	out = append(out, fmt.Sprintf("The pulley goes from place %d to place %d: %s.", m.Found, m.New, m.way()))
	switch {
	case m.New > m.Found:
		out = append(out, "Then the old mark lies between pulley and new knot.")
	case m.New < m.Found:
		out = append(out, "Then the old mark lies in the tail, beyond the new knot.")
	}
	if m.HasTail && m.Distance > 0 {
		out = append(out, "After the move: "+m.endWords(m.New > m.Found)+".")
	}
	return out
}
