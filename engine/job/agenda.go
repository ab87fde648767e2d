package job

import (
	"fmt"
	"slices"
	"strings"

	"example.org/linewright/engine/wing"
)

// Todo is one thing that is to be done in a job: a task under way, or one that
// the findings, the parts or the measuring ask for.
type Todo struct {
	Task      int        `json:"task,omitempty"`      // under way; 0: still to be added
	Procedure string     `json:"procedure,omitempty"` // id of a shipped procedure; "" where List says where it is done
	List      TodoList   `json:"list,omitempty"`
	Target    wing.Ref   `json:"target,omitzero"`
	State     TodoState  `json:"state"`
	What      string     `json:"what"`
	Why       string     `json:"why,omitempty"`
	Lacks     []wing.Ref `json:"lacks,omitempty"` // what has to be at hand first and is not
}

// TodoList names the list of a job on which something is done that is no task.
type TodoList string

// The lists.
const (
	OnParts    TodoList = "parts"
	OnFindings TodoList = "findings"
)

// TodoState says whether it can be done now.
type TodoState string

// The states of a todo.
const (
	TodoHere  TodoState = "under way"
	TodoVoid  TodoState = "void" // answers in it no longer count
	TodoLaid  TodoState = "laid down"
	TodoNext  TodoState = "can be done now"
	TodoParts TodoState = "waits for a part"
	TodoLater TodoState = "later"
)

// The shipped procedures that an agenda names.
const (
	ProcSurvey      = "damage-survey"
	ProcReceipt     = "part-receipt"
	ProcSwap        = "line-swap"
	ProcOpening     = "link-opening"
	ProcExchange    = "line-exchange"
	ProcClosing     = "link-reclosure"
	ProcPair        = "line-pair"
	ProcBrakeMain   = "brake-main"
	ProcRiserLine   = "riser-line"
	ProcSoftLink    = "soft-link"
	ProcRenewLink   = "link-renewal"
	ProcRetainer    = "retainer-renewal"
	ProcFittings    = "brake-fittings"
	ProcPulleys     = "pulley-relocation"
	ProcLoop        = "loop-change"
	ProcTrim        = "trim-measure"
	ProcTrimAfter   = "trim-after"
	ProcRelease     = "release"
	ProcFirstFlight = "first-flight"
)

// Agenda lists what is to be done, in the order in which it is best done: what
// is open first, then what is under way, then parts, work by link, measuring,
// release.
func (j *Job) Agenda() []Todo {
	a := &agenda{job: j}
	a.underWay()
	a.parts()
	from := len(a.list)
	a.work()
	if a.running(ProcSurvey, wing.Whole()) {
		a.afterSurvey(from)
	}
	a.measuring()
	a.ending()
	if len(a.list) == 0 && len(j.Tasks) == 0 {
		a.add(TodoNext, ProcSurvey, wing.Whole(), "Survey the wing for damage", "after a tree, a snag, a drag or water every line is looked at before one is mended")
	}
	return a.list
}

// Wait says why a todo is not begun without a word, "" where nothing stands
// against it. The last full stop is left out. That a part has
// come is said by beginning to look at it.
func (t Todo) Wait() string {
	var why []string
	if t.State == TodoLater && t.Procedure != "" {
		why = append(why, "This comes later: "+t.Why)
	}
	for _, thing := range t.Lacks {
		why = append(why, "The part for "+thing.String()+" is not at hand")
	}
	return strings.Join(why, ". ")
}

// afterSurvey puts off the work that a survey under way asked for so far: what
// it still finds may be on the same link, which is opened once. What is open
// already is not put off, it stands before.
func (a *agenda) afterSurvey(from int) {
	for i := range a.list[from:] {
		t := &a.list[from+i]
		if t.Procedure != "" && (t.State == TodoNext || t.State == TodoParts) {
			t.State, t.Why = TodoLater, "after the survey"
		}
	}
}

type agenda struct {
	job     *Job
	list    []Todo
	changes int // todos that change the wing

	opener *Task    // whose link is open; it may be done
	open   wing.Ref // the link
}

func (a *agenda) add(state TodoState, procedure string, target wing.Ref, what, why string) {
	if a.running(procedure, target) {
		return
	}
	a.list = append(a.list, Todo{Procedure: procedure, Target: target, State: state, What: what, Why: why})
}

