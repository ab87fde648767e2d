package job

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/trim"
)

// The choose steps of a procedure whose answers say in which state the wing
// was measured.
const (
	trimmersStep = "trimmers"
	speedStep    = "speed"
)

// report decides a trim step: what the lengths steps before it measured. Where
// work was done since an earlier report of the job it says what that moved, and
// the report is of the whole wing: what was not measured again stands in it as
// it was. It is taken whatever it says.
func (d *decider) report() error {
	set, err := d.task.trimSet(d.slot)
	if err != nil {
		return err
	}
	r, err := trim.NewReport(d.j.Plan, set, trim.ChordOf(d.j.Plan))
	if err != nil {
		return refuseValue(err)
	}
	d.ev.Kind, d.ev.Outcome, d.ev.Trim = Answered, Taken, &r
	d.compare(set)
	return nil
}

// trimSet gathers what was measured in a task before a trim step. Each row is
// evaluated on the bench on which it was read. The error is a *Refusal.
func (t *Task) trimSet(at *procedure.Slot) (trim.Set, error) {
	set := trim.Set{From: trim.FromOf(t.job.Plan)}
	last := map[trim.PathRef]trim.PathReading{}
	for _, s := range t.Unfolded.Slots[:at.Index] {
		a := t.answers[s.Key]
		if a == nil || a.State != Ready {
			continue
		}
		switch {
		case s.Step.Kind == procedure.Choose && s.Step.ID == trimmersStep:
			set.Trimmers = stateWords(s, t, a.Event)
		case s.Step.Kind == procedure.Choose && s.Step.ID == speedStep:
			set.SpeedSystem = stateWords(s, t, a.Event)
		case s.Step.Kind == procedure.Lengths:
			m, err := t.job.measuring(t, s)
			if err != nil {
				return trim.Set{}, err
			}
			for i := range m.paths {
				if p := &m.paths[i]; len(p.readings) > 0 {
					last[p.PathRef] = trim.PathReading{PathRef: p.PathRef, Measurement: p.m}
				}
			}
		}
	}
	set.Paths = t.job.inOrder(last)
	return set, nil
}

// stateWords says in which state something was measured: in the person's own
// words where they had to give them, else in those of the procedure.
func stateWords(s *procedure.Slot, t *Task, e *Event) string {
	if e.Text != "" {
		return e.Text
	}
	return optionText(s, t, e)
}

// inOrder lists readings in the order of the plan.
func (j *Job) inOrder(readings map[trim.PathRef]trim.PathReading) []trim.PathReading {
	out := make([]trim.PathReading, 0, len(readings))
	for _, ref := range trim.Refs(j.Plan, "") {
		if p, ok := readings[ref]; ok {
			out = append(out, p)
		}
	}
	return out
}

// earlier is a report of another task, with what it rested on.
type earlier struct {
	task *Task
	line int
	set  trim.Set
}

// compare holds a set against what the job measured before, where it was
// measured in the same state and work was done between. Where that cannot be,
// the event says why.
func (d *decider) compare(now trim.Set) {
	before := d.j.reported(d.task)
	if len(before) == 0 {
		return
	}
	alike := slices.DeleteFunc(slices.Clone(before), func(e earlier) bool {
		return e.set.Trimmers != now.Trimmers || e.set.SpeedSystem != now.SpeedSystem
	})
	if len(alike) == 0 {
		last := before[len(before)-1]
		d.ev.Text = fmt.Sprintf("not compared with task %d: trimmers were %q, speed system %q there", last.task.No, last.set.Trimmers, last.set.SpeedSystem)
		return
	}
	worked := d.j.worked(alike[0].line)
	if len(worked) == 0 {
		d.ev.Text = fmt.Sprintf("not compared with task %d: nothing was worked on since", alike[0].task.No)
		return
	}
	m, err := trim.Compare(d.j.Plan, d.j.together(alike), now, trim.ChordOf(d.j.Plan), worked)
	if err != nil {
		d.ev.Text = "not compared: " + oneLine(err)
		return
	}
	whole := m.After
	m.Before, m.After = withoutPaths(m.Before), withoutPaths(m.After)
	d.ev.Trim, d.ev.Move = &whole, &m
}

// withoutPaths leaves out of a report what stands in that of the step, or of an
// earlier one: twice it would make the line of a large wing longer than a
// journal takes.
func withoutPaths(r trim.Report) trim.Report {
	r.Paths, r.Sides, r.Again = []trim.PathTrim{}, []trim.SidesTrim{}, []trim.Again{}
	return r
}

// reported lists the reports of other tasks, the first of the journal first.
func (j *Job) reported(except *Task) []earlier {
	var out []earlier
	for _, t := range j.Tasks {
		if t == except {
			continue
		}
		for _, s := range t.Unfolded.Slots {
			a := t.answers[s.Key]
			if s.Step.Kind != procedure.Trim || a == nil || a.State != Ready {
				continue
			}
			if set, err := t.trimSet(s); err == nil {
				out = append(out, earlier{t, a.Line, set})
			}
		}
	}
	slices.SortFunc(out, func(a, b earlier) int { return cmp.Compare(a.line, b.line) })
	return out
}

// together gives the wing as it was measured last, path by path.
func (j *Job) together(sets []earlier) trim.Set {
	whole := sets[0].set
	last := map[trim.PathRef]trim.PathReading{}
	for _, e := range sets {
		for _, p := range e.set.Paths {
			last[p.PathRef] = p
		}
	}
	whole.Paths = j.inOrder(last)
	return whole
}

// oneLine gives what an error says, without what to do.
func oneLine(err error) string {
	var r *Refusal
	if errors.As(err, &r) {
		what, _ := r.Words()
		return what
	}
	return err.Error()
}

// trimWords says a report in a line.
func trimWords(e *Event) string {
	r := e.Trim
	if r == nil {
		return e.Text
	}
	inside, sides := 0, 0
	for _, p := range r.Paths {
		if p.Verdict == metrology.Inside {
			inside++
		}
	}
	for _, s := range r.Sides {
		if s.Verdict == metrology.Inside {
			sides++
		}
	}
	text := fmt.Sprintf("%d of %s inside; left against right %d of %s", inside, count(len(r.Paths), "path"), sides, count(len(r.Sides), "pair"))
	if e.Text != "" {
		text += "; " + e.Text
	}
	return text
}
