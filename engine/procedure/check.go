package procedure

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
)

// A procedure is proved before it is used: every id, every reference, every
// expression and its types; and that each value an expression reads belongs
// to an earlier step under no stricter `when`, or is guarded by has(name).

var idForm = regexp.MustCompile(`^[a-z][a-z0-9_]*$`)
var procForm = regexp.MustCompile(`^[a-z][a-z0-9-]*$`)

const (
	cureID   = "use small letters, digits and _, starting with a letter"
	cureName = "name an earlier step, a let above, a param or a fact; or guard it with has(name)"
)

// checker walks one procedure and notes faults at the keys where they stand.
type checker struct {
	p   *Procedure
	ids map[string]bool
}

func (p *Procedure) check() {
	c := &checker{p: p, ids: map[string]bool{}}
	c.head()
	c.names()
	for i := range p.Phases {
		c.phase(i)
	}
	if len(p.Phases) == 0 {
		c.add("phase", "there is no phase", "write at least one [[phase]]")
	}
}

func (c *checker) add(key, what, cure string) { c.p.doc.Add(key, what, cure) }

func (c *checker) head() {
	p := c.p
	if !procForm.MatchString(p.ID) {
		c.add("id", fmt.Sprintf("%q is no id", p.ID), "use small letters, digits and -, starting with a letter")
	}
	if p.Edition == "" {
		c.add("edition", "the edition is missing", `write edition = "1"; changing a step's id makes a new edition`)
	}
	if !slices.Contains([]string{"line", "link", "brakes"}, p.Target) {
		c.add("target", fmt.Sprintf("%q is no target", p.Target), `write "line", "link" or "brakes"`)
	}
	if p.Pair && p.Target != "brakes" {
		c.add("pair", "only brakes are a pair", `take pair out, or write target = "brakes"`)
	}
	c.text("title", p.Title, true, nil)
	c.text("purpose", p.Purpose, false, nil)
}

// names checks params, lets and bars, and gives lets their types.
func (c *checker) names() {
	for i, q := range c.p.Params {
		key := fmt.Sprintf("param[%d]", i)
		c.id(key+".name", q.Name)
		if !slices.Contains([]Type{Number, Word, List}, Type(q.Type)) {
			c.add(key+".type", fmt.Sprintf("%q is no type", q.Type), `write "number", "text" or "list"`)
		}
	}
	for i := range c.p.Lets {
		l := &c.p.Lets[i]
		key := fmt.Sprintf("let[%d]", i)
		if l.Each != Once && l.Each != EachSide {
			c.add(key+".each", fmt.Sprintf("a let cannot be repeated over %q", l.Each), `write each = "side", or take it out`)
		}
		if l.expr = c.expr(key+".is", l.Is, "", l.Each, nil); l.expr != nil {
			l.typ = l.expr.Result
		}
		c.id(key+".name", l.Name)
	}
	for i := range c.p.Bars {
		b := &c.p.Bars[i]
		key := fmt.Sprintf("bar[%d]", i)
		b.expr = c.expr(key+".when", b.When, Truth, Once, nil)
		if b.expr == nil {
			continue
		}
		for _, n := range b.expr.reads() {
			if _, ok := factTypes[n]; !ok {
				c.add(key+".when", fmt.Sprintf("%q is not a fact of plan and target", n), "a bar is judged before the first step: use facts only")
			}
		}
		c.factUses(key+".when", b.expr)
		c.text(key+".say", b.Say, true, nil)
		c.text(key+".instead", b.Instead, true, nil)
	}
}

// id checks the form of a name and that it is the only one.
func (c *checker) id(key, id string) {
	switch {
	case !idForm.MatchString(id):
		c.add(key, fmt.Sprintf("%q is no id", id), cureID)
	case c.ids[id]:
		c.add(key, fmt.Sprintf("%q is used twice", id), "give every step, let, param and include a name of its own")
	case slices.Contains([]string{"left", "right", "twin", "here", "value", "seen", "line", "link", "brake", "limits", "plan", "side"}, id):
		c.add(key, fmt.Sprintf("%q has a meaning of its own", id), "choose another name")
	}
	c.ids[id] = true
}

