package prompt

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.org/linewright/engine/job"
)

// overview lists the steps of the task, each on one line with its number.
func (w *walk) overview(c job.Card, _ string) {
	rows, err := w.s.Job().Overview(c.Task)
	if err != nil {
		w.notTaken(c, ":overview", err)
		return
	}
	w.phases(c)
	if c.Blind {
		w.lookOverview(c, wanted(rows))
		return
	}
	before := ""
	for i, r := range wanted(rows) {
		if r.Phase != before {
			w.say("Phase %s.", r.Phase)
			before = r.Phase
		}
		w.say("%d: %s: %s", i+1, step(r), state(r))
	}
	for _, t := range w.s.Job().Tasks {
		if t.No != c.Task {
			w.say("Task %d: %s, %s: %s.", t.No, t.Unfolded.Procedure.Title.In("en"), taskTarget(w.s.Job(), t), t.State())
		}
	}
	for _, it := range w.s.Job().OpenItems() {
		w.say("Open: %s", it.Text)
	}
}

// taskTarget is what a task works on; a line that has to be found out is not
// named.
func taskTarget(j *job.Job, t *job.Task) string {
	if j.Covered(t.No) {
		return "line to be found"
	}
	return t.Add.Target.String()
}

// wanted leaves out the steps that are skipped, so that a step has the number
// here that its card says.
func wanted(rows []job.Row) []job.Row {
	return slices.DeleteFunc(rows, func(r job.Row) bool { return r.Skipped && r.State == job.Blank })
}

// phases says the cord in words.
func (w *walk) phases(c job.Card) {
	words := map[string]string{"done": "done", "here": "here", "ahead": "to come"}
	all := make([]string, len(c.Cord))
	for i, p := range c.Cord {
		all[i] = p.Title + " " + words[p.State]
		if p.Void {
			all[i] += ", void steps in it"
		}
	}
	w.say("Phases: %s.", strings.Join(all, "; "))
}

// step names a row.
func step(r job.Row) string {
	if r.Ask == "" {
		return r.Action
	}
	return r.Action + ", " + r.Ask
}

func state(r job.Row) string {
	var text string
	switch r.State {
	case job.Ready:
		text = fmt.Sprintf("%s (%s, entry %d)", r.Answer, r.Who, r.Line)
	case job.Partial:
		text = "begun, not done"
	case job.Void:
		text = voidAnswer(r.Answer)
	default:
		text = "to come"
	}
	switch {
	case r.Due:
		text += ". DUE NOW"
	case r.Hold && r.State == job.Blank:
		text += ", a hold"
	}
	if r.OldSign != "" {
		text += ". The signature of " + r.OldSign + " is superseded; it stays valid for what it signed"
	}
	return text
}

// voidAnswer says what a void answer said, where that may be heard.
func voidAnswer(old string) string {
	if old == "" {
		return "void"
	}
	return "void, it said " + old
}

// back says an earlier card as it stands. Nothing is changed.
func (w *walk) back(c job.Card, rest string) {
	steps := 1
	if rest != "" {
		n, err := strconv.Atoi(rest)
		if err != nil || n < 1 {
			w.notTaken(c, rest, fmt.Errorf("%q is no number of cards\n  as in :back 2", rest))
			return
		}
		steps = n
	}
	cards, err := w.past(c)
	if err != nil {
		w.notTaken(c, ":back", err)
		return
	}
	if len(cards) == 0 {
		w.say("This is the first card.")
		return
	}
	w.lookAt(cards[max(0, len(cards)-steps)])
	w.say("")
	w.say("End of the look back. This is due now:")
	w.afresh()
}

