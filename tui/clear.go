package tui

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/job"
)

// clearPage is the step that is answered once nothing keeps the wing on the
// ground any more. What does is listed; an Enter goes to where it is mended.
type clearPage struct {
	step
	list list
}

func newClearPage(m *model, c job.Card) *clearPage {
	p := &clearPage{step: newStep(m, c), list: list{at: -1}}
	for i, it := range p.at().Blocking {
		p.list.items = append(p.list.items, item{digit: i + 1, text: openWords(m.session.Job(), it)})
	}
	return p
}

func (p *clearPage) key(m *model, k tea.KeyMsg) tea.Cmd {
	if cmd, ok := p.common(m, k, p.roomy(m, leastWide), true, p.keys(m), p.told.lines()...); ok {
		return cmd
	}
	switch {
	case key.Matches(k, keyOn) && p.list.at >= 0 && p.list.at < len(p.at().Blocking):
		return p.goTo(m, p.at().Blocking[p.list.at])
	case key.Matches(k, keyOn):
		return m.enter(p.entry(job.EnterOn, ""), p)
	case p.list.key(k, 5):
		p.told = told{}
	}
	return nil
}

// goTo goes to the finding that blocks, or to the task.
func (p *clearPage) goTo(m *model, it job.Item) tea.Cmd {
	t, ok := m.session.Job().Task(it.Task)
	switch {
	case it.Finding != "":
		m.push(findingsAt(m, it.Finding))
	case ok && t.State() != job.Done && t.State() != job.Gone:
		m.task = it.Task
		return m.due()
	default:
		m.push(newAgendaPage(m))
	}
	return nil
}

func (p *clearPage) keys(*model) []key.Binding {
	if len(p.list.items) == 0 {
		return stepKeys(true, keyOn)
	}
	return stepKeys(true, named(keyOn, "go there"), keyChoose)
}

func (p *clearPage) view(m *model, w, h int) sheet {
	if pages := p.intro(m, p.roomy(m, leastWide)); p.turn < len(pages) {
		return m.introView(p.card, pages, p.turn, p.keys(m), w, h)
	}
	q := wide{least: leastWide, part: part{ask: p.question(), hold: p.card.Second, keys: p.keys(m), alert: true}}
	q.body = func(w, h int) ([]string, *point) {
		if len(p.list.items) == 0 {
			return []string{"", "Nothing keeps the wing on the ground."}, nil
		}
		lines, at := p.list.lines(m, w, h)
		return lines, at
	}
	q.verdict, _ = shared(p.told.lines(), placesFor(h).signing(), 1, columnsFor(w).full)
	q.next = "enter: nothing keeps it on the ground"
	q.field = []string{"[ enter ]"}
	if n := len(p.list.items); n > 0 {
		q.field = []string{"THE WING STAYS ON THE GROUND: " + count(n, "reason")}
		q.next = "a digit or the arrows choose, enter goes there"
	}
	return m.drawWide(p.seen(m, p.roomy(m, leastWide)), q, w, h)
}