// place is where an expression stands, as far as the lint has to know.
type place struct {
	at     *located // position; nil in head and lets
	each   Each
	whens  []string // the conditions that hold here
	hidden bool

	partial  bool // a fact that the plan lacks is no fault
	entry    Type // in must: the type of the entry
	observes bool // in must: the step observes
}

func (c *checker) phase(i int) {
	ph := &c.p.Phases[i]
	key := fmt.Sprintf("phase[%d]", i)
	c.id(key+".id", ph.ID)
	pl := &place{at: &located{Step: &Step{}, phase: i}, each: ph.Each, hidden: ph.Hidden}
	if ph.Each != Once && ph.Each != EachSide {
		c.add(key+".each", fmt.Sprintf("a phase cannot be repeated over %q", ph.Each), `write each = "side", or take it out`)
	}
	ph.when = c.when(key, ph.When, &place{at: pl.at, each: ph.Each, hidden: ph.Hidden})
	pl.whens = conditions(ph.When)
	if ph.Include != "" {
		c.include(key, ph, pl)
		return
	}
	c.text(key+".title", ph.Title, true, nil)
	if len(ph.With) > 0 {
		c.add(key+".with", "only an include hands values over", "take with out")
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
	if len(ph.Cards) > 0 || ph.Each != Once {
		c.add(key, "an include has no cards and no repetition of its own", "move the cards to another phase")
	}
	c.covers(key, ph.Covers, pl)
	if part.Target != c.p.Target && !(part.Target == "link" && c.p.Target == "line") {
		c.add(key+".include", fmt.Sprintf("%s works on a %s, this procedure on a %s", part.ID, part.Target, c.p.Target), "include one for the same target")
	}
	ph.with = map[string]*Expr{}
	for _, name := range sortedKeys(ph.With) {
		i := slices.IndexFunc(part.Params, func(q Param) bool { return q.Name == name })
		if i < 0 {
			c.add(key+".with."+name, fmt.Sprintf("%s has no param %q", part.ID, name), "take it out")
			continue
		}
		at := pl
		if part.Params[i].Optional {
			at = nil // may be absent: no proof is needed that it is there
		}
		e := c.expr(key+".with."+name, ph.With[name], "", Once, at)
		if e != nil && e.Result != Type(part.Params[i].Type) && part.Params[i].Type != string(List) {
			c.add(key+".with."+name, fmt.Sprintf("gives a %s, wanted is a %s", e.Result, part.Params[i].Type), "hand over a value of that type")
		}
		ph.with[name] = e
	}
	for _, q := range part.Params {
		if _, ok := ph.With[q.Name]; !ok && !q.Optional {
			c.add(key, fmt.Sprintf("%s needs the param %q", part.ID, q.Name), "add with."+q.Name)
		}
	}
}

// covers checks where the holds of an include send the work back to.
func (c *checker) covers(key, name string, pl *place) {
	if name == "" {
		return
	}
	step, ok := c.p.stepByID(name), false
	if include, inner, dotted := strings.Cut(name, "."); dotted {
		i := slices.IndexFunc(c.p.Phases[:pl.at.phase], func(ph Phase) bool { return ph.Include != "" && ph.ID == include })
		ok = i >= 0 && c.p.parts[c.p.Phases[i].Include] != nil && c.p.parts[c.p.Phases[i].Include].stepByID(inner) != nil
	} else {
		ok = step != nil && step.earlier(pl.at)
	}
	if !ok {
		c.add(key+".covers", fmt.Sprintf("%q is not an earlier step", name), "name the step from which the work is done again")
	}
}

func (c *checker) card(key string, i, j int, outer *place) {
	card := &c.p.Phases[i].Cards[j]
	if !idForm.MatchString(card.ID) {
		c.add(key+".id", fmt.Sprintf("%q is no id", card.ID), cureID)
	}
	c.each(key, outer.each, card.Each)
	pl := &place{at: &located{Step: &Step{}, phase: i, card: j}, each: firstEach(outer.each, card.Each), hidden: outer.hidden, whens: outer.whens}
	card.when = c.when(key, card.When, pl)
	pl.whens = slices.Concat(outer.whens, conditions(card.When))
	c.text(key+".action", card.Action, true, pl)
	c.text(key+".detail", card.Detail, false, pl)
	c.text(key+".caution", card.Caution, false, pl)
	c.text(key+".reason", card.Reason, true, pl)
	if card.By != "" && card.By != Second {
		c.add(key+".by", fmt.Sprintf("%q cannot answer a card", card.By), `write by = "second", or take it out`)
	}
	if len(card.Steps) == 0 {
		c.add(key, "the card has no step", "write at least one [[phase.card.step]]")
	}
	for k := range card.Steps {
		c.step(fmt.Sprintf("%s.step[%d]", key, k), &located{&card.Steps[k], i, j, k, firstEach(pl.each, card.Steps[k].Each)}, pl)
	}
}

func (c *checker) each(key string, outer, own Each) {
	if !slices.Contains([]Each{Once, EachSide, EachLine, EachJoint, EachRefit, EachNeighbour}, own) {
		c.add(key+".each", fmt.Sprintf("%q cannot be repeated over", own), `write "side", "line", "joint", "refit" or "neighbours"`)
	}
	if outer != Once && own != Once {
		c.add(key+".each", "this is repeated already", "repeat at one level only")
	}
}

// when compiles a condition that stands before at's own values.
func (c *checker) when(key, text string, pl *place) *Expr {
	if text == "" {
		return nil
	}
	return c.expr(key+".when", text, Truth, pl.each, pl)
}

// expr compiles an expression and proves what it reads.
func (c *checker) expr(key, text string, want Type, each Each, pl *place) *Expr {
	e, err := compile(text, want, func(name string) (Type, bool) { return c.typeOf(name, each, pl) })
	if err != nil {
		c.add(key, err.Error(), cureName)
		return nil
	}
	if pl != nil {
		for _, u := range e.uses {
			c.proved(key, u, each, pl)
		}
	}
	return e
}

// typeOf gives the type of a name at a place; pl is nil in the head.
func (c *checker) typeOf(name string, each Each, pl *place) (Type, bool) {
	if entryOnly[name] {
		if pl == nil || pl.entry == "" || name != "value" && !pl.observes {
			return "", false
		}
		if name == "value" {
			return pl.entry, true
		}
	}
	r, ok := c.p.resolve(name, each)
	return r.typ, ok && r.typ != "" && (r.kind != nameExtra || hasTurn(name, each))
}

// hasTurn reports whether a name of the turn has a meaning in a repetition.
func hasTurn(name string, each Each) bool {
	switch {
	case !strings.HasPrefix(name, "here"):
		return true
	case name == "here.joins":
		return jointwise(each)
	}
	return each != Once
}

// factUses proves that facts which a plan may lack are asked for by has().
func (c *checker) factUses(key string, e *Expr) {
	for _, u := range e.uses {
		if _, fact := factTypes[u.Name]; fact && !always[u.Name] && !u.Guarded {
			c.add(key, fmt.Sprintf("not every plan gives %q", u.Name), "guard it: has("+u.Name+") && …")
		}
	}
}

// proved sees to it that a value which is read will be there.
func (c *checker) proved(key string, u Use, each Each, pl *place) {
	r, ok := c.p.resolve(u.Name, each)
	if !ok {
		return // said by compile
	}
	missing := ""
	switch r.kind {
	case nameFact:
		if !always[u.Name] && !pl.partial {
			missing = "not every plan gives %q"
		}
	case nameParam:
		i := slices.IndexFunc(c.p.Params, func(q Param) bool { return q.Name == u.Name })
		if c.p.Params[i].Optional {
			missing = "the param %q is optional"
		}
	case nameLet:
		if r.let.expr != nil {
			for _, inner := range r.let.expr.uses {
				c.proved(key, Use{inner.Name, inner.Guarded || u.Guarded}, r.let.Each, pl)
			}
		}
	case nameStep:
		missing = c.stepMissing(r, pl)
	}
	if missing != "" && !u.Guarded {
		c.add(key, fmt.Sprintf(missing, u.Name), cureName)
	}
}

// stepMissing says why the value of a step may not be there at a place.
func (c *checker) stepMissing(r ref, pl *place) string {
	if r.include != "" {
		return c.includedMissing(r, pl)
	}
	if r.side == "twin" && r.step.phase == pl.at.phase && c.p.Phases[pl.at.phase].Each == EachSide {
		return "the other side's %q is not there yet on the first side"
	}
	if !r.step.earlier(pl.at) {
		return "%q is not answered before this"
	}
	ph := &c.p.Phases[r.step.phase]
	need := append(append(conditions(ph.When), conditions(ph.Cards[r.step.card].When)...), conditions(r.step.When)...)
	if !subset(need, pl.whens) {
		return "%q is skipped under a condition that does not hold here"
	}
	return ""
}

func (c *checker) includedMissing(r ref, pl *place) string {
	i := slices.IndexFunc(c.p.Phases, func(ph Phase) bool { return ph.Include != "" && ph.ID == r.include })
	part := c.p.parts[c.p.Phases[i].Include]
	ph := &part.Phases[r.step.phase]
	inner := append(append(conditions(ph.When), conditions(ph.Cards[r.step.card].When)...), conditions(r.step.When)...)
	switch {
	case i >= pl.at.phase:
		return "%q is not answered before this"
	case len(inner) > 0 || !subset(conditions(c.p.Phases[i].When), pl.whens):
		return "%q is skipped under a condition that does not hold here"
	}
	return ""
}

// conditions splits a `when` at its top-level &&: each part must hold.
func conditions(when string) []string {
	if strings.TrimSpace(when) == "" {
		return nil
	}
	if strings.ContainsAny(when, "|(?") {
		return []string{strings.TrimSpace(when)}
	}
	var out []string
	for _, part := range strings.Split(when, "&&") {
		out = append(out, strings.TrimSpace(part))
	}
	return out
}

func subset(need, have []string) bool {
	for _, n := range need {
		if !slices.Contains(have, n) {
			return false
		}
	}
	return true
}

// text checks that English is there and that every {name} is known; a text
// on a covered card must not give the target away.
func (c *checker) text(key string, t Text, needed bool, pl *place) {
	if needed && t["en"] == "" {
		c.add(key, "the English text is missing", key[strings.LastIndex(key, ".")+1:]+`.en = "…"`)
	}
	for _, lang := range sortedKeys(t) {
		c.slots(key+"."+lang, t[lang], pl)
	}
}

func (c *checker) slots(key, text string, pl *place) {
	for _, name := range namesIn(text) {
		each := Once
		if pl != nil {
			each = pl.each
		}
		if _, ok := c.typeOf(name, each, pl); !ok {
			c.add(key, fmt.Sprintf("{%s} is not known here", name), "name a step, let, param or fact")
		} else if pl != nil && pl.hidden && shows(name, each) {
			c.add(key, fmt.Sprintf("{%s} gives the covered target away", name), "take it out; the person has to find it")
		}
	}
}

func sortedKeys[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

// Absent reports whether an evaluation failed only for want of a value.
func Absent(err error) bool { return errors.Is(err, ErrAbsent) }