// past lists the cards before the one that is due.
func (w *walk) past(c job.Card) ([]job.Card, error) {
	rows, err := w.s.Job().Overview(c.Task)
	if err != nil {
		return nil, err
	}
	var out []job.Card
	for _, r := range rows {
		if r.Due {
			break
		}
		if r.State == job.Blank {
			continue
		}
		card, err := w.s.Job().CardAt(c.Task, r.Key)
		if err != nil {
			return nil, err
		}
		if first := card.Fields[0].Key; len(out) == 0 || out[len(out)-1].Fields[0].Key != first {
			out = append(out, card)
		}
	}
	if n := len(out); n > 0 && len(c.Fields) > 0 && out[n-1].Fields[0].Key == c.Fields[0].Key {
		out = out[:n-1] // the card that is due is not behind
	}
	return out, nil
}

func (w *walk) lookAt(c job.Card) {
	w.say("You are looking back. Nothing here can be changed; :reopen does a step again.")
	w.afresh()
	w.card(c)
	for _, f := range c.Fields {
		name := f.Ask
		if name == "" {
			name = "Answer"
		}
		switch {
		case f.State == job.Void:
			w.say("%s: %s", name, voidAnswer(f.Old))
		case f.Answer != "":
			w.say("%s: %s (%s, %s, entry %d)", name, f.Answer, f.Who, moment(f.At), f.Line)
		}
		if f.Scale != nil && f.Scale.Judgement != nil {
			w.say("Verdict: %s.", f.Scale.Judgement.Words())
		}
	}
}

// reopen shows what will be void, and does it on a yes.
func (w *walk) reopen(c job.Card, rest string) {
	which, why, _ := strings.Cut(rest, " ")
	task, key, err := w.stepOf(c, which)
	if err != nil {
		w.notTaken(c, rest, err)
		return
	}
	en := job.Entry{Kind: job.EnterReopen, Task: task, Key: key, Text: strings.TrimSpace(why)}
	e, err := w.s.Foresee(en)
	if err != nil {
		w.notTaken(c, rest, err)
		return
	}
	w.say("If this is re-opened, %s and given again:", voidWords(len(e.Voids)))
	for _, v := range e.Voids {
		w.say("%s", w.voided(c, v))
	}
	if found := w.s.Job().AsFound(task, key); len(found) > 0 {
		w.say("As found before the link was opened, this stands:")
		for _, f := range found {
			w.say("%s", w.voided(c, f))
		}
	}
	if w.yes(c, "Re-open it?") {
		w.enter(c, en)
	}
}

// voidWords says how many answers are void.
func voidWords(n int) string {
	if n == 1 {
		return "1 answer is void"
	}
	return fmt.Sprintf("%d answers are void", n)
}

// stepOf reads a step: its number in the overview, or its key with or without
// the number of a task before it.
func (w *walk) stepOf(c job.Card, text string) (task int, key string, err error) {
	task, key = c.Task, text
	if no, rest, ok := strings.Cut(text, "/"); ok {
		if n, err := strconv.Atoi(no); err == nil {
			task, key = n, rest
		}
	}
	n, err := strconv.Atoi(key)
	if err != nil {
		return task, key, nil
	}
	rows, err := w.s.Job().Overview(task)
	if err != nil {
		return 0, "", err
	}
	rows = wanted(rows)
	if n < 1 || n > len(rows) {
		return 0, "", fmt.Errorf("there is no step %d\n  :overview lists the steps", n)
	}
	return task, rows[n-1].Key, nil
}

// voided names an answer that becomes void, "task/key"; while a second person
// looks without what it says.
func (w *walk) voided(c job.Card, name string) string {
	no, key, _ := strings.Cut(name, "/")
	task, _ := strconv.Atoi(no)
	rows, err := w.s.Job().Overview(task)
	if err != nil {
		return name
	}
	for i, r := range wanted(rows) {
		switch {
		case r.Key != key:
		case c.Blind:
			return fmt.Sprintf("task %d, step %d", task, i+1)
		default:
			return fmt.Sprintf("task %d, step %d, %s: %s", task, i+1, step(r), r.Answer)
		}
	}
	return name
}
