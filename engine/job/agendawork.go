package job

import (
	"fmt"
	"slices"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
)

// work lists the mending that the findings ask for: lines on one link are
// exchanged while it is open once.
func (a *agenda) work() {
	j := a.job
	for _, thing := range a.broken() {
		switch by := a.mending(thing); {
		case by != ProcSwap:
			a.mend(by, thing)
		case a.inPair(thing) && thing.Side == wing.Left:
			a.pair(thing)
		}
	}
	a.away()
	links, lines := a.onLinks()
	for _, link := range links {
		if link != a.open {
			a.onLink(link, lines[link])
		}
	}
	for _, c := range j.LoopChanges() {
		a.changes++
		a.add(TodoNext, ProcLoop, c.Line, fmt.Sprintf("Change the loop of %s from %s to %s", c.Line, c.From, c.To), movesWords(c.MovesMM))
	}
}

// movesWords says in words which way paths move: a sign alone is not heard.
func movesWords(mm float64) string {
	if mm < 0 {
		return fmt.Sprintf("makes its paths %.0f mm shorter", -mm)
	}
	return fmt.Sprintf("makes its paths %.0f mm longer", mm)
}

// onLinks lists the lines that are swapped or exchanged by their links, in the
// order in which they were found.
func (a *agenda) onLinks() (links []wing.Ref, lines map[wing.Ref][]wing.Ref) {
	lines = map[wing.Ref][]wing.Ref{}
	for _, thing := range a.broken() {
		if a.mending(thing) != ProcSwap || a.inPair(thing) {
			continue
		}
		link, _ := a.job.link(thing)
		if lines[link] == nil {
			links = append(links, link)
		}
		lines[link] = append(lines[link], thing)
	}
	return links, lines
}

// inPair reports whether a line is renewed in one task with its twin.
func (a *agenda) inPair(line wing.Ref) bool {
	return a.job.Paired(line) != "" && slices.Contains(a.broken(), line.Twin())
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
		renew := a.job.asksNew(f)
		if state, _ := a.job.StateOf(f); state != StateOpen || !renew && f.Disposition != procedure.Mend {
			continue
		}
		if !a.taken(f.Thing, f.Disposition, f.Line) {
			thing := f.Thing
			if renew {
				thing = a.job.renewal(thing)
			}
			add(thing)
		}
	}
	for _, l := range a.job.parts {
		if s := a.job.PartState(l); l.Thing.Kind == wing.KindLine && s != PartGone && !a.taken(l.Thing, procedure.Replace, l.Line) {
			add(l.Thing) // a twin that was ordered with it
		}
	}
	return out
}

// taken reports whether a task that was added after a line of the journal
// mends a thing, or will.
func (a *agenda) taken(thing wing.Ref, by procedure.Disposition, after int) bool {
	return slices.ContainsFunc(a.job.Tasks, func(t *Task) bool {
		return t.State() != Gone && t.line > after && t.mends(thing, by)
	})
}

// mending is the procedure that renews a thing or puts it right; "" where it is
// no work for a bench.
func (a *agenda) mending(thing wing.Ref) string {
	plan := a.job.Plan
	switch thing.Kind {
	case wing.KindLine:
		foot, _ := plan.Foot(thing.Code)
		line, _ := plan.LineAt(thing)
		_, linked := a.job.link(thing)
		switch {
		case line.Sewn:
			return ""
		case plan.Brake != nil && plan.Brake.Main == thing.Code:
			return ProcBrakeMain
		case foot.Kind == wing.OnRiser:
			return ProcRiserLine
		case linked:
			return ProcSwap
		}
		return "" // of the brake fan, or its place is not known
	case wing.KindRetainer:
		return ProcRetainer
	case wing.KindLink:
		l, _ := plan.Link(thing.Code)
		switch {
		case l.Kind == wing.Soft:
			return ProcSoftLink
		case a.renewed(thing):
			return ProcRenewLink
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
	a.addWith([]wing.Ref{line, line.Twin()}, ProcPair, line, "Renew "+line.Code+" on both sides", a.job.Paired(line))
}

// mend adds the task for a thing that is no line on a link.
func (a *agenda) mend(procedure string, thing wing.Ref) {
	if procedure == "" {
		a.toWorkshop(thing, "no procedure mends it at the bench")
		return
	}
	a.changes++
	target := thing
	switch thing.Kind {
	case wing.KindRetainer:
		target = wing.LinkRef(thing.Code, thing.Side)
	case wing.KindPulley, wing.KindHandle, wing.KindParking, wing.KindKnot:
		target = wing.Brakes()
	}
	what, why := "Put right "+thing.String(), "found not as it should be"
	if a.renewed(thing) {
		what, why = "Renew "+thing.String(), "found damaged"
	}
	a.addWith([]wing.Ref{thing}, procedure, target, what, why)
}

// away lists what the findings themselves give to a workshop.
func (a *agenda) away() {
	seen := map[wing.Ref]bool{}
	for _, f := range a.job.findings {
		if state, _ := a.job.StateOf(f); state == StateOpen && f.Disposition == procedure.Workshop && !seen[f.Thing] {
			seen[f.Thing] = true
			a.toWorkshop(f.Thing, f.Text)
		}
	}
}

func (a *agenda) toWorkshop(thing wing.Ref, why string) {
	a.list = append(a.list, Todo{List: OnFindings, Target: thing, State: TodoLater, What: "Give " + thing.String() + " to a workshop", Why: why})
}

// renewed reports whether a thing gets a new part: because of a finding, or
// because one is on the list.
func (a *agenda) renewed(thing wing.Ref) bool {
	for _, f := range a.job.findings {
		if state, _ := a.job.StateOf(f); state == StateOpen && a.job.asksNew(f) && a.job.renewal(f.Thing) == thing {
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
	if len(lines) == 1 {
		why := "alone on its link to be exchanged"
		if a.outside(lines[0]) {
			why = "a path through it was measured outside"
		}
		a.addWith(lines, ProcSwap, lines[0], "Swap "+lines[0].String(), why)
		return
	}
	why := fmt.Sprintf("%s on it are exchanged while it is open once", count(len(lines), "line"))
	a.addWith(lines, ProcOpening, link, "Open "+link.String(), why)
	for _, line := range lines {
		a.add(TodoLater, ProcExchange, line, "Exchange "+line.String(), why)
	}
	a.add(TodoLater, ProcClosing, link, "Close "+link.String(), "when its lines are exchanged")
}

// outside reports whether a line is renewed because of its length.
func (a *agenda) outside(line wing.Ref) bool {
	return slices.ContainsFunc(a.job.findings, func(f *Finding) bool {
		state, _ := a.job.StateOf(f)
		return f.Thing == line && state == StateOpen && a.job.provedOutside(f)
	})
}

// onOpenLink lists what is left on the open link: the lines that are still to
// be exchanged, and its closing, unless the task that opened it closes it too.
func (a *agenda) onOpenLink(busy bool) {
	a.changes++
	_, lines := a.onLinks()
	for _, line := range lines[a.open] {
		a.addWith([]wing.Ref{line}, ProcExchange, line, "Exchange "+line.String(), "its link is open")
		busy = true
	}
	if a.opener.State() != Done && a.opener.closes() {
		return
	}
	state := TodoNext
	if busy {
		state = TodoLater
	}
	a.add(state, ProcClosing, a.open, "Close "+a.open.String(), "IT IS OPEN")
}

func (t *Task) closes() bool {
	return slices.ContainsFunc(t.Unfolded.Slots, func(s *procedure.Slot) bool { return s.Step.Closes })
}
