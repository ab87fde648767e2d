package prompt

import (
	"errors"
	"strconv"
	"strings"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/procedure"
)

// take does what one line asks for.
func (w *walk) take(c job.Card, line string) {
	text := strings.TrimSpace(line)
	w.reason = ""
	if strings.EqualFold(text, helpWord) {
		w.explain(c)
		return
	}
	if isCommand(text) {
		w.command(c, text)
		return
	}
	if c.Task == 0 {
		w.notTaken(c, text, errors.New("there is no task to answer\n  add one with :add"))
		return
	}
	entry := job.Entry{Kind: job.EnterAnswer, Task: c.Task, Text: text}
	if text == "" {
		entry.Kind = job.EnterOn
	}
	if len(c.Fields) > 0 && c.Confirm == nil {
		f := c.Fields[c.At]
		entry.Key = f.Key
		switch {
		case wantsLooker(c) && text != "":
			w.looker(c, text)
			return
		case f.Kind == procedure.Sign && text != "":
			w.sign(c, f, text)
			return
		case f.Kind == procedure.Inspect && text != "" && text != "1":
			w.mark(c, f, text)
			return
		case f.Kind == procedure.Photo && text != "":
			e, err := w.s.AddPhoto(c.Task, f.Key, text)
			w.told(c, text, e, err)
			return
		}
	}
	w.enter(c, entry)
}

// enter says how an entry is understood, writes it, and says what became of it.
func (w *walk) enter(c job.Card, en job.Entry) {
	if en.Again = w.before(en); w.err != nil {
		return
	}
	understood, err := w.s.Preview(en)
	if err != nil {
		w.notTaken(c, en.Text, err)
		return
	}
	if en.Kind == job.EnterAnswer && understood != "" && understood != en.Text {
		w.say("Understood: %s", understood)
	}
	e, err := w.s.Enter(en)
	if AsksSide(err) {
		w.side(c, en)
		return
	}
	if AsksAgain(err) {
		w.once(en, err)
		return
	}
	w.typed = typedOnce{}
	w.told(c, en.Text, e, err)
}

// told says what became of an entry. "Saved" comes only after the write.
func (w *walk) told(c job.Card, typed string, e job.Event, err error) {
	if err != nil {
		w.notTaken(c, typed, err)
		return
	}
	w.say("Saved, entry %d.", w.s.Job().Lines)
	w.reported(e)
	if e.Opened != "" {
		w.say("This stays open in the record: %s", e.Opened)
	}
	if len(e.Voids) > 0 {
		w.say("%s.", voidWords(len(e.Voids)))
		w.shown = spot{}
	}
	if e.Outcome == job.Open && e.Why != nil {
		w.noted(c, typed, e)
	}
}

// noted says why a step stays open though its entry is written.
func (w *walk) noted(c job.Card, typed string, e job.Event) {
	what, do := e.Why.Words()
	w.say("Noted, and the step stays open: %s", what)
	w.hint(do)
	w.misread()
	w.wayOut(c, e.Why.Code)
	w.reason = saidBy(e.Why)
	if w.strict() {
		w.err = &NotTaken{Typed: typed, Step: e.Key, Written: true, Because: e.Why}
	}
}

// misread says an order that is not right beside the one that it has to be.
func (w *walk) misread() {
	c, err := w.s.Card(w.task)
	if err != nil || len(c.Fields) == 0 || c.Fields[c.At].Misread == nil {
		return
	}
	wrong, from := c.Fields[c.At].Misread, "As it has to be"
	if wrong.ByPlan {
		from = "By the plan"
	}
	w.say("%s, from the centre: %s.", from, strings.Join(wrong.Right, " "))
	w.say("As it was read now, from the centre: %s.", strings.Join(wrong.Read, " "))
}

// notTaken says why nothing was written. A failed write stops everything until
// :mend; nothing that was said to be saved is touched by it.
func (w *walk) notTaken(c job.Card, typed string, err error) {
	if w.s.Stopped() != nil {
		what, _, _ := strings.Cut(err.Error(), "\n")
		w.say("NOT SAVED: %q: %s", typed, what)
		w.say("Nothing more is taken. Make room on the disk or see to it, then type :mend")
		if !w.in.Terminal() {
			w.err = err
		}
		return
	}
	strict := w.strict() // asked once: what was foreseen is foreseen once
	w.refused(err, typed, !strict)
	if strict {
		w.err = &NotTaken{Typed: typed, Step: due(c), Because: because(err), Err: err}
	}
}

// refused says what is wrong and what to do. What an entry looks like is left
// to the question where one follows: asked.
func (w *walk) refused(err error, typed string, asked bool) {
	b := because(err)
	if b == nil {
		w.words("Refused: ", err)
		return
	}
	w.reason = saidBy(b)
	if what, _ := b.Words(); asked && (b.Code == job.ValueWanted || b.Code == job.ChoiceUnknown) {
		w.say("Refused: %s", what)
	} else {
		w.words("Refused: ", err)
	}
	if b.Code == job.ReasonMissing && isNumber(typed) {
		w.say("The reason goes behind the number, as in: %s the maker says so", typed)
	}
}

// wayOut names the command that the words of a step speak of.
func (w *walk) wayOut(c job.Card, code job.Code) {
	switch {
	case c.Second:
		w.say(":disagree WORDS is not to agree.")
	case code == job.CodeCase, code == job.CodeOther, code == job.StopHere:
		if l, ok := w.s.Job().Receiving(c.Task); ok {
			w.say(":return %d REASON sends it back to the order list; this task is dropped by it.", l.No)
		}
	case code == job.NotProvedYet, code == job.NotProvedMore, code == job.NotProvedNever:
		w.say(":decide WORDS takes it on your own decision.")
	}
}

// saidBy is a reason as it is said, to know it again.
func saidBy(b *job.Because) string {
	what, do := b.Words()
	return what + "\n" + do
}

// strict reports whether an entry that is not taken ends the walk.
func (w *walk) strict() bool {
	if w.in.Terminal() || w.o.Patient || w.err != nil {
		return false
	}
	return w.o.Foreseen == nil || !w.o.Foreseen(w.last)
}

// words prints an error: what is wrong, and on the next line what to do.
func (w *walk) words(lead string, err error) {
	for _, line := range strings.Split(err.Error(), "\n") {
		if line = strings.TrimSpace(line); line != "" {
			w.say("%s%s", lead, line)
			lead = ""
		}
	}
}

func isNumber(text string) bool {
	_, err := strconv.Atoi(text)
	return err == nil
}

func due(c job.Card) string {
	if len(c.Fields) == 0 {
		return "no step"
	}
	return c.Fields[c.At].Key
}

func because(err error) *job.Because {
	var r *job.Refusal
	if errors.As(err, &r) {
		return r.Because
	}
	return nil
}

// reason is why an entry was not taken, on one line.
func reason(b *job.Because, err error) string {
	if b != nil {
		what, do := b.Words()
		if do != "" {
			what = strings.TrimSuffix(what, ".") + ". " + do
		}
		return what
	}
	var lines []string
	for line := range strings.Lines(err.Error()) {
		lines = append(lines, strings.TrimSpace(line))
	}
	return strings.Join(lines, "; ")
}
