package job

import (
	"slices"
	"strings"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/trim"
	"example.org/linewright/engine/wing"
)

// PathRead is one reading of one path.
type PathRead struct {
	trim.PathRef
	Typed string          `json:"typed"`
	Value quantity.Length `json:"value_um"`
}

// PathLength is a path as it was evaluated and judged when its row was closed.
type PathLength struct {
	trim.PathRef
	Role      trim.Role         `json:"role,omitempty"` // after work: why it was measured
	Value     quantity.Length   `json:"value_um"`
	U         quantity.Length   `json:"expanded_uncertainty_um"`
	N         int               `json:"readings"`
	Expected  quantity.Length   `json:"expected_um,omitempty"` // 0: the plan does not say
	Stated    bool              `json:"stated,omitempty"`      // the papers state the expected length; else it is the sum of the lines
	Deviation quantity.Length   `json:"deviation_um,omitempty"`
	Limit     quantity.Length   `json:"limit_um,omitempty"`
	LimitOf   string            `json:"limit_source,omitempty"`
	Verdict   metrology.Verdict `json:"verdict,omitempty"`

	Line    int    `json:"-"` // of the journal, by which its row was closed
	Task    int    `json:"-"`
	Key     string `json:"-"` // of the step
	Decided string `json:"-"` // a person's reason for taking what is not proved
}

// Inside reports whether nothing is left to ask about the path: it is inside,
// or a person took what could not be proved.
func (l PathLength) Inside() bool {
	return l.Verdict == metrology.Inside || l.Verdict == metrology.NotProved && l.Decided != ""
}

// PathLength gives the last length of a path that was measured in this job and
// still counts.
func (j *Job) PathLength(point string, side wing.Side) (PathLength, bool) {
	l, ok := j.lengths()[trim.PathRef{Point: point, Side: side}]
	return l, ok
}

// PathLengths lists the last length of each path that was measured in this
// job, in the order of the plan, the left one first.
func (j *Job) PathLengths() []PathLength {
	last := j.lengths()
	var out []PathLength
	for _, ref := range trim.Refs(j.Plan, "") {
		if l, ok := last[ref]; ok {
			out = append(out, l)
		}
	}
	return out
}

// lengths finds the last length of each path among the rows that are closed:
// where a row was opened again, what was measured before it counts again.
func (j *Job) lengths() map[trim.PathRef]PathLength {
	last := map[trim.PathRef]PathLength{}
	for _, t := range j.Tasks {
		for _, s := range t.Unfolded.Slots {
			if s.Step.Kind != procedure.Lengths {
				continue
			}
			for _, l := range t.closed(s) {
				if last[l.PathRef].Line < l.Line {
					last[l.PathRef] = l
				}
			}
		}
	}
	return last
}

// closed gives the lengths of a row that is closed and counts.
func (t *Task) closed(s *procedure.Slot) []PathLength {
	a := t.answers[s.Key]
	if a == nil || a.State != Ready {
		return nil
	}
	out := make([]PathLength, len(a.Event.Lengths))
	for i, l := range a.Event.Lengths {
		l.Line, l.Task, l.Key = a.Line, t.No, s.Key
		l.Decided = t.job.decided[decision{l.PathRef, a.Line}]
		out[i] = l
	}
	return out
}

// decision names a measured path that a person took: measuring it anew needs
// another decision.
type decision struct {
	path trim.PathRef
	line int // by which its row was closed
}

// decidePath takes a path that is not proved, on a person's reason. One that is
// outside is never taken that way.
func (d *decider) decidePath() error {
	l, ok := d.j.PathLength(d.en.Path.Point, d.en.Path.Side)
	if !ok || l.Verdict != metrology.NotProved || l.Decided != "" {
		return refuse(NothingProved)
	}
	if err := d.withReason(Decided); err != nil {
		return err
	}
	d.ev.Path, d.ev.Task, d.ev.Key, d.ev.Line = d.en.Path, l.Task, l.Key, l.Line
	return nil
}

// openLengths lists what the tape leaves open: the paths that are not inside, by
// the step that measured them, and those that a person took all the same. What
// was measured again since is not among them.
func (j *Job) openLengths() []Item {
	var steps, taken []Item
	paths := map[int]map[metrology.Verdict][]trim.PathRef{} // by the line that closed the step
	var lines []int
	for _, l := range j.PathLengths() {
		it := Item{Task: l.Task, Key: l.Key, At: j.events[l.Line-1].At}
		switch {
		case l.Decided != "":
			it.Decided = true
			it.Text = "path " + l.PathRef.String() + " not proved, taken by decision: " + l.Decided
			taken = append(taken, it)
		case l.Verdict != "" && !l.Inside():
			if paths[l.Line] == nil {
				paths[l.Line] = map[metrology.Verdict][]trim.PathRef{}
				it.Grounds = true
				steps, lines = append(steps, it), append(lines, l.Line)
			}
			paths[l.Line][l.Verdict] = append(paths[l.Line][l.Verdict], l.PathRef)
		}
	}
	for i, line := range lines {
		steps[i].Text = "paths " + verdictWords(paths[line])
	}
	return append(steps, taken...)
}

// openLengths lists what the tape of this task leaves open.
func (t *Task) openLengths() []Item {
	return slices.DeleteFunc(t.job.openLengths(), func(it Item) bool { return it.Task != t.No })
}

// verdictWords names the paths that are outside and those that are not proved.
func verdictWords(paths map[metrology.Verdict][]trim.PathRef) string {
	var parts []string
	for _, v := range []metrology.Verdict{metrology.Outside, metrology.NotProved} {
		if len(paths[v]) > 0 {
			parts = append(parts, string(v)+": "+names(paths[v]))
		}
	}
	return strings.Join(parts, "; ")
}
