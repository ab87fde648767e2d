package picture

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

// Gate is the closure of a link: how its nut looks, and how often it turned.
type Gate struct {
	Link   string // "link C left"; empty while the target is covered
	Soft   bool
	Counts []TurnCount
	Thread quantity.Length // that the closed nut covers by the plan; 0 is not known
	Pitch  quantity.Length // its advance in one turn
}

// gateOf gathers what a card knows of a gate. The plan's turns and its thread
// are not shown beside a field that still asks for a count.
func gateOf(card job.Card, plan *wing.Plan) Gate {
	g := Gate{}
	asked := false
	for _, f := range card.Fields {
		if f.Kind != procedure.Count {
			continue
		}
		asked = asked || f.State != job.Ready
		if n, ok := turnsIn(f.Answer); ok && f.State == job.Ready {
			g.Counts = append(g.Counts, TurnCount{"counted", n})
		}
	}
	link, ok := linkOf(card.Ref, plan)
	if !ok {
		g.Soft = card.Ref.Kind == wing.KindWing && onlySoft(plan)
		return g
	}
	g.Link, g.Soft = linkName(link, card.Ref.Side), link.Kind == wing.Soft
	if n, ok := link.Turns(); ok && !asked {
		g.Counts = append(g.Counts, TurnCount{"by the plan", n})
		g.Thread, g.Pitch = link.Thread, link.Pitch
	}
	return g
}

// onlySoft reports whether a wing has no other links than soft ones.
func onlySoft(plan *wing.Plan) bool {
	return plan != nil && len(plan.Links) > 0 && !slices.ContainsFunc(plan.Links, func(l wing.Link) bool { return l.Kind != wing.Soft })
}

// turns gives how many turns cover the thread; 0 is not known.
func (g Gate) turns() float64 {
	n, _ := wing.Link{Thread: g.Thread, Pitch: g.Pitch}.Turns()
	return n
}

// TurnCount is one number of turns and where it comes from.
type TurnCount struct {
	Said  string // "counted", "by the plan"
	Turns float64
}

// gateForms are the looks of a nut from its side. Common practice, no source.
var gateForms = []frame{
	{frames["link.right"], []string{"RIGHT", "no thread,", "no gap"}},
	{frames["link.thread"], []string{"WRONG", "thread", "at one end"}},
	{frames["link.gap"], []string{"WRONG", "a gap at", "one end"}},
}

// gateShort are the same looks, with a word each.
var gateShort = []frame{
	{frames["link.right"], []string{"RIGHT"}},
	{frames["link.thread"], []string{"x thread"}},
	{frames["link.gap"], []string{"x a gap"}},
}

var gateWords = []string{"RIGHT", "WRONG: thread", "WRONG: a gap"}

var softForm = []frame{{frames["link.soft"], []string{"RIGHT", "the loop closes", "behind the knob"}}}

// Draw draws the right look of the gate beside the wrong ones, over a ruler
// with the turns that are known.
func (g Gate) Draw(w, h int, signs Signs) []string {
	forms, short, words := gateForms, strip(gateShort, w, signs), g.listed(false, signs)
	if g.Soft {
		forms, words = softForm, beside(frame{rows: softForm[0].rows}, []string{"RIGHT: the loop behind the knob"}, w, signs)
		short = words
	}
	looks := strip(forms, w, signs)
	head := fold(g.head(), w)
	return firstOf(
		pile(w, h, head, looks, g.ruler(w, signs), note(w)),
		pile(w, h, head, looks, g.said(w), note(w)),
		pile(w, h, nil, looks, g.said(w), note(w)),
		pile(w, h, head, words, g.said(w), note(w)),
		pile(w, h, nil, short, g.said(w), note(w)),
		pile(w, h, nil, words, g.said(w), note(w)),
		pile(w, h, nil, g.listed(true, signs), g.said(w), note(w)),
		pile(w, h, nil, g.listed(true, signs), note(w)),
	)
}

// listed draws the sides of the nut one below the other, each with its words:
// on the link, or bare.
func (g Gate) listed(bare bool, signs Signs) []string {
	if g.Soft {
		return nil
	}
	var rows []string
	if !bare {
		rows = append(rows, gateForms[0].rows[:2]...)
	}
	above := len(rows)
	for _, f := range gateForms {
		rows = append(rows, f.rows[2])
	}
	x := widest(rows) + 1
	c := newCanvas(x+widest(gateWords), len(rows), signs)
	c.artwork(0, 0, rows)
	for i, text := range gateWords {
		c.put(x, above+i, text)
	}
	return c.lines()
}

