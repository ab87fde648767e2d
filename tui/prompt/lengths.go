package prompt

import (
	"errors"
	"fmt"
	"os"
	"strings"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/trim"
	"example.org/linewright/engine/wing"
)

// lengths says how far a row of paths is, and by what it is judged.
func (w *walk) lengths(v *job.LengthsView) {
	w.say("%d of %d paths read. Limit: %s either way. Source: %s.", v.Read, v.Total, v.Limit, v.LimitOf)
	w.say("A sheet of all of them: :sheet FILE. One that is not proved: :decide C7 left REASON.")
}

// reported says what a step of a whole wing found: lengths that are not
// inside, the trim, what the work moved, the choice of loops.
func (w *walk) reported(e job.Event) {
	for _, l := range e.Lengths {
		if l.Verdict != metrology.Inside && l.Verdict != "" {
			w.say("%s: %s, sure within %s, limit %s: %s.", l.PathRef, OffWords(l.Deviation), l.U, l.Limit, l.Verdict)
		}
	}
	var lines []string
	if e.Trim != nil {
		lines = append(lines, e.Trim.Words()...)
	}
	if e.Move != nil {
		lines = append(lines, e.Move.Words()...)
	}
	if e.Loops != nil {
		lines = append(lines, e.Loops.Words()...)
	}
	for _, l := range lines {
		w.say("%s", l)
	}
}

// Measured gives the last report of the trim and the last choice of loops that
// count; fewer where there is none.
func Measured(j *job.Job) []*job.Event {
	var report, loops *job.Event
	for _, t := range j.Tasks {
		for _, s := range t.Unfolded.Slots {
			a := t.At(s.Key)
			switch {
			case a == nil || a.State != job.Ready || a.Event == nil:
			case a.Event.Trim != nil:
				report = a.Event
			case a.Event.Loops != nil:
				loops = a.Event
			}
		}
	}
	var out []*job.Event
	for _, e := range []*job.Event{report, loops} {
		if e != nil {
			out = append(out, e)
		}
	}
	return out
}

// report says the last report and the last choice of loops again.
func (w *walk) report(_ job.Card, _ string) {
	events := Measured(w.s.Job())
	for _, e := range events {
		w.reported(*e)
	}
	if len(events) == 0 {
		w.say("Nothing is reported yet: the whole wing was not measured in this job.")
	}
}

// struckPath reads which reading of a sheet is struck, where one is named before
// the reason; without one the whole sheet is.
func (w *walk) struckPath(line int, text string) (*trim.PathRef, string) {
	events, words := w.s.Job().Events(), strings.Fields(text)
	if line < 1 || line > len(events) || len(words) < 2 {
		return nil, text
	}
	ref := trim.PathRef{Point: words[0], Side: wing.Side(words[1])}
	for _, r := range events[line-1].Sheet {
		if r.PathRef == ref {
			return &ref, strings.Join(words[2:], " ")
		}
	}
	return nil, text
}

// OffWords says which way a length is off: a bare number of millimetres leaves
// open whether the path is long or short.
func OffWords(by quantity.Length) string {
	switch {
	case by > 0:
		return by.String() + " long"
	case by < 0:
		return (-by).String() + " short"
	}
	return "as expected"
}

// sheet takes the readings of a CSV file for the step that is due.
func (w *walk) sheet(c job.Card, rest string) {
	reads, err := ReadSheet(w.s.Job().Plan, rest)
	if err != nil {
		w.notTaken(c, rest, err)
		return
	}
	w.enter(c, job.Entry{Kind: job.EnterSheet, Task: c.Task, Sheet: reads, Text: rest})
}

// mostSheet is the largest sheet in bytes that is read.
const mostSheet = 1 << 20

// ReadSheet reads a sheet of path lengths from a file.
func ReadSheet(plan *wing.Plan, name string) ([]job.PathRead, error) {
	info, err := os.Stat(name)
	if err == nil && (info.Size() > mostSheet || !info.Mode().IsRegular()) {
		err = errors.New("it is no file of at most 1 MiB")
	}
	var data []byte
	if err == nil {
		data, err = os.ReadFile(name)
	}
	if err != nil {
		return nil, fmt.Errorf("the sheet cannot be read: %w\n  name a CSV file with the columns point, side, mm or point, left, right", err)
	}
	rows, err := trim.ReadCSV(plan, name, data)
	if err != nil {
		return nil, err
	}
	out := make([]job.PathRead, len(rows))
	for i, r := range rows {
		out[i] = job.PathRead{PathRef: r.PathRef, Typed: r.Typed, Value: r.Value}
	}
	return out, nil
}

// decide takes what is not proved on a person's decision: the step that is due,
// or a path that is named first.
func (w *walk) decide(c job.Card, rest string) {
	words := strings.Fields(rest)
	if len(words) >= 2 {
		ref := trim.PathRef{Point: words[0], Side: wing.Side(words[1])}
		if _, ok := w.s.Job().PathLength(ref.Point, ref.Side); ok {
			w.enter(c, job.Entry{Kind: job.EnterDecide, Path: &ref, Text: strings.Join(words[2:], " ")})
			return
		}
	}
	w.work(c, job.EnterDecide, rest)
}
