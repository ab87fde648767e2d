package tui

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/session"
	"example.org/linewright/engine/wing"
	"example.org/linewright/tui/prompt"
)

// agendaPage says what is to be done in a job: what is open first, then what can
// be done now, what waits for a part, and what comes later.
type agendaPage struct {
	jobList
	todos []job.Todo
	asked int // a line that waits and was asked about once; negative: none
}

func newAgendaPage(m *model) *agendaPage {
	j := m.session.Job()
	p := &agendaPage{todos: j.Agenda(), asked: -1}
	p.head = append(mustNotBeMissed(j), prompt.FromEarlier(m.session)...)
	p.does = append(m.jobDeeds("a"),
		deed{"n", "new task", func(m *model) tea.Cmd { return m.addTask() }},
		deed{"c", "close the job", func(m *model) tea.Cmd { return m.closeJob() }})
	p.does = append(p.does, jobNote(j)...)
	for i, t := range p.todos {
		p.list.items = append(p.list.items, item{digit: i + 1, text: prompt.TodoWords(t)})
	}
	if len(p.todos) == 0 {
		p.told.what = "Nothing is to be done. c closes the job with a statement."
	}
	return p
}

// mustNotBeMissed says first what must not be overlooked in a job.
func mustNotBeMissed(j *job.Job) []string {
	head := linkOpenWords(j)
	for _, t := range j.Tasks {
		if t.OneSide() {
			head = append(head, strings.ToUpper(t.OneSideWords())+": "+taskWords(j, t))
		}
	}
	for _, it := range j.OpenItems() {
		if it.Key != "" {
			head = append(head, "Open: "+openWords(j, it))
		}
	}
	return head
}

// linkOpenWords names the link that is open; none where none is.
func linkOpenWords(j *job.Job) []string {
	t, link := j.LinkOpen()
	if t == nil {
		return nil
	}
	return []string{"LINK OPEN: " + placeWords(j, t, link.String())}
}

func (p *agendaPage) refused(err error) { p.told.what, p.told.do = explain(err) }

func (p *agendaPage) key(m *model, k tea.KeyMsg) tea.Cmd {
	return p.listKey(m, k, p.keys(m), func() tea.Cmd { return p.take(m) }, func() { p.asked = -1 })
}

// take goes on with a line of the agenda, or begins it.
func (p *agendaPage) take(m *model) tea.Cmd {
	if p.list.at < 0 || p.list.at >= len(p.todos) {
		return nil
	}
	switch t := p.todos[p.list.at]; {
	case t.Task != 0:
		m.task = t.Task
		return m.due()
	case t.List == job.OnParts:
		list := newPartsPage(m)
		list.mark(t.Target)
		m.toList(list)
	case t.List == job.OnFindings:
		m.toList(newFindingsPage(m))
	case t.Wait() != "" && p.asked != p.list.at:
		p.asked = p.list.at
		p.told = told{t.Wait() + ".", "Enter again begins it all the same."}
	default:
		return m.addWork(t.Procedure, t.Target, p)
	}
	return nil
}

// addWork lays a task out and asks once more before it is added.
func (m *model) addWork(procedure string, target wing.Ref, from asker) tea.Cmd {
	desk, o := m.desk, &outline{plan: m.at.plan, target: target, suggested: true}
	return m.work(func() then {
		lib, faults := desk.Library()
		return func(m *model) tea.Cmd {
			proc, ok := lib.Get(procedure)
			if !ok {
				from.refused(noProcedure(desk, procedure, faults))
				return nil
			}
			o.proc = proc
			return m.checkTarget(o)
		}
	})
}

func noProcedure(desk session.Desk, id string, faults error) error {
	if faults != nil {
		return faults
	}
	return fmt.Errorf("there is no procedure %q here\n  %s shows those that are", id, desk.Command("procedure list"))
}

func (p *agendaPage) keys(m *model) []key.Binding {
	keys := []key.Binding{m.leaveKey(), keyKeys, named(keyOn, "go on with it"), keyChoose}
	return append(append(keys, deedKeys(p.does)...), keyQuit, keyPause)
}

func (p *agendaPage) view(m *model, w, h int) sheet {
	return m.listPage("The agenda", p.head, &p.list, p.does, p.told, p.keys(m), w, h)
}
