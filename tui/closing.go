package tui

import (
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/session"
)

// What the page of a closed job offers besides leaving.
const (
	digitSign      = 1
	digitSignOther = 2
)

// roleNames says in what role a record is signed.
var roleNames = map[procedure.Role]string{procedure.Doer: "the doer", procedure.Second: "the second person", procedure.Pilot: "the pilot"}

// offer lists what can still be signed. Beside the doer nobody has to: Enter
// leaves once that signature is there.
func (p *closedPage) offer(signed map[string][]byte) {
	items := p.list.items[len(p.list.items)-1:]
	var by []string
	p.others = nil
	for _, r := range []procedure.Role{procedure.Doer, procedure.Second, procedure.Pilot} {
		switch {
		case len(signed[string(r)]) > 0:
			by = append(by, roleNames[r])
		case r != procedure.Doer:
			p.others = append(p.others, r)
		}
	}
	if len(p.others) > 0 {
		items = append([]item{{digit: digitSignOther, text: "Sign it as " + p.otherNames()}}, items...)
	}
	p.list.at = len(items) - 1
	p.signed = ""
	if len(signed[string(procedure.Doer)]) == 0 {
		items = append([]item{{digit: digitSign, text: "Sign the record as the doer"}}, items...)
		p.list.at, p.signed = -1, "Not yet by the doer. "
	}
	if len(by) > 0 {
		p.signed += "By " + strings.Join(by, ", ") + ". What is signed goes out with the record."
	}
	p.list.items = items
}

func (p *closedPage) otherNames() string {
	var names []string
	for _, r := range p.others {
		names = append(names, string(r)) // short, for a narrow screen
	}
	return strings.Join(names, " or ")
}

// chooseRole asks in which role somebody else signs. A question with one answer
// is not asked.
func (p *closedPage) chooseRole(m *model) tea.Cmd {
	if len(p.others) == 1 {
		return p.chooseSigner(m, p.others[0])
	}
	var names []string
	for _, r := range p.others {
		names = append(names, roleNames[r])
	}
	m.push(newChoosePage("Sign the record", []string{"As what?"}, numbered(names), func(m *model, i int) tea.Cmd {
		return p.chooseSigner(m, p.others[i])
	}))
	return nil
}

// chooseSigner asks whose key signs in a role. Enter alone signs nothing.
func (p *closedPage) chooseSigner(m *model, role procedure.Role) tea.Cmd {
	store := m.desk.Store
	return m.work(func() then {
		names, err := store.Signers()
		return func(m *model) tea.Cmd {
			if err != nil {
				m.base(p)
				p.refused(err)
				return nil
			}
			if role == procedure.Second {
				names = slices.DeleteFunc(names, m.session.Job().DidWork)
			}
			if len(names) == 0 {
				m.base(p)
				p.told = told{"There is no key here of another person than those who did the work.", "Make one: " + m.desk.Command("signer new NAME")}
				return nil
			}
			ask := newChoosePage("Sign the record as "+roleNames[role], []string{"Who signs? Each with their own key."}, numbered(names),
				func(m *model, i int) tea.Cmd {
					m.base(p)
					return p.sign(m, role, names[i])
				})
			m.push(ask)
			return nil
		}
	})
}

// sign signs the record of a closed job with a key that is opened here. The
// doer is the person at the bench.
func (p *closedPage) sign(m *model, role procedure.Role, name string) tea.Cmd {
	if d := m.session.Doer(); d != nil && d.Name == name {
		return p.signAs(m, p, role, func() (*session.Person, error) { return d, nil })
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
				m.push(p.askPhrase(role, name))
				return nil
			}
			return p.signAs(m, p, role, func() (*session.Person, error) { return desk.Unlock(name, nil) })
		}
	})
}

func (p *closedPage) askPhrase(role procedure.Role, name string) page {
	ask := &askPage{
		title: "Sign the record as " + name, label: "Pass phrase of " + name + " (it is not shown):", field: editor{masked: true},
		text: []string{"One signature covers the record and everything it names.", ""},
	}
	ask.done = func(m *model, phrase string) tea.Cmd {
		desk, secret := m.desk, []byte(phrase)
		ask.field.wipe()
		return p.signAs(m, ask, role, func() (*session.Person, error) {
			return desk.Unlock(name, func() ([]byte, error) { return secret, nil })
		})
	}
	return ask
}

// signAs makes the record's bytes and keeps a signature over them.
func (p *closedPage) signAs(m *model, from asker, role procedure.Role, open func() (*session.Person, error)) tea.Cmd {
	s, record := m.session, m.opt.RecordJSON
	return m.work(func() then {
		person, err := open()
		var data []byte
		if err == nil {
			data, err = record(s.No())
		}
		if err == nil {
			if person != s.Doer() {
				defer person.Signer.Forget()
			}
			err = s.SignRecord(string(role), person, data)
		}
		return func(m *model) tea.Cmd {
			if err != nil {
				from.refused(err)
				return nil
			}
			m.mark = "SAVED " + m.now().Format("15:04") + "  " + roleNames[role] + "'s signature"
			p.told = told{what: "Signed by " + person.Name + " as " + roleNames[role] + "."}
			m.base(p)
			return p.load(m)
		}
	})
}
