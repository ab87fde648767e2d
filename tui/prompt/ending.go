package prompt

import (
	"fmt"
	"slices"
	"strings"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/session"
)

// onlyThePilot ends every word on the tag: a list that is complete is no word on
// the wing.
const onlyThePilot = " Only the pilot takes it off, not this program: a complete list does not say that the wing may be flown."

// TagWords says where the tag of the wing is as far as this job knows. What a
// pilot signed is repeated and not contradicted. at is the time now, RFC 3339.
func TagWords(j *job.Job, at string) string {
	return tagWords(j.PilotsWord(at), len(j.Tasks))
}

func tagWords(w *job.PilotWord, tasks int) string {
	switch {
	case w == nil && tasks == 0:
		return "If one hangs on the wing, it stays there." + onlyThePilot
	case w == nil:
		return "It stays on the wing." + onlyThePilot
	case !w.Stands:
		return fmt.Sprintf("It stays on the wing, or goes on again now: what %s signed as the pilot holds no longer.", w.Name) + onlyThePilot
	}
	said := ""
	if len(w.Said) > 0 {
		said = " " + strings.Join(w.Said, ". ") + "."
	}
	return fmt.Sprintf("%s signed as the pilot: %q%s This is the pilot's word: a complete list does not say that the wing may be flown.", w.Name, w.States, said)
}

// StaysOpen says what a job leaves open, one thing a line: first what must not be
// overlooked, then the findings that wait.
func StaysOpen(j *job.Job) []string {
	var first, wait, over []string
	if t, link := j.LinkOpen(); t != nil {
		first = append(first, "LINK OPEN: "+placeOf(j, t, link.String()))
	}
	for _, f := range j.Findings() {
		switch state, _ := j.StateOf(f); {
		case state == job.StateDeferred:
			over = append(over, "Carried over until "+f.Deferred.Limit()+": "+f.What())
		case state != job.StateOpen:
		case f.Disposition.Grounds():
			first = append(first, onTheGround+f.Words())
		default:
			wait = append(wait, "May wait, say until when: "+f.What())
		}
	}
	var items []string
	for _, it := range j.OpenItems() {
		if it.Grounds {
			first = append(first, onTheGround+it.Text)
			continue
		}
		items = append(items, it.Text)
	}
	return slices.Concat(first, wait, over, items)
}

const onTheGround = "KEEPS THE WING ON THE GROUND: "

// placeOf names a place unless the line of its task is still to be found out.
func placeOf(j *job.Job, t *job.Task, place string) string {
	if j.Covered(t.No) {
		return "a line to be found"
	}
	return place
}

// FromEarlier says what earlier jobs on the wing left: findings that are carried
// over, and new lines that have to be looked at again.
func FromEarlier(s *session.Session) []string {
	var out []string
	for _, f := range s.Job().Findings() {
		if state, _ := s.Job().StateOf(f); f.Task == 0 && state == job.StateDeferred {
			out = append(out, "Carried over until "+f.Deferred.Limit()+": "+f.What())
		}
	}
	for _, d := range s.Due() {
		out = append(out, fmt.Sprintf("From job %d: %s", d.Job, d.Text))
	}
	return out
}
