package picture

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.org/linewright/engine/wing"
)

// Gate is the closure of a link: how its nut looks, and how often it turned.
type Gate struct {
	Link   string // "link C left"; empty while the target is covered
	Soft   bool
	Counts []TurnCount
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

var softForm = []frame{{frames["link.soft"], []string{"RIGHT", "the loop closes", "behind the knob"}}}

// Draw draws the right look of the gate beside the wrong ones, over a ruler
// with the turns that are known.
func (g Gate) Draw(w, h int, signs Signs) []string {
	forms := gateForms
	if g.Soft {
		forms = softForm
	}
	looks := strip(forms, w, signs)
	head := fold(g.head(), w)
	return firstOf(
		pile(w, h, head, looks, g.ruler(w, signs), note(w)),
		pile(w, h, head, looks, g.said(w), note(w)),
		pile(w, h, nil, looks, g.said(w), note(w)),
	)
}

func (g Gate) head() string {
	if g.Soft {
		return strings.TrimSpace(clean(g.Link) + ": the knob")
	}
	if g.Link == "" {
		return "The nut from its side: look at both ends"
	}
	return clean(g.Link) + ", nut from its side: look at both ends"
}

// ruler marks each count on a row of turns; nil without counts, or where the
// turns do not fit.
func (g Gate) ruler(w int, signs Signs) []string {
	most, said := 0.0, 0
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
		c.put(x+int(math.Round(t.Turns*float64(step))), 1+i, "^")
	}
	return c.lines()
}

func (t TurnCount) text() string {
	return clean(t.Said) + " " + strconv.FormatFloat(math.Round(t.Turns*100)/100, 'f', -1, 64)
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
		return []string{"Right: the loop closes behind the knob, every pass flat.", sketchNote}
	}
	out := []string{
		"Right: the nut shows no thread and no gap, at either end.",
		"Wrong: thread shows at one end, or there is a gap at one end. A nut driven past its end shows no thread either: look at both ends.",
	}
	for _, t := range g.Counts {
		out = append(out, fmt.Sprintf("Turns %s.", t.text()))
	}
	return append(out, sketchNote)
}

// planned gives the turns by the plan's thread and pitch.
func planned(l wing.Link) []TurnCount {
	n, ok := l.Turns()
	if !ok {
		return nil
	}
	return []TurnCount{{"by the plan", n}}
}
