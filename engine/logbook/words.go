package logbook

import (
	"fmt"
	"strings"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/metrology"
)

// Words gives the book to a person: first whether the wing is on the ground,
// then what is due, findings, parts, lengths, jobs.
func (b Book) Words() []string {
	out := []string{b.title()}
	if b.Demo {
		out = append(out, "DEMO: sample data stands in it. It says nothing about any wing.")
	}
	for _, u := range b.Unread {
		out = append(out, u.words())
	}
	if len(b.Jobs) == 0 {
		return append(out, "No job yet.")
	}
	out = append(out, b.Status.Words()...)
	out = append(out, b.Hours.words())
	for _, part := range []struct {
		title string
		lines []string
	}{
		{"Due", b.dueWords()},
		{"Open findings", entryWords(b.Open)},
		{"Carried over", entryWords(b.Deferred)},
		{"Ended findings", entryWords(b.Over)},
		{"Left open by jobs", b.leftOpen()},
		{"New parts", b.fittedWords()},
		{"Lengths", b.lengthWords()},
		{"Jobs", b.jobWords()},
	} {
		if len(part.lines) == 0 {
			continue
		}
		out = append(out, "", part.title)
		for _, l := range part.lines {
			out = append(out, "  "+l)
		}
	}
	return out
}

func (b Book) title() string {
	jobs := "no job"
	switch n := len(b.Jobs); {
	case n == 1:
		jobs = "1 job, " + day(b.Jobs[0].Begun)
	case n > 1:
		jobs = fmt.Sprintf("%d jobs, %s to %s", n, day(b.Jobs[0].Begun), day(b.Jobs[n-1].Last))
	}
	return fmt.Sprintf("Logbook on %s: %s", b.Today, jobs)
}

func (u Unread) words() string {
	what, _, _ := strings.Cut(u.Fault, "\n")
	if u.OfWing {
		return fmt.Sprintf("JOB %d CANNOT BE READ; what it holds is missing here: %s", u.Job, what)
	}
	return fmt.Sprintf("JOB %d CANNOT BE READ; it may be one of this wing: %s", u.Job, what)
}

func (h Hours) words() string {
	switch {
	case h.Now == nil:
		return "Flying hours: not known. What goes by hours cannot be judged."
	case h.Said:
		return "Flying hours: " + h.Now.String() + "."
	}
	return fmt.Sprintf("Flying hours: at least %s (job %d, %s); not said today.", h.Now, h.Job, day(h.At))
}

var reachWords = map[Reach]string{Past: "PAST", Now: "NOW", Unknown: "NOT KNOWN", Near: "NEAR", Later: "LATER"}

func (b Book) dueWords() []string {
	var out []string
	for _, d := range b.Due {
		out = append(out, reachWords[d.Reach]+": "+d.Text)
	}
	return out
}

func entryWords(list []Entry) []string {
	var out []string
	for _, e := range list {
		out = append(out, e.words())
	}
	return out
}

// words says a finding with its first date and what became of it.
func (e Entry) words() string {
	text := e.Thing.String() + ": " + e.Text
	if e.Place != nil {
		text += ", " + e.Place.String() + " from its lower end"
	}
	if e.Note != "" {
		text += " (" + e.Note + ")"
	}
	text += fmt.Sprintf("; found %s by %s (%s)", day(e.At), e.Who, e.ID)
	switch e.State {
	case job.StateOpen:
		return text + ": " + string(e.Disposition)
	case job.StateDeferred:
		return text + fmt.Sprintf(": until %s, since %s in job %d: %s", e.Deferred.Limit(), day(e.Deferred.At), e.Deferred.Job, e.Deferred.Reason)
	case job.StateMended:
		return text + fmt.Sprintf(": mended %s by job %d, task %d", day(e.Said.At), e.Job, e.Mended)
	case job.StateCleared:
		return text + fmt.Sprintf(": cleared %s by job %d, %s: %s", day(e.Said.At), e.Job, e.Way, e.Why)
	case job.StateStruck:
		return text + fmt.Sprintf(": struck %s in job %d: %s", day(e.Said.At), e.Job, e.Why)
	}
	return text + ": " + string(e.State)
}

// leftOpen lists what answers left open and no release settled. Tasks that are
// not finished stand with their job.
func (b Book) leftOpen() []string {
	var out []string
	for _, p := range b.Jobs {
		if p.settled(b.Status.Released) {
			continue
		}
		for _, it := range p.Open {
			if it.Step != "" {
				out = append(out, fmt.Sprintf("%s, %s (job %d, task %d)", day(it.Since), it.Text, p.Job, it.Task))
			}
		}
	}
	return out
}

func (b Book) fittedWords() []string {
	var out []string
	for _, f := range b.Fitted {
		text := fmt.Sprintf("%s: %s, %s (job %d, task %d)", f.Thing, day(f.Moment.At), f.Title, f.Job, f.Task)
		for _, a := range f.Part {
			text += "; " + a.Ask + ": " + a.Answer
		}
		out = append(out, text)
	}
	return out
}

// lengthWords is the table of lengths: a place with one length on one line,
// one with several with a line for each.
func (b Book) lengthWords() []string {
	var out []string
	for _, place := range b.Places() {
		list := b.Lengths[place]
		if len(list) == 1 {
			out = append(out, place.String()+": "+list[0].row())
			continue
		}
		out = append(out, place.String()+":")
		for _, l := range list {
			out = append(out, "  "+l.row())
		}
	}
	return out
}

func (l LengthAt) row() string {
	text := day(l.Moment.At)
	if l.State != pathState {
		text += " " + l.State
	}
	text += fmt.Sprintf(" %s: %s (job %d", l.Value, l.words(), l.Job)
	if l.Expected > 0 {
		text += "; against: " + l.Against
	}
	return text + ")"
}

// words says how far a length is off, and what that proves.
func (l LengthAt) words() string {
	if l.Expected == 0 {
		return "nothing to hold it against, U " + l.U.String()
	}
	text := fmt.Sprintf("%s, U %s", signed(l), l.U)
	if l.Verdict == "" {
		return text
	}
	text += fmt.Sprintf(", limit %s: %s", l.Limit, l.Verdict)
	if l.Verdict == metrology.NotProved && l.Decided != "" {
		text += ", taken by decision: " + l.Decided
	}
	return text
}

func signed(l LengthAt) string {
	switch {
	case l.Deviation > 0:
		return "+" + l.Deviation.String()
	case l.Deviation < 0:
		return l.Deviation.String()
	}
	return "0 mm"
}

func (b Book) jobWords() []string {
	var out []string
	for _, p := range b.Jobs {
		out = append(out, p.words())
	}
	return out
}

func (p Page) words() string {
	text := fmt.Sprintf("%d: %s", p.Job, day(p.Begun))
	if day(p.Last) != day(p.Begun) {
		text += " to " + day(p.Last)
	}
	if p.Reason != "" {
		text += ", " + p.Reason
	}
	if p.Hours != nil {
		text += ", at " + p.Hours.String()
	}
	for _, t := range p.Tasks {
		text += "; " + t.Title + ", " + t.On + ": " + string(t.State)
	}
	switch {
	case p.HandedTo != "":
		return text + "; handed on to " + p.HandedTo
	case p.Closed:
		return text + "; closed"
	}
	return text + "; not closed"
}
