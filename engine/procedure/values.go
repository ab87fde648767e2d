package procedure

import (
	"errors"
	"strings"

	"example.org/linewright/engine/wing"
)

// look resolves a name at a place and reads its value.
func (s *scope) look(name string, inst Instance, vals Values) (any, bool) {
	if beyond[name] {
		if job, ok := vals.(Beyond); ok {
			return job.Beyond(name, s.target)
		}
		return s.unasked(name)
	}
	switch name {
	case "here":
		return inst.Label, inst.Name != ""
	case "here.turn":
		return inst.Name, inst.Name != ""
	case "here.joins":
		return inst.Joins, inst.Joins != ""
	case "here.side":
		return string(inst.Side), inst.Side != ""
	case "here.other_side":
		return string(inst.Side.Other()), inst.Side != ""
	}
	r, ok := s.proc.resolve(name, inst.Each)
	if !ok {
		return nil, false
	}
	at := r.seenFrom(inst)
	if r.side == "twin" {
		r.side = ""
	}
	switch r.kind {
	case nameFact:
		return s.factLook(name)
	case nameParam:
		e, bound := s.with[name]
		if !bound {
			return nil, false
		}
		return s.parent.read(e, Instance{}, vals)
	case nameLet:
		return s.read(r.let.expr, at, vals)
	case nameStep:
		return s.answer(r, at, vals)
	}
	return nil, false
}

// seenFrom gives the turn in which a name is read that is written in another.
func (r ref) seenFrom(inst Instance) Instance {
	switch r.side {
	case "":
		return inst
	case "twin":
		return turnOf(inst.Side.Other())
	}
	return turnOf(wing.Side(r.side))
}

// turnOf is the turn of a side in what is repeated over both.
func turnOf(side wing.Side) Instance {
	return Instance{Each: EachSide, Name: string(side), Label: string(side), Side: side}
}

// lacks reports whether a name is absent only because plan or order list do not
// give what it rests on, by itself or through a let.
func (s *scope) lacks(name string, inst Instance, vals Values) bool {
	if _, fact := factTypes[name]; fact || beyond[name] {
		return true
	}
	r, ok := s.proc.resolve(name, inst.Each)
	if !ok || r.kind != nameLet {
		return false
	}
	at := r.seenFrom(inst)
	_, err := r.let.expr.eval(func(n string) (any, bool) { return s.look(n, at, vals) })
	var absent *absentError
	return errors.As(err, &absent) && s.lacks(absent.name, at, vals)
}

// unasked is what stands for an extra of the job where there is none, as on a
// printed sheet: nothing was received, and the plan says what is wanted.
func (s *scope) unasked(name string) (any, bool) {
	switch name {
	case "received":
		return false, true
	case "wanted_mm":
		return s.factLook("line.length_mm")
	case "wanted_source":
		return s.factLook("plan.source")
	}
	return nil, false
}

// answer reads a step's value, or the list of all its turns.
func (s *scope) answer(r ref, at Instance, vals Values) (any, bool) {
	if r.many {
		return s.all(s.key(r, at), r, vals)
	}
	return vals.Answer(s.key(r, at))
}

// all gathers the values of every turn; the list is there once every turn is.
func (s *scope) all(key string, r ref, vals Values) (any, bool) {
	var words []string
	var numbers []float64
	for _, turn := range s.turns[r.step.each] {
		v, ok := vals.Answer(key + "@" + turn.Name)
		if !ok {
			return nil, false
		}
		switch x := v.(type) {
		case float64:
			numbers = append(numbers, x)
		case string:
			words = append(words, x)
		}
	}
	if r.typ == Numbers {
		return numbers, true
	}
	return words, true
}

// read evaluates an expression as a value; what cannot be read is absent.
func (s *scope) read(e *Expr, inst Instance, vals Values) (any, bool) {
	v, err := e.eval(func(n string) (any, bool) { return s.look(n, inst, vals) })
	return v, err == nil
}

// Skipped reports whether a condition of the slot is false, or rests on a
// value that was itself skipped or is not there.
func (sl *Slot) Skipped(vals Values) (bool, error) {
	for _, g := range sl.whens {
		inst := sl.Instance
		if g.scope != sl.scope {
			inst = Instance{}
		}
		v, err := g.expr.eval(func(n string) (any, bool) { return g.scope.look(n, inst, vals) })
		if errors.Is(err, ErrAbsent) {
			return true, nil
		}
		if err != nil {
			return false, err
		}
		if v != true {
			return true, nil
		}
	}
	return false, nil
}

// number evaluates one of the slot's number expressions; false where there is
// none, or where it rests on a fact that the plan does not give, itself or by a
// let. Another
// absent value is the error ErrAbsent.
func (sl *Slot) number(e *Expr, vals Values) (float64, bool, error) {
	if e == nil {
		return 0, false, nil
	}
	v, err := e.eval(func(n string) (any, bool) { return sl.scope.look(n, sl.Instance, vals) })
	var absent *absentError
	if errors.As(err, &absent) && sl.scope.lacks(absent.name, sl.Instance, vals) {
		return 0, false, nil
	}
	if err != nil {
		return 0, false, err
	}
	return v.(float64), true, nil
}

// Expect gives the expected value, in the step's unit.
func (sl *Slot) Expect(vals Values) (float64, bool, error) { return sl.number(sl.Step.expect, vals) }

// Limit gives how far from expected still counts as inside. Where the plan
// gives no expected value there is no limit: nothing must pass for want of
// something to differ from.
func (sl *Slot) Limit(vals Values) (float64, bool, error) {
	if sl.Step.expect != nil {
		if _, ok, err := sl.Expect(vals); !ok || err != nil {
			return 0, false, err
		}
	}
	return sl.number(sl.Step.limit, vals)
}

