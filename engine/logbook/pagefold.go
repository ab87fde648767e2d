package logbook

import (
	"example.org/linewright/engine/job"
	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
)

// pathState is the state of a path among those of lines.
const pathState = "path"

// measured lists what was measured and judged of the lines that were worked on,
// and the last length of every path.
func (r *reader) measured() []Measured {
	out := []Measured{}
	for _, t := range r.job.Tasks {
		if t.State() == job.Gone || t.Add.Target.Kind != wing.KindLine || r.job.Covered(t.No) {
			continue
		}
		for _, s := range t.Unfolded.Slots {
			if m, ok := r.lineLength(t, s); ok {
				out = append(out, m)
			}
		}
	}
	for _, p := range r.job.PathLengths() {
		how := Measuring{Job: r.job.Start.Job, Task: p.Task, Moment: r.at(p.Line), State: pathState, LimitOf: p.LimitOf, Against: "the plan"}
		l := Length{PathPlace(p.PathRef), p.Value, p.Expected, p.Deviation, p.U, p.Limit, p.Verdict, p.Decided}
		if n := len(out); n == 0 || out[n-1].Measuring != how {
			out = append(out, Measured{Measuring: how})
		}
		last := &out[len(out)-1]
		last.Lengths = append(last.Lengths, l)
	}
	return out
}

// lineLength gives what a measure step says about the line of its task, once
// it was judged. What is measured beside it, to compare with, has no verdict.
func (r *reader) lineLength(t *job.Task, s *procedure.Slot) (Measured, bool) {
	a := t.At(s.Key)
	state := metrology.State(s.Step.State)
	if s.Step.Kind != procedure.Measure || state != metrology.StateLoose && state != metrology.StateInstalled {
		return Measured{}, false
	}
	if a == nil || a.State != job.Ready || a.Measurement == nil || a.Judgement == nil {
		return Measured{}, false
	}
	line := t.Add.Target
	if s.Instance.Side != "" {
		line.Side = s.Instance.Side
	}
	if s.Instance.Line != "" {
		line.Code = s.Instance.Line
	}
	how := Measuring{Job: r.job.Start.Job, Task: t.No, Moment: r.at(a.Line), State: s.Step.State, Against: "the plan"}
	j := a.Judgement
	l := Length{LinePlace(line), a.Measurement.Value, 0, j.Deviation, j.U, j.Limit, j.Verdict, a.Decided}
	if x := a.Event.Expected; x != nil {
		l.Expected, how.LimitOf = x.Value, x.Rule
	}
	if other, ok := s.KeyOf(s.Step.Against); ok && s.Step.Against != "" {
		if slot, ok := t.Unfolded.Slot(other); ok {
			how.Against = slot.Say(slot.Step.Ask, "en", t)
		}
	}
	return Measured{how, []Length{l}}, true
}

// findings lists what was found or carried in, with what became of it here.
func (r *reader) findings() []Finding {
	out := []Finding{}
	carried := map[string]*job.Deferral{}
	for _, c := range r.job.Start.Carried {
		carried[c.ID] = c.Deferred
	}
	for _, f := range r.job.Findings() {
		one := Finding{Carried: f.Carried, Task: f.Task, Before: carried[f.ID]}
		state, mender := r.job.StateOf(f)
		one.State = state
		if f.Line > 0 {
			one.Said = r.at(f.Line)
		}
		if m := r.moved(f); m.Line > 0 {
			one.Said = m
		}
		switch state {
		case job.StateMended:
			one.Mended, one.Said = mender.No, r.lastOf(mender)
		case job.StateCleared:
			one.Way, one.Why = f.Clear.Way, f.Clear.Reason
		case job.StateStruck:
			one.Why = f.Struck
		}
		out = append(out, one)
	}
	return out
}

// moved is the last entry of this job that deferred, cleared or struck a
// finding.
func (r *reader) moved(f *job.Finding) Moment {
	for line := len(r.events); line > 0; line-- {
		e := r.events[line-1]
		switch e.Kind {
		case job.Deferring, job.Clearing:
			if of, ok := r.job.Finding(e.Finding); ok && of == f {
				return r.at(line)
			}
		case job.Struck:
			if f.Line > 0 && e.Line == f.Line {
				return r.at(line)
			}
		}
	}
	return Moment{}
}
