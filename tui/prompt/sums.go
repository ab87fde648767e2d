package prompt

import (
	"errors"
	"fmt"
	"strings"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/reckon"
)

// reckon lists the bench sums, works one out with the job's bench and plan, or
// says the last one term by term. Nothing is written.
func (w *walk) reckon(c job.Card, rest string) {
	switch rest {
	case "":
		for _, s := range reckon.Sums() {
			w.say("%s: %s", s.ID, s.Title)
		}
		w.say("Work one out with :reckon and its name, as in :reckon length. Nothing is written.")
		return
	case "why":
		w.sumByHand()
		return
	}
	sum, ok := reckon.Find(rest)
	if !ok {
		w.notTaken(c, rest, fmt.Errorf("there is no sum %q\n  :reckon alone lists them", rest))
		return
	}
	w.say("%s. %s", sum.Title, sum.Purpose)
	w.say("Nothing is written. " + ReplyRule)
	w.shown.field = "" // what is due is said again behind it
	values := reckon.Values{}
	for at := 0; at < len(sum.Fields); {
		switch r := w.askField(c, sum.Fields[at], values); {
		case r == BreakOff:
			return
		case r == GoBack && at == 0:
			w.atFirst()
		case r == GoBack:
			at--
		default:
			at++
		}
	}
	w.workOut(c, sum, values)
}

// workOut says the result. A value at fault is asked for again.
func (w *walk) workOut(c job.Card, sum reckon.Sum, values reckon.Values) {
	for {
		r, err := sum.Do(values, reckon.Env{Bench: w.s.Job().Bench, Plan: w.s.Job().Plan})
		if err == nil {
			w.sum = r
			for _, row := range r.Rows {
				w.say("%s: %s", row.Name, row.Text)
			}
			w.say("Term by term: :reckon why")
			return
		}
		w.notTaken(c, ":reckon "+sum.ID, err)
		f, ok := atFault(sum, err)
		if w.err != nil || !ok {
			return
		}
		delete(values, f.Name)
		if w.askField(c, f, values) != Answered { // it alone is at fault: there is none before it
			return
		}
	}
}

func atFault(sum reckon.Sum, err error) (reckon.Field, bool) {
	var r *reckon.Refusal
	if errors.As(err, &r) {
		for _, f := range sum.Fields {
			if f.Name == r.Field {
				return f, true
			}
		}
	}
	return reckon.Field{}, false
}

// askField reads what one field takes into values. Going back takes the last
// of many values away first; an empty line keeps a value that stands.
func (w *walk) askField(c job.Card, f reckon.Field, values reckon.Values) Reply {
	say := func() {
		for _, l := range fieldWords(f) {
			w.say("%s", l)
		}
		if said := values[f.Name]; len(said) > 0 {
			w.say("So far: %s. An empty line keeps it.", strings.Join(said, ", "))
		}
	}
	say()
	for {
		text, r := w.reply(c, say)
		said := values[f.Name]
		switch {
		case r == BreakOff:
			w.brokenOff()
			return r
		case r == GoBack && f.Many && len(said) > 0:
			values[f.Name] = said[:len(said)-1]
			say()
			continue
		case r == GoBack, text == "":
			return r
		case !f.Many:
			values[f.Name] = []string{text}
			return r
		}
		values[f.Name] = append(said, text)
	}
}

// fieldWords says what a field takes and what an empty line does.
func fieldWords(f reckon.Field) []string {
	lines := []string{f.Ask}
	if len(f.Options) > 0 {
		lines = append(lines, "Answers: "+strings.Join(f.Options, ", "))
	}
	wanted := "Wanted: " + string(f.Kind)
	if f.Unit != "" {
		wanted += "; a bare number is in " + f.Unit
	}
	switch {
	case f.Many && f.Optional:
		wanted += ". One a line; an empty line ends them or leaves them out"
	case f.Many:
		wanted += ". One a line; an empty line ends them"
	case f.Optional:
		wanted += ". An empty line leaves it out"
	}
	if f.Fallback != "" {
		wanted += "; left out it is " + f.Fallback
	}
	return append(lines, wanted+".")
}

func (w *walk) sumByHand() {
	if len(w.sum.Why) == 0 {
		w.say("No sum was worked out yet. :reckon alone lists them.")
		return
	}
	for _, l := range w.sum.Why {
		w.say("%s", l)
	}
}
