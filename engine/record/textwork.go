package record

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/quantity"
)

// steps lists every step that was answered, task by task.
func (t *text) steps() {
	for _, task := range t.c.Tasks {
		t.head(fmt.Sprintf("Task %d, step by step", task.No))
		t.line(2, "%s", task.sentence())
		t.line(2, "begun by %s", task.Begun.by())
		if task.Reason != "" {
			t.line(2, "because: %s", quoted(task.Reason))
		}
		rows := &logbook{text: t, task: task.No}
		for _, s := range task.Steps {
			rows.step(s)
		}
	}
}

// logbook writes steps as rows and says day and name only when they change.
type logbook struct {
	*text
	task       int
	phase, day string
}

func (l *logbook) step(s Step) {
	if s.Entry == nil {
		return
	}
	if s.Phase != l.phase {
		l.phase, l.day = s.Phase, ""
		l.b.WriteString("\n")
		l.line(2, "%s", s.Phase)
	}
	clock, today := clockOf(s.Entry.At)
	today = s.Entry.Who + ", " + today
	if s.Second {
		today += ", as the second person"
	}
	if today != l.day {
		l.day = today
		l.line(4, "%s", today)
	}
	l.look(s)
	l.row(clock, s.Entry.Line, told(s.label(), s.said()))
	if s.LoopFit != nil {
		l.line(logColumn, "%s", fitted(s.LoopFit))
	}
	for _, at := range s.Stands {
		l.line(logColumn, "found to stand: %s", at.by())
	}
	for _, d := range s.Paths {
		l.line(logColumn, "%s not proved, taken by decision, %s: %s", d.PathRef, quoted(d.Reason), d.by())
	}
	if s.Open != "" {
		l.line(logColumn, "LEFT OPEN: %s", s.Open)
	}
}

// fitted says what was reckoned of the loops when one was chosen.
func fitted(f *job.LoopFit) string {
	if f.Missing != "" {
		return "no loop was reckoned: " + f.Missing
	}
	var each []string
	for _, fit := range f.Fitting.Fits {
		each = append(each, fit.Loop+" "+against(fit.LeftMM))
	}
	return fmt.Sprintf("reckoned then: with %s it was %s against its twin (limit %s); each loop leaves it: %s; loop table: %s",
		f.On, against(f.Fitting.NewMM), f.Limit, strings.Join(each, ", "), f.Fitting.LoopSource)
}

// against says a length against its twin.
func against(mm float64) string {
	switch l, err := quantity.LengthFromMM(math.Abs(mm)); {
	case err != nil || l == 0:
		return "0 mm off"
	case mm < 0:
		return l.String() + " short"
	default:
		return l.String() + " long"
	}
}

// logColumn is where the text of a row begins.
const logColumn = 22

func (l *logbook) row(clock string, line int, said string) {
	l.hang(fmt.Sprintf("    %5s  entry %-4d ", clock, line), said)
}

// look writes the look that began at a step and in which it was answered.
func (l *logbook) look(s Step) {
	at, ok := l.lookBefore(l.task, s.Entry.Line)
	if ok && s.Second && at.Step == s.Key {
		clock, _ := clockOf(at.At)
		l.row(clock, at.Line, "The look of "+at.Name+" begins")
	}
}

// said is a step's answer with its verdict.
func (s Step) said() string {
	if s.Judgement != nil {
		return s.Answer + "; " + judged(s)
	}
	return s.Answer
}

// clockOf splits a time into clock and day.
func clockOf(at string) (clock, today string) {
	words := strings.Fields(when(at))
	if len(words) != 3 {
		return "", at
	}
	return words[1], words[0] + " (" + words[2] + ")"
}

// takenBack lists strikes, re-openings, disagreements and interruptions in the
// order in which they happened.
func (t *text) takenBack() {
	rows := t.turns()
	if len(rows) == 0 {
		return
	}
	t.head("Taken back, done again, interrupted")
	for i, r := range rows {
		t.item(i+1, "%s", r.text)
		t.line(5, "%s", r.by())
		for _, state := range r.safe {
			t.line(5, "as it was left: %s", state)
		}
		if r.voids > 0 {
			t.line(5, "%s did not count any more", count(r.voids, "answer"))
		}
	}
}

