package job

import (
	"fmt"
	"slices"

	"example.org/linewright/engine/trim"
	"example.org/linewright/engine/wing"
)

// unmeasured lists the tasks that fitted new lines to a link whose paths were
// not measured at all. Lines that were exchanged side by side, and a pair, have
// nothing old beside them to be wrong against: only the tape on whole paths
// shows it. A single line that was held against its twin in its own task rests
// on that.
func (j *Job) unmeasured() []Item {
	var out []Item
	measured := j.lengths()
	for _, t := range j.Tasks {
		if t.State() != Done || !t.fitsLine() || !t.Unfolded.Procedure.Pair && t.compared() {
			continue
		}
		var lacking []trim.PathRef
		for _, ref := range j.throughLines(t) {
			if _, ok := measured[ref]; !ok {
				lacking = append(lacking, ref)
			}
		}
		if len(lacking) > 0 {
			text := fmt.Sprintf("task %d, %s on %s, fitted a new line, and its paths were not measured since: measure %s (task trim-after)",
				t.No, t.Unfolded.Procedure.Title.In("en"), j.TargetName(t), names(lacking))
			out = append(out, Item{Task: t.No, Text: text, Grounds: true})
		}
	}
	return out
}

// fitsLine reports whether a task renews a line that hangs on a link.
func (t *Task) fitsLine() bool {
	_, linked := t.job.link(t.Add.Target)
	return linked && t.Add.Target.Kind == wing.KindLine && slices.Contains(t.Unfolded.Procedure.Mends, string(wing.KindLine))
}

// compared reports whether a task held what it fitted against another
// measurement and the verdict counts.
func (t *Task) compared() bool {
	for _, a := range t.answers {
		if a.State == Ready && a.Judgement != nil && a.Difference != nil {
			return true
		}
	}
	return false
}

// throughLines lists the paths through the line of a task, of both sides where
// it renews a pair.
func (j *Job) throughLines(t *Task) []trim.PathRef {
	line := t.Add.Target
	sides := []wing.Side{line.Side}
	if t.Unfolded.Procedure.Pair {
		sides = wing.Sides[:]
	}
	var out []trim.PathRef
	for _, point := range j.Plan.Points(line.Code) {
		for _, side := range sides {
			if ref := (trim.PathRef{Point: point, Side: side}); trim.Has(j.Plan, ref) {
				out = append(out, ref)
			}
		}
	}
	return out
}
