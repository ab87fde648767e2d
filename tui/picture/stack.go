package picture

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
)

// End is an end of the stack of lines on a link.
type End string

// The ends. The empty one is not known.
const (
	Centre End = "centre" // of the wing
	Tip    End = "tip"
)

// Stack is the lines on a link, as they were noted and as they were put back.
// Both orders run from the centre; where one of them may not be seen yet it is
// left out, and Places says how many blanks stand for it.
type Stack struct {
	Link   string // "link C left"
	Before []string
	After  []string
	Places int // blanks, where there is no order
	Gate   End // the end of the stack that is nearest to the gate
	InHand string
	Said   string // where Before comes from, if it was not noted: "by the plan"
	Read   bool   // After was read just now and is not right
	Soft   bool   // the link has no gate to be seen from
}

// Typed is the link of a card with an order that is typed and not yet written.
func Typed(card job.Card, plan *wing.Plan, codes []string) Stack {
	s := stackOf(card, plan)
	s.Before, s.After, s.Said = codes, nil, "as typed"
	return s
}

// Draw draws the link as it is seen from its gate, the riser on the left, its
// lines going off to the right, the centre of the wing at the top. What
// crossed stands marked in the second order.
func (s Stack) Draw(w, h int, signs Signs) []string {
	head := fold(s.head(), w)
	crossed := fold(s.crossed(), w)
	links := s.links(w, signs)
	return firstOf(
		pile(w, h, head, links, crossed, note(w)),
		pile(w, h, nil, links, crossed, note(w)),
		pile(w, h, nil, s.beside(w), crossed, note(w)),
		pile(w, h, nil, s.beside(w), nil, note(w)),
	)
}

func (s Stack) head() string {
	if s.Soft {
		return clean(s.Link)
	}
	return clean(s.Link) + ", seen from the gate"
}

// column is one drawing of the link.
type column struct {
	title  string
	codes  []string
	labels []string
	wide   int // of the longest label
}

// links draws the links side by side; nil if there is nothing to draw, or no
// room for it.
func (s Stack) links(w int, signs Signs) []string {
	const margin, body, gap = 3, 4, 2 // the places; a link with the beginning of a line
	all := s.orders()
	wide, high, titles := margin-gap, 0, 0
	for _, c := range all {
		wide += body + c.wide + gap
		high = max(high, len(c.codes))
		if c.title != "" {
			titles = 1
		}
	}
	if len(all) == 0 || wide > w {
		return nil
	}
	c := newCanvas(wide, titles+high+2, signs)
	for i := range high {
		place := strconv.Itoa(i + 1)
		c.put(margin-1-len(place), titles+1+i, place)
	}
	c.put(margin+body, titles, s.end(Centre))
	c.put(margin+body, titles+high+1, s.end(Tip))
	x := margin
	for _, col := range all {
		c.put(x, 0, col.title)
		s.link(c, x, titles, col, high)
		x += body + col.wide + gap
	}
	return c.lines()
}

// beside is two orders alone, without their links, for a narrow space.
func (s Stack) beside(w int) []string {
	const number = 3 // columns of the place
	all := s.orders()
	if len(all) < 2 {
		return nil
	}
	left, right := all[0], all[1]
	at := columns(left.title)
	for _, l := range left.labels {
		at = max(at, columns(l))
	}
	at += number + 2
	high := max(len(left.labels), len(right.labels))
	wide := at + columns(right.title)
	for _, l := range right.labels {
		wide = max(wide, at+columns(l))
	}
	if wide > w {
		return nil
	}
	c := newCanvas(wide, 1+high, ASCII)
	c.put(number, 0, left.title)
	c.put(at, 0, right.title)
	for i := range high {
		c.put(0, 1+i, fmt.Sprintf("%2d", i+1))
	}
	for i, l := range left.labels {
		c.put(number, 1+i, l)
	}
	for i, l := range right.labels {
		c.put(at, 1+i, l)
	}
	return append(c.lines(), fold("1 is nearest the centre", w)...)
}

// end names an end of the stack.
func (s Stack) end(e End) string {
	if s.Gate == e {
		return string(e) + ", gate"
	}
	return string(e)
}

