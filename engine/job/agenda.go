package job

import (
	"fmt"
	"slices"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
)

// Todo is one thing that is to be done in a job: a task under way, or one that
// the findings, the parts or the measuring ask for.
type Todo struct {
	Task      int       `json:"task,omitempty"`      // under way; 0: still to be added
	Procedure string    `json:"procedure,omitempty"` // id of a shipped procedure; "" where List says where it is done
	List      TodoList  `json:"list,omitempty"`
	Target    wing.Ref  `json:"target,omitzero"`
	State     TodoState `json:"state"`
	What      string    `json:"what"`
	Why       string    `json:"why,omitempty"`
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
	if len(j.Tasks) == 0 && len(j.findings) == 0 {
		a.add(TodoNext, ProcSurvey, wing.Whole(), "Survey the wing for damage", "after a tree, a snag, a drag or water every line is looked at before one is mended")
		return a.list
	}
	a.parts()
	a.work()
	a.measuring()
	a.ending()
	return a.list
}

type agenda struct {
	job     *Job
	list    []Todo
	changes int // todos that change the wing
}

func (a *agenda) add(state TodoState, procedure string, target wing.Ref, what, why string) {
	if a.running(procedure, target) {
		return
	}
	a.list = append(a.list, Todo{Procedure: procedure, Target: target, State: state, What: what, Why: why})
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

// underWay lists the tasks that were begun: the one with an open link first.
func (a *agenda) underWay() {
	open, link := a.job.LinkOpen()
	for _, first := range []bool{true, false} {
		for _, t := range a.job.Tasks {
			if (t == open) != first || t.State() == Done || t.State() == Gone {
				continue
			}
			todo := Todo{Task: t.No, Procedure: t.Add.Procedure, Target: t.Add.Target, State: TodoHere}
			todo.What = t.Unfolded.Procedure.Title.In("en") + ", " + a.job.TargetName(t)
			switch {
			case t == open:
				todo.Why = link.String() + " IS OPEN"
			case t.state == Waiting:
				todo.State, todo.Why = TodoLaid, t.Reason
			case t.OneSide():
				todo.Why = "one side of the pair is done, the other is not"
			case t.hasVoid():
				todo.State, todo.Why = TodoVoid, "answers in it no longer count"
			}
			a.list = append(a.list, todo)
		}
	}
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

// work lists the mending that the findings ask for: lines on one link are
// exchanged while it is open once.
func (a *agenda) work() {
	j := a.job
	byLink := map[wing.Ref][]wing.Ref{}
	var links []wing.Ref
	broken := a.broken()
	for _, thing := range broken {
		if j.Paired(thing) != "" && slices.Contains(broken, thing.Twin()) && a.mending(thing) == ProcSwap {
			if thing.Side == wing.Left {
				a.pair(thing)
			}
			continue
		}
		if procedure := a.mending(thing); procedure != ProcSwap {
			a.mend(procedure, thing)
			continue
		}
		link, _ := j.link(thing)
		if byLink[link] == nil {
			links = append(links, link)
		}
		byLink[link] = append(byLink[link], thing)
	}
	for _, link := range links {
		a.onLink(link, byLink[link])
	}
	for _, c := range j.LoopChanges() {
		a.changes++
		a.add(TodoNext, ProcLoop, c.Line, fmt.Sprintf("Change the loop of %s from %s to %s", c.Line, c.From, c.To), fmt.Sprintf("moves its paths by %+.0f mm", c.MovesMM))
	}
}

// broken lists the things that have to be renewed, in the order in which they
// were found; what is renewed in pairs brings its twin.
func (a *agenda) broken() []wing.Ref {
	var out []wing.Ref
	seen := map[wing.Ref]bool{}
	add := func(thing wing.Ref) {
		if !seen[thing] {
			seen[thing] = true
			out = append(out, thing)
		}
	}
	for _, f := range a.job.findings {
		if state, _ := a.job.StateOf(f); state != StateOpen || f.Disposition != procedure.Replace && f.Disposition != procedure.Mend {
			continue
		}
		add(f.Thing)
	}
	for _, l := range a.job.parts {
		if s := a.job.PartState(l); l.Thing.Kind == wing.KindLine && s != PartGone && !a.mended(l.Thing, l.Line) {
			add(l.Thing) // a twin that was ordered with it
		}
	}
	return out
}

// mended reports whether a task that was added after a line of the journal
// renewed a thing.
func (a *agenda) mended(thing wing.Ref, after int) bool {
	for _, t := range a.job.Tasks {
		if t.State() == Done && t.line > after && t.mends(thing, procedure.Replace) {
			return true
		}
	}
	return false
}

// mending is the procedure that renews a thing.
func (a *agenda) mending(thing wing.Ref) string {
	plan := a.job.Plan
	switch thing.Kind {
	case wing.KindLine:
		foot, _ := plan.Foot(thing.Code)
		switch {
		case plan.Brake != nil && plan.Brake.Main == thing.Code:
			return ProcBrakeMain
		case foot.Kind == wing.OnRiser:
			return ProcRiserLine
		}
		return ProcSwap
	case wing.KindRetainer:
		return ProcRetainer
	case wing.KindLink:
		if l, ok := plan.Link(thing.Code); ok && l.Kind == wing.Soft {
			return ProcSoftLink
		}
		return ProcClosing
	case wing.KindPulley, wing.KindHandle, wing.KindParking:
		return ProcFittings
	case wing.KindKnot:
		return ProcPulleys
	}
	return ""
}

// pair adds the task that renews a line and its twin.
func (a *agenda) pair(line wing.Ref) {
	a.changes++
	state := a.ready(line)
	if a.ready(line.Twin()) == TodoParts {
		state = TodoParts
	}
	a.add(state, ProcPair, line, "Renew "+line.Code+" on both sides", a.job.Paired(line))
}

// mend adds the task for a thing that is no line on a link.
func (a *agenda) mend(procedure string, thing wing.Ref) {
	a.changes++
	target := thing
	switch thing.Kind {
	case wing.KindRetainer:
		target = wing.LinkRef(thing.Code, thing.Side)
	case wing.KindPulley, wing.KindHandle, wing.KindParking, wing.KindKnot:
		target = wing.Brakes()
	}
	if procedure == "" {
		a.list = append(a.list, Todo{List: OnFindings, Target: thing, State: TodoLater, What: "Give " + thing.String() + " to a workshop", Why: "no procedure mends it at the bench"})
		return
	}
	a.add(a.ready(thing), procedure, target, "Renew "+thing.String(), "found damaged")
}

// ready says whether the part for a thing is at hand. What is only put right
// needs none.
func (a *agenda) ready(thing wing.Ref) TodoState {
	if a.job.Have(thing) || !a.renewed(thing) {
		return TodoNext
	}
	return TodoParts
}

// renewed reports whether a thing gets a new part: because of a finding, or
// because one is on the list.
func (a *agenda) renewed(thing wing.Ref) bool {
	for _, f := range a.job.findings {
		if state, _ := a.job.StateOf(f); state == StateOpen && f.Thing == thing && f.Disposition == procedure.Replace {
			return true
		}
	}
	_, wanted := a.job.Wanted(thing)
	return wanted
}

// onLink adds the work on the lines of one link: a swap for one line, or one
// opening, the exchanges, one closing.
func (a *agenda) onLink(link wing.Ref, lines []wing.Ref) {
	a.changes++
	open, at := a.job.LinkOpen()
	isOpen := open != nil && at == link
	if len(lines) == 1 && !isOpen {
		a.add(a.ready(lines[0]), ProcSwap, lines[0], "Swap "+lines[0].String(), "alone on its link to be exchanged")
		return
	}
	state := TodoNext
	for _, line := range lines {
		if a.ready(line) == TodoParts {
			state = TodoParts
		}
	}
	why := fmt.Sprintf("%s on it are exchanged while it is open once", count(len(lines), "line"))
	if !isOpen {
		a.add(state, ProcOpening, link, "Open "+link.String(), why)
	}
	for _, line := range lines {
		then := TodoLater
		if isOpen {
			then = a.ready(line)
		}
		a.add(then, ProcExchange, line, "Exchange "+line.String(), why)
	}
	a.add(TodoLater, ProcClosing, link, "Close "+link.String(), "when its lines are exchanged")
}
