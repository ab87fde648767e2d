package job

import (
	"fmt"
	"strconv"
	"strings"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
)

// Voids lists, as "task/key", what will no longer count when a step is
// re-opened: the step itself, every later answered step of its task, and in
// other tasks every check or hold that names the same link or line.
func (j *Job) Voids(task int, key string) []string {
	t, ok := j.Task(task)
	if !ok {
		return nil
	}
	slot, ok := t.Unfolded.Slot(key)
	if !ok {
		return nil
	}
	var out []string
	for _, s := range t.Unfolded.Slots[slot.Index:] {
		if a := t.answers[s.Key]; a != nil && (a.State == Ready || a.State == Partial) {
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
