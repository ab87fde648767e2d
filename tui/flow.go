package tui

import (
	"cmp"
	"errors"
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/session"
	"example.org/linewright/engine/wing"
	"example.org/linewright/tui/prompt"
)

// asker is a page that makes entries: it is told if one was refused.
type asker interface {
	refused(err error)
}

// enter hands an entry to the session. What was entered is on the disk before
// the screen moves on; refused, the page that asked keeps it.
func (m *model) enter(en job.Entry, from asker) tea.Cmd {
	s := m.session
	return m.work(func() then {
		e, err := s.Enter(en)
		return m.entered(e, err, from)
	})
}

// entered is what the screen does with the outcome of an entry.
func (m *model) entered(e job.Event, err error, from asker) then {
	return func(m *model) tea.Cmd {
		if err != nil {
			return m.notEntered(err, from)
		}
		return m.saved(e)
	}
}

// notEntered tells the page that asked, or stops all entries if it is not known
// what is on the disk.
func (m *model) notEntered(err error, from asker) tea.Cmd {
	var r *job.Refusal
	if errors.As(err, &r) || m.session.Stopped() == nil {
		from.refused(err)
		return nil
	}
	m.failed = err
	m.push(failedPage(m, err))
	return nil
}

// saved goes on to the card that is due after an entry.
func (m *model) saved(e job.Event) tea.Cmd {
	m.mark = m.savedWords(e)
	if e.Kind != job.Noted && e.Kind != job.Struck {
		delete(m.drafts, draftKey(e.Task, e.Key))
	}
	if e.Kind == job.Added {
		m.task = e.Task
	}
	return m.due()
}

// due shows what is due in the task at hand.
func (m *model) due() tea.Cmd {
	j := m.session.Job()
	m.at.bench = j.Bench
	if j.Closed != nil {
		return m.closed()
	}
	if j.HandedTo() != "" {
		m.base(newHandedPage(m))
		return nil
	}
	if t, ok := j.Task(m.task); !ok || t.State() == job.Gone {
		m.base(jobFront(m))
		return nil
	}
	c, err := m.session.Card(m.task)
	if err != nil {
		m.base(jobFront(m))
		m.push(faultPage("This step cannot be shown", err))
		return nil
	}
	m.found(c)
	switch {
	case c.Over:
		m.base(newLastPage(m, c))
	case c.Waiting != "":
		m.base(&waitingPage{card: c})
	case c.Confirm != nil:
		m.base(&confirmPage{card: c, open: strings.Join(linkOpenWords(j), "")})
	case c.Second && c.Looker == "":
		p := newLookerPage(c)
		m.base(p)
		return p.load(m)
	case c.Fields[c.At].Kind == signKind:
		p := newHoldPage(c)
		m.base(p)
		return p.load(m)
	default:
		m.base(stepPage(m, c))
	}
	return nil
}

// found says once which line it is that the answers have named.
func (m *model) found(c job.Card) {
	before := m.hidden
	m.hidden = 0
	if prompt.Covered(c) {
		m.hidden = c.Task
		return
	}
	if before == c.Task && c.Ref.Kind == wing.KindLine {
		m.word = fmt.Sprintf("It is %s: %s.", c.Ref, prompt.LineWords(m.session.Job().Plan, c.Ref))
	}
}

// openJob takes a job up. Opening writes nothing.
func (m *model) openJob(no, task int) tea.Cmd {
	desk := m.desk
	return m.work(func() then {
		s, err := desk.Open(no)
		if err == nil {
			err = m.hands.swap(s)
		}
		if err == nil {
			s.Due() // read here, away from the screen
		}
		return func(m *model) tea.Cmd {
			if err != nil {
				return m.notOpened(no, task, err)
			}
			return m.opened(s, task)
		}
	})
}

// opened begins a sitting at a job.
func (m *model) opened(s *session.Session, task int) tea.Cmd {
	j := s.Job()
	m.session, m.task, m.failed, m.drafts, m.read = s, task, nil, map[string]string{}, map[string]bool{}
	m.at = bearings{no: s.No(), start: j.Start, bench: j.Bench, plan: j.Plan}
	if n := len(j.Events()); n > 0 {
		m.mark = "all is SAVED, last entry " + m.clock(j.Events()[n-1].At)
	}
	cmd := m.entryPoint(task)
	if r := s.Recovery(); r.Torn() {
		m.push(tornPage(r))
	}
	return cmd
}

// entryPoint chooses the first page of a job: the one task that can go on, or
// where there is more to it, its agenda.
func (m *model) entryPoint(task int) tea.Cmd {
	if task != 0 || m.session.Job().HandedTo() != "" {
		return m.due()
	}
	j := m.session.Job()
	if j.Closed == nil && manyThings(j) {
		p := newAgendaPage(m)
		p.told.what = cmp.Or(m.returned(j), p.told.what)
		m.base(p)
		return nil
	}
	running := 0
	for _, t := range j.Tasks {
		if t.State() == job.Running {
			running++
			m.task = t.No
		}
	}
	if running == 1 || j.Closed != nil {
		return m.due()
	}
	p := newJobPage(m)
	p.told.what = m.returned(j)
	m.base(p)
	return nil
}

// goHome puts the job away and lists all jobs.
func (m *model) goHome() tea.Cmd {
	m.session, m.mark, m.failed = nil, "", nil
	p := &homePage{}
	m.base(p)
	return p.load(m)
}
