package procedure

import (
	"fmt"
	"slices"
	"strings"
)

func (c *checker) phase(i int) {
	ph := &c.p.Phases[i]
	key := fmt.Sprintf("phase[%d]", i)
	c.id(key+".id", ph.ID)
	pl := &place{at: &located{Step: &Step{}, phase: i}, each: ph.Each, hidden: ph.Hidden}
	if ph.Each != Once && ph.Each != EachSide {
		c.add(key+".each", fmt.Sprintf("a phase cannot be repeated over %q", ph.Each), `write each = "side", or take it out`)
	}
	ph.when = c.when(key, ph.When, pl)
	c.text(key+".only", ph.Only, false, pl)
	pl = pl.under(ph.When)
	if ph.Include != "" {
		c.include(key, ph, pl)
		return
	}
	c.bare(key+".title", ph.Title, true)
	if len(ph.With) > 0 {
		c.add(key+".with", "only an include hands values over", "take with out")
	}
	if ph.Twin {
		c.add(key+".twin", "only an include is about the other side", "take twin out, or write each = \"side\"")
	}
	if ph.Covers != "" {
		c.add(key+".covers", "only an include says what its holds cover", "write covers at the sign step")
	}
	if len(ph.Cards) == 0 {
		c.add(key, "the phase has no card", "write at least one [[phase.card]]")
	}
	for j := range ph.Cards {
		c.card(fmt.Sprintf("%s.card[%d]", key, j), i, j, pl)
	}
}

func (c *checker) include(key string, ph *Phase, pl *place) {
	part := c.p.parts[ph.Include]
	if part == nil {
		return // said by join
	}
	if len(part.doc.Faults) > 0 {
		c.add(key+".include", fmt.Sprintf("%s has faults of its own", part.ID), "mend them first")
	}
	if len(ph.Cards) > 0 || ph.Each != Once || ph.Hidden {
		c.add(key, "an include has no cards, no repetition and no cover of its own", "move the cards to another phase")
	}
	if slices.Contains(targets, c.p.Target) && part.Target != c.p.Target && (part.Target != "link" || c.p.Target != "line") {
		c.add(key+".include", fmt.Sprintf("%s works on a %s, this procedure on a %s", part.ID, part.Target, c.p.Target), "include one for the same target")
	}
	if ph.Twin && !c.p.Pair {
		c.add(key+".twin", "only a pair has work on both sides", "take twin out, or write pair = true in the head")
	}
	c.covers(key, ph.Covers, pl)
	c.with(key, ph, part, pl)
}

// with checks the values that an include hands over to the params of part.
func (c *checker) with(key string, ph *Phase, part *Procedure, pl *place) {
	ph.with = map[string]*Expr{}
	for _, name := range sortedKeys(ph.With) {
		at := key + ".with." + name
		i := slices.IndexFunc(part.Params, func(q Param) bool { return q.Name == name })
		if i < 0 {
			c.add(at, fmt.Sprintf("%s has no param %q", part.ID, name), "take it out")
			continue
		}
		where := pl
		if part.Params[i].Optional {
			where = &place{} // may be absent: no proof is needed that it is there
		}
		e := c.expr(at, ph.With[name], "", where)
		if e != nil && e.Result != Type(part.Params[i].Type) {
			c.add(at, fmt.Sprintf("this gives a %s, wanted is a %s", e.Result, part.Params[i].Type), "hand over a value of that type")
		}
		ph.with[name] = e
	}
	for _, q := range part.Params {
		if _, ok := ph.With[q.Name]; !ok && !q.Optional {
			c.add(key, fmt.Sprintf("%s needs the param %q", part.ID, q.Name), "add with."+q.Name)
		}
	}
}

// covers checks where a hold sends the work back to.
func (c *checker) covers(key, name string, pl *place) {
	if name == "" {
		return
	}
	var ok bool
	if include, inner, dotted := strings.Cut(name, "."); dotted {
		i := slices.IndexFunc(c.p.Phases[:pl.at.phase], func(ph Phase) bool { return ph.Include != "" && ph.ID == include })
		ok = i >= 0 && c.p.parts[c.p.Phases[i].Include] != nil && c.p.parts[c.p.Phases[i].Include].stepByID(inner) != nil
	} else {
		step := c.p.stepByID(name)
		ok = step != nil && step.earlier(pl.at)
	}
	if !ok {
		c.add(key+".covers", fmt.Sprintf("%q is not an earlier step", name), "name the step from which the work is done again")
	}
}

// pictures are the names that a card's picture may have; others draw them.
var pictures = []string{"", "fan", "stack", "scale", "hitch", "knot", "pulleys", "gate", "survey", "lengths", "trim"}

func (c *checker) card(key string, i, j int, outer *place) {
	card := &c.p.Phases[i].Cards[j]
	c.cardID(key, i, j)
	c.each(key, outer.each, card.Each)
	pl := *outer
	pl.at, pl.each = &located{Step: &Step{}, phase: i, card: j}, firstEach(outer.each, card.Each)
	card.when = c.when(key, card.When, &pl)
	c.text(key+".only", card.Only, false, &pl)
	inside := pl.under(card.When)
	c.text(key+".action", card.Action, true, inside)
	c.text(key+".detail", card.Detail, false, inside)
	c.text(key+".caution", card.Caution, false, inside)
	c.text(key+".reason", card.Reason, true, inside)
	if card.By != "" && card.By != Second {
		c.add(key+".by", fmt.Sprintf("%q cannot answer a card", card.By), `write by = "second", or take it out`)
	}
	if !slices.Contains(pictures, card.Picture) {
		c.add(key+".picture", fmt.Sprintf("there is no picture %q", card.Picture), "write one of: "+strings.Join(pictures[1:], ", "))
	}
	c.tabled(key, card, inside)
	// What a picture shows may be absent: no proof is asked for.
	card.show = map[string]*Expr{}
	for _, name := range sortedKeys(card.Show) {
		card.show[name] = c.expr(key+".show."+name, card.Show[name], "", &place{each: pl.each})
	}
	if len(card.Steps) == 0 {
		c.add(key, "the card has no step", "write at least one [[phase.card.step]]")
	}
	for k := range card.Steps {
		c.step(fmt.Sprintf("%s.step[%d]", key, k), &located{&card.Steps[k], i, j, k, firstEach(inside.each, card.Steps[k].Each)}, inside)
	}
}

// cardID checks that a card can be told from the others of its phase.
func (c *checker) cardID(key string, i, j int) {
	cards := c.p.Phases[i].Cards
	id := cards[j].ID
	if !idForm().MatchString(id) {
		c.add(key+".id", fmt.Sprintf("%q is no id", id), cureID)
	}
	if slices.ContainsFunc(cards[:j], func(other Card) bool { return other.ID == id }) {
		c.add(key+".id", fmt.Sprintf("the card %q stands twice in this phase", id), "give each card of a phase an id of its own")
	}
}

func (c *checker) each(key string, outer, own Each) {
	if !slices.Contains([]Each{Once, EachSide, EachLine, EachJoint, EachRefit, EachNeighbour, EachRow, EachRowSide}, own) {
		c.add(key+".each", fmt.Sprintf("%q cannot be repeated over", own), `write "side", "line", "joint", "refit", "neighbours", "row" or "row side"`)
	}
	if outer != Once && own != Once {
		c.add(key+".each", "this is repeated already", "repeat at one level only")
	}
}
