package tui

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/trim"
)

// loopsPage asks which loops hang on the links and chooses those that bring the
// wing inside its limits. What is chosen is seen before it is written.
type loopsPage struct {
	step
	text   editor
	sure   string
	doubt  string
	chosen *job.Event // what an Enter would write
	part   scroller
}

func newLoopsPage(m *model, c job.Card) *loopsPage {
	p := &loopsPage{step: newStep(m, c)}
	p.text.set(m.drafts[p.draftKey()])
	if m.opt.Demo != nil && m.opt.Demo.Offer != nil && p.value() == "" {
		text, _ := m.opt.Demo.Offer(c)
		p.text.set(text)
	}
	p.understand(m)
	return p
}

func (p *loopsPage) value() string { return strings.TrimSpace(p.text.String()) }

func (p *loopsPage) draft() string { return p.value() }

func (p *loopsPage) draftKey() string { return draftKey(p.card.Task, p.at().Key) }

func (p *loopsPage) understand(m *model) {
	p.sure, p.doubt, p.chosen = "", "", nil
	if p.value() == "" {
		return
	}
	said, err := m.session.Preview(p.entry(job.EnterAnswer, p.value()))
	if err != nil {
		p.doubt, _ = explain(err)
		return
	}
	p.sure = said
}

func (p *loopsPage) key(m *model, k tea.KeyMsg) tea.Cmd {
	if p.chosen != nil && key.Matches(k, keyBack) {
		p.chosen = nil
		m.turned()
		return nil
	}
	if cmd, ok := p.common(m, k, p.roomy(m, leastWide), len(p.text.text) == 0 || p.chosen != nil, p.keys(m), p.told.lines()...); ok {
		return cmd
	}
	switch {
	case key.Matches(k, keyOn) && p.chosen != nil:
		if p.part.on() {
			m.turned()
			return nil
		}
		return m.enter(p.entry(job.EnterAnswer, p.value()), p)
	case key.Matches(k, keyOn):
		return p.choose(m)
	case p.chosen != nil:
		p.part.key(k)
	case p.text.key(k):
		p.told = told{}
		m.drafts[p.draftKey()] = p.value()
		p.understand(m)
	}
	return nil
}

// choose works the choice out, away from the screen, and shows it.
func (p *loopsPage) choose(m *model) tea.Cmd {
	if p.value() == "" {
		p.refused(job.NewRefusal(job.ValueWanted, p.at().Wanted))
		return nil
	}
	s, en := m.session, p.entry(job.EnterAnswer, p.value())
	return m.work(func() then {
		e, err := s.Foresee(en)
		return func(m *model) tea.Cmd {
			if err != nil {
				p.refused(err)
				return nil
			}
			p.chosen, p.part = &e, scroller{goes: readsOn}
			m.turned()
			return nil
		}
	})
}

func (p *loopsPage) keys(*model) []key.Binding {
	if p.chosen == nil {
		return stepKeys(len(p.text.text) == 0, keyOn)
	}
	keys := stepKeys(true, keyOn)
	keys[0] = named(keyBack, "back to the field")
	if p.part.more() {
		keys = append(keys, keyScroll, keyPgUp, keyPgDown)
	}
	return keys
}

func (p *loopsPage) view(m *model, w, h int) sheet {
	if pages := p.intro(m, p.roomy(m, leastWide)); p.turn < len(pages) {
		return m.introView(p.card, pages, p.turn, p.keys(m), w, h)
	}
	q := wide{least: leastWide, grows: p.chosen != nil, onward: p.nextWords, part: part{ask: p.question(), hold: p.card.Second, keys: p.keys(m)}}
	text, col := p.text.line(max(4, min(columnsFor(w).full-4, 60)))
	q.field, q.col = []string{"[ " + text + " ]"}, col
	said := p.told.lines()
	if q.alert = len(said) > 0; !q.alert {
		said = []string{p.understood()}
	}
	q.verdict, _ = shared(said, placesFor(h).signing(), 1, columnsFor(w).full)
	q.body = func(w, h int) ([]string, *point) {
		if p.chosen != nil {
			return p.part.see(loopLines(p.chosen.Loops, p.chosen.Text, w), h), nil
		}
		lines := p.table(m, w)
		return lines[:min(len(lines), h)], nil
	}
	return m.drawWide(p.seen(m, p.roomy(m, leastWide)), q, w, h)
}

func (p *loopsPage) understood() string {
	switch {
	case p.sure != "":
		return "understood: " + p.sure
	case p.doubt != "":
		return "so far: " + p.doubt
	}
	return "wanted: " + p.at().Wanted
}

func (p *loopsPage) nextWords() string {
	switch {
	case p.chosen != nil && !p.part.read():
		return "enter: read on; at the end it is written down   esc: back to the field"
	case p.chosen != nil && p.part.more():
		return "enter: write it down   esc: back to the field   arrows: all of it"
	case p.chosen != nil:
		return "enter: write it down   esc: back to the field"
	case p.value() != "":
		return "enter: see which loops to change; nothing is written yet"
	}
	return "plain, or each line with its loop; then enter"
}

// table names the loops that are known for this wing, and who measured them.
func (p *loopsPage) table(m *model, w int) []string {
	t := trim.FallbackLoops()
	if m.at.start.Loops != nil {
		t = *m.at.start.Loops
	}
	lines := wrap("What a loop shortens a line by ("+t.Source+"):", w)
	for _, l := range t.Loops {
		lines = append(lines, fmt.Sprintf("  %-10s %s", l.Code, l.Shortens))
	}
	return lines
}
