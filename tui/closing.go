package tui

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/session"
)

// sign signs the record of a closed job as the doer: the person at the bench,
// with a key that is opened here.
func (p *closedPage) sign(m *model) tea.Cmd {
	name := m.desk.Who
	if d := m.session.Doer(); d != nil {
		return p.signAs(m, p, func() (*session.Person, error) { return d, nil })
	}
	desk := m.desk
	return m.work(func() then {
		locked, err := desk.Encrypted(name)
		return func(m *model) tea.Cmd {
			switch {
			case err != nil:
				p.refused(err)
				return nil
			case locked:
				m.push(p.askPhrase(name))
				return nil
			}
			return p.signAs(m, p, func() (*session.Person, error) { return desk.Unlock(name, nil) })
		}
	})
}

func (p *closedPage) askPhrase(name string) page {
	ask := &askPage{
		title: "Sign the record as " + name, label: "Pass phrase of " + name + " (it is not shown):", field: editor{masked: true},
		text: []string{"One signature covers the record and everything it names.", ""},
	}
	ask.done = func(m *model, phrase string) tea.Cmd {
		desk, secret := m.desk, []byte(phrase)
		ask.field.wipe()
		return p.signAs(m, ask, func() (*session.Person, error) {
			return desk.Unlock(name, func() ([]byte, error) { return secret, nil })
		})
	}
	return ask
}

// signAs makes the record's bytes and keeps a signature over them.
func (p *closedPage) signAs(m *model, from asker, open func() (*session.Person, error)) tea.Cmd {
	s, record := m.session, m.opt.RecordJSON
	return m.work(func() then {
		person, err := open()
		var data []byte
		if err == nil {
			data, err = record(s.No())
		}
		if err == nil {
			err = s.SignRecord(string(procedure.Doer), person, data)
		}
		return func(m *model) tea.Cmd {
			if err != nil {
				from.refused(err)
				return nil
			}
			m.mark = "SAVED " + m.now().Format("15:04") + "  the doer's signature"
			p.signed = "Signed by " + person.Name + " as the doer. The signature goes out with the record."
			p.list.items, p.list.at = p.list.items[len(p.list.items)-1:], 0
			m.base(p)
			return nil
		}
	})
}
