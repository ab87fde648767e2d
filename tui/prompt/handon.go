package prompt

import (
	"fmt"
	"io"
	"strings"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/session"
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

// handOn gives the job to another person: NAME WORDS. The session tries first
// whether the job can be packed.
func (w *walk) handOn(c job.Card, rest string) {
	to, words, _ := strings.Cut(rest, " ")
	safe, ok := w.safely(0)
	if !ok {
		return
	}
	en := job.Entry{Kind: job.EnterHandOn, To: to, Text: strings.TrimSpace(words), Safe: safe}
	_, err := w.s.Preview(en)
	if err == nil {
		err = w.s.HandOn(session.HandOn{To: en.To, Words: en.Text, Safe: en.Safe}, io.Discard)
	}
	w.told(c, rest, job.Event{}, err)
	if err == nil {
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
	words := HandedWords(w.s.Job())
	for _, l := range words {
		w.say("%s", l)
	}
	if len(words) > 0 {
		w.say("Look at all of it on the wing; then :take-over.")
	}
}

// HandedWords says what a person has to know who takes a job over that was
// handed on: what was said, what is open, how it was left, what is to be done.
// It is empty where the job was not handed on.
func HandedWords(j *job.Job) []string {
	if j.HandedTo() == "" {
		return nil
	}
	out := []string{fmt.Sprintf("This job was handed on to %s.", j.HandedTo())}
	if words := j.HandedWords(); words != "" {
		out = append(out, "What was said: "+words)
	}
	out = append(out, OpenWords(j)...)
	for _, state := range j.HandedState() {
		out = append(out, "As it was left: "+state+".")
	}
	for _, t := range j.Agenda() {
		out = append(out, "To be done: "+TodoWords(t))
	}
	return out
}
