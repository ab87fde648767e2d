package tui

import (
	"strconv"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/job"
	"example.org/linewright/tui/picture"
	"example.org/linewright/tui/prompt"
)

// sidePage asks from which side a link is seen, whose order was typed exactly
// the other way round. It stands in the place of the field; what was typed is
// kept there until the answer is in.
type sidePage struct {
	card  *cardPage
	en    job.Entry
	codes []string // what was typed, as understood
	list  list
	q     prompt.TalkQuestion
	told  told
}

// order enters an order. A full mirror asks for the side first.
func (p *cardPage) order(m *model, en job.Entry) tea.Cmd {
	s := m.session
	return m.work(func() then {
		e, err := s.Enter(en)
		if !prompt.AsksSide(err) {
			return m.entered(e, err, p)
		}
		return func(m *model) tea.Cmd {
			q := prompt.SideQuestion()
			m.push(&sidePage{card: p, en: en, codes: strings.Fields(p.sure), q: q, list: list{items: numbered(q.Options), at: -1}})
			return nil
		}
	})
}

// draft is what would be lost: the order, which stands in its field.
func (p *sidePage) draft() string { return p.card.draft() }

func (p *sidePage) key(m *model, k tea.KeyMsg) tea.Cmd {
	switch {
	case key.Matches(k, keyLeave):
		m.pop()
	case key.Matches(k, keyHelp):
		m.push(cardHelp(m, p.card.card, p.keys(m)))
	case key.Matches(k, keyOn) && p.list.at < 0:
		p.told = told{"Nothing is chosen yet.", "Look at the link, not at the screen."}
	case key.Matches(k, keyOn):
		return p.take(m)
	case p.list.key(k, 3):
		p.told = told{}
	}
	return nil
}

// take enters the order with the side. Where the side does not help the card
// says what to do.
func (p *sidePage) take(m *model) tea.Cmd {
	from, err := prompt.SideSeen(strconv.Itoa(p.list.at + 1))
	if err != nil {
		p.told.what, p.told.do = explain(err)
		return nil
	}
	p.en.SeenFrom = from
	m.pop()
	return m.enter(p.en, p.card)
}

func (p *sidePage) keys(*model) []key.Binding {
	return []key.Binding{named(keyLeave, "back to what was typed"), keyHelp, keyOn, keyChoose, keyQuit, keyPause}
}

func (p *sidePage) view(m *model, w, h int) sheet {
	q := part{
		ask: p.q.Ask, alert: true, hold: p.card.card.Second, keys: p.keys(m),
		next: "a digit or the arrows choose, enter takes it",
	}
	if p.list.at >= 0 {
		q.next = "enter: take the marked answer"
	}
	var room int
	q.verdict, room = shared(p.told.lines(), placesFor(h), len(p.list.items), columnsFor(w).full)
	q.field, q.cursor = p.list.lines(m, columnsFor(w).full, room)
	c := p.card.card
	if c.Picture == picture.NameStack {
		q.pic = func(w, h int) []string { return picture.Typed(c, m.at.plan, p.codes).Draw(w, h, m.opt.signs()) }
	}
	if len(p.card.intro(m)) > 0 {
		c.Caution = readBefore
	}
	return m.drawCard(c, q, w, h)
}