func (g Gate) head() string {
	switch {
	case g.Soft && g.Link == "":
		return "The knob of a soft link"
	case g.Soft:
		return clean(g.Link) + ": the knob"
	case g.Link == "":
		return "The nut, both ends"
	}
	return clean(g.Link) + ": its nut, both ends"
}

// ruler draws under a row of turns how far each count brings the nut over the
// thread, and what of the thread stays bare; in words where the turns do not fit.
func (g Gate) ruler(w int, signs Signs) []string {
	most, said := g.turns(), 0
	for _, t := range g.Counts {
		most, said = max(most, t.Turns), max(said, len(t.text()))
	}
	ticks := int(math.Ceil(most))
	if len(g.Counts) == 0 || ticks < 1 || ticks > 30 {
		return g.said(w)
	}
	step := min(4, (w-said-3)/ticks)
	if step < 2 {
		return g.said(w)
	}
	x := said + 1
	c := newCanvas(x+ticks*step+3, 1+len(g.Counts), signs)
	c.put(0, 0, "turns")
	c.across(x, x+ticks*step, 0, light)
	for i := 0; i <= ticks; i++ {
		if i%max(1, 4/step) == 0 || i == ticks {
			c.put(x+i*step, 0, strconv.Itoa(i))
		}
	}
	for i, t := range g.Counts {
		c.put(0, 1+i, t.text())
		c.put(x, 1+i, g.bar(t.Turns, step))
	}
	return append(c.lines(), foldParts(g.legend(), "  ", w)...)
}

// bar is the thread from the side: covered by the nut, bare, or turned past its
// end. A count that is not the whole thread never looks like it.
func (g Gate) bar(turns float64, step int) string {
	n := int(math.Round(turns * float64(step)))
	if g.turns() == 0 {
		return strings.Repeat("#", n)
	}
	whole := int(math.Round(g.turns() * float64(step)))
	switch {
	case turns < g.turns():
		n = min(n, whole-1)
		return strings.Repeat("#", n) + strings.Repeat("/", whole-n)
	case turns > g.turns():
		return strings.Repeat("#", whole) + strings.Repeat("!", max(1, n-whole))
	}
	return strings.Repeat("#", whole)
}

// legend explains the bars.
func (g Gate) legend() []string {
	parts := []string{"# thread covered"}
	if g.turns() == 0 {
		return parts
	}
	if slices.ContainsFunc(g.Counts, func(t TurnCount) bool { return t.Turns < g.turns() }) {
		parts = append(parts, "/ bare")
	}
	if slices.ContainsFunc(g.Counts, func(t TurnCount) bool { return t.Turns > g.turns() }) {
		parts = append(parts, "! past it")
	}
	return parts
}

func (t TurnCount) text() string {
	return clean(t.Said) + " " + t.number()
}

// number is the count, to a hundredth of a turn.
func (t TurnCount) number() string {
	return strconv.FormatFloat(math.Round(t.Turns*100)/100, 'f', -1, 64)
}

// said gives the counts in words.
func (g Gate) said(w int) []string {
	if len(g.Counts) == 0 {
		return nil
	}
	texts := make([]string, len(g.Counts))
	for i, t := range g.Counts {
		texts[i] = t.text()
	}
	return fold("Turns: "+strings.Join(texts, ", "), w)
}

func (g Gate) facts() []string {
	if g.Soft {
		return []string{"Good: the loop closes behind the knob, every pass flat."}
	}
	out := []string{
		"Good: the nut shows no thread and no gap, at either end.",
		"Faults: thread shows at one end, or there is a gap at one end. A nut driven past its end shows no thread either: look at both ends.",
	}
	for _, t := range g.Counts {
		text := procedure.Capital(clean(t.Said)) + ": " + t.number() + " turns"
		if g.Pitch > 0 {
			text += fmt.Sprintf(", %s of %s of thread covered", tenths(min(t.Turns*g.Pitch.MM(), g.Thread.MM())), g.Thread)
		}
		if n := g.turns(); n > 0 && t.Turns > n {
			text += ", turned past its end"
		}
		out = append(out, text+".")
	}
	return out
}