// turn is one thing that did not go straight on.
type turn struct {
	Stamp
	text  string
	voids int
	safe  []string
}

func (t *text) turns() []turn {
	c := t.c
	var rows []turn
	for _, x := range c.Strikes {
		rows = append(rows, turn{x.Stamp, fmt.Sprintf("Struck: entry %d%s: %s", x.Struck, t.of(x), quoted(x.Reason)), 0, nil})
	}
	for _, x := range c.Reopenings {
		rows = append(rows, turn{x.Stamp, told("Opened again: "+t.named(x.Task, x.Step), quoted(x.Reason)), len(x.Voids), nil})
	}
	for _, x := range c.Disagreements {
		rows = append(rows, turn{x.Stamp, told("Not agreed: "+t.named(x.Task, x.Step), quoted(x.Reason)), len(x.Voids), nil})
	}
	for _, x := range c.Pauses {
		rows = append(rows, turn{x.Stamp, x.text(), 0, x.Safe})
	}
	for _, x := range c.Confirmations {
		rows = append(rows, turn{x.Stamp, "After an interruption looked at again and found as written: " + t.named(x.Task, x.Step), 0, nil})
	}
	slices.SortFunc(rows, func(a, b turn) int { return a.Line - b.Line })
	return rows
}

func (t *text) of(x Change) string {
	if x.Task == 0 || x.Step == "" {
		return ""
	}
	return ", " + t.named(x.Task, x.Step)
}

func (p Pause) text() string {
	switch job.Kind(p.Kind) {
	case job.LaidDown:
		return fmt.Sprintf("Task %d laid down: %s", p.Task, quoted(p.Reason))
	case job.TakenUp:
		return fmt.Sprintf("Task %d taken up again", p.Task)
	}
	return fmt.Sprintf("Task %d dropped: %s", p.Task, quoted(p.Reason))
}

// notCounting lists what was entered and does not count: each step once for
// every time that it was opened again.
func (t *text) notCounting() {
	n := 0
	for _, task := range t.c.Tasks {
		for _, s := range task.Steps {
			for i, e := range s.Earlier {
				if i == 0 || e.VoidBy != s.Earlier[i-1].VoidBy {
					if n == 0 {
						t.head("Entries that do not count")
					}
					n++
					t.item(n, "%s%s", t.named(task.No, s.Key), void(e.VoidBy))
				}
				t.hang("     ", e.text())
			}
		}
	}
}

func void(by int) string {
	if by == 0 {
		return ", noted and not taken"
	}
	return fmt.Sprintf(", void since entry %d", by)
}

// text says one entry that does not count.
func (e Earlier) text() string {
	said := fmt.Sprintf("entry %d, %s, %s: ", e.Line, e.Who, when(e.At))
	switch {
	case e.Decision != "":
		return said + "taken on a decision, " + quoted(e.Decision)
	case e.Why != nil:
		return said + e.Answer + "; " + reason(e.Why)
	}
	return said + e.Answer
}

// reasons are short words for why an entry was noted and not taken. They are
// the record's own: the sentences of the bench may be bettered, and a record
// must be made anew from its journal with the same bytes.
var reasons = map[job.Code]string{
	job.Implausible:   "not between {1} and {2}",
	job.Miscounted:    "not between {1} and {2}",
	job.CodeCase:      "capital and small letters differ, wanted is {1}",
	job.CodeOther:     "it is not {1}",
	job.OrderCrossed:  "crossed: {0}",
	job.OrderOffPlan:  "not as in the plan: {0}",
	job.OrderMirrored: "exactly the other way round",
	job.WrongState:    "not right yet",
	job.StopHere:      "the task cannot go on with this",
	job.MustFails:     "it does not fit",
	job.OutsideLimit:  "outside the limit",
	job.NotProvedYet:  "not proved",
}

func reason(w *Why) string {
	words, ok := reasons[w.Code]
	if !ok {
		words = strings.ReplaceAll(string(w.Code), "_", " ")
	}
	return put(words, w.Args)
}
