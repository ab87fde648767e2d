package job

import (
	"fmt"
	"strings"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
)

// Apply moves the job on by an event that is on the disk. It judges nothing.
// An event that does not fit the state is an error: the journal was not
// written by this program, or by a newer one.
func (j *Job) Apply(e Event) error {
	line := j.Lines + 1
	if err := j.apply(&e, line); err != nil {
		return fmt.Errorf("line %d of the journal: %w", line, err)
	}
	j.Lines = line
	j.events = append(j.events, &e)
	j.Sitting = max(j.Sitting, e.Sitting)
	return nil
}

func (j *Job) apply(e *Event, line int) error {
	if (j.Lines == 0) != (e.Kind == Started) {
		return fmt.Errorf("a %q entry cannot stand here", e.Kind)
	}
	if j.Closed != nil {
		return fmt.Errorf("nothing may follow the closing line")
	}
	if !e.whole() {
		return fmt.Errorf("a %q entry without what belongs to one", e.Kind)
	}
	switch e.Kind {
	case Started:
		return j.applyStart(e)
	case Added:
		return j.applyAdd(e, line)
	case Noted:
		j.Notes = append(j.Notes, e)
		return nil
	case Closed:
		j.Closed = e
		return nil
	case Benched:
		j.Bench = *e.Bench
		return nil
	case Struck:
		return j.applyStrike(e)
	case Deferring, Clearing:
		return j.applyFinding(e)
	case Parted:
		return j.applyPart(e, line)
	case Decided:
		if e.Path != nil {
			return j.applyDecidedPath(e)
		}
	case HandedOn:
		j.handed = e
		return nil
	case TakenOver:
		j.handed = nil
		return nil
	}
	t, ok := j.Task(e.Task)
	if !ok {
		return fmt.Errorf("there is no task %d", e.Task)
	}
	return j.applyTask(t, e, line)
}

func (j *Job) applyStart(e *Event) error {
	if e.Start.Journal != Edition {
		return fmt.Errorf("this program reads edition %d of a job", Edition)
	}
	data, err := j.pins.Pinned(e.Start.Plan)
	if err != nil {
		return err
	}
	if j.Plan, err = wing.Known(data, "plan.toml"); err != nil {
		return err
	}
	j.Start, j.Bench = *e.Start, e.Start.Bench
	for _, c := range e.Start.Carried {
		j.findings = append(j.findings, &Finding{Carried: c})
	}
	return nil
}

func (j *Job) applyAdd(e *Event, line int) error {
	u, err := j.unfold(e.Add)
	if err != nil {
		return err
	}
	if e.Task != len(j.Tasks)+1 {
		return fmt.Errorf("task %d does not follow task %d", e.Task, len(j.Tasks))
	}
	j.Tasks = append(j.Tasks, &Task{No: e.Task, Add: *e.Add, Unfolded: u, state: Running, answers: map[string]*Answer{}, job: j, line: line})
	j.at = e.Task
	return nil
}

func (j *Job) applyStrike(e *Event) error {
	if e.Line < 1 || e.Line > len(j.events) {
		return fmt.Errorf("there is no line %d to strike", e.Line)
	}
	if e.Task == 0 || e.Key == "" {
		return nil
	}
	for _, f := range j.findings {
		if f.Line == e.Line {
			f.Struck = e.Reason
			j.void(e.Voids)
			return nil
		}
	}
	t, ok := j.Task(e.Task)
	if !ok {
		return fmt.Errorf("there is no task %d", e.Task)
	}
	a := t.answers[e.Key]
	if a == nil {
		return nil // a note on a step
	}
	for i := range a.Readings {
		if r := &a.Readings[i]; r.Line == e.Line && (e.Path == nil || r.Path != nil && *r.Path == *e.Path) {
			a.Readings[i].Struck = e.Reason
			a.Measurement, a.Difference, a.Judgement = nil, nil, nil
			a.unjudge()
		}
	}
	return nil
}

// unjudge lets go of what a verdict said about readings that no longer all
// count.
func (a *Answer) unjudge() {
	if a.State == Partial && a.Event != nil && a.Event.Kind == Settled {
		e := *a.Event
		e.Why = nil
		a.Event = &e
	}
}

