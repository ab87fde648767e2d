package procedure

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

// place is where an expression stands, as far as the lint has to know.
type place struct {
	at     *located // position in the file
	each   Each
	whens  []string // the conditions that hold here
	hidden bool

	partial  bool // a fact that the plan lacks is no fault
	maybe    bool // nor is any other value that may be absent, as long as it may be there
	entry    Type // in must: the type of the entry
	observes bool // in must: the step observes
}

// under is the place inside a condition.
func (pl *place) under(when string) *place {
	inner := *pl
	inner.whens = slices.Concat(pl.whens, conditions(when))
	return &inner
}

// knows reports whether the conditions that hold here would not hold without
// the value: because they ask for it by has(), or read it.
func (pl *place) knows(name string) bool {
	return slices.ContainsFunc(pl.whens, func(when string) bool {
		tree, err := parse(when)
		if err != nil {
			return false // said where the condition stands
		}
		if slices.Contains(there(tree.Node, true), name) {
			return true
		}
		uses, err := names(when)
		return err == nil && slices.Contains(uses, Use{Name: name})
	})
}

// when compiles a condition; it stands before the values behind it.
func (c *checker) when(key, text string, pl *place) *Expr {
	if text == "" {
		return nil
	}
	return c.expr(key+".when", text, Truth, pl)
}

// expr compiles an expression and proves what it reads. A place without a
// position is the head of the file, where nothing is proved.
func (c *checker) expr(key, text string, want Type, pl *place) *Expr {
	e, err := compile(text, want, func(name string) (Type, bool) { return c.typeOf(name, pl) })
	if err != nil {
		cure := cureExpr
		if errors.Is(err, errUnknown) {
			cure = cureName
		}
		c.add(key, err.Error(), cure)
		return nil
	}
	if pl.at != nil {
		for _, u := range e.uses {
			c.proved(key, u, pl)
		}
	}
	return e
}

// typeOf gives the type of a name at a place.
func (c *checker) typeOf(name string, pl *place) (Type, bool) {
	if entryOnly[name] {
		if pl.entry == "" || name != "value" && !pl.observes {
			return "", false
		}
		if name == "value" {
			return pl.entry, true
		}
	}
	r, ok := c.p.resolve(name, pl.each)
	return r.typ, ok && r.typ != "" && (r.kind != nameExtra || hasTurn(name, pl.each))
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

// proved sees to it that a value which is read will be there.
func (c *checker) proved(key string, u Use, pl *place) {
	r, ok := c.p.resolve(u.Name, pl.each)
	if !ok || u.Guarded || pl.knows(u.Name) {
		return // an unknown name was said by compile
	}
	missing := ""
	switch r.kind {
	case nameFact:
		if mayLack[u.Name] && !pl.partial && !pl.maybe {
			missing = "not every plan gives %q"
		}
	case nameParam:
		i := slices.IndexFunc(c.p.Params, func(q Param) bool { return q.Name == u.Name })
		if c.p.Params[i].Optional && !pl.maybe {
			missing = "the param %q is optional"
		}
	case nameLet:
		if r.let.expr != nil {
			inside := *pl
			inside.each = r.let.Each
			for _, inner := range r.let.expr.uses {
				c.proved(key, inner, &inside)
			}
		}
	case nameStep:
		missing = c.stepMissing(r, pl)
	}
	if missing != "" {
		c.add(key, fmt.Sprintf(missing, u.Name), cureName)
	}
}

// stepMissing says why the value of a step may not be there at a place.
func (c *checker) stepMissing(r ref, pl *place) string {
	if r.include != "" {
		return c.includedMissing(r, pl)
	}
	otherTurn := (r.side == "twin" || r.side == "right") && c.sameTurn(r.step, pl.at)
	if !r.step.earlier(pl.at) && !(pl.maybe && otherTurn) {
		return "%q is not answered before this"
	}
	if pl.maybe {
		return ""
	}
	if otherTurn {
		return "the other side's %q is not there yet on the first side"
	}
	ph := &c.p.Phases[r.step.phase]
	need := slices.Concat(conditions(ph.When), conditions(ph.Cards[r.step.card].When), conditions(r.step.When))
	if !subset(need, pl.whens) {
		return "%q is skipped under a condition that does not hold here"
	}
	return ""
}

// sameTurn reports whether two steps are gone through together, first on one
// side and then on the other.
func (c *checker) sameTurn(a, b *located) bool {
	if a.phase != b.phase {
		return false
	}
	ph := &c.p.Phases[a.phase]
	return ph.Each == EachSide || a.card == b.card && ph.Cards[a.card].Each == EachSide
}

func (c *checker) includedMissing(r ref, pl *place) string {
	i := slices.IndexFunc(c.p.Phases, func(ph Phase) bool { return ph.Include != "" && ph.ID == r.include })
	part := c.p.parts[c.p.Phases[i].Include]
	ph := &part.Phases[r.step.phase]
	inner := slices.Concat(conditions(ph.When), conditions(ph.Cards[r.step.card].When), conditions(r.step.When))
	switch {
	case i >= pl.at.phase:
		return "%q is not answered before this"
	case pl.maybe:
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
	for part := range strings.SplitSeq(when, "&&") {
		out = append(out, strings.TrimSpace(part))
	}
	return out
}

func subset(need, have []string) bool {
	return !slices.ContainsFunc(need, func(n string) bool { return !slices.Contains(have, n) })
}
