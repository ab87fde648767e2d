package tui

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/trim"
	"example.org/linewright/tui/picture"
	"example.org/linewright/tui/prompt"
)

// trimPage makes the report of what was measured. All of it is seen before an
// Enter writes it; it is taken whatever it says.
type trimPage struct {
	step
	event *job.Event // what an Enter would write
	part  scroller
}

func newTrimPage(m *model, c job.Card) *trimPage {
	p := &trimPage{step: newStep(m, c), part: scroller{goes: readsOn}}
	e, err := m.session.Foresee(p.entry(job.EnterOn, ""))
	if err != nil {
		p.refused(err)
		return p
	}
	p.event = &e
	return p
}

func (p *trimPage) key(m *model, k tea.KeyMsg) tea.Cmd {
	if cmd, ok := p.common(m, k, p.roomy(m), true, p.keys(m), p.told.lines()...); ok {
		return cmd
	}
	if key.Matches(k, keyOn) {
		if p.part.on() {
			m.turned()
			return nil
		}
		return m.enter(p.entry(job.EnterOn, ""), p)
	}
	p.part.key(k)
	return nil
}

func (p *trimPage) keys(*model) []key.Binding {
	keys := []key.Binding{keyOn}
	if p.part.more() {
		keys = append(keys, keyScroll, keyPgUp, keyPgDown)
	}
	return stepKeys(true, keys...)
}

func (p *trimPage) view(m *model, w, h int) sheet {
	if pages := p.intro(m, p.roomy(m)); p.turn < len(pages) {
		return m.introView(p.card, pages, p.turn, p.keys(m), w, h)
	}
	q := wide{least: leastReport, grows: true, part: part{ask: p.question(), hold: p.card.Second, keys: p.keys(m)}}
	q.verdict, _ = shared(p.told.lines(), placesFor(h).signing(), 1, columnsFor(w).full)
	q.alert = true
	q.body = func(w, h int) ([]string, *point) {
		if p.event == nil || p.event.Trim == nil {
			return nil, nil
		}
		return p.part.see(reportLines(m, p.event, w, h), h), nil
	}
	q.field = []string{"[ enter, when you have read it ]"}
	q.onward = p.nextWords
	return m.drawWide(p.seen(m, p.roomy(m)), q, w, h)
}

func (p *trimPage) nextWords() string {
	switch {
	case !p.part.read():
		return "enter: read on; at the end it is written down"
	case p.part.more():
		return "enter: write the report down   arrows: all of it"
	}
	return "enter: write the report down"
}

// leastReport is how many rows a report has at least before the detail of its
// card has any: the picture is seen whole, where the screen has that many.
const leastReport = 14

func (p *trimPage) roomy(m *model) bool {
	return p.step.roomy(m, leastReport-placesFor(m.h).spare())
}

// reportLines is a report: the picture, then its words, then what work moved.
func reportLines(m *model, e *job.Event, w, h int) []string {
	lines := picture.Trim(*e.Trim, w, max(h-1, 8), m.opt.signs())
	if len(lines) > 0 {
		lines = append(lines, "")
	}
	lines = append(lines, wrappedAll(e.Trim.Words(), w)...)
	if e.Move != nil {
		lines = append(append(lines, ""), wrappedAll(e.Move.Words(), w)...)
	}
	if e.Text != "" {
		lines = append(append(lines, ""), wrap(e.Text, w)...)
	}
	return lines
}

// wrappedAll wraps sentences, with the free lines between them.
func wrappedAll(text []string, w int) []string {
	var out []string
	for _, t := range text {
		if strings.TrimSpace(t) == "" {
			out = append(out, "")
			continue
		}
		out = append(out, wrapKeep(t, w)...)
	}
	return out
}

// reportPage shows the last report of the job, and the last choice of loops.
func (m *model) reportPage() page {
	events := prompt.Measured(m.session.Job())
	return &textPage{title: "Trim and loops", lines: func(w int) []string {
		var lines []string
		for _, e := range events {
			if len(lines) > 0 {
				lines = append(lines, "")
			}
			if e.Trim != nil {
				lines = append(lines, reportLines(m, e, w, bodyRows(m.h))...)
				continue
			}
			lines = append(lines, loopLines(e.Loops, e.Text, w)...)
		}
		return lines
	}}
}

// loopLines is a choice of loops, with those that hang on the links now.
func loopLines(c *trim.Choice, now string, w int) []string {
	return append(append(wrap("Loops now: "+now+".", w), ""), wrappedAll(c.Words(), w)...)
}
