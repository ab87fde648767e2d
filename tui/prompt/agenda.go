package prompt

import (
	"fmt"
	"strconv"
	"strings"

	"example.org/linewright/engine/job"
)

// agenda says what is to be done in the job, what waits and what is void.
func (w *walk) agenda(_ job.Card, _ string) {
	for _, left := range FromEarlier(w.s) {
		w.say("%s", left)
	}
	list := w.s.Job().Agenda()
	if len(list) == 0 {
		w.say("Nothing is to be done. Close the job with :close and a closing statement.")
		return
	}
	for i, t := range list {
		w.say("%d: %s", i+1, TodoWords(t))
	}
	w.say(":do N goes on with one, or begins it.")
}

// TodoWords says one thing to be done in one line.
func TodoWords(t job.Todo) string {
	text := t.What
	if t.Task != 0 {
		text = fmt.Sprintf("task %d, %s", t.Task, text)
	}
	text += ": " + string(t.State)
	if t.Why != "" {
		text += " (" + t.Why + ")"
	}
	return text + "."
}

// anyway ends the command that begins what has to wait.
const anyway = "all the same"

// do goes to a task of the agenda, or adds it. What has to wait is begun only
// where that is said.
func (w *walk) do(c job.Card, rest string) {
	list := w.s.Job().Agenda()
	number, said := strings.CutSuffix(strings.TrimSpace(rest), anyway)
	n, err := strconv.Atoi(strings.TrimSpace(number))
	if err != nil || n < 1 || n > len(list) {
		w.notTaken(c, rest, fmt.Errorf("there is no line %q on the agenda\n  :agenda lists them", rest))
		return
	}
	t := list[n-1]
	switch {
	case t.Task != 0:
		w.task, w.shown = t.Task, spot{}
	case t.Procedure == "":
		w.say("%s: see :parts and :findings.", t.What)
	case t.Wait() != "" && !said:
		w.notTaken(c, rest, fmt.Errorf("%s\n  :do %d %s begins it nevertheless", t.Wait(), n, anyway))
	default:
		no, err := w.s.AddTask(t.Procedure, t.Target, "")
		if err == nil {
			w.task, w.shown = no, spot{}
		}
		w.told(c, rest, job.Event{}, err)
	}
}
