package tui

import (
	"cmp"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/job"
)

// lookAtJob shows a job without opening it: it takes no lock, and nothing can be
// entered.
func (m *model) lookAtJob(no int) tea.Cmd {
	desk := m.desk
	return m.work(func() then {
		j, _, err := desk.Look(no)
		return func(m *model) tea.Cmd {
			if err != nil {
				m.push(faultPage("Job "+number(no)+" cannot be read", err))
				return nil
			}
			m.push(&textPage{title: "Job " + number(no) + ", read only", text: m.jobText(j)})
			return nil
		}
	})
}

// jobText says how a job stood when it was read: what must not be overlooked
// first, then each task with its steps.
func (m *model) jobText(j *job.Job) []string {
	text := []string{plain(j.Start.WingName) + ". As it was read at " + m.now().Format("15:04") + "; what is entered since is not seen here."}
	if n := len(j.Events()); n > 0 {
		last := j.Events()[n-1]
		text = append(text, "Last entry "+m.clock(last.At)+", "+m.ago(last.At)+", by "+plain(last.Who)+".")
	}
	text = append(text, mustNotBeMissed(j)...)
	for _, t := range j.Tasks {
		text = append(text, "", taskWords(j, t))
		rows, err := j.Overview(t.No)
		if err != nil {
			text = append(text, "   "+err.Error())
			continue
		}
		for _, r := range rows {
			if r.State != job.Blank || r.Hold && !r.Skipped {
				text = append(text, "   "+rowWords(r)+" "+m.rowState(r, job.Card{}))
			}
		}
	}
	return text
}

func rowWords(r job.Row) string {
	ask := cmp.Or(r.Ask, r.Action)
	if strings.HasSuffix(ask, "?") {
		return ask
	}
	return ask + ":"
}

// returned says once how long ago the last entry was, where that is worth a
// word.
func (m *model) returned(j *job.Job) string {
	events := j.Events()
	if len(events) == 0 {
		return ""
	}
	at := events[len(events)-1].At
	if t, err := time.Parse(time.RFC3339, at); err != nil || m.now().Sub(t).Abs() < time.Hour {
		return ""
	}
	return "The last entry in this job is of " + m.clock(at) + ", " + m.ago(at) + "."
}
