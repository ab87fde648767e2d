package prompt

import (
	"strings"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/wing"
)

// where says the place in few words: job, task, step, and what stands open on
// the wing. The question that is due follows it.
func (w *walk) where(c job.Card, _ string) {
	w.sitting()
	w.standing()
	if c.Task == 0 {
		return
	}
	w.say("Task %d: %s, %s.", c.Task, c.Title, target(c))
	if c.Over || c.Waiting != "" || c.Confirm != nil || len(c.Fields) == 0 {
		return
	}
	w.say("Step %d. Phase: %s.", c.Step, phase(c))
	w.say("To do: %s", c.Action)
	if ask := c.Fields[c.At].Ask; ask != "" {
		w.say("%s", ask)
	}
}

// standing names what is not as it has to be on the wing, for a person who comes.
func (w *walk) standing() {
	if t, link := w.s.Job().LinkOpen(); t != nil {
		w.say("LINK OPEN: %s, task %d.", link, t.No)
	}
	for _, t := range w.s.Job().Tasks {
		if t.OneSide() {
			w.say("%s (task %d).", strings.ToUpper(t.OneSideWords()), t.No)
		}
	}
}

// Covered reports whether the line of a card has still to be found out.
func Covered(c job.Card) bool { return c.Ref == wing.Ref{} && c.Target != "" }

// target names what the task is done on. The second person finds the line too:
// that it is not named must not sound as if nobody knew it.
func target(c job.Card) string {
	if Covered(c) && c.Second {
		return "the second person finds out on which line"
	}
	return c.Target
}

// found says which line it is, once the answers have named it.
func (w *walk) found(c job.Card) {
	before := w.hidden
	w.hidden = 0
	if Covered(c) {
		w.hidden = c.Task
	}
	if before != c.Task || Covered(c) || c.Ref.Kind != wing.KindLine {
		return
	}
	w.say("")
	w.say("By these answers it is %s: %s.", c.Ref, LineWords(w.s.Job().Plan, c.Ref))
}

// stepNo is the number that a step has in the overview; 0 where it has none.
func (w *walk) stepNo(task int, key string) int {
	rows, err := w.s.Job().Overview(task)
	if err != nil {
		return 0
	}
	for i, r := range wanted(rows) {
		if r.Key == key {
			return i + 1
		}
	}
	return 0
}

// struck reads back what was withdrawn, or names the step that still holds it.
func (w *walk) struck(c job.Card, line int, done bool) {
	all := w.s.Job().Events()
	if line < 1 || line > len(all) {
		return
	}
	e := all[line-1]
	switch no := w.stepNo(e.Task, e.Key); {
	case e.Value == nil:
	case done && !coveredReadings(c):
		w.say("Struck: %s.", e.Value)
	case !done && e.Task == c.Task && no > 0 && (len(c.Fields) == 0 || c.Fields[c.At].Key != e.Key):
		w.say("Entry %d stands in step %d; :reopen %d WORDS does that anew.", line, no, no)
	}
}

// coveredReadings reports whether earlier readings are kept from the reader.
func coveredReadings(c job.Card) bool {
	return len(c.Fields) > 0 && c.Fields[c.At].Scale != nil && c.Fields[c.At].Scale.Covered
}
