package prompt

import (
	"strconv"
	"strings"

	"example.org/linewright/engine/job"
)

// inspection says what a step looks at, and what was found so far.
func (w *walk) inspection(f job.Field) {
	in := f.Inspection
	names := make([]string, 0, len(in.Things))
	for _, t := range in.Things {
		names = append(names, strings.TrimSuffix(t.Ref.String(), " "+string(in.Side)))
	}
	w.say("Looked at here, %d: %s.", len(names), strings.Join(runs(names), ", "))
	for _, t := range in.Things {
		for _, found := range t.Found {
			w.say("Found, entry %d: %s", found.Line, found.Words())
		}
	}
	if f.State == job.Void {
		w.say("Void: touch it all again.")
	}
	w.say("Wanted: 1 when your hand went over all the rest and it is sound; or the code of what is damaged.")
}

// runs shortens names that count on: "A3.1 to A3.12" for twelve lines.
func runs(names []string) []string {
	var out []string
	for from := 0; from < len(names); {
		to := from
		for to+1 < len(names) && follows(names[to], names[to+1]) {
			to++
		}
		switch {
		case to > from+1:
			out = append(out, names[from]+" to "+names[to])
		default:
			out = append(out, names[from:to+1]...)
		}
		from = to + 1
	}
	return out
}

// follows reports whether a name is the one before it, counted on by one.
func follows(a, b string) bool {
	head := strings.TrimRight(a, "0123456789")
	rest, ok := strings.CutPrefix(b, head)
	m, errA := strconv.Atoi(a[len(head):])
	n, errB := strconv.Atoi(rest)
	return ok && errA == nil && errB == nil && n == m+1
}

// mark asks what was found on a thing and writes it.
func (w *walk) mark(c job.Card, f job.Field, text string) {
	thing, err := ThingNamed(f.Inspection.Things, text)
	if err != nil {
		w.notTaken(c, text, err)
		return
	}
	entry := func(seen *job.Seen) job.Entry {
		return job.Entry{Kind: job.EnterFinding, Task: c.Task, Key: f.Key, Seen: seen, Text: text}
	}
	talk := NewFindingTalk(thing, w.s.KeepPhoto, func(seen *job.Seen) error {
		_, err := w.s.Foresee(entry(seen))
		return err
	})
	w.shown.field = ""
	w.say(ReplyRule)
	for !talk.Over() {
		q := talk.Question()
		answer, r := w.asked(c, q)
		switch {
		case r == BreakOff:
			w.brokenOff()
			return
		case r == GoBack:
			if !talk.Back() {
				w.atFirst()
			}
			continue
		}
		if err := talk.Take(answer); err != nil {
			w.notTaken(c, answer, err)
			if w.err != nil {
				return
			}
			continue
		}
		if len(q.Options) > 0 {
			w.say("%s", talk.Verdict())
		}
	}
	w.enter(c, entry(talk.Seen()))
}

// asked puts one question of a talk and reads the reply.
func (w *walk) asked(c job.Card, q TalkQuestion) (string, Reply) {
	say := func() {
		w.say("%s", w.briefly(q.Ask))
		for i, text := range q.Options {
			w.say("%d: %s", q.Number(i), text)
		}
		switch {
		case q.Numbers != nil:
			w.say("Wanted: one of these numbers.")
		case len(q.Options) > 0:
			w.say("Wanted: %s.", numberUpTo(len(q.Options)))
		case q.Empty != "":
			w.say("An empty line: %s.", q.Empty)
		}
	}
	say()
	return w.reply(c, say)
}