func (j *Job) applyTask(t *Task, e *Event, line int) error {
	switch e.Kind {
	case Dropped:
		t.state, t.Reason = Gone, e.Reason
		return nil
	case LaidDown:
		t.state, t.Reason = Waiting, e.Reason
		return nil
	case TakenUp:
		t.state, t.Reason, t.sitting = Running, "", 0
		return nil
	case Reopened, Disagreed:
		t.looker = ""
		j.void(e.Voids)
		t.sitting, j.at = e.Sitting, t.No
		t.lastDone = t.lastBefore()
		return nil
	case Confirmed:
		t.sitting, j.at = e.Sitting, t.No
		return nil
	}
	slot, ok := t.Unfolded.Slot(e.Key)
	if !ok {
		return fmt.Errorf("task %d has no step %q", t.No, e.Key)
	}
	if e.Kind == FoundOne {
		j.applyFound(t, e, line)
		j.remember(slot, e)
		return nil
	}
	if e.Kind == Looking {
		j.void(e.Voids)
		t.looker, t.lookedIn = e.Text, e.Sitting
		return nil
	}
	if err := t.applyAnswer(slot, e, line); err != nil {
		return err
	}
	if e.Outcome == Taken && e.Kind != Read && e.Kind != Sheeted {
		t.lastDone, t.sitting, j.at = e.Key, e.Sitting, t.No
	}
	j.remember(slot, e)
	return nil
}

// remember keeps who did the work, for the second look.
func (j *Job) remember(slot *procedure.Slot, e *Event) {
	if e.Kind == Signed {
		if e.Sign.Role == string(procedure.Doer) {
			j.doerKeys[e.Sign.Fingerprint] = e.Sign.Name
			j.people[strings.ToLower(e.Sign.Name)] = true
		}
		return
	}
	if slot.Card.By != procedure.Second {
		j.people[strings.ToLower(e.Who)] = true
	}
}

// applyAnswer writes an event into its step's answer.
func (t *Task) applyAnswer(slot *procedure.Slot, e *Event, line int) error {
	a := t.answers[slot.Key]
	if a == nil || a.State == Void && e.Kind != Stands {
		a = &Answer{State: Partial, Old: a}
		t.answers[slot.Key] = a
	}
	switch e.Kind {
	case Read, Sheeted:
		return t.applyReadings(slot, a, e, line)
	case Stands:
		if a.Old == nil {
			return fmt.Errorf("step %q has no old answer", slot.Key)
		}
		old := *a.Old
		old.State, old.Old = Ready, a.Old
		t.answers[slot.Key] = &old
		return nil
	case Settled:
		if e.Value != nil { // a plain reading that closed the step at once
			if e.Outcome != Taken {
				a.discount() // they failed together
			}
			a.Readings = append(a.Readings, Reading{Line: line, Typed: e.Typed, Value: *e.Value, Outcome: e.Outcome})
		}
		a.Measurement, a.Difference, a.Judgement = e.Measurement, e.Difference, e.Judgement
		if err := t.applyLengths(a, e); err != nil {
			return err
		}
	case Decided:
		a.Decided = e.Reason
	case Answered, Signed:
	default:
		return fmt.Errorf("entries of kind %q are not known", e.Kind)
	}
	a.Event, a.Line, a.State = e, line, Partial
	if e.Outcome == Taken {
		a.State = Ready
	}
	return nil
}

// discount makes the readings so far count no more: the value that they gave
// with the last one was refused.
func (a *Answer) discount() {
	for i := range a.Readings {
		a.Readings[i].Outcome = Open
	}
}

// lastBefore finds the last step that still counts before the one that is due
// after a re-opening.
func (t *Task) lastBefore() string {
	last := ""
	due, _ := t.current()
	for _, s := range t.Unfolded.Slots {
		if s == due {
			break
		}
		if a := t.answers[s.Key]; a != nil && a.State == Ready {
			last = s.Key
		}
	}
	return last
}