// orders gives what is drawn: both orders, one of them, or blanks.
func (s Stack) orders() []column {
	var all []column
	switch {
	case len(s.Before) > 0 && len(s.After) > 0:
		all = []column{s.column(s.said("before"), s.Before), s.column(s.read(), s.After)}
	case len(s.Before) > 0:
		all = []column{s.column(s.said("as noted"), s.Before)}
	case len(s.After) > 0:
		all = []column{s.column("after", s.After)}
	case s.Places > 0:
		all = []column{s.column("", make([]string, s.Places))}
	}
	if len(all) > 0 {
		all[0].wide = max(all[0].wide, len(s.end(Centre)), len(s.end(Tip)))
	}
	return all
}

func (s Stack) said(otherwise string) string {
	if s.Said != "" {
		return s.Said
	}
	return otherwise
}

// read is the title of the second order.
func (s Stack) read() string {
	if s.Read {
		return "as read"
	}
	return "after"
}

func (s Stack) column(title string, codes []string) column {
	off := map[string]bool{}
	for _, pair := range wing.Crossed(s.Before, s.After) {
		off[pair[0]], off[pair[1]] = true, true
	}
	c := column{title: title, codes: codes, wide: columns(title) - 4}
	for _, code := range codes {
		label := clean(code)
		switch {
		case code == "":
			label = "____"
		case code == s.InHand:
			label = "[" + label + "]"
		}
		if off[code] {
			label += " X"
		}
		c.labels = append(c.labels, label)
		c.wide = max(c.wide, columns(label))
	}
	return c
}

// link draws one link with its lines, from the line of its upper end on.
func (s Stack) link(c *canvas, x, y int, col column, high int) {
	last := y + high + 1
	for _, end := range []int{y, last} {
		c.across(x, x+2, end, light)
	}
	c.down(x, y, last, light)
	c.down(x+2, y, last, light)
	switch s.Gate {
	case Centre:
		c.put(x, y, "[#]")
	case Tip:
		c.put(x, last, "[#]")
	}
	for i, code := range col.codes {
		w := light
		if code != "" && code == s.InHand {
			w = heavy
		}
		c.across(x, x+3, y+1+i, w)
		c.put(x+4, y+1+i, col.labels[i])
	}
}

// crossed says in words which pairs changed places.
func (s Stack) crossed() string {
	pairs := wing.Crossed(s.Before, s.After)
	switch {
	case len(pairs) == 0:
		return ""
	case s.Read && wing.Mirrored(s.Before, s.After): // the side was asked for
		return "X all the other way round"
	case wing.Mirrored(s.Before, s.After):
		return "X all the other way round: perhaps seen from the other side"
	}
	words := make([]string, len(pairs))
	for i, p := range pairs {
		words[i] = clean(p[0]) + " with " + clean(p[1])
	}
	return "X crossed: " + strings.Join(words, ", ")
}

// facts says the stack in words.
func (s Stack) facts() []string {
	all := s.orders()
	if len(all) == 0 {
		return nil
	}
	if all[0].title == "" {
		return []string{fmt.Sprintf("%s: %d places, counted from the centre of the wing; write down which line is in each.", procedure.Capital(clean(s.Link)), s.Places)}
	}
	var out []string
	if len(all) == 2 && slices.Equal(all[0].codes, all[1].codes) {
		out = []string{s.row(all[0].title+" and "+all[1].title, all[0].codes)}
	} else {
		for _, c := range all {
			out = append(out, s.row(c.title, c.codes))
		}
	}
	if text := s.crossed(); text != "" {
		out = append(out, procedure.Capital(text[len("X "):])+".")
	} else if len(all) == 2 {
		out = append(out, "No pair is crossed.")
	}
	return out
}

// row says an order on one line, for somebody who keeps it in mind: "As noted,
// from the centre outward: C1.1, C1.2, C1.3. The gate is beside C1.3."
func (s Stack) row(title string, codes []string) string {
	text := fmt.Sprintf("%s, from the centre outward: %s.", procedure.Capital(title), cleaned(codes, ", "))
	switch n := len(codes); {
	case n == 0:
	case s.Gate == Centre:
		text += " The gate is beside " + clean(codes[0]) + "."
	case s.Gate == Tip:
		text += " The gate is beside " + clean(codes[n-1]) + "."
	}
	return text
}

var ordinals = []string{"first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth"}

func ordinal(n int) string {
	if n >= 1 && n <= len(ordinals) {
		return ordinals[n-1]
	}
	return "number " + strconv.Itoa(n)
}
