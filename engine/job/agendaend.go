package job

import (
	"fmt"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
)

// measuring lists what the tape has to prove: what findings ask for, and what
// the work moved.
func (a *agenda) measuring() {
	j := a.job
	for _, f := range j.findings {
		if state, _ := j.StateOf(f); state == StateOpen && f.Disposition == procedure.ByLength {
			if j.provedInside(f) {
				a.list = append(a.list, Todo{List: OnFindings, Target: f.Thing, State: TodoNext, What: "Clear the finding on " + f.Thing.String(), Why: "every path through it was measured, and is inside"})
				continue
			}
			if j.provedOutside(f) {
				continue // it is replaced: work lists it
			}
			a.add(TodoNext, ProcTrim, wing.Whole(), "Measure the wing", "the length of "+f.Thing.String()+" decides")
			break
		}
	}
	last := a.lastMending()
	if last == nil {
		return
	}
	for _, name := range []string{ProcTrim, ProcTrimAfter} {
		if t := a.done(name, wing.Ref{}); t != nil && t.line > last.lastLine() {
			return
		}
	}
	state := TodoNext
	if a.changes > 0 {
		state = TodoLater
	}
	a.add(state, ProcTrimAfter, wing.Whole(), "Measure the paths that the work changed", "with their twins and one that it did not touch")
}

// lastMending is the done task that changed lines, links or brakes last.
func (a *agenda) lastMending() *Task {
	var last *Task
	for _, t := range a.job.Tasks {
		changed := len(t.Unfolded.Procedure.Mends) > 0 || t.altered()
		if t.State() == Done && changed && (last == nil || t.lastLine() > last.lastLine()) {
			last = t
		}
	}
	return last
}

// ending lists findings that wait for a word, then the release and the first
// flight. Of both only one counts that is younger than the last work.
func (a *agenda) ending() {
	j := a.job
	waiting := 0
	for _, f := range j.findings {
		state, _ := j.StateOf(f)
		if !f.Disposition.Grounds() && (state == StateOpen || state == StateDeferred && f.Deferred.Over(j.lastAt(), j.Start.Hours)) {
			waiting++
		}
	}
	if waiting > 0 {
		a.list = append(a.list, Todo{List: OnFindings, State: TodoNext, What: fmt.Sprintf("Say what becomes of %s that may wait", count(waiting, "finding")), Why: "carried over with a reason and a limit, or cleared"})
	}
	if len(j.Tasks) == 0 {
		return
	}
	if t := a.done(ProcRelease, wing.Ref{}); t != nil && !a.stale(t) {
		if flown := a.done(ProcFirstFlight, wing.Ref{}); flown == nil || flown.line < t.line {
			a.add(TodoNext, ProcFirstFlight, wing.Whole(), "First flight after the work", "by a qualified pilot, in light wind, with height")
		}
		return
	}
	state := TodoNext
	if len(a.list) > 0 {
		state = TodoLater
	}
	a.add(state, ProcRelease, wing.Whole(), "Release", "refused while anything keeps the wing on the ground")
}

// stale reports whether the wing was worked on after a release.
func (a *agenda) stale(release *Task) bool {
	_, stale := a.job.lookedBefore(release.No)
	return stale
}

// lastAt is the time of the last entry, as it was written.
func (j *Job) lastAt() string { return j.events[len(j.events)-1].At }
