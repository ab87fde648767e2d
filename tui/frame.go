package tui

import (
	"cmp"
	"fmt"
	"strings"
	"time"

	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/x/ansi"

	"example.org/linewright/engine/job"
)

// margin is the blank column at both edges; text stands one further in.
const margin = 1

// header is the first line of every page.
func (m *model) header(left string, w int) string {
	if m.demo() {
		left = "DEMO  " + left
	}
	right := ""
	if m.session != nil {
		right = fmt.Sprintf("%s, job %d", plain(m.at.start.WingName), m.at.no)
	} else if m.desk.Who != "" {
		right = m.desk.Who + " is at the bench"
	}
	room := w - 2*margin
	right = cell(right, room/2)
	left = cell(left, room-2-ansi.StringWidth(right))
	return " " + m.look.strong.Render(left) + pad("", room-ansi.StringWidth(left)-ansi.StringWidth(right)) + right
}

// demo reports whether what is seen is sample data.
func (m *model) demo() bool {
	return m.opt.Demo != nil || m.session != nil && m.at.start.Demo
}

// foot is the last line of every page: the save mark, and the first keys.
func (m *model) foot(keys []key.Binding, w int) string {
	room := w - 2*margin
	hint := hints(keys[:min(3, len(keys))], room*3/5)
	mark := cell(m.saveMark(), room-ansi.StringWidth(hint)-2)
	look := m.look.calm
	if m.failed != nil {
		look = m.look.alert
	}
	return " " + look.Render(mark) + pad("", room-ansi.StringWidth(mark)-ansi.StringWidth(hint)) + hint
}

const notSaved = "NOT SAVED"

// saveMark says what is on the disk and what is not.
func (m *model) saveMark() string {
	switch {
	case m.failed != nil:
		return notSaved + ": the last entry"
	case m.session == nil:
		return ""
	case m.draft() != "":
		return strings.TrimSuffix("field not saved; "+m.mark, "; ")
	}
	return m.mark
}

func (m *model) rule(w int) string { return " " + strings.Repeat("_", max(0, w-2*margin)) }

// frame lays out a page that is no card: a title, a body, what is said once,
// the rule and the foot. The cursor counts from the first line of the body.
func (m *model) frame(title string, body []string, cursor *point, keys []key.Binding, w, h int) sheet {
	lines := make([]string, h)
	lines[0] = m.header(title, w)
	room := bodyRows(h)
	for i := 0; i < room && i < len(body); i++ {
		lines[bodyTop+i] = "  " + body[i]
	}
	lines[h-3] = "  " + m.look.alert.Render(cell(cmp.Or(m.far.words(), m.word), w-4))
	lines[h-2] = m.rule(w)
	lines[h-1] = m.foot(keys, w)
	if cursor == nil {
		return sheet{lines: lines}
	}
	at := point{bodyTop + cursor.row, 2 + cursor.col}
	if at.row >= bodyTop+room {
		return sheet{lines: lines}
	}
	return sheet{lines, &at}
}

const bodyTop = 2

func bodyRows(h int) int { return max(0, h-bodyTop-3) }

func bodyCols(w int) int { return max(0, w-4) }

// clock gives a time of the journal on the clock of the bench.
func (m *model) clock(at string) string {
	t, err := time.Parse(time.RFC3339, at)
	if err != nil {
		return at
	}
	now := m.now()
	t = t.In(now.Location())
	if t.Format(time.DateOnly) == now.Format(time.DateOnly) {
		return t.Format("15:04")
	}
	return t.Format("2006-01-02 15:04")
}

// ago says how long ago a time of the journal was, roughly.
func (m *model) ago(at string) string {
	t, err := time.Parse(time.RFC3339, at)
	if err != nil {
		return ""
	}
	d := m.now().Sub(t)
	switch {
	case d < 0:
		return "the clock of this computer stands before that"
	case d < time.Minute:
		return "just now"
	case d < time.Hour:
		return count(int(d.Minutes()), "minute") + " ago"
	case d < 48*time.Hour:
		return count(int(d.Hours()), "hour") + " ago"
	}
	return count(int(d.Hours()/24), "day") + " ago"
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// savedWords says what an event was, for the save mark.
func (m *model) savedWords(e job.Event) string {
	return fmt.Sprintf("SAVED %s  %s", m.clock(e.At), m.eventWords(e))
}

func (m *model) eventWords(e job.Event) string {
	switch e.Kind {
	case job.Started:
		return "the start of the job"
	case job.Added:
		return fmt.Sprintf("task %d", e.Task)
	case job.Dropped:
		return "task dropped"
	case job.LaidDown:
		return "task laid down"
	case job.TakenUp:
		return "task taken up"
	case job.Confirmed:
		return "it is as it says"
	case job.Reopened:
		return count(len(e.Voids), "answer") + " void"
	case job.Disagreed:
		return "not agreed, " + count(len(e.Voids), "answer") + " void"
	case job.Struck:
		if n := len(e.Voids); n > 0 {
			return fmt.Sprintf("entry %d struck, %s void", e.Line, count(n, "answer"))
		}
		return fmt.Sprintf("entry %d struck", e.Line)
	case job.Noted:
		return "note"
	case job.Benched:
		return "the bench"
	case job.Looking:
		return plain(e.Text) + " looks"
	case job.Signed:
		return "signature of " + plain(e.Sign.Name)
	case job.Closed:
		return "the closing statement"
	case job.Read:
		return m.readingWords(e)
	}
	if words := m.wholeWords(e); words != "" {
		return words
	}
	return m.answerWords(e)
}

// readingWords names a reading by its place; one that is covered keeps its
// value to itself.
func (m *model) readingWords(e job.Event) string {
	f, ok := m.field(e)
	if ok && f.Lengths != nil && e.Path != nil {
		return pathWords(f.Lengths, e)
	}
	if !ok || f.Scale == nil {
		return "reading"
	}
	name := fmt.Sprintf("reading %d", len(f.Scale.Readings))
	if f.Scale.Covered {
		return name
	}
	return name + ", " + e.Value.String()
}

func (m *model) answerWords(e job.Event) string {
	text := "answer"
	if f, ok := m.field(e); ok && f.Answer != "" {
		text = plain(f.Answer)
	}
	if e.Judgement != nil {
		text += ", " + string(e.Judgement.Verdict)
	}
	if e.Outcome == job.Open {
		text = "noted " + text
	}
	return text
}

// field finds the field that an event was about, as it stands now.
func (m *model) field(e job.Event) (job.Field, bool) {
	c, err := m.session.Job().CardAt(e.Task, e.Key)
	if err != nil {
		return job.Field{}, false
	}
	for _, f := range c.Fields {
		if f.Key == e.Key {
			return f, true
		}
	}
	return job.Field{}, false
}
