package job

import (
	"fmt"
	"slices"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/trim"
	"example.org/linewright/engine/wing"
)

// Pins gives the bytes that a job keeps by their SHA-256: plans, procedures.
type Pins interface {
	Pinned(sha256 string) ([]byte, error)
}

// Job is the state after some events.
type Job struct {
	Start   Start
	Plan    *wing.Plan
	Bench   metrology.Bench // in force now
	Tasks   []*Task
	Notes   []*Event
	Lines   int // events applied
	Sitting int // the highest seen
	Closed  *Event

	pins     Pins
	at       int               // task of the last work done, for interruptions
	people   map[string]bool   // who made entries at the bench as the doer
	doerKeys map[string]string // fingerprint → name, of those who signed as the doer
	events   []*Event
	findings []*Finding
	parts    []*Listing
	orders   int                 // how many were made final
	handed   *Event              // the job waits elsewhere, or for somebody else
	decided  map[decision]string // paths that are not proved and that a person took, with the reason
}

// TaskState says whether a task can go on.
type TaskState string

// The states of a task.
const (
	Running TaskState = "running"
	Waiting TaskState = "laid down"
	Gone    TaskState = "dropped"
	Done    TaskState = "done"
)

// Task is one procedure on one target.
type Task struct {
	No       int
	Add      Add
	Unfolded *procedure.Unfolded
	Reason   string // why it was dropped or laid down

	state    TaskState
	answers  map[string]*Answer
	sitting  int // in which the last step was done or confirmed
	lastDone string
	job      *Job
	line     int    // of the journal, by which it was added
	looker   string // the second person at the card, by their own word until they sign
	lookedIn int    // the sitting in which they said so
}

// AnswerState says how far a step is.
type AnswerState string

// The states of a step's answer.
const (
	Blank   AnswerState = ""
	Partial AnswerState = "open" // something is written, the step is not done
	Ready   AnswerState = "done"
	Void    AnswerState = "void" // does not count until answered again
)

// Answer is what stands written for one step.
type Answer struct {
	State       AnswerState
	Event       *Event // the event that closed it, or the last one noted
	Line        int    // its line
	Readings    []Reading
	Measurement *metrology.Measurement
	Difference  *metrology.Difference
	Judgement   *metrology.Judgement
	Decided     string // reason of a person's decision
	Old         *Answer

	bench *metrology.Bench // on which a row that is closed was read
}

// Reading is one raw value of a measure step, or of a path.
type Reading struct {
	Line    int
	Path    *trim.PathRef // of a lengths step
	Typed   string
	Value   quantity.Value
	Outcome Outcome
	Struck  string // reason
}

// New gives an empty job that finds pinned files through pins.
func New(pins Pins) *Job {
	return &Job{pins: pins, people: map[string]bool{}, doerKeys: map[string]string{}, decided: map[decision]string{}}
}

// Task finds a task by its number.
func (j *Job) Task(no int) (*Task, bool) {
	if no < 1 || no > len(j.Tasks) {
		return nil, false
	}
	return j.Tasks[no-1], true
}

// Events lists what was applied, line 1 first.
func (j *Job) Events() []*Event { return j.events }

// Answer gives a done step's value to expressions.
func (t *Task) Answer(key string) (any, bool) {
	a := t.answers[key]
	if a == nil || a.State != Ready {
		return nil, false
	}
	return a.value()
}

// At gives what stands written for a step; nil if nothing does.
func (t *Task) At(key string) *Answer { return t.answers[key] }

func (a *Answer) value() (any, bool) {
	e := a.Event
	switch {
	case a.Measurement != nil:
		return a.Measurement.Value.MM(), true
	case e.Codes != nil:
		return e.Codes, true
	case e.Value != nil:
		return e.Value.Float(), true
	case e.Choice != "":
		return e.Choice, true
	case e.Photo != nil:
		return e.Photo.SHA256, true
	case e.Text != "":
		return e.Text, true
	}
	return nil, false
}

// State says whether the task can go on; a task whose steps are all answered
// is done.
func (t *Task) State() TaskState {
	if t.state != Running {
		return t.state
	}
	if s, err := t.current(); s == nil && err == nil {
		return Done
	}
	return Running
}

// current is the first step that is neither done nor skipped; nil when all
// are. Steps open in order: only this one can be answered.
func (t *Task) current() (*procedure.Slot, error) {
	for _, s := range t.Unfolded.Slots {
		if a := t.answers[s.Key]; a != nil && a.State == Ready {
			continue
		}
		skip, err := t.skips(s)
		if err != nil {
			return s, err
		}
		if !skip {
			return s, nil
		}
	}
	return nil, nil
}

// skips reports whether a step is passed over: by its conditions, or because
// nothing is there to be looked at.
func (t *Task) skips(s *procedure.Slot) (bool, error) {
	skip, err := s.Skipped(t)
	switch {
	case err != nil || skip:
		return skip, err
	case s.Step.Of == procedure.OfKin:
		return len(t.kin()) == 0, nil
	case s.Step.Kind == procedure.Lengths:
		return t.nothingToMeasure(s), nil
	}
	return false, nil
}

// Progress counts the steps done and those known to be needed.
func (t *Task) Progress() (done, of int) {
	for _, s := range t.Unfolded.Slots {
		a := t.answers[s.Key]
		if a != nil && a.State == Ready {
			done++
			of++
			continue
		}
		if skip, err := t.skips(s); err == nil && !skip {
			of++
		}
	}
	return done, of
}

