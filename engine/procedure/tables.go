package procedure

import (
	"fmt"
	"slices"
	"strings"

	"example.org/linewright/engine/wing"
)

// tables checks the tables of both sides. Any value may be absent: no proof is
// asked for.
func (c *checker) tables() {
	for i := range c.p.Tables {
		t := &c.p.Tables[i]
		key := fmt.Sprintf("table[%d]", i)
		c.id(key+".id", t.ID)
		if len(t.Rows) == 0 {
			c.add(key, "the table has no row", "write at least one [[table.row]]")
		}
		for k := range t.Rows {
			c.row(fmt.Sprintf("%s.row[%d]", key, k), &t.Rows[k])
		}
	}
}

func (c *checker) row(key string, r *Row) {
	number := func(field, text string) *Expr {
		if text == "" {
			return nil
		}
		return c.expr(key+"."+field, text, Number, &place{each: EachSide})
	}
	c.bare(key+".name", r.Name, true)
	if r.Is == "" {
		c.add(key+".is", "the value is missing", "write an expression that gives the number of one side")
	}
	r.is, r.plan, r.least, r.limit = number("is", r.Is), number("plan", r.Plan), number("least", r.Least), number("limit", r.Limit)
}

// tabled checks the table that a card names. Who looks for the second time, or
// reads without sight of what was read, must see no value.
func (c *checker) tabled(key string, card *Card, pl *place) {
	if card.Table == "" {
		return
	}
	if !slices.ContainsFunc(c.p.Tables, func(t Table) bool { return t.ID == card.Table }) {
		c.add(key+".table", fmt.Sprintf("there is no table %q", card.Table), "write [[table]] with that id, or take it out")
	}
	blind := slices.ContainsFunc(card.Steps, func(s Step) bool { return s.Blind })
	if pl.hidden || card.By == Second || blind {
		c.add(key+".table", "what was measured must not be seen here", "take the table out")
	}
}

// RowSeen is a row of a card's table as far as its values are there.
type RowSeen struct {
	Name               Text
	Plain              bool
	Sides              map[wing.Side]float64
	Plan, Least, Limit *float64
	LeastOf, LimitOf   string // who gives them, where they are facts of the plan
}

// TableSeen reads the table of the slot's card; nil where it has none.
func (sl *Slot) TableSeen(vals Values) []RowSeen {
	p := sl.scope.proc
	i := slices.IndexFunc(p.Tables, func(t Table) bool { return t.ID == sl.Card.Table })
	if i < 0 {
		return nil
	}
	var out []RowSeen
	for k := range p.Tables[i].Rows {
		r := &p.Tables[i].Rows[k]
		seen := RowSeen{Name: r.Name, Plain: r.Plain, Sides: map[wing.Side]float64{}, LeastOf: sl.sourceOf(r.least), LimitOf: sl.sourceOf(r.limit)}
		for _, side := range wing.Sides {
			read := func(e *Expr, to func(float64)) {
				if e == nil {
					return
				}
				if v, ok := sl.scope.read(e, turnOf(side), vals); ok {
					to(v.(float64))
				}
			}
			read(r.is, func(v float64) { seen.Sides[side] = v })
			read(r.plan, func(v float64) { seen.Plan = &v })
			read(r.least, func(v float64) { seen.Least = &v })
			read(r.limit, func(v float64) { seen.Limit = &v })
		}
		out = append(out, seen)
	}
	return out
}

// sourceOf gives who states a number that is a fact; "" where it is none.
func (sl *Slot) sourceOf(e *Expr) string {
	if e == nil {
		return ""
	}
	source, _ := sl.scope.facts[strings.TrimSuffix(e.Text, "_mm")+"_source"].(string)
	return source
}
