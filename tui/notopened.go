package tui

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/journal"
	"example.org/linewright/engine/session"
	"example.org/linewright/engine/store"
)

// notOpened says why a job cannot be taken up: who holds it, or what is wrong.
func (m *model) notOpened(no, task int, err error) tea.Cmd {
	cmd := m.goHome()
	again := func(m *model) tea.Cmd { return m.openJob(no, task) }
	look := deed{"l", "look at it, read only", func(m *model) tea.Cmd { return m.lookAtJob(no) }}
	p := &notice{title: "Job " + number(no) + " cannot be opened", on: "try again", take: again}
	var locked *store.LockedError
	var damage *journal.DamageError
	var edition *journal.EditionError
	switch {
	case errors.As(err, &locked):
		p.title = "Job " + number(no) + " is in use"
		p.head, p.says, p.does = "THIS JOB IS OPEN ELSEWHERE", m.inUse(locked), []deed{look}
	case errors.As(err, &damage):
		p.head, p.says = "THE JOURNAL OF THIS JOB IS DAMAGED", damaged(m.desk, no, m.inStore(err))
	case errors.As(err, &edition):
		p.head, p.says = "A NEWER LINEWRIGHT WROTE THIS JOB", newer(m.inStore(err))
	default:
		what, do := explain(m.inStore(err))
		p.head, p.does = "THIS JOB CANNOT BE OPENED", []deed{look}
		p.says = []saying{{saysWhat, sentence(what)}, {saysSafe, "Nothing in the job was changed. " + grounded}, {saysNow, sentence(do)}}
	}
	m.push(p)
	return cmd
}

// inStore names files by their place in the store: the whole path breaks over
// lines, and the list of jobs says with ? where the store lies.
func (m *model) inStore(err error) error {
	return errors.New(strings.ReplaceAll(err.Error(), m.desk.Store.Dir()+string(filepath.Separator), ""))
}

// grounded holds wherever a job cannot be read: what it says is not known.
const grounded = "The wing stays on the ground with its tag on."

func (m *model) inUse(locked *store.LockedError) []saying {
	since := ""
	if at := m.desk.Store.HeldSince(locked.Job); !at.IsZero() && at.Before(m.now()) {
		stamp := at.Format(time.RFC3339)
		since = fmt.Sprintf(", since %s, %s", m.clock(stamp), m.ago(stamp))
	}
	return []saying{
		{saysWhat, "It is held by " + locked.Holder + since + "."},
		{saysSafe, "What was said to be saved there is on the disk. Here nothing was opened and nothing changed."},
		{saysNow, "Close the job there, or have it closed; then press enter. If that program is gone, its lock went with it: enter opens the job."},
	}
}

func damaged(desk session.Desk, no int, err error) []saying {
	what, _ := explain(err)
	return []saying{
		{saysWhat, sentence(what)},
		{saysSafe, "The file was only read, and is as it was found. The other jobs go on as before. " + grounded},
		{saysNow, fmt.Sprintf("Copy the folder jobs/%04d of the store away as it is. Then put the last good copy in its place: your backup of it, or a pack (%s). "+
			"What was entered after that copy is looked at and entered again.", no, desk.Command("job take FILE"))},
	}
}

func newer(err error) []saying {
	what, _ := explain(err)
	return []saying{
		{saysWhat, sentence(what)},
		{saysSafe, "The job is whole; it was not changed. The other jobs go on as before. " + grounded},
		{saysNow, "Open it with the newer linewright that wrote it. This one does not guess what it cannot read."},
	}
}
