package procedure

import (
	"strings"

	"example.org/linewright/engine/wing"
)

// What a name in an expression or a text may stand for. The scopes are few:
//
//	tail              a step, let or param of this procedure; inside a
//	                  repetition the value of this turn, outside of one over
//	                  lines or joints the list of all
//	left.tail         a step repeated over sides, seen from outside
//	twin.tail         the other side's, seen from inside
//	opening.turns     a step of the procedure included as "opening"
//	line.length_mm    a fact of plan and target (see facts.go)
//	value             in `must`: the entry itself
//	fits, seen        in the `must` of a step that observes: how many lines
//	                  fit all that was observed so far, this entry with it;
//	                  the code of the only one (seen_side: its side), else ""
//	received          whether the part for the target was received in another
//	                  task of the job
//	wanted_mm         the length that was ordered, else the plan's; and
//	                  wanted_source, where it comes from
//	findings          how many findings of this task stand and are not sound;
//	                  findings.codes, the codes of the lines they are on
//	here, here.joins  inside a repetition: its turn, and what a joint joins
type nameKind int

const (
	nameStep nameKind = iota
	nameLet
	nameParam
	nameFact
	nameExtra
)

// ref is a name resolved against a procedure, before any job.
type ref struct {
	kind    nameKind
	typ     Type
	side    string // "left", "right", "twin" or ""
	include string
	step    *located
	let     *Let
	many    bool // a list of all turns
}

// located is a step with its place in the file.
type located struct {
	*Step
	phase, card, step int
	each              Each
}

// earlier reports whether a stands before b in the file.
func (a *located) earlier(b *located) bool {
	if a.phase != b.phase {
		return a.phase < b.phase
	}
	if a.card != b.card {
		return a.card < b.card
	}
	return a.step < b.step
}

// locate lists the procedure's own steps, without those of includes. Of two
// steps with one id, which is a fault, the first is found.
func (p *Procedure) locate() {
	p.byID = map[string]*located{}
	for i := range p.Phases {
		ph := &p.Phases[i]
		for j := range ph.Cards {
			c := &ph.Cards[j]
			for k := range c.Steps {
				at := &located{&c.Steps[k], i, j, k, firstEach(ph.Each, c.Each, c.Steps[k].Each)}
				p.size++
				if _, twice := p.byID[at.ID]; !twice {
					p.byID[at.ID] = at
				}
			}
		}
	}
}

func firstEach(list ...Each) Each {
	for _, e := range list {
		if e != Once {
			return e
		}
	}
	return Once
}

func (p *Procedure) stepByID(id string) *located { return p.byID[id] }

// resolve finds what a name stands for where the text is repeated over each.
func (p *Procedure) resolve(name string, each Each) (ref, bool) {
	if t, ok := factTypes[name]; ok {
		return ref{kind: nameFact, typ: t}, true
	}
	if t, ok := extraTypes[name]; ok {
		return ref{kind: nameExtra, typ: t}, true
	}
	head, rest, dotted := strings.Cut(name, ".")
	if !dotted {
		return p.own(name, each, "")
	}
	switch head {
	case "left", "right":
		return p.own(rest, each, head)
	case "twin":
		if each == EachSide {
			return p.own(rest, each, head)
		}
		return ref{}, false
	}
	for i := range p.Phases {
		if ph := &p.Phases[i]; ph.Include != "" && ph.ID == head {
			part := p.parts[ph.Include]
			if part == nil {
				return ref{}, false
			}
			r, ok := part.own(rest, Once, "")
			r.include = head
			return r, ok && r.kind == nameStep
		}
	}
	return ref{}, false
}

// own resolves a name among the steps, lets and params of p itself.
func (p *Procedure) own(name string, each Each, side string) (ref, bool) {
	if s := p.stepByID(name); s != nil {
		t, ok := stepType(s.Step)
		r := ref{kind: nameStep, typ: t, step: s, side: side}
		return r.turned(s.each, each), ok && fits(s.each, each, side)
	}
	for i := range p.Lets {
		if l := &p.Lets[i]; l.Name == name {
			return ref{kind: nameLet, typ: l.typ, let: l, side: side}, fits(l.Each, each, side)
		}
	}
	for _, q := range p.Params {
		if q.Name == name && side == "" {
			return ref{kind: nameParam, typ: Type(q.Type)}, true
		}
	}
	return ref{}, false
}

// turned makes a list of a value that is repeated, seen from outside.
func (r ref) turned(own, from Each) ref {
	if own == Once || own == EachSide || own == from || jointwise(own) && jointwise(from) {
		return r
	}
	r.many = true
	switch r.typ {
	case Number:
		r.typ = Numbers
	default:
		r.typ = List
	}
	return r
}

func jointwise(e Each) bool { return e == EachJoint || e == EachRefit }

// fits reports whether the way a name is written suits the repetition.
func fits(own, from Each, side string) bool {
	switch side {
	case "left", "right":
		return own == EachSide
	case "twin":
		return own == EachSide && from == EachSide
	}
	return own != EachSide || from == EachSide
}

// stepType is the type of a step's value in expressions; false for steps that
// have none.
func stepType(s *Step) (Type, bool) {
	switch s.Kind {
	case Measure, Count:
		return Number, true
	case Choose, Check, Code, Note, Photo, Inspect:
		return Word, true
	case Order:
		return List, true
	}
	return "", false
}

// extraTypes are the names that are neither facts nor written in the file.
var extraTypes = map[string]Type{
	"value": Number, "seen": Word, "seen_side": Word, "fits": Number,
	"received": Truth, "wanted_mm": Number, "wanted_source": Word, "findings": Number, "findings.codes": List,
	"here": Word, "here.turn": Word, "here.joins": Word, "here.side": Word, "here.other_side": Word,
}

// beyond lists the extras that only the job knows: what stands outside of the
// task's answers. wanted_mm may be absent, as a fact may.
var beyond = map[string]bool{
	"received": true, "wanted_mm": true, "wanted_source": true, "findings": true, "findings.codes": true,
}

// Beyond is what Values may offer besides: what a job knows of a target from
// its other tasks and its order list.
type Beyond interface {
	Beyond(name string, target wing.Ref) (any, bool)
}

// entryOnly lists the extras that only a step's own `must` may read; all but
// value need a step that observes.
var entryOnly = map[string]bool{"value": true, "seen": true, "seen_side": true, "fits": true}

// Instance is one turn of a repetition.
type Instance struct {
	Each  Each
	Name  string    // as it stands in a key: "left", a line code, a joint's number
	Label string    // as a person reads it
	Side  wing.Side // the side it is about
	Line  string    // the line it is about, if one
	Joins string    // joints: the lines looped there
	Row   string    // the row it is about, if one
}
