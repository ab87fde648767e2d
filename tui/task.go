package tui

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/wing"
)

// confirmPage comes first after an interruption: the last thing done is looked
// at on the wing before the work goes on.
type confirmPage struct {
	card job.Card
	open string // the link that is open, if one is
	told told
}

func (p *confirmPage) refused(err error) { p.told.what, p.told.do = explain(err) }

func (p *confirmPage) key(m *model, k tea.KeyMsg) tea.Cmd {
	switch {
	case key.Matches(k, keyOn):
		return m.enter(job.Entry{Kind: job.EnterOn, Task: p.card.Task}, p)
	case key.Matches(k, keyReopen):
		return m.reopen(p.card.Task, p.card.Confirm.Key)
	case key.Matches(k, keyBack):
		return m.lookBack(p.card)
	case key.Matches(k, keyMenu):
		return m.overview(p.card)
	case key.Matches(k, keyKeys):
		m.push(keysPage(p.keys(m)))
	}
	return nil
}

func (p *confirmPage) keys(*model) []key.Binding {
	return []key.Binding{keyBack, keyMenu, keyKeys, named(keyOn, "it is as it says"), keyReopen, keyQuit, keyPause}
}

func (p *confirmPage) view(m *model, w, h int) sheet {
	c := p.card
	last := m.clock(c.Confirm.Last)
	if ago := m.ago(c.Confirm.Last); ago != "" {
		last += ", " + ago
	}
	answer := c.Confirm.Answer
	if answer == "" {
		answer = "done"
	}
	c.Caution, c.Second, c.Detail, c.Picture = "", false, "Last done: "+strings.ReplaceAll(c.Confirm.Action, " — ", ": "), ""
	c.Action = "LOOK ON THE WING: IS IT AS IT SAYS HERE?"
	c.Fields, c.At = nil, 0
	lead := "The work was interrupted. Last entry " + last + "."
	if p.open != "" {
		lead = p.open + ". " + lead
	}
	says := part{
		lead: lead,
		ask:  "It says:", field: []string{cell(answer, columnsFor(w).full)}, cursor: &point{},
		verdict: p.told.wrapped(columnsFor(w).full), alert: true,
		next: "enter: it is as it says      r: it is not, do it again", keys: p.keys(m),
	}
	if placesFor(h).next < 0 {
		says.field = append(says.field, "enter: it is      r: do it again")
	}
	return m.drawCard(c, says, w, h)
}

// waitingPage is a task that was laid down.
type waitingPage struct {
	card job.Card
	told told
}

func (p *waitingPage) refused(err error) { p.told.what, p.told.do = explain(err) }

func (p *waitingPage) key(m *model, k tea.KeyMsg) tea.Cmd {
	switch {
	case key.Matches(k, keyOn):
		return m.enter(job.Entry{Kind: job.EnterTakeUp, Task: p.card.Task}, p)
	case key.Matches(k, keyBack):
		return m.lookBack(p.card)
	case key.Matches(k, keyMenu):
		return m.overview(p.card)
	case key.Matches(k, keyKeys):
		m.push(keysPage(p.keys(m)))
	}
	return nil
}

func (p *waitingPage) keys(*model) []key.Binding {
	return []key.Binding{keyBack, keyMenu, keyKeys, named(keyOn, "take it up again"), keyQuit, keyPause}
}

func (p *waitingPage) view(m *model, w, h int) sheet {
	c := p.card
	c.Caution, c.Second, c.Picture = "", false, ""
	c.Action, c.Detail = "THIS TASK IS LAID DOWN", "The wing stays on the ground with its tag on."
	c.Fields, c.At = nil, 0
	return m.drawCard(c, part{
		ask: "Because:", field: wrap(p.card.Waiting, columnsFor(w).full), cursor: &point{},
		verdict: p.told.wrapped(columnsFor(w).full), alert: true, next: "enter: take it up again", keys: p.keys(m),
	}, w, h)
}

// jobPage lists the tasks of a job and what can be done with the job.
type jobPage struct {
	jobList
	tasks []*job.Task
}

const (
	digitAdd   = 7
	digitClose = 8
	digitHome  = 9
)

func newJobPage(m *model) *jobPage {
	j := m.session.Job()
	p := &jobPage{tasks: j.Tasks}
	p.does = append(m.jobDeeds("t"), jobNote(j)...)
	p.head = linkOpenWords(j)
	p.head = append(p.head, "At the bench: "+m.desk.Who+". Job started "+m.clock(j.Events()[0].At)+".")
	if j.Start.Reason != "" {
		p.head = append(p.head, "Why the wing is here: "+j.Start.Reason)
	}
	for _, it := range j.OpenItems() {
		p.head = append(p.head, "Open: "+openWords(j, it))
	}
	for i, t := range j.Tasks {
		d := i + 1
		if d >= digitAdd {
			d = -1
		}
		p.list.items = append(p.list.items, item{digit: d, text: taskWords(j, t)})
		if t.No == m.task {
			p.list.at = i
		}
	}
	p.list.items = append(p.list.items,
		item{digit: digitAdd, text: "Add a task"},
		item{digit: digitClose, text: "Close the job"},
		item{digit: digitHome, text: "Leave this job, to the list of jobs"})
	return p
}

// openWords keeps a covered target out of an open item.
func openWords(j *job.Job, it job.Item) string {
	t, ok := j.Task(it.Task)
	if ok && it.Key == "" && j.Covered(it.Task) && t.Add.Target != (wing.Ref{}) {
		return fmt.Sprintf("task %d, %s, is not finished", it.Task, t.Unfolded.Procedure.Title.In("en"))
	}
	return it.Text
}

func (p *jobPage) refused(err error) { p.told.what, p.told.do = explain(err) }

func (p *jobPage) key(m *model, k tea.KeyMsg) tea.Cmd {
	return p.listKey(m, k, p.keys(m), func() tea.Cmd { return p.take(m) }, func() {})
}

func (p *jobPage) take(m *model) tea.Cmd {
	if p.list.at < len(p.tasks) {
		m.task = p.tasks[p.list.at].No
		if p.tasks[p.list.at].State() == job.Gone {
			p.told = told{"That task was dropped: " + p.tasks[p.list.at].Reason, "Add a new task for the work."}
			return nil
		}
		return m.due()
	}
	switch p.list.items[p.list.at].digit {
	case digitAdd:
		return m.addTask()
	case digitClose:
		return m.closeJob()
	}
	return m.goHome()
}

func (p *jobPage) keys(m *model) []key.Binding {
	keys := []key.Binding{m.leaveKey(), keyKeys, keyOn, keyChoose}
	return append(append(keys, deedKeys(p.does)...), keyQuit, keyPause)
}

func (p *jobPage) view(m *model, w, h int) sheet {
	return m.listPage("The tasks of this job", p.head, &p.list, p.does, p.told, p.keys(m), w, h)
}
