package tui

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/job"
)

// The lists of a job: its agenda, its findings, its parts, its tasks. Each is
// reached from the others with a letter, since nothing is typed there.

// manyThings reports whether a job is more than one task: then it opens with its
// agenda.
func manyThings(j *job.Job) bool {
	return len(j.Findings()) > 0 || len(j.Parts()) > 0 || len(j.Tasks) > 1
}

// jobFront is the first page of a job.
func jobFront(m *model) page {
	if manyThings(m.session.Job()) {
		return newAgendaPage(m)
	}
	return newJobPage(m)
}

// jobDeeds lists what can be done with a job besides its tasks, but for what is
// done on the page with that key.
func (m *model) jobDeeds(but string) []deed {
	list := func(anew func(m *model) page) func(m *model) tea.Cmd {
		return func(m *model) tea.Cmd { m.toList(anew(m)); return nil }
	}
	telling := func(anew func(m *model) page) func(m *model) tea.Cmd {
		return func(m *model) tea.Cmd {
			if m.session.Job().Asked(m.task) {
				m.word = blindWords()
				return nil
			}
			return list(anew)(m)
		}
	}
	all := []deed{
		{"a", "agenda", telling(func(m *model) page { return newAgendaPage(m) })},
		{"f", "findings", telling(func(m *model) page { return newFindingsPage(m) })},
		{"p", "parts", list(func(m *model) page { return newPartsPage(m) })},
		{"t", "tasks of the job", list(func(m *model) page { return newJobPage(m) })},
		{"h", "hand on", func(m *model) tea.Cmd { return m.handOn() }},
	}
	var out []deed
	for _, d := range all {
		if d.key != but {
			out = append(out, d)
		}
	}
	return out
}

// jobNote writes a note in a job without a task; a task has its notes behind tab.
func jobNote(j *job.Job) []deed {
	if len(j.Tasks) > 0 {
		return nil
	}
	return []deed{{"w", "write a note", func(m *model) tea.Cmd { return m.askNote(job.Card{}) }}}
}

// toList shows a list in the place of the one that is seen, unless that is the
// first page.
func (m *model) toList(p page) {
	if len(m.pages) > 1 {
		switch m.top().(type) {
		case *agendaPage, *findingsPage, *partsPage, *jobPage:
			m.pages = m.pages[:len(m.pages)-1]
		}
	}
	m.push(p)
}

// leaveList goes back from a list, or to all jobs if it is the first page.
func (m *model) leaveList() tea.Cmd {
	if len(m.pages) > 1 {
		m.pop()
		return nil
	}
	return m.goHome()
}

// leaveKey says where leaveList goes.
func (m *model) leaveKey() key.Binding {
	if len(m.pages) > 1 {
		return named(keyLeave, "back")
	}
	return named(keyLeave, "list of jobs")
}

// jobList is what the lists of a job have in common.
type jobList struct {
	head []string
	list list
	does []deed
	told told
}

// listKey takes a key for a list of a job: take is done with what is marked,
// moved when another thing is.
func (l *jobList) listKey(m *model, k tea.KeyMsg, keys []key.Binding, take func() tea.Cmd, moved func()) tea.Cmd {
	if cmd, ok := doKey(l.does, m, k); ok {
		return cmd
	}
	switch {
	case key.Matches(k, keyOn):
		return take()
	case key.Matches(k, keyLeave):
		if l.list.gathered() != "" && l.list.clear() {
			return nil
		}
		return m.leaveList()
	case key.Matches(k, keyKeys):
		m.push(listHelp(l.head, keys))
	case l.list.key(k, 5):
		l.told = told{}
		moved()
		m.word = l.list.gathered()
	}
	return nil
}

// doKey does what a key stands for.
func doKey(does []deed, m *model, k tea.KeyMsg) (tea.Cmd, bool) {
	for _, d := range does {
		if d.key == k.String() {
			return d.do(m), true
		}
	}
	return nil, false
}

// deedKeys are the keys of what can be done.
func deedKeys(does []deed) []key.Binding {
	var keys []key.Binding
	for _, d := range does {
		keys = append(keys, bind(d.key, d.name, d.key))
	}
	return keys
}

// stay makes an entry from a list and comes back to the list, drawn anew; what
// lies under it is drawn anew too.
func (m *model) stay(en job.Entry, from asker, anew func(m *model) page) tea.Cmd {
	s := m.session
	return m.work(func() then {
		e, err := s.Enter(en)
		return func(m *model) tea.Cmd {
			if err != nil {
				return m.notEntered(err, from)
			}
			return m.stayed(e, anew)
		}
	})
}

func (m *model) stayed(e job.Event, anew func(m *model) page) tea.Cmd {
	front := false
	switch m.pages[0].(type) {
	case *agendaPage, *findingsPage, *partsPage, *jobPage:
		front = true
	}
	if !front {
		cmd := m.saved(e)
		p := anew(m)
		_, there := m.top().(*agendaPage)
		if _, same := p.(*agendaPage); !same || !there {
			m.push(p)
		}
		return cmd
	}
	m.mark = m.savedWords(e)
	p := anew(m)
	if _, same := p.(*agendaPage); same {
		m.base(p)
		return nil
	}
	m.base(newAgendaPage(m))
	m.push(p)
	return nil
}

// listPage draws a list of a job: what is said first, the list, what was
// answered, and what else can be done.
func (m *model) listPage(title string, head []string, l *list, does []deed, said told, keys []key.Binding, w, h int) sheet {
	cols, rows := bodyCols(w), bodyRows(h)
	foot := said.wrapped(cols)
	if len(foot) > 0 {
		foot = append([]string{""}, foot...)
	}
	deeds := deedLines(does, cols)
	room := rows - len(foot) - len(deeds)
	body := wrappedHead(head, cols, max(room/2, room-1-l.height(m, cols))-1) // half, or what the list leaves
	lines, at := l.lines(m, cols, max(1, room-1-len(body)))
	at.row += len(body)
	body = append(append(body, lines...), foot...)
	for len(body) < rows-len(deeds) {
		body = append(body, "")
	}
	return m.frame(title, append(body, deeds...), at, keys, w, h)
}

// wrappedHead is what is said above a list, in at most so many rows, with a free
// one behind it.
func wrappedHead(head []string, w, most int) []string {
	var lines []string
	for _, t := range head {
		lines = append(lines, hang("", t, w)...)
	}
	if len(lines) == 0 {
		return nil
	}
	if most = max(1, most); len(lines) > most {
		lines = append(lines[:most-1:most-1], ".. and more: ? shows it")
	}
	return append(lines, "")
}

// listHelp says all that stands above a list, and the keys.
func listHelp(head []string, keys []key.Binding) page {
	text := append([]string{}, head...)
	if len(text) > 0 {
		text = append(text, "")
	}
	return &textPage{title: "What is open, and the keys", text: append(text, keyLines(keys)...)}
}
