package procedure

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.org/linewright/engine/wing"
)

// Values gives the answers of one task to expressions: a float64 in mm, N,
// N·m, turns or plain; a string; or a []string. A void answer is absent.
type Values interface {
	Answer(key string) (any, bool)
}

// Unfolded is a procedure laid out over one target: what a task walks through.
type Unfolded struct {
	Procedure *Procedure
	Target    wing.Ref
	Facts     Facts
	Slots     []*Slot
	Phases    []Mark

	plan  *wing.Plan
	byKey map[string]*Slot
}

// Mark is one phase on the cord.
type Mark struct {
	Title  Text
	Side   wing.Side // of a phase that is done once a side
	Twin   bool      // of an include that is about the other side
	Hidden bool
}

// Slot is one step in its place: what is answered once.
type Slot struct {
	Key      string // without the task's number: closure.gate_turns@left
	Index    int
	Step     *Step
	Card     *Card
	Phase    int      // index in Unfolded.Phases
	CardKey  string   // slots with the same one share a card
	Hidden   bool     // the target is covered
	Target   wing.Ref // what the step is about: the task's target, or its twin
	Instance Instance

	scope *scope
	each  Each
	whens []gate
}

// gate is one `when` in the scope in which it was written.
type gate struct {
	expr  *Expr
	scope *scope
	only  Text // the condition in words
}

// of reports whether the condition is the step's own.
func (g gate) of(st *Step) bool { return g.expr == st.when }

// scope is one procedure at one place of inclusion.
type scope struct {
	proc   *Procedure
	prefix string
	parent *scope
	with   map[string]*Expr
	covers string // a step of parent: where its holds send the work back to
	whole  *Unfolded
	about
}

// about is what a scope works on: the task's target, or its twin.
type about struct {
	target wing.Ref
	facts  Facts
	turns  map[Each][]Instance
}

func aboutOf(plan *wing.Plan, target wing.Ref) about {
	return about{target, factsOf(plan, target), turns(plan, target)}
}

// BarError says that a procedure does not fit a target.
type BarError struct {
	What, Instead string
}

// Error gives one line what and one line what to do.
func (e *BarError) Error() string { return e.What + "\n  " + e.Instead }

// Unfold lays the procedure out over a target. The result depends on
// procedure, plan and target alone. It fails with a *BarError where a bar of
// the procedure, or of one that it includes, holds.
func Unfold(p *Procedure, plan *wing.Plan, target wing.Ref) (*Unfolded, error) {
	if string(target.Kind) != p.Target {
		return nil, &BarError{fmt.Sprintf("%s works on a %s, not on %s.", p.Title.In("en"), p.Target, target),
			"Choose another procedure, or another target."}
	}
	if !plan.Has(target) {
		return nil, &BarError{fmt.Sprintf("The plan has no %s.", target), "Choose one that the plan shows; codes are case-sensitive."}
	}
	on := aboutOf(plan, target)
	u := &Unfolded{Procedure: p, Target: target, Facts: on.facts, plan: plan, byKey: map[string]*Slot{}}
	s := &scope{proc: p, whole: u, about: on}
	if err := s.bars(); err != nil {
		return nil, err
	}
	if err := s.lay(nil); err != nil {
		return nil, err
	}
	return u, nil
}

// Slot finds a slot by its key.
func (u *Unfolded) Slot(key string) (*Slot, bool) {
	s, ok := u.byKey[key]
	return s, ok
}

func (s *scope) bars() error {
	if s.whole.plan == nil {
		return nil // a blank sheet lists them
	}
	for i := range s.proc.Bars {
		b := &s.proc.Bars[i]
		hit, err := b.expr.eval(s.factLook)
		if err != nil {
			return err
		}
		if hit == true {
			return &BarError{fill(b.Say.In("en"), s.factLook), fill(b.Instead.In("en"), s.factLook)}
		}
	}
	return nil
}

func (s *scope) factLook(name string) (any, bool) {
	v, ok := s.facts[name]
	return v, ok
}

// lay adds the slots of a scope; outer holds the conditions of the include.
func (s *scope) lay(outer []gate) error {
	for i := range s.proc.Phases {
		ph := &s.proc.Phases[i]
		gates := s.gated(outer, ph.when, ph.Only)
		if s.never(ph.when) {
			continue
		}
		if ph.Include != "" {
			part := &scope{proc: s.proc.parts[ph.Include], prefix: s.prefix + ph.ID + ".", parent: s, with: ph.with, covers: ph.Covers, whole: s.whole, about: s.about}
			if ph.Twin && s.whole.plan != nil {
				part.about = aboutOf(s.whole.plan, s.target.Twin())
			}
			if err := part.bars(); err != nil {
				return err
			}
			if err := part.lay(gates); err != nil {
				return err
			}
			continue
		}
		for _, turn := range s.over(ph.Each) {
			s.phase(ph, turn, gates)
		}
	}
	return nil
}

