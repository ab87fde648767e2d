package picture

import (
	"fmt"
	"strings"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
)

// words draws what row, joint, place and tab mean, while the target has to be
// found out. It is of no line in particular.
func words(w, h int, signs Signs) []string {
	drawing, few := strip([]frame{{rows: frames["fan.words"]}}, w, signs), strip([]frame{{rows: frames["fan.few"]}}, w, signs)
	said := fold("An example, drawn for a left side: count from the centre, joints from the link.", w)
	return firstOf(
		pile(w, h, nil, drawing, said),
		pile(w, h, nil, drawing),
		pile(w, h, nil, few, said),
		pile(w, h, nil, few, fold("an example", w)),
	)
}

func wordsFacts() []string {
	return []string{
		"Places and tabs count from the centre of the wing, joints from the link up.",
		"Lower lines hang on a link, middle and upper ones in the joint below them.",
		"Left and right are as the pilot sits.",
	}
}

// FanFacts says in words what Fan shows: where each line in hand hangs, what
// it carries and what is marked.
func FanFacts(plan *wing.Plan, side wing.Side, marked map[string]Mark) []string {
	f := forestOf(plan)
	if len(f.rows) == 0 || side.Other() == "" {
		return nil
	}
	var inHand []*node
	for _, r := range f.rows {
		for _, n := range r.nodes {
			if marked[n.line.Code]&InHand != 0 {
				inHand = append(inHand, n)
			}
		}
	}
	var out []string
	for _, n := range inHand {
		out = append(out, f.lineFact(plan, n, side))
	}
	switch len(inHand) {
	case 0:
		names := make([]string, len(f.rows))
		for i, r := range f.rows {
			names[i] = clean(r.name)
		}
		out = append(out, fmt.Sprintf("Rows of the %s side: %s.", side, strings.Join(names, ", ")))
	case 1:
		out = append(out, besideFacts(plan, inHand[0], side)...)
	}
	return append(out, f.markFacts(marked)...)
}

func (f *forest) lineFact(plan *wing.Plan, n *node, side wing.Side) string {
	text := fmt.Sprintf("%s %s is %s", n.code, side, f.where(plan, n))
	if above := codes(plan.Carries(n.line.Code)); len(above) > 0 {
		text += "; it carries " + listed(above)
	} else if n.line.Point != "" {
		text += "; it ends at tab " + clean(n.line.Point)
	}
	return text + "."
}

func besideFacts(plan *wing.Plan, n *node, side wing.Side) []string {
	code := n.code
	var out []string
	if beside := codes(plan.Neighbours(n.line.Code)); len(beside) > 0 {
		out = append(out, fmt.Sprintf("Beside %s: %s.", code, listed(beside)))
	}
	return append(out, fmt.Sprintf("Its twin is %s %s.", code, side.Other()))
}

// where says what a line hangs on and its place there.
func (f *forest) where(plan *wing.Plan, n *node) string {
	on := n.line.On
	place := ""
	switch {
	case n.parent == nil && len(f.feet[on]) == 1:
		place = "alone "
	case n.line.Pos > 0:
		place = ordinal(n.line.Pos) + " from the centre "
	}
	switch on.Kind {
	case wing.OnLink:
		return place + "on link " + clean(on.Name)
	case wing.OnRiser:
		return place + "on the tab of riser " + clean(on.Name)
	case wing.OnHandle:
		return place + "on the brake handle"
	}
	text := place + "in the joint of " + clean(on.Name)
	if link, ok := plan.LinkOf(n.line.Code); ok {
		text += ", " + joints(n.depth) + " above link " + clean(link.Name)
	}
	return text
}

func joints(n int) string {
	if n == 1 {
		return "one joint"
	}
	return fmt.Sprintf("%d joints", n)
}

// markFacts lists the marked lines, mark by mark.
func (f *forest) markFacts(marked map[string]Mark) []string {
	var out []string
	for _, s := range markSigns {
		var all []string
		for _, r := range f.rows {
			for _, n := range r.nodes {
				if marked[n.line.Code]&s.mark != 0 {
					all = append(all, n.code)
				}
			}
		}
		if len(all) > 0 {
			out = append(out, procedure.Capital(s.word)+": "+listed(all)+".")
		}
	}
	return out
}

// listed joins names as a sentence does: "A, B and C".
func listed(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}
