package tui

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/seal"
)

// askPage asks for words: a reason, a note, a name, a pass phrase.
type askPage struct {
	title string
	text  []string // what is to be known before; scrolls with the arrows
	label string
	field editor
	empty bool // an empty answer is one
	done  func(m *model, text string) tea.Cmd
	back  func(m *model) tea.Cmd // nil: just back
	more  *deed                  // what tab does; nil: nothing
	told  told
	part  scroller
}

func (p *askPage) draft() string {
	if p.field.masked {
		return ""
	}
	return p.field.String()
}

func (p *askPage) refused(err error) { p.told.what, p.told.do = explain(err) }

func (p *askPage) key(m *model, k tea.KeyMsg) tea.Cmd {
	if p.part.key(k) {
		return nil
	}
	switch {
	case key.Matches(k, keyLeave):
		p.field.wipe()
		if p.back != nil {
			return p.back(m)
		}
		m.pop()
	case p.more != nil && key.Matches(k, keyMenu):
		return p.more.do(m)
	case key.Matches(k, keyOn):
		if len(p.field.text) == 0 && !p.empty {
			p.told = told{"An empty answer says nothing.", "A few words are enough. Esc goes back and changes nothing."}
			return nil
		}
		return p.done(m, p.field.String())
	default:
		if p.field.key(k) {
			p.told = told{}
		}
	}
	return nil
}

func (p *askPage) keys(*model) []key.Binding {
	keys := []key.Binding{named(keyLeave, "back, changes nothing"), keyOn}
	if p.back != nil {
		keys[0] = named(keyLeave, "leave")
	}
	if p.more != nil {
		keys = append(keys, named(keyMenu, p.more.name))
	}
	if p.part.more() {
		keys = append(keys, keyScroll)
	}
	return append(keys, keyQuit)
}

func (p *askPage) view(m *model, w, h int) sheet {
	cols := bodyCols(w)
	block, at := p.field.block(max(8, cols-4))
	if most := max(1, bodyRows(h)/3); len(block) > most {
		from := max(0, at.row-most+1)
		block, at.row = block[from:from+most], at.row-from
	}
	below := p.below(block, cols)
	body := p.above(cols, bodyRows(h)-len(below))
	at = point{len(body) + len(wrap(p.label, cols)) + at.row, at.col + 2}
	return m.frame(p.title, append(body, below...), &at, p.keys(m), w, h)
}

// above is the part of the text that is seen; where there is more, it says so.
func (p *askPage) above(w, rows int) []string {
	var lines []string
	for _, t := range p.text {
		if t == "" {
			lines = append(lines, "")
		}
		lines = append(lines, wrapKeep(t, w)...)
	}
	return p.part.see(lines, rows)
}

func (p *askPage) below(block []string, w int) []string {
	lines := wrap(p.label, w)
	for i, b := range block {
		lines = append(lines, []string{"> ", "  "}[min(i, 1)]+plain(b))
	}
	return append(lines, p.told.wrapped(w)...)
}

// askReason asks for the reason of an entry and makes it.
func (m *model) askReason(title, label string, text []string, en job.Entry) {
	p := &askPage{title: title, label: label, text: text}
	p.done = func(m *model, reason string) tea.Cmd {
		en.Text = reason
		return m.enter(en, p)
	}
	m.push(p)
}

// askName asks once who is at the bench, and says whose keys are here.
func (m *model) askName() tea.Cmd {
	store := m.desk.Store
	return m.work(func() then {
		names, err := store.Signers()
		return func(m *model) tea.Cmd {
			p := m.nameAsk()
			switch {
			case err != nil:
				p.refused(err)
			case len(names) > 0:
				p.text = append(p.text, "Keys here: "+strings.Join(names, ", "), "")
			}
			m.push(p)
			return nil
		}
	})
}

func (m *model) nameAsk() *askPage {
	p := &askPage{
		title: "linewright", label: "Who is at the bench?",
		text: []string{
			"Every entry is written down with the name of the person who made it.",
			"Take the name under which your key is kept, if you have one: letters, digits and . _ - + @, no blanks.", "",
		},
		back: func(m *model) tea.Cmd { return m.leave() },
	}
	p.done = func(m *model, name string) tea.Cmd {
		if err := seal.CheckName(name); err != nil {
			p.refused(err)
			return nil
		}
		m.desk.Who = name
		return m.begin()
	}
	return p
}
