package tui

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/store"
)

var keyLook = bind("l", "look of the screen", "l")

// looksPage is the choice of a look. What is marked is how the screen looks at
// once; Enter keeps it.
type looksPage struct {
	list list
	worn string // the look that esc goes back to
}

// chooseLook opens the choice at the look that is worn.
func (m *model) chooseLook() tea.Cmd {
	p := &looksPage{worn: m.opt.Look}
	for i, name := range store.Looks {
		p.list.items = append(p.list.items, item{digit: i + 1, text: name + ": " + palettes[name].says})
		if name == m.opt.Look {
			p.list.at = i
		}
	}
	m.push(p)
	return nil
}

func (p *looksPage) key(m *model, k tea.KeyMsg) tea.Cmd {
	switch {
	case key.Matches(k, keyLeave):
		m.dress(p.worn)
		m.pop()
	case key.Matches(k, keyKeys):
		m.push(keysPage(p.keys(m)))
	case key.Matches(k, keyOn):
		return p.keep(m)
	case p.list.key(k, len(p.list.items)) && p.list.at >= 0:
		m.dress(store.Looks[p.list.at])
	}
	return nil
}

// keep writes the choice down for the sittings to come.
func (p *looksPage) keep(m *model) tea.Cmd {
	folder, look := m.desk.Store, m.opt.Look
	return m.work(func() then {
		err := folder.WriteSettings(store.Settings{Look: look})
		return func(m *model) tea.Cmd {
			m.pop()
			if err != nil {
				m.push(faultPage("The look is not kept", err))
				return nil
			}
			m.word = "The look " + look + " is kept." + p.later(m)
			return nil
		}
	})
}

// later says what names the look at the next start, where it is not the store.
func (p *looksPage) later(m *model) string {
	if m.opt.LookFrom == "" {
		return ""
	}
	return " At the next start " + m.opt.LookFrom + " goes before it."
}

func (p *looksPage) keys(*model) []key.Binding {
	return []key.Binding{named(keyLeave, "back, as it was"), keyKeys, named(keyOn, "keep it"), keyChoose, keyQuit}
}

func (p *looksPage) view(m *model, w, h int) sheet {
	cols := bodyCols(w)
	body := wrap("How the bench looks. What you mark is shown at once; Enter keeps it.", cols)
	body = append(body, "")
	lines, at := p.list.lines(m, cols, max(3, bodyRows(h)-len(body)-len(p.sample(m))))
	at.row += len(body)
	body = append(append(body, lines...), p.sample(m)...)
	return m.frame("The look", body, at, p.keys(m), w, h)
}

// sample shows each kind of text once.
func (p *looksPage) sample(m *model) []string {
	return []string{"",
		m.look.alert.Render("Caution: so it warns."),
		m.look.strong.Render("SO IT SAYS WHAT TO DO"),
		m.look.mark.Render("> so it shows what is chosen"),
		m.look.calm.Render("SAVED: so it says where you are"),
	}
}
