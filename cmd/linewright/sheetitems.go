package main

import (
	"regexp"
	"slices"
	"strings"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

// item is one step on the sheet.
type item struct {
	key   string
	phase heading
	card  heading // items with the same key share a card
	only  string  // the step's own condition in words; "" where it always holds
	c     *procedure.Card
	s     *procedure.Step
	say   func(procedure.Text) string
	slot  *procedure.Slot // nil on a sheet without target
}

// heading is what stands above several steps.
type heading struct{ key, title, only string }

// stepJSON is a step as --json prints it.
type stepJSON struct {
	Key    string `json:"key"`
	Phase  string `json:"phase"`
	Action string `json:"action"`
	Ask    string `json:"ask,omitempty"`
	Kind   string `json:"kind"`
}

func steps(items []item) []stepJSON {
	out := make([]stepJSON, len(items))
	for i, it := range items {
		out[i] = stepJSON{it.key, it.phase.title, it.say(it.c.Action), it.say(it.s.Ask), string(it.s.Kind)}
	}
	return out
}

const blank = "______"

var inBraces = regexp.MustCompile(`\{[^{}]*\}`)

// blankItems lists the steps of a procedure and of what it includes, with a
// blank for everything that plan and target would say.
func blankItems(p *procedure.Procedure) []item {
	return gather{parts: p.Parts()}.from(p, "", nil, "")
}

// gather walks procedures for the sheet.
type gather struct{ parts []*procedure.Procedure }

// from lists the steps of p; given holds the params that its include binds, and
// outer what the include itself is bound to.
func (g gather) from(p *procedure.Procedure, prefix string, given map[string]string, outer string) []item {
	var out []item
	for i := range p.Phases {
		ph := &p.Phases[i]
		never, only := condition(p, ph.When, ph.Only, given)
		if never {
			continue
		}
		only = and(outer, only)
		if ph.Include != "" {
			at := slices.IndexFunc(g.parts, func(q *procedure.Procedure) bool { return q.ID == ph.Include })
			out = append(out, g.from(g.parts[at], prefix+ph.ID+".", ph.With, only)...)
			continue
		}
		h := heading{prefix + ph.ID, ph.Title.In("en") + each(ph.Each), only}
		for j := range ph.Cards {
			out = append(out, cardItems(p, &ph.Cards[j], h, prefix, given)...)
		}
	}
	return out
}

func cardItems(p *procedure.Procedure, c *procedure.Card, ph heading, prefix string, given map[string]string) []item {
	var out []item
	never, only := condition(p, c.When, c.Only, given)
	for k := range c.Steps {
		s := &c.Steps[k]
		gone, own := condition(p, s.When, s.Only, given)
		if never || gone {
			continue
		}
		say := func(t procedure.Text) string { return inBraces.ReplaceAllString(t.In("en"), blank) }
		out = append(out, item{
			key: prefix + s.ID, phase: ph, card: heading{ph.key + "/" + c.ID, say(c.Action) + each(c.Each), only}, only: own, c: c, s: s, say: say,
		})
	}
	return out
}

// condition gives a condition in words. What only asks whether a param is given
// is settled here: the part is never done, or needs no words.
func condition(p *procedure.Procedure, when string, words procedure.Text, given map[string]string) (never bool, only string) {
	open := false
	for _, part := range strings.Split(when, "&&") {
		name, negated := strings.CutPrefix(strings.TrimSpace(part), "!")
		name, isHas := strings.CutPrefix(name, "has(")
		name, isHas2 := strings.CutSuffix(name, ")")
		if !isHas || !isHas2 || !isParam(p, name) {
			open = true
			continue
		}
		if _, has := given[name]; has == negated {
			return true, ""
		}
	}
	if !open {
		return false, ""
	}
	return false, words.In("en")
}

func isParam(p *procedure.Procedure, name string) bool {
	return slices.ContainsFunc(p.Params, func(q procedure.Param) bool { return q.Name == name })
}

func and(one, other string) string {
	if one == "" || other == "" {
		return one + other
	}
	return one + "; " + other
}

func each(e procedure.Each) string {
	switch e {
	case procedure.EachSide:
		return ", once for each side"
	case procedure.EachLine:
		return ", once for each line of the link"
	case procedure.EachNeighbour:
		return ", once for each other line of the link"
	case procedure.EachJoint, procedure.EachRefit:
		return ", once for each joint"
	}
	return ""
}

// nothing answers no step.
type nothing struct{}

func (nothing) Answer(string) (any, bool) { return nil, false }

// filledItems lists the steps as they are laid out over a target.
func filledItems(p *procedure.Procedure, plan *wing.Plan, target wing.Ref) ([]item, error) {
	u, err := procedure.Unfold(p, plan, target)
	if err != nil {
		return nil, err
	}
	offered := map[string]item{}
	for _, it := range blankItems(p) {
		offered[it.key] = it
	}
	var out []item
	for _, slot := range u.Slots {
		base, _, _ := strings.Cut(slot.Key, "@")
		it, ok := offered[base]
		if !ok {
			continue
		}
		it.say = func(t procedure.Text) string {
			return strings.ReplaceAll(slot.Say(t, "en", nothing{}), "(not known)", blank)
		}
		mark := u.Phases[slot.Phase]
		it.key, it.slot = slot.Key, slot
		it.phase.title = strings.TrimSpace(mark.Title.In("en") + " " + string(mark.Side))
		it.card.key, it.card.title = slot.CardKey, it.say(it.c.Action)
		if skip, err := slot.Skipped(nothing{}); err == nil && !skip {
			it.phase.only, it.card.only, it.only = "", "", "" // plan and target settle it
		}
		out = append(out, it)
	}
	return out, nil
}

// options are those that the target leaves.
func (it item) options() []*procedure.Option {
	if it.slot != nil {
		return it.slot.Offered(nothing{})
	}
	var out []*procedure.Option
	for i := range it.s.Options {
		out = append(out, &it.s.Options[i])
	}
	return out
}

// number gives a value that rests on plan and target alone, else a blank.
func (it item) number(of func(*procedure.Slot, procedure.Values) (float64, bool, error)) string {
	if it.slot != nil {
		if v, ok, err := of(it.slot, nothing{}); ok && err == nil {
			return procedure.Print(v) + " " + quantity.Kind(it.s.Quantity).Unit()
		}
	}
	return blank
}
