package tui

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/job"
	"example.org/linewright/tui/prompt"
)

// reading enters a reading. One that lies far from what is expected is asked
// for once more in an empty field: a second Enter alone must not take it.
func (p *cardPage) reading(m *model, en job.Entry) tea.Cmd {
	s := m.session
	return m.work(func() then {
		e, err := s.Enter(en)
		if !prompt.AsksAgain(err) {
			return m.entered(e, err, p)
		}
		return func(m *model) tea.Cmd {
			p.once = en.Text
			p.entry.fill("")
			delete(m.drafts, p.draftKey())
			p.foresee(m)
			p.refused(err)
			return nil
		}
	})
}

// goOnFar says what Enter does with a reading that is asked for twice; "" where
// it is not.
func (p *cardPage) goOnFar() string {
	switch {
	case p.far:
		return "enter: far off, so it is asked for once more"
	case p.typed != nil && p.typed.FarFrom != "":
		return "enter: take it, typed twice"
	}
	return ""
}
