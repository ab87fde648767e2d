package job

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
)

// Voids lists, as "task/key", what will no longer count when a step is
// re-opened: the step itself, every later answered step of its task but what
// AsFound lists, and in other tasks every check or hold that names the same link
// or line.
func (j *Job) Voids(task int, key string) []string {
	t, slot := j.stepOf(task, key)
	if slot == nil {
		return nil
	}
	var out []string
	for _, s := range t.Unfolded.Slots[slot.Index:] {
		if a := t.answers[s.Key]; a != nil && (a.State == Ready || a.State == Partial) && !t.asFound(s, slot) {
			out = append(out, name(task, s.Key))
		}
	}
	for _, other := range j.Tasks {
		if other == t || other.state == Gone || !j.touches(t, other) {
			continue
		}
		for _, s := range other.Unfolded.Slots {
			looked := s.Step.Kind == procedure.Check || s.Step.Kind == procedure.Sign
			if a := other.answers[s.Key]; looked && a != nil && a.State == Ready {
				out = append(out, name(other.No, s.Key))
			}
		}
	}
	return out
}

// AsFound lists, as "task/key", the later answers that stand when a step is
// re-opened: how a link was found before it was opened.
func (j *Job) AsFound(task int, key string) []string {
	t, slot := j.stepOf(task, key)
	if slot == nil {
		return nil
	}
	var out []string
	for _, s := range t.Unfolded.Slots[slot.Index:] {
		if t.asFound(s, slot) {
			out = append(out, name(task, s.Key))
		}
	}
	return out
}

// stepOf finds a step of a task; nil where there is none.
func (j *Job) stepOf(task int, key string) (*Task, *procedure.Slot) {
	t, ok := j.Task(task)
	if !ok {
		return nil, nil
	}
	slot, ok := t.Unfolded.Slot(key)
	if !ok {
		return nil, nil
	}
	return t, slot
}

// asFound reports whether an answer stands although an earlier step of its task
// is re-opened: an order or a count that says how a link was found, once that
// link was opened. It cannot be read off the link any more, and what has to
// come back on closing is held against it. It does rest on where somebody looked:
// with a step that finds the target out, or one before that, it is void.
func (t *Task) asFound(s, reopened *procedure.Slot) bool {
	if s == reopened || s.Step.Kind != procedure.Order && s.Step.Kind != procedure.Count || s.Card.By == procedure.Second {
		return false
	}
	if a := t.answers[s.Key]; a == nil || a.State != Ready {
		return false
	}
	slots := t.Unfolded.Slots
	findsOut := func(b *procedure.Slot) bool { return b.Hidden || b.Step.Observes != "" }
	opened := func(b *procedure.Slot) bool {
		return b.Step.Opens && b.Target == s.Target && t.answers[b.Key].everTaken()
	}
	return !slices.ContainsFunc(slots[reopened.Index:s.Index+1], findsOut) && slices.ContainsFunc(slots[s.Index:], opened)
}

func name(task int, key string) string { return fmt.Sprintf("%d/%s", task, key) }

// touches reports whether two tasks are about the same link or line.
func (j *Job) touches(a, b *Task) bool {
	one, two := j.places(a), j.places(b)
	for place := range one {
		if two[place] {
			return true
		}
	}
	return false
}

// places are the things that a task's targets stand for: themselves, and the
// links that its work opens. A look at the whole wing names none of them: to
// take back an answer of a release says nothing about the survey before it.
func (j *Job) places(t *Task) map[wing.Ref]bool {
	out := map[wing.Ref]bool{}
	for _, r := range t.targets() {
		if r.Kind == wing.KindWing {
			continue
		}
		out[r] = true
		if link, ok := j.link(r); ok {
			out[link] = true
		}
	}
	return out
}

// void marks answers as no longer counting; what was written stays visible.
func (j *Job) void(names []string) {
	for _, n := range names {
		no, key, _ := strings.Cut(n, "/")
		number, _ := strconv.Atoi(no)
		t, ok := j.Task(number)
		if !ok {
			continue
		}
		if a := t.answers[key]; a != nil {
			t.answers[key] = &Answer{State: Void, Old: a, Event: a.Event, Line: a.Line}
		}
	}
}
