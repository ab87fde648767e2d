package prompt

import (
	"errors"
	"fmt"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/quantity"
)

// BenchTalk asks for a bench profile question by question. It reads and prints
// nothing, so that a command and a walk put the same questions.
type BenchTalk struct {
	Bench metrology.Bench // as answered so far
	asked map[string]bool
	order []string // keys of what was asked, in turn
}

// BenchTalkRule says once what Enter does.
const BenchTalkRule = "Enter keeps what stands; a hyphen alone takes the fallback."

// NewBenchTalk begins with what stands.
func NewBenchTalk(b metrology.Bench) *BenchTalk {
	if b.Default {
		b = metrology.NewBench()
	}
	return &BenchTalk{Bench: b, asked: map[string]bool{}}
}

// Next is the question that is due; false when all is asked. An answer may bring
// questions or take some away.
func (t *BenchTalk) Next() (metrology.Question, bool) {
	for _, q := range metrology.Questions(t.Bench) {
		if !t.asked[q.Key] {
			return q, true
		}
	}
	return metrology.Question{}, false
}

// Words says a question in lines: its number and what is asked, how to find it
// out, the options, and what Enter does.
func (t *BenchTalk) Words(q metrology.Question) []string {
	lines := []string{fmt.Sprintf("%d. %s", t.No(), q.Ask)}
	if q.How != "" {
		lines = append(lines, q.How)
	}
	for i, o := range q.Options {
		lines = append(lines, fmt.Sprintf("%d %s: %s", i+1, o.Value, o.Text))
	}
	return append(lines, standing(q))
}

// No is the number of the question that is due, from 1.
func (t *BenchTalk) No() int { return len(t.asked) + 1 }

// standing says what Enter does.
func standing(q metrology.Question) string {
	switch {
	case q.Now == "" && q.Fallback == "":
		return "an answer is needed"
	case q.Now == "":
		return "Enter: " + q.Fallback + ", a fallback"
	case q.Assumed:
		return "Enter: " + q.Now + ", a fallback"
	}
	return "Enter: " + q.Now
}

// Take takes one line: nothing keeps what stands, else the fallback where there
// is one; a hyphen takes the fallback. The error says what is taken, and the
// question stays due.
func (t *BenchTalk) Take(q metrology.Question, text string) error {
	if text != "" || q.Now == "" {
		if text == "-" && q.Fallback != "" {
			text = ""
		}
		next, err := metrology.Answer(t.Bench, q.Key, text)
		if err != nil {
			return Cured(err)
		}
		t.Bench = next
	}
	t.asked[q.Key] = true
	t.order = append(t.order, q.Key)
	return nil
}

// Back goes to the question before; its answer is what stands there now, so that
// Enter keeps it. False at the first.
func (t *BenchTalk) Back() bool {
	n := len(t.order) - 1
	if n < 0 {
		return false
	}
	delete(t.asked, t.order[n])
	t.order = t.order[:n]
	return true
}

// Cured puts what to do below what is wrong, where the error knows it.
func Cured(err error) error {
	var c interface{ Cure() string }
	if errors.As(err, &c) {
		return fmt.Errorf("%w\n  %s", err, c.Cure())
	}
	return err
}

// describe says the bench in force and, on a yes, asks for it anew. Nothing is
// kept before the last question is answered.
func (w *walk) describe(c job.Card, _ string) {
	w.say("The bench in force:")
	for _, l := range w.s.Job().Bench.Words() {
		w.say("%s", l)
	}
	bench := w.s.Job().Bench
	if _, err := w.s.Foresee(job.Entry{Kind: job.EnterBench, Bench: &bench}); err != nil {
		w.words("It cannot be changed now: ", err)
		return
	}
	if !w.yes(c, "Describe it, question by question?") {
		return
	}
	talk := NewBenchTalk(bench)
	w.say(BenchTalkRule)
	w.say(ReplyRule)
	if w.talkBench(c, talk) {
		w.keepBench(c, talk.Bench)
	}
}

// talkBench reports whether every question was answered.
func (w *walk) talkBench(c job.Card, talk *BenchTalk) bool {
	for q, more := talk.Next(); more; q, more = talk.Next() {
		say := func() {
			for _, l := range talk.Words(q) {
				w.say("%s", l)
			}
		}
		say()
		text, r := w.reply(c, say)
		switch {
		case r == BreakOff:
			w.say("The bench is as it was.")
			return false
		case r == GoBack && !talk.Back():
			w.atFirst()
		case r == GoBack:
		default:
			if err := talk.Take(q, text); err != nil {
				w.notTaken(c, text, err)
			}
		}
		if w.err != nil {
			return false
		}
	}
	return true
}

func (w *walk) keepBench(c job.Card, b metrology.Bench) {
	before := w.s.Job().Lines
	err := w.s.DescribeBench(b)
	if w.s.Job().Lines == before {
		w.notTaken(c, b.Name, Cured(err))
		return
	}
	w.say("Saved, entry %d. The job measures on this bench from here on.", w.s.Job().Lines)
	if err != nil {
		w.words("The next job does not know it: ", err)
	}
	w.shown.field = "" // what it can decide is said again
}

// outlook says before the first reading that nobody described the bench, once,
// and that it cannot decide the limit or hardly can, where that is so.
func (w *walk) outlook(s *job.Scale) {
	if !s.HasLimit || s.Quantity != quantity.KindLength {
		return
	}
	bench := w.s.Job().Bench
	if bench.Default {
		if w.first(bench.Note) {
			w.say("Bench: %s.", bench.Note)
		} else {
			w.say("Bench: the fallback.")
		}
	}
	if counting(s) > 0 {
		return
	}
	if s.Outlook != nil && (!s.Outlook.Decides || s.Outlook.Tight()) {
		for _, l := range s.Outlook.Words() {
			w.say("%s", l)
		}
	}
	if bench.Default && !w.benchAsked && !judged(w.s.Job()) {
		w.benchAsked = true
		w.say("Nobody described this bench yet. :bench asks for it, question by question; without it the fallback stands.")
	}
}

// judged reports whether anything in the job was held against a limit.
func judged(j *job.Job) bool {
	for _, e := range j.Events() {
		if e.Judgement != nil {
			return true
		}
	}
	return false
}
