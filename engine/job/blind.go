package job

import "example.org/linewright/engine/procedure"

// coveredAnswer stands for an answer that the second person may not see yet.
const coveredAnswer = "covered for the look"

// blind reports whether the second person is being asked: until their last
// question is answered they say what is there, and nothing may tell them what
// the doer said.
func (t *Task) blind(due *procedure.Slot) bool {
	return due != nil && due.Card.By == procedure.Second && due.Step.Kind != procedure.Sign
}

// keeps reports whether what is written at a step is kept from the second
// person at the step that is due: what is not theirs.
func (t *Task) keeps(due, s *procedure.Slot) bool {
	return t.blind(due) && s.Card.By != procedure.Second
}

// Kept reports whether the card of a step cannot be looked at now, since the
// second person is being asked.
func (j *Job) Kept(task int, key string) bool {
	t, ok := j.Task(task)
	if !ok {
		return false
	}
	s, ok := t.Unfolded.Slot(key)
	due, err := t.current()
	return ok && err == nil && t.keeps(due, s)
}

// Asked reports whether the second person is being asked in a task about what
// others found: then no list may tell them. Who goes over the wing themselves
// sees what they mark.
func (j *Job) Asked(task int) bool {
	t, ok := j.Task(task)
	if !ok {
		return false
	}
	due, err := t.current()
	return err == nil && t.blind(due) && due.Step.Kind != procedure.Inspect
}

// keep takes from a row of the overview what the second person may not see. A
// step that is only done says nothing but that.
func (t *Task) keep(r *Row, due, s *procedure.Slot) {
	switch {
	case !t.blind(due):
		return
	case s.Card.By == procedure.Second:
		if r.State == Void {
			r.Answer = "" // of a look before the work was done again
		}
		return
	}
	r.Kept = true
	switch {
	case s.Step.Kind == procedure.Do, s.Step.Kind == procedure.Sign, r.State == Blank:
	case r.State == Void:
		r.Answer = ""
	default:
		r.Answer = coveredAnswer
	}
	if t.coveredForLook(due) {
		r.Action, r.Ask = s.SayBare(s.Card.Action, "en"), s.SayBare(s.Step.Ask, "en")
	}
}
