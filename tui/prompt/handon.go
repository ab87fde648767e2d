package prompt

import (
	"fmt"
	"io"
	"strings"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/session"
)

// safely asks for the state in which the work is left, and puts it into the
// entry. What is not safe is said at once and asked again. False where the entry
// is refused for something else, or the person broke off.
func (w *walk) safely(c job.Card, en *job.Entry) bool {
	questions := w.s.Job().SafeState(en.Task)
	for {
		_, err := w.s.Foresee(*en)
		switch b := because(err); {
		case err == nil:
			return true
		case b == nil || b.Code != job.SafeFirst && b.Code != job.NotSafe:
			w.notTaken(c, en.Text, err)
			return false
		case b.Code == job.NotSafe:
			last := len(en.Safe) - 1
			w.notTaken(c, en.Safe[last], err)
			en.Safe = en.Safe[:last]
		}
		if w.err != nil {
			return false
		}
		q := questions[len(en.Safe)]
		text, r := w.asked(c, TalkQuestion{Ask: q.Ask, Options: q.Options})
		switch {
		case r == BreakOff:
			w.brokenOff()
			return false
		case r == GoBack && len(en.Safe) == 0:
			w.atFirst()
		case r == GoBack:
			en.Safe = en.Safe[:len(en.Safe)-1]
		default:
			en.Safe = append(en.Safe, text)
		}
	}
}

// layDown lets a task wait. With a link open the safe state is looked at first.
func (w *walk) layDown(c job.Card, rest string) {
	en := job.Entry{Kind: job.EnterLayDown, Task: c.Task, Text: rest}
	if w.safely(c, &en) {
		w.enter(c, en)
	}
}

// handOn gives the job to another person: NAME WORDS. The session tries first
// whether the job can be packed.
func (w *walk) handOn(c job.Card, rest string) {
	to, words, _ := strings.Cut(rest, " ")
	en := job.Entry{Kind: job.EnterHandOn, To: to, Text: strings.TrimSpace(words)}
	if !w.safely(c, &en) {
		return
	}
	err := w.s.HandOn(session.HandOn{To: en.To, Words: en.Text, Safe: en.Safe}, io.Discard)
	w.told(c, rest, job.Event{}, err)
	if err == nil {
		w.say("Pack it for the other machine: %s.", w.o.Desk.Command(fmt.Sprintf("job pack %d -o FILE", w.s.No())))
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
		w.say("Who goes on looks at all of it on the wing, then :take-over.")
	}
}

// away reports whether the job was handed on: others go on with it.
func (w *walk) away() bool { return w.s.Job().HandedTo() != "" }

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