// Low gives the least plausible reading: not a limit, but where a slip of
// typing begins.
func (sl *Slot) Low(vals Values) (float64, bool, error) { return sl.number(sl.Step.low, vals) }

// High gives the greatest plausible reading.
func (sl *Slot) High(vals Values) (float64, bool, error) { return sl.number(sl.Step.high, vals) }

// Near gives what a value should lie near and who has it, by the first of the
// step's list that is there, and how far off is still near; within is 0 where
// the step does not say. It is false where none is there.
func (sl *Slot) Near(vals Values, value float64) (is, within float64, where string, ok bool) {
	look := func(n string) (any, bool) {
		if n == "value" {
			return value, true
		}
		return sl.scope.look(n, sl.Instance, vals)
	}
	for i := range sl.Step.Near {
		n := &sl.Step.Near[i]
		v, err := n.is.eval(look)
		if err != nil {
			continue
		}
		if n.within != nil {
			if w, err := n.within.eval(look); err == nil {
				within = w.(float64)
			}
		}
		return v.(float64), within, sl.Say(n.Where, "en", vals), true
	}
	return 0, 0, "", false
}

// Must judges the step's condition on an entry. extra holds "value"; what an
// observation leads to is added here. No condition is true.
func (sl *Slot) Must(vals Values, extra map[string]any) (bool, error) {
	if sl.Step.must == nil {
		return true, nil
	}
	if sl.Step.Observes != "" {
		extra = sl.observed(vals, extra)
	}
	v, err := sl.Step.must.eval(func(n string) (any, bool) {
		if x, ok := extra[n]; ok {
			return x, true
		}
		return sl.scope.look(n, sl.Instance, vals)
	})
	return v == true, err
}

// KeyOf gives the key of an earlier slot, as `against` and `covers` name it; a
// param leads on to the step that the including procedure bound to it. It is
// false where that step was not laid out, or stands behind this one.
func (sl *Slot) KeyOf(name string) (string, bool) {
	if name == sl.Step.Covers && name != "" {
		return sl.covers()
	}
	key, ok := sl.scope.keyOf(name, sl.Instance)
	other, there := sl.scope.whole.byKey[key]
	return key, ok && there && other.Index < sl.Index
}

// covers finds the first slot of the work that a hold is about: as the
// including procedure says, else as the step says. Where that step was not
// laid out for this target, the next one of the same procedure stands for it.
func (sl *Slot) covers() (string, bool) {
	s, name := sl.scope, sl.Step.Covers
	if s.covers != "" {
		s, name = s.parent, s.covers
	}
	first := s.proc.stepByID(name)
	for _, other := range s.whole.Slots[:sl.Index] {
		base, _, _ := strings.Cut(other.Key, "@")
		if base == s.prefix+name {
			return other.Key, true
		}
		if first != nil && other.scope == s && first.earlier(s.proc.stepByID(other.Step.ID)) {
			return other.Key, true
		}
	}
	return "", false
}

func (s *scope) keyOf(name string, inst Instance) (string, bool) {
	r, ok := s.proc.resolve(name, inst.Each)
	if ok && r.kind == nameParam && s.with[name] != nil {
		return s.parent.keyOf(s.with[name].Text, Instance{})
	}
	if !ok || r.kind != nameStep {
		step := s.proc.stepByID(name)
		return s.prefix + name, step != nil && step.each == Once
	}
	return s.key(r, inst), true
}

// key builds the key of a resolved step, seen from one turn.
func (s *scope) key(r ref, at Instance) string {
	key := s.prefix
	if r.include != "" {
		key += r.include + "."
	}
	key += r.step.ID
	if r.step.each == Once || r.many {
		return key
	}
	switch r.side {
	case "left", "right":
		return key + "@" + r.side
	case "twin":
		return key + "@" + string(at.Side.Other())
	}
	return key + "@" + at.Name
}

// Value reads a name as the slot sees it; false where it is absent.
func (sl *Slot) Value(name string, vals Values) (any, bool) {
	return sl.scope.look(name, sl.Instance, vals)
}

// Say fills a text of the procedure in with what is known.
func (sl *Slot) Say(t Text, lang string, vals Values) string {
	return fill(t.In(lang), func(n string) (any, bool) { return sl.scope.look(n, sl.Instance, vals) })
}

// SayBare gives a text of the procedure with a blank for everything that would
// be filled in.
func (sl *Slot) SayBare(t Text, lang string) string {
	return fill(t.In(lang), func(string) (any, bool) { return "__", true })
}

// Fill does the same for a plain text such as a source.
func (sl *Slot) Fill(text string, vals Values) string {
	return fill(text, func(n string) (any, bool) { return sl.scope.look(n, sl.Instance, vals) })
}

// Shown reads the values that the card's picture draws; what is not there yet
// is left out.
func (sl *Slot) Shown(vals Values) map[string]any {
	out := map[string]any{}
	for name, e := range sl.Card.show {
		if v, ok := sl.scope.read(e, sl.Instance, vals); ok {
			out[name] = v
		}
	}
	return out
}

// Offered lists the options of the slot that its conditions leave.
func (sl *Slot) Offered(vals Values) []*Option {
	var out []*Option
	for i := range sl.Step.Options {
		o := &sl.Step.Options[i]
		if o.exclude != nil {
			if v, ok := sl.scope.read(o.exclude, sl.Instance, vals); ok && v == true {
				continue
			}
		}
		out = append(out, o)
	}
	return out
}