func (s *scope) phase(ph *Phase, outer Instance, gates []gate) {
	u := s.whole
	before := len(u.Slots)
	for j := range ph.Cards {
		c := &ph.Cards[j]
		if s.never(c.when) {
			continue
		}
		for _, turn := range s.over(c.Each) {
			inst := pick(outer, turn)
			for k := range c.Steps {
				st := &c.Steps[k]
				if s.never(st.when) {
					continue
				}
				for _, own := range s.over(st.Each) {
					all := s.gated(s.gated(gates, c.when, c.Only), st.when, st.Only)
					s.slot(ph, c, st, pick(inst, own), inst, all)
				}
			}
		}
	}
	if len(u.Slots) > before {
		u.Phases = append(u.Phases, Mark{Title: ph.Title, Side: outer.Side, Twin: s.target != u.Target, Hidden: ph.Hidden})
	}
}

func (s *scope) slot(ph *Phase, c *Card, st *Step, inst, cardTurn Instance, gates []gate) {
	u := s.whole
	slot := &Slot{
		Key: s.prefix + st.ID, Index: len(u.Slots), Step: st, Card: c, Phase: len(u.Phases), Hidden: ph.Hidden, Target: s.target,
		CardKey: s.prefix + ph.ID + "/" + c.ID + "@" + cardTurn.Name, Instance: inst, scope: s, each: inst.Each, whens: gates,
	}
	if inst.Name != "" {
		slot.Key += "@" + inst.Name
	}
	u.Slots = append(u.Slots, slot)
	u.byKey[slot.Key] = slot
}

// pick gives the turn of the innermost repetition.
func pick(outer, inner Instance) Instance {
	if inner.Each != Once {
		return inner
	}
	return outer
}

func (s *scope) gated(outer []gate, e *Expr, only Text) []gate {
	if e == nil {
		return outer
	}
	return append(outer[:len(outer):len(outer)], gate{e, s, only})
}

// never reports whether a condition is already false by plan, target and
// place of inclusion; one that reads an answer is left for the bench.
func (s *scope) never(e *Expr) bool {
	if e == nil || !s.settled(e) {
		return false
	}
	v, err := e.eval(s.settledLook)
	return err == nil && v == false
}

// settled reports whether all that an expression reads is known before the
// first answer: facts, and params that are bound to such or not bound at all.
func (s *scope) settled(e *Expr) bool {
	for _, n := range e.reads() {
		if _, fact := factTypes[n]; fact && (s.whole.plan != nil || s.blankKnows(n)) {
			continue
		}
		bound, is := s.with[n]
		if !s.isParam(n) || is && !s.parent.settled(bound) {
			return false
		}
	}
	return true
}

// blankKnows reports whether a sheet without a target knows a fact: that a
// link or the brakes are no line.
func (s *scope) blankKnows(fact string) bool {
	_, there := s.facts[fact]
	return there && strings.HasPrefix(fact, "line.")
}

func (s *scope) settledLook(name string) (any, bool) {
	e, bound := s.with[name]
	if !bound {
		return s.factLook(name)
	}
	v, err := e.eval(s.parent.settledLook)
	return v, err == nil
}

func (s *scope) isParam(name string) bool {
	return slices.ContainsFunc(s.proc.Params, func(q Param) bool { return q.Name == name })
}

func (s *scope) over(e Each) []Instance {
	if e == Once {
		return []Instance{{}}
	}
	return s.turns[e]
}

// turns lists the instances of each repetition on a target.
func turns(plan *wing.Plan, target wing.Ref) map[Each][]Instance {
	t := map[Each][]Instance{}
	for _, side := range wing.Sides {
		t[EachSide] = append(t[EachSide], turnOf(side))
	}
	for _, row := range plan.PathRows() {
		t[EachRow] = append(t[EachRow], Instance{Each: EachRow, Name: row, Label: row, Row: row})
	}
	for _, row := range plan.Rows() {
		for _, side := range wing.Sides {
			t[EachRowSide] = append(t[EachRowSide], Instance{Each: EachRowSide, Name: row + "." + string(side), Label: row + " " + string(side), Side: side, Row: row})
		}
	}
	if link, ok := linkOf(plan, target); ok {
		for _, l := range plan.OnLink(link.Name) {
			in := Instance{Each: EachLine, Name: l.Code, Label: l.Code, Side: target.Side, Line: l.Code}
			t[EachLine] = append(t[EachLine], in)
			if target.Kind == wing.KindLine && plan.Chain(target.Code)[0].Code == l.Code {
				continue
			}
			in.Each = EachNeighbour
			t[EachNeighbour] = append(t[EachNeighbour], in)
		}
	}
	if target.Kind == wing.KindLine {
		t[EachJoint], t[EachRefit] = joints(plan, target)
	}
	return t
}

// joints lists the joints that hold the target's chain, link first, and the
// same the other way round: what is nearest the canopy is looped first.
func joints(plan *wing.Plan, target wing.Ref) (up, down []Instance) {
	for i, l := range plan.Chain(target.Code) {
		what, _ := carried(plan, l)
		up = append(up, Instance{Each: EachJoint, Name: strconv.Itoa(i + 1), Label: l.Code + " at " + what, Side: target.Side, Line: l.Code, Joins: what})
	}
	for i := len(up) - 1; i >= 0; i-- {
		in := up[i]
		in.Each = EachRefit
		down = append(down, in)
	}
	return up, down
}
