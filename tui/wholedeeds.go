package tui

import (
	"fmt"

	"example.org/linewright/engine/job"
)

// strikeFindings lists the findings of a task that can be withdrawn.
func (m *model) strikeFindings(task int) []struckItem {
	var out []struckItem
	for _, f := range m.session.Job().Findings() {
		if f.Task == task && f.Line > 0 && f.Struck == "" {
			out = append(out, struckItem{line: f.Line, text: fmt.Sprintf("finding, entry %d: %s", f.Line, f.Words())})
		}
	}
	return out
}

// wholeWords says what an event was that is about the whole wing or the job, for
// the save mark; "" where it is none.
func (m *model) wholeWords(e job.Event) string {
	switch e.Kind {
	case job.FoundOne:
		return "finding on " + e.Found.Thing.String()
	case job.Deferring:
		return "carried over: " + m.findingOn(e.Finding)
	case job.Clearing:
		return "over: " + m.findingOn(e.Finding)
	case job.Parted:
		return partMoved(m.session.Job(), e.Part)
	case job.HandedOn:
		return "handed on to " + plain(e.To)
	case job.TakenOver:
		return "the job is taken over"
	}
	return ""
}

// partMoved says a move of the order list.
func partMoved(j *job.Job, mv *job.PartMove) string {
	if mv.Op == job.PartOrder {
		return "the order is final"
	}
	l := j.Parts()[mv.No-1]
	return fmt.Sprintf("part %d, %s: %s", l.No, l.Thing, j.PartState(l))
}

// findingOn names what a finding is on.
func (m *model) findingOn(id string) string {
	f, ok := m.session.Job().Finding(id)
	if !ok {
		return "finding " + id
	}
	return f.Thing.String()
}
