package job

import (
	"strings"

	"example.org/linewright/engine/procedure"
)

// Row is one step in the overview of a task.
type Row struct {
	Key     string
	Phase   string
	Action  string
	Ask     string
	State   AnswerState
	Due     bool
	Skipped bool
	Hold    bool
	Answer  string
	Who, At string
	Line    int
	Kept    bool   // from the second person, who is being asked: its card cannot be looked at
	OldSign string // a signature that is superseded but still stands for what it signed
}

// Overview lists all steps of a task in their order. While the target has to
// be found out the texts that would show it are those of the covered phase
// and carry no code; later phases are left out until then. What the doer
// answered is covered while the second person is asked.
func (j *Job) Overview(task int) ([]Row, error) {
	t, ok := j.Task(task)
	if !ok {
		return nil, refuse(NoTask, task)
	}
	due, err := t.current()
	if err != nil {
		return nil, refuse(Fault, due.Key, err)
	}
	var out []Row
	for _, s := range t.Unfolded.Slots {
		if due != nil && s.Index > due.Index && j.covered(t, due) && !s.Hidden {
			break
		}
		r := t.row(s, s == due)
		t.keep(&r, due, s)
		out = append(out, r)
	}
	return out, nil
}

// covered reports whether the target is not found out yet at a step.
func (j *Job) covered(t *Task, due *procedure.Slot) bool {
	for _, s := range t.Unfolded.Slots[due.Index:] {
		if s.Hidden {
			return true
		}
	}
	return false
}

func (t *Task) row(s *procedure.Slot, due bool) Row {
	r := Row{
		Key: s.Key, Phase: t.Unfolded.Phases[s.Phase].Title.In("en"), Due: due,
		Action: s.Say(s.Card.Action, "en", t), Ask: s.Say(s.Step.Ask, "en", t), Hold: s.Step.Kind == procedure.Sign,
	}
	skip, err := t.skips(s)
	r.Skipped = err == nil && skip
	a := t.answers[s.Key]
	if a == nil {
		return r
	}
	r.State, r.Line = a.State, a.Line
	if a.Event != nil {
		r.Who, r.At = a.Event.Who, a.Event.At
		r.Answer = t.printed(s, a)
	}
	for old := a.Old; old != nil && r.Hold; old = old.Old {
		if old.Event != nil && old.Event.Kind == Signed {
			r.OldSign = old.Event.Sign.Name
		}
	}
	return r
}

// Covered reports whether a task's target is still to be found out, by the doer
// or by the second person: until then no list may show it, also while the task
// is laid down.
func (j *Job) Covered(task int) bool {
	t, ok := j.Task(task)
	if !ok || t.state == Gone {
		return false
	}
	due, err := t.current()
	return err == nil && due != nil && (j.covered(t, due) || t.coveredForLook(due))
}

// TargetName names what a task is on, for lists and messages.
func (j *Job) TargetName(t *Task) string {
	if j.Covered(t.No) {
		return "a line that has to be found out"
	}
	return t.Add.Target.String()
}

// Understood gives an entry as it would be taken, or the refusal, without
// writing anything: the preview under a field.
func (j *Job) Understood(st Stamp, en Entry) (string, error) {
	e, err := decide(j, st, en, true)
	if err != nil {
		return "", err
	}
	t, ok := j.Task(e.Task)
	if !ok {
		return "", nil
	}
	s, ok := t.Unfolded.Slot(e.Key)
	if !ok {
		return "", nil
	}
	if e.Value != nil || e.Kind == Sheeted || e.Kind == Decided && e.Path != nil {
		return e.readWords(), nil
	}
	return t.printed(s, &Answer{Event: &e}), nil
}

// printed gives an answer as a person reads it.
func (t *Task) printed(s *procedure.Slot, a *Answer) string {
	e := a.Event
	if e == nil {
		return ""
	}
	switch {
	case a.Measurement != nil:
		return a.Measurement.Value.String()
	case e.Kind == Signed:
		return "signed by " + e.Sign.Name + " (" + e.Sign.Role + ")"
	case len(e.Codes) > 0:
		return strings.Join(e.Codes, " ") + seenFrom[e.SeenFrom]
	case s.Step.Kind == procedure.Inspect:
		return t.inspected(s, e)
	case s.Step.Kind == procedure.Lengths:
		return t.measuredWords(s, a)
	case s.Step.Kind == procedure.Trim:
		return trimWords(e)
	case s.Step.Kind == procedure.Loops:
		return loopsWords(e)
	case s.Step.Kind == procedure.Clear:
		return "nothing keeps the wing on the ground"
	case e.Choice != "":
		return optionText(s, t, e)
	case e.Value != nil:
		return e.Value.String()
	case e.Photo != nil:
		return e.Photo.Name
	case e.Text != "":
		return e.Text
	}
	return "done"
}

func optionText(s *procedure.Slot, t *Task, e *Event) string {
	for i := range s.Step.Options {
		if o := &s.Step.Options[i]; o.ID == e.Choice {
			text := s.Say(o.Text, "en", t)
			if e.Text != "" {
				text += ": " + e.Text
			}
			return text
		}
	}
	return e.Choice
}
