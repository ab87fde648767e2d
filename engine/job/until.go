package job

import (
	"slices"

	"example.org/linewright/engine/procedure"
)

// ended reports whether what an answer left open is over: a task that ends it
// was done behind it, and did not leave the like open itself.
func (t *Task) ended(s *procedure.Slot, a *Answer) bool {
	until := chosen(s, a).Until
	return slices.ContainsFunc(t.job.Tasks, func(o *Task) bool {
		return o != t && slices.Contains(until, o.Add.Procedure) && o.line > a.Line && o.State() == Done && !o.leaves(until, a.Event.Opened)
	})
}

// leaves reports whether a task left something open that one of the same
// procedures ends: then it did not end it either. The very same words stand for
// what was open before, which is not said twice.
func (t *Task) leaves(until []string, before string) bool {
	return slices.ContainsFunc(t.Unfolded.Slots, func(s *procedure.Slot) bool {
		a := t.answers[s.Key]
		if a == nil || a.State != Ready || a.Event == nil || a.Event.Opened == "" || a.Event.Opened == before {
			return false
		}
		return slices.ContainsFunc(chosen(s, a).Until, func(id string) bool { return slices.Contains(until, id) })
	})
}

// chosen is the option that an answer took; an empty one where it took none.
func chosen(s *procedure.Slot, a *Answer) procedure.Option {
	for _, o := range s.Step.Options {
		if o.ID == a.Event.Choice {
			return o
		}
	}
	return procedure.Option{}
}
