package tui

import (
	"slices"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// chooseWords answer a key that types something where something is chosen.
const chooseWords = "Nothing is typed here: a digit or the arrows choose."

// nothingChosen answers an Enter before something is chosen.
const nothingChosen = "NOTHING CHOSEN: a digit or the arrows, enter takes it"

// choosePage asks for one of several things. None is marked before somebody
// chooses: a blind Enter begins nothing and signs nothing.
type choosePage struct {
	title string
	text  []string
	part  scroller // of the text
	list  list
	done  func(m *model, i int) tea.Cmd
}

func newChoosePage(title string, text []string, items []item, done func(m *model, i int) tea.Cmd) *choosePage {
	return &choosePage{title: title, text: text, part: scroller{goes: readsOn}, list: list{items: items, at: -1}, done: done}
}

func (p *choosePage) key(m *model, k tea.KeyMsg) tea.Cmd {
	switch {
	case key.Matches(k, keyLeave):
		m.pop()
	case key.Matches(k, keyKeys):
		m.push(keysPage(p.keys(m)))
	case key.Matches(k, keyOn):
		if p.part.on() {
			m.turned()
			return nil
		}
		if p.list.at >= 0 && p.list.at < len(p.list.items) {
			return p.done(m, p.list.at)
		}
		m.word = nothingChosen
	default:
		if !p.list.key(k, 5) && isText(k) {
			m.word = chooseWords
		}
	}
	return nil
}

func (p *choosePage) keys(*model) []key.Binding {
	return []key.Binding{keyLeave, keyKeys, keyOn, keyChoose, keyQuit}
}

// leastBelow is how many rows a list has at least below its text.
const leastBelow = 7

func (p *choosePage) view(m *model, w, h int) sheet {
	cols, rows := bodyCols(w), bodyRows(h)
	var body []string
	for _, t := range p.text {
		body = append(body, wrapKeep(t, cols)...)
	}
	body = p.part.see(body, max(3, min(len(body), rows-leastBelow)))
	if len(body) > 0 {
		body = append(body, "")
	}
	below := p.below(cols)
	lines, at := p.list.lines(m, cols, rows-len(body)-len(below))
	at.row += len(body)
	return m.frame(p.title, slices.Concat(body, lines, below), at, p.keys(m), w, h)
}

// below is the second line of the marked item, where it stands apart.
func (p *choosePage) below(cols int) []string {
	if !p.list.apart || p.list.at < 0 {
		return nil
	}
	return append([]string{""}, wrap(p.list.items[p.list.at].more, cols)...)
}
