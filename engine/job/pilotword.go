package job

import (
	"example.org/linewright/engine/procedure"
)

// PilotWord is what a pilot signed last in a job.
type PilotWord struct {
	Name   string
	States string   // what the signature states
	Said   []string // what was answered beside it on its card, "question answer"
	// Stands is false where the wing was worked on since, or where something
	// keeps it on the ground.
	Stands bool
}

// PilotsWord gives what a pilot signed last; nil where none did. at is the time
// by which deferrals are judged, RFC 3339.
func (j *Job) PilotsWord(at string) *PilotWord {
	var word *PilotWord
	line := 0
	for _, t := range j.Tasks {
		for _, s := range t.Unfolded.Slots {
			a := t.answers[s.Key]
			if t.state != Gone && s.Step.Kind == procedure.Sign && s.Step.Role == procedure.Pilot && a != nil && a.State == Ready && a.Line > line {
				word, line = &PilotWord{Name: a.Event.Sign.Name, States: a.Event.Sign.States, Said: t.saidBeside(s)}, a.Line
			}
		}
	}
	if word != nil {
		word.Stands = len(j.grounding(0, at)) == 0 && !j.workedAfter(line)
	}
	return word
}

// saidBeside lists the other answers on the card of a step.
func (t *Task) saidBeside(sign *procedure.Slot) []string {
	var out []string
	for _, s := range t.Unfolded.Slots {
		a := t.answers[s.Key]
		if s != sign && s.CardKey == sign.CardKey && a != nil && a.State == Ready {
			out = append(out, s.Say(s.Step.Ask, "en", t)+" "+t.printed(s, a))
		}
	}
	return out
}

// workedAfter reports whether a task changed the wing behind a line of the
// journal.
func (j *Job) workedAfter(line int) bool {
	for _, t := range j.Tasks {
		if t.state != Gone && t.works() && t.lastLine() > line {
			return true
		}
	}
	return false
}
