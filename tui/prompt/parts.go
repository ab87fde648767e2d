package prompt

import (
	"fmt"
	"strconv"
	"strings"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

// parts lists the order list, and what the findings ask for beyond it.
func (w *walk) parts(_ job.Card, _ string) {
	j := w.s.Job()
	for _, l := range j.Parts() {
		w.say("Part %d, %s: %s", l.No, j.PartState(l), partWords(l.Part))
		for _, why := range l.Returned {
			w.say("It went back: %s", why)
		}
	}
	suggested := j.SuggestParts()
	for _, p := range suggested {
		w.say("Suggested: %s", partWords(p))
	}
	if len(j.Parts())+len(suggested) == 0 {
		w.say("No part is listed or asked for.")
		return
	}
	if len(suggested) > 0 {
		w.say("%s", job.LengthChoice)
		w.say("Put on the list: :want %s. For a copy of its twin, say what that measures: :want %s twin 4190. A price, at the end: price 14.50 EUR; a note behind it: note WORDS. Each by the plan: :want all.",
			suggested[0].Thing, suggested[0].Thing)
	}
	w.say("Read a code back: :read PART CODE. Make the order final: :order. It came and is no line: :came PART WORDS. A line: :add part-receipt CODE SIDE. It is wrong: :return PART REASON. Not wanted: :unwant PART REASON.")
}

// PartWords says a part in one line.
func PartWords(p job.Part) string {
	text := fmt.Sprintf("%d x %s", p.Count, p.Thing)
	if p.Length > 0 {
		text += fmt.Sprintf(", %s (%s)", p.Length, p.LengthOf)
	}
	for _, more := range []string{p.Material, p.Loops, p.Price, p.Note} {
		if more != "" {
			text += ", " + more
		}
	}
	if p.Diameter > 0 {
		text += ", " + p.Diameter.String() + " thick"
	}
	if p.Why != "" {
		text += ". For: " + p.Why
	}
	return text
}

// want puts a suggested part on the order list.
func (w *walk) want(c job.Card, rest string) {
	suggested := w.s.Job().SuggestParts()
	if rest == "all" {
		for _, p := range suggested {
			w.list(c, p)
		}
		return
	}
	p, err := Wanting(w.s.Job(), rest)
	if err != nil {
		w.notTaken(c, rest, err)
		return
	}
	w.list(c, p)
}

func (w *walk) list(c job.Card, p job.Part) {
	if w.err == nil {
		w.enter(c, job.Entry{Kind: job.EnterPart, Part: &job.PartMove{Op: job.PartList, Part: &p}, Text: p.Thing.String()})
	}
}

// Wanting reads which part is wanted: a thing that was suggested by its words,
// or any by the form that files have, then the length of its twin, a price and a
// note where they are said: "C1.2 left twin 4190 price 14.50 EUR note yellow".
func Wanting(j *job.Job, text string) (job.Part, error) {
	text = strings.Join(strings.Fields(text), " ")
	text, note, _ := strings.Cut(text, " note ")
	text, price, _ := strings.Cut(text, " price ")
	name, twin, copied := strings.Cut(text, " twin ")
	p, err := wantedPart(j, name)
	if err != nil {
		return p, err
	}
	p.Price, p.Note = strings.TrimSpace(price), strings.TrimSpace(note)
	if !copied {
		return p, nil
	}
	l, err := quantity.ParseLength(twin)
	if err != nil {
		return p, Cured(err)
	}
	p.Length, p.LengthOf = l, "copy of its twin, "+p.Thing.Twin().String()+", as measured"
	return p, nil
}

func wantedPart(j *job.Job, name string) (job.Part, error) {
	for _, p := range j.SuggestParts() {
		if p.Thing.String() == name {
			return p, nil
		}
	}
	ref, err := wing.ParseRef(name)
	if err != nil {
		return job.Part{}, fmt.Errorf("%q is not suggested\n  write it as :parts has it, or with its kind, as in line:C1.2@left", name)
	}
	return j.PartFor(ref, "asked for"), nil
}

func (w *walk) readBack(c job.Card, rest string) { w.movePart(c, job.PartRead, rest) }
func (w *walk) came(c job.Card, rest string)     { w.movePart(c, job.PartTaken, rest) }
func (w *walk) sendBack(c job.Card, rest string) { w.movePart(c, job.PartReturn, rest) }
func (w *walk) unwant(c job.Card, rest string)   { w.movePart(c, job.PartDrop, rest) }

func (w *walk) order(c job.Card, _ string) {
	w.enter(c, job.Entry{Kind: job.EnterPart, Part: &job.PartMove{Op: job.PartOrder}, Text: "order"})
}

// movePart moves one part of the list on: its number, then words.
func (w *walk) movePart(c job.Card, op job.PartOp, rest string) {
	word, text, _ := strings.Cut(rest, " ")
	n, err := strconv.Atoi(word)
	if err != nil {
		w.notTaken(c, rest, fmt.Errorf("%q is no number of a part\n  :parts lists them", word))
		return
	}
	m := &job.PartMove{Op: op, No: n}
	if op == job.PartRead {
		m.Text = strings.TrimSpace(text)
	}
	w.enter(c, job.Entry{Kind: job.EnterPart, Part: m, Text: strings.TrimSpace(text)})
	w.shown.field = ""
}