// addWith adds what needs parts, if new ones are wanted for them: it waits while
// one is not at hand.
func (a *agenda) addWith(needs []wing.Ref, procedure string, target wing.Ref, what, why string) {
	lacks := slices.DeleteFunc(slices.Clone(needs), func(thing wing.Ref) bool { return a.job.Have(thing) || !a.renewed(thing) })
	state, n := TodoNext, len(a.list)
	if len(lacks) > 0 {
		state = TodoParts
	}
	a.add(state, procedure, target, what, why)
	if len(a.list) > n {
		a.list[n].Lacks = lacks
	}
}

// running reports whether such a task is under way already.
func (a *agenda) running(procedure string, target wing.Ref) bool {
	for _, t := range a.job.Tasks {
		if t.Add.Procedure == procedure && t.Add.Target == target && (t.State() == Running || t.State() == Waiting) {
			return true
		}
	}
	return false
}

// done gives the last done task of a procedure on a target; nil if none is.
// An empty target stands for any.
func (a *agenda) done(procedure string, target wing.Ref) *Task {
	var last *Task
	for _, t := range a.job.Tasks {
		if t.Add.Procedure == procedure && (target == wing.Ref{} || t.Add.Target == target) && t.State() == Done {
			last = t
		}
	}
	return last
}

// underWay lists the tasks that were begun: first those on a link that is
// open, with what is left to be done on it.
func (a *agenda) underWay() {
	a.opener, a.open = a.job.LinkOpen()
	var here, rest []*Task
	for _, t := range a.job.Tasks {
		switch {
		case t.State() == Done || t.State() == Gone:
		case a.opener != nil && a.job.sameLink(t.No, a.open):
			here = append(here, t)
		default:
			rest = append(rest, t)
		}
	}
	for _, t := range here {
		a.begun(t)
	}
	if a.opener != nil {
		a.onOpenLink(len(here) > 0)
	}
	for _, t := range rest {
		a.begun(t)
	}
}

func (a *agenda) begun(t *Task) {
	todo := Todo{Task: t.No, Procedure: t.Add.Procedure, Target: t.Add.Target, State: TodoHere}
	todo.What = t.Unfolded.Procedure.Title.In("en") + ", " + a.job.TargetName(t)
	switch {
	case t.state == Waiting:
		todo.State, todo.Why = TodoLaid, t.Reason
	case t.OneSide():
		todo.Why = "one side of the pair is done, the other is not"
	case t.hasVoid():
		todo.State, todo.Why = TodoVoid, "answers in it no longer count"
	}
	if t == a.opener {
		todo.Why = strings.TrimSuffix(a.open.String()+" IS OPEN; "+todo.Why, "; ")
	}
	if t.works() {
		a.changes++
	}
	a.list = append(a.list, todo)
}

func (t *Task) hasVoid() bool {
	for _, answer := range t.answers {
		if answer.State == Void {
			return true
		}
	}
	return false
}

// parts lists what has to be ordered, and what has to be received.
func (a *agenda) parts() {
	j := a.job
	if n := len(j.SuggestParts()); n > 0 {
		a.list = append(a.list, Todo{List: OnParts, State: TodoNext, What: fmt.Sprintf("Put %s on the order list", count(n, "part")), Why: "findings ask for it"})
	}
	unordered := 0
	for _, l := range j.parts {
		switch j.PartState(l) {
		case Listed, ReadBack:
			unordered++
		case Ordered:
			if l.Thing.Kind == wing.KindLine {
				a.add(TodoParts, ProcReceipt, l.Thing, "Look at the part for "+l.Thing.String()+" when it comes", "a wrong part is found before a link is opened")
				continue
			}
			a.list = append(a.list, Todo{List: OnParts, Target: l.Thing, State: TodoParts, What: "Receive " + l.Thing.String(), Why: "ordered"})
		}
	}
	if unordered > 0 {
		a.list = append(a.list, Todo{List: OnParts, State: TodoNext, What: fmt.Sprintf("Read back and order %s", count(unordered, "part")), Why: "each code is read from the plan or the old line"})
	}
}

func count(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return fmt.Sprintf("%d %ss", n, word)
}
