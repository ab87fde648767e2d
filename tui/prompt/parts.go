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
		w.say("Part %d, %s: %s", l.No, j.PartState(l), PartWords(l.Part))
		for _, why := range l.Returned {
			w.say("It came back once: %s", why)
		}
	}
	suggested := j.SuggestParts()
	for i, p := range suggested {
		w.say("Suggested %d: %s", i+1, PartWords(p))
	}
	if len(j.Parts())+len(suggested) == 0 {
		w.say("No part is listed or asked for.")
		return
	}
	if len(suggested) > 0 {
		w.say("%s", job.LengthChoice)
		w.say("Put on the list: :want N, or :want N twin 4190 for a copy of the twin that measures 4190 mm; :want all takes each by the plan.")
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
	word, twin, _ := strings.Cut(rest, " ")
	p, err := wanting(w.s.Job(), suggested, word)
	if err == nil {
		p, err = CopyOfTwin(p, twin)
	}
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

// wanting finds the suggestion of a number, or makes a part of a named thing.
func wanting(j *job.Job, suggested []job.Part, word string) (job.Part, error) {
	if n, err := strconv.Atoi(word); err == nil {
		if n < 1 || n > len(suggested) {
			return job.Part{}, fmt.Errorf("there is no suggestion %d\n  :parts lists them", n)
		}
		return suggested[n-1], nil
	}
	ref, err := wing.ParseRef(word)
	if err != nil {
		return job.Part{}, err
	}
	return j.PartFor(ref, "asked for"), nil
}

// CopyOfTwin gives a part the length of its twin instead of the plan's: text is
// "twin 4190" or empty.
func CopyOfTwin(p job.Part, text string) (job.Part, error) {
	text = strings.TrimSpace(text)
	if text == "" {
		return p, nil
	}
	length, ok := strings.CutPrefix(text, "twin ")
	if !ok {
		return p, fmt.Errorf("%q is no source of a length\n  write twin and what the twin measures, as twin 4190", text)
	}
	l, err := quantity.ParseLength(length)
	if err != nil {
		return p, Cured(err)
	}
	p.Length, p.LengthOf = l, "copy of its twin, "+p.Thing.Twin().String()+", as measured"
	return p, nil
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
	w.shown = spot{}
}