// targets are what the task works on: its target, and the twin where a part of
// the procedure is about the other side.
func (t *Task) targets() []wing.Ref {
	out := []wing.Ref{t.Add.Target}
	for _, s := range t.Unfolded.Slots {
		if !slices.Contains(out, s.Target) {
			out = append(out, s.Target)
		}
	}
	return out
}

// gate says whether the task took the gate off the link of one of its targets
// and brought it home: open is the line that opened it; home is the line that
// closed it, 0 while it did not.
func (t *Task) gate(target wing.Ref) (open, home int) {
	for _, s := range t.Unfolded.Slots {
		if s.Target != target {
			continue
		}
		a := t.answers[s.Key]
		switch {
		case s.Step.Opens && a != nil && a.everTaken():
			open = max(open, a.Line)
		case s.Step.Closes && a != nil && a.State == Ready:
			home = max(home, a.Line)
		case s.Step.Closes:
			if skip, err := t.skips(s); err != nil || !skip {
				return open, 0
			}
		}
	}
	return open, home
}

// everTaken reports whether the step was done once, void or not: what was
// opened by hand stays open when its answer becomes void.
func (a *Answer) everTaken() bool {
	for ; a != nil; a = a.Old {
		if a.State == Ready {
			return true
		}
	}
	return false
}

// LinkOpen gives a link that is open, and the task that opened it. One task
// may open a link and another on the same link close it.
func (j *Job) LinkOpen() (*Task, wing.Ref) {
	closed := map[wing.Ref]int{}
	for _, t := range j.Tasks {
		for _, target := range t.targets() {
			if link, ok := j.link(target); ok {
				_, home := t.gate(target)
				closed[link] = max(closed[link], home)
			}
		}
	}
	for _, t := range j.Tasks {
		for _, target := range t.targets() {
			link, ok := j.link(target)
			if open, home := t.gate(target); ok && open > 0 && home == 0 && closed[link] < open {
				return t, link
			}
		}
	}
	return nil, wing.Ref{}
}

// link is the link that work on a target opens.
func (j *Job) link(r wing.Ref) (wing.Ref, bool) {
	if r.Kind == wing.KindLink {
		return r, true
	}
	if r.Kind == wing.KindLine {
		if l, ok := j.Plan.LinkOf(r.Code); ok {
			return wing.LinkRef(l.Name, r.Side), true
		}
	}
	return wing.Ref{}, false
}

// OneSide reports whether one side of a pair was altered and the other not, or
// not wholly: such a wing must be named as that wherever it is listed.
func (t *Task) OneSide() bool {
	if !t.Unfolded.Procedure.Pair || t.state == Gone && len(t.answers) == 0 {
		return false
	}
	altered, left := false, false
	for _, s := range t.Unfolded.Slots {
		if !s.Step.Alters {
			continue
		}
		a := t.answers[s.Key]
		if a != nil && (a.State == Ready || a.State == Void) {
			altered = true
			continue
		}
		if skip, err := t.skips(s); err == nil && !skip {
			left = true
		}
	}
	return altered && left
}

// OneSideWords says what OneSide found.
func (t *Task) OneSideWords() string { return OneSideWords(t.Add.Target.Kind) }

// OneSideWords says of a pair, by the kind of its target, that one side is done
// and the other not.
func OneSideWords(kind wing.Kind) string {
	if kind == wing.KindBrakes {
		return "one brake is moved, the other is not"
	}
	return "one of the pair is renewed, its twin is not"
}

// Item is something that stays open in the record.
type Item struct {
	Task    int
	Key     string
	Text    string
	At      string // when it was first written
	Finding string // its ID, where it is one
	Grounds bool   // it keeps the wing on the ground
	Decided bool   // a person took what was not proved
}

// OpenItems lists what is open: answers that left something undone, tasks
// that are not done, a brake moved on one side.
func (j *Job) OpenItems() []Item {
	var out []Item
	for _, t := range j.Tasks {
		if t.State() == Gone {
			continue
		}
		out = append(out, t.openItems()...)
		if t.OneSide() {
			out = append(out, Item{Task: t.No, Text: t.OneSideWords()})
		}
		if t.State() != Done {
			out = append(out, Item{Task: t.No, Text: fmt.Sprintf("task %d, %s on %s, is %s", t.No, t.Unfolded.Procedure.Title.In("en"), j.TargetName(t), unfinished(t))})
		}
	}
	return append(out, j.openLengths()...)
}

func unfinished(t *Task) string {
	if t.state == Waiting {
		return "laid down: " + t.Reason
	}
	return "not finished"
}

func (t *Task) openItems() []Item {
	var out []Item
	for _, s := range t.Unfolded.Slots {
		a := t.answers[s.Key]
		if a == nil || a.State != Ready || a.Event == nil {
			continue
		}
		if a.Event.Opened != "" && !t.ended(s, a) {
			out = append(out, Item{Task: t.No, Key: s.Key, Text: a.Event.Opened, At: a.Event.At, Grounds: a.Event.Grounds})
		}
		if a.Decided != "" {
			out = append(out, Item{Task: t.No, Key: s.Key, Text: "not proved, taken by decision: " + a.Decided, At: a.Event.At, Decided: true})
		}
	}
	return out
}
