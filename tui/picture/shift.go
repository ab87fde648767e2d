package picture

import (
	"slices"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

// knotSubject is the knot while it is tied, else the way that it goes: of this
// move if the card shows it, or both ways, to be compared with what is seen.
func knotSubject(card job.Card, plan *wing.Plan) *subject {
	m := moveOf(card, plan)
	tie := !slices.ContainsFunc(card.Fields, func(f job.Field) bool { return f.Kind != procedure.Do })
	switch {
	case tie || m.shown() && m.Found == m.New:
		t := m.tail()
		if plan != nil && plan.Brake != nil {
			t.Least = plan.Brake.LeastTail.Length
		}
		return &subject{
			func(w, h int, signs Signs) []string { return Bowline(t, w, h, signs) },
			func() []string { return bowlineFacts(t) },
		}
	case m.shown():
		return &subject{
			func(w, h int, signs Signs) []string { return Pulleys(m, w, h, signs) },
			m.facts,
		}
	}
	return &subject{
		func(w, h int, signs Signs) []string { return Shift(m, w, h, signs) },
		m.shiftFacts,
	}
}

// tail gives what will be left beyond the knot of this move, if it is known.
func (m Move) tail() Tail {
	switch {
	case !m.HasTail || !m.shown():
	case m.New == m.Found:
		return Tail{After: m.Tail}
	case m.Distance > 0:
		return Tail{After: max(0, m.left(m.New > m.Found)), Short: m.short(m.New > m.Found)}
	}
	return Tail{}
}

// short reports whether the line is too short for the pulley to go that way: a
// tail less than a knot needs is none.
func (m Move) short(down bool) bool {
	return m.HasTail && m.Distance > 0 && m.left(down) < m.Least
}

// left gives what is left of the tail where the pulley goes down, or up.
func (m Move) left(down bool) quantity.Length {
	if down {
		return m.Tail - m.Distance
	}
	return m.Tail + m.Distance
}

// Shift draws both ways that a brake knot can go, for the look that proves the
// direction: old mark between pulley and knot, or in the tail. The old marks
// stand side by side, and distances in true proportion as far as they are known.
func Shift(m Move, w, h int, signs Signs) []string {
	for i, words := range [][2][]string{
		{{"PULLEY LOWER:", "the mark lies", "above the knot"}, {"PULLEY HIGHER:", "the mark lies", "in the tail"}},
		{{"LOWER:", "mark above", "the knot"}, {"HIGHER:", "mark in", "the tail"}},
	} {
		for rows := 4; rows > 0; rows-- {
			if out := pile(w, h, nil, m.drawShift(rows, words, i == 0, w, signs), note(w)); out != nil {
				return out
			}
		}
	}
	return nil
}

// drawShift draws the two ways side by side, the knot going so many lines; nil
// if they are too wide.
func (m Move) drawShift(rows int, words [2][]string, tails bool, w int, signs Signs) []string {
	const gap = 3
	ways := [2]brakeLine{m.oneWay(rows, true, tails), m.oneWay(rows, false, tails)}
	sheet := -gap
	for i := range ways {
		ways[i].wide = widest(words[i])
		for _, s := range ways[i].signs {
			ways[i].wide = max(ways[i].wide, 2+columns(s.text))
		}
		sheet += ways[i].wide + gap
	}
	if sheet > w {
		return nil
	}
	end := ways[0].end
	c := newCanvas(sheet, end+1+len(words[0]), signs)
	x := 0
	for i, b := range ways {
		b.draw(c, x)
		for y, text := range words[i] {
			c.put(x, end+1+y, text)
		}
		x += b.wide + gap
	}
	return c.lines()
}

// oneWay lays out the brake line of a pulley that goes down, or up, the knot
// going so many lines. tails says whether what is left of the tail is written.
func (m Move) oneWay(rows int, down, tails bool) brakeLine {
	const above = 1
	b := brakeLine{old: above + rows, knot: above}
	if down {
		b.knot = b.old + rows
	}
	b.end = b.old + 2*rows
	if m.HasTail && m.Distance > 0 {
		b.end = b.old + proportion(m.Tail, m.Distance, rows)
		if most := b.old + 3*rows; b.end > most {
			b.end = most
			b.signs = []sign{{most - 1, ":", ""}}
		}
	}
	b.end = max(b.end, b.old+rows+1)
	end := "tail"
	if tails {
		end = m.endShort(down)
	}
	b.signs = append(b.signs, sign{0, "", "pulley"}, sign{b.old, "x", "old mark"}, sign{b.knot, "O", "new knot"}, sign{b.end, "'", end})
	if m.Distance > 0 && rows > 1 {
		b.signs = append(b.signs, sign{(b.old + b.knot) / 2, "", m.Distance.String()})
	}
	return b
}

// proportion gives how many lines a length takes where another one takes so many.
func proportion(length, of quantity.Length, rows int) int {
	return int((int64(length)*int64(rows) + int64(of)/2) / int64(of))
}

// endShort is endWords where there is little room.
func (m Move) endShort(down bool) string {
	if m.short(down) {
		return "too short"
	}
	return m.endWords(down)
}

// endWords say what is left of the tail.
func (m Move) endWords(down bool) string {
	if !m.HasTail || m.Distance <= 0 {
		return "tail"
	}
	if m.short(down) {
		return "the line ends here: too short"
	}
	return "tail " + m.left(down).String()
}

func (m Move) shiftFacts() []string {
	by := ""
	if m.Distance > 0 {
		by = " by " + m.Distance.String()
	}
	then := func(down bool) string {
		if m.HasTail && m.Distance > 0 {
			return " Then: " + m.endWords(down) + "."
		}
		return ""
	}
	return []string{
		"Pulley lower: the knot goes" + by + " toward the tail, the old mark then lies between pulley and knot." + then(true),
		"Pulley higher: the knot goes" + by + " away from the tail, the old mark then lies in the tail." + then(false),
	}
}
