package prompt

import (
	"strings"

	"example.org/linewright/engine/job"
)

// safely asks for the state in which the work is left; false where the person
// broke off.
func (w *walk) safely(task int) ([]string, bool) {
	var answers []string
	for _, q := range w.s.Job().SafeState(task) {
		text, ok := w.asked(TalkQuestion{Ask: q.Ask, Options: q.Options})
		if !ok {
			return nil, false
		}
		answers = append(answers, text)
	}
	return answers, true
}

// layDown lets a task wait. With a link open the safe state is looked at first.
func (w *walk) layDown(c job.Card, rest string) {
	safe, ok := w.safely(c.Task)
	if ok {
		w.enter(c, job.Entry{Kind: job.EnterLayDown, Task: c.Task, Text: rest, Safe: safe})
	}
}

// handOn gives the job to another person: NAME WORDS.
func (w *walk) handOn(c job.Card, rest string) {
	to, words, _ := strings.Cut(rest, " ")
	safe, ok := w.safely(0)
	if !ok {
		return
	}
	w.enter(c, job.Entry{Kind: job.EnterHandOn, To: to, Text: strings.TrimSpace(words), Safe: safe})
	if w.s.Job().HandedTo() != "" {
		w.say("Pack it for the other machine: linewright job pack %d -o FILE.", w.s.No())
	}
}

// takeOver goes on with a job that was handed on; what is open was said before.
func (w *walk) takeOver(c job.Card, _ string) {
	w.enter(c, job.Entry{Kind: job.EnterTakeOver})
	w.shown = spot{}
}

// handed says first what is open in a job that was handed on.
func (w *walk) handed() {
	j := w.s.Job()
	if j.HandedTo() == "" {
		return
	}
	w.say("This job was handed on to %s.", j.HandedTo())
	if words := j.HandedWords(); words != "" {
		w.say("What was said: %s", words)
	}
	w.warn()
	for _, state := range j.HandedState() {
		w.say("As it was left: %s.", state)
	}
	for _, t := range j.Agenda() {
		w.say("To be done: %s", TodoWords(t))
	}
	w.say("Look at all of it on the wing; then :take-over.")
}
