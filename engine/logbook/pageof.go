package logbook

import (
	"slices"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
)

// PageOf gives what a job says to the book of its wing. The job has its first
// line.
func PageOf(j *job.Job) Page {
	r := &reader{job: j, events: j.Events()}
	first, last := r.events[0], r.events[len(r.events)-1]
	p := Page{
		Job: j.Start.Job, Journal: j.Start.Job, Wing: j.Start.WingID, WingName: j.Start.WingName, Serial: j.Start.Serial,
		Begun: first.At, Last: last.At, Closed: j.Closed != nil, Reason: j.Start.Reason,
		Hours: j.Start.Hours, Demo: j.Start.Demo, HandedTo: j.HandedTo(),
		Tasks: []Task{}, Fitted: []Fitted{}, Released: []Release{}, Open: r.open(),
	}
	if p.Closed {
		p.Statement = j.Closed.Text
	}
	if t, link := j.LinkOpen(); t != nil {
		p.LinkOpen = link.String()
	}
	for _, t := range j.Tasks {
		p.Tasks = append(p.Tasks, r.task(t))
		p.OneSide = p.OneSide || t.OneSide()
		if t.State() == job.Done {
			p.Fitted = append(p.Fitted, r.fitted(t)...)
			p.Released = append(p.Released, r.released(t)...)
		}
	}
	p.Measured, p.Findings = r.measured(), r.findings()
	return p
}

type reader struct {
	job    *job.Job
	events []*job.Event
}

// at is the moment of a line; nothing where there is none.
func (r *reader) at(line int) Moment {
	if line < 1 || line > len(r.events) {
		return Moment{}
	}
	return Moment{line, r.events[line-1].At}
}

func (r *reader) open() []Item {
	out := []Item{}
	for _, it := range r.job.OpenItems() {
		out = append(out, Item{it.Task, it.Key, it.Text, it.At, it.Grounds, it.Decided})
	}
	return out
}

func (r *reader) task(t *job.Task) Task {
	done, of := t.Progress()
	out := Task{
		No: t.No, Procedure: t.Add.Procedure, Title: t.Unfolded.Procedure.Title.In("en"), On: r.job.TargetName(t),
		State: t.State(), Why: t.Reason, Done: done, Of: of, OneSide: t.OneSide(),
	}
	if !r.job.Covered(t.No) {
		out.Target = t.Add.Target
	}
	out.Looked = out.State == job.Done && slices.ContainsFunc(t.Unfolded.Slots, func(s *procedure.Slot) bool {
		return s.Step.Kind == procedure.Inspect && s.Step.Of == procedure.OfLines
	})
	var changed bool
	if out.Changes, changed = changes(t); changed {
		last := r.lastOf(t)
		out.Work = &last
	}
	return out
}

// changes reports whether a task changes the wing, because it opens a link,
// alters a side, or mends, and whether it did.
func changes(t *job.Task) (does, did bool) {
	by := func(changing func(*procedure.Step) bool) {
		for _, s := range t.Unfolded.Slots {
			if changing(s.Step) {
				does = true
				did = did || t.At(s.Key) != nil
			}
		}
	}
	by(func(s *procedure.Step) bool { return s.Opens || s.Alters })
	if !does && len(t.Unfolded.Procedure.Mends) > 0 {
		by(func(*procedure.Step) bool { return true })
	}
	return does, did
}

// lastOf is the last entry by which a step of a task was answered; nothing
// where none was.
func (r *reader) lastOf(t *job.Task) Moment {
	line := 0
	for _, s := range t.Unfolded.Slots {
		if a := t.At(s.Key); a != nil {
			line = max(line, a.Line)
		}
	}
	return r.at(line)
}

// fitted lists the new parts of a task that is done: its target, where the
// procedure renews the line, or changes the wing and asks which part it was;
// and its twin of a pair.
func (r *reader) fitted(t *job.Task) []Fitted {
	p := t.Unfolded.Procedure
	part := r.part(t)
	renews := t.Add.Target.Kind == wing.KindLine && slices.Contains(p.Mends, string(wing.KindLine))
	if _, changed := changes(t); p.Receives || !renews && (len(part) == 0 || !changed) {
		return nil
	}
	for _, o := range r.job.Tasks {
		if o.Unfolded.Procedure.Receives && o.State() == job.Done && o.Add.Target == t.Add.Target {
			part = append(part, r.part(o)...)
		}
	}
	things := []wing.Ref{t.Add.Target}
	if p.Pair && t.Add.Target.Side != "" {
		things = append(things, t.Add.Target.Twin())
	}
	var out []Fitted
	for _, thing := range things {
		f := Fitted{Thing: thing, Task: t.No, Title: p.Title.In("en"), Moment: r.lastOf(t), Part: part}
		if thing.Kind == wing.KindLine {
			f.Points = r.job.Plan.Points(thing.Code)
		}
		out = append(out, f)
	}
	return out
}

// part lists the answers that say which part it was.
func (r *reader) part(t *job.Task) []Answer {
	out := []Answer{}
	if !slices.ContainsFunc(t.Unfolded.Slots, func(s *procedure.Slot) bool { return s.Step.Part }) {
		return out
	}
	rows, err := r.job.Overview(t.No)
	if err != nil {
		return out
	}
	for _, row := range rows {
		s, ok := t.Unfolded.Slot(row.Key)
		if ok && s.Step.Part && row.State == job.Ready && !row.Skipped {
			out = append(out, Answer{row.Ask, row.Answer})
		}
	}
	return out
}

// released lists the pilot's signatures of a task that is done and asks first
// that nothing keeps the wing on the ground.
func (r *reader) released(t *job.Task) []Release {
	clear := false
	var out []Release
	for _, s := range t.Unfolded.Slots {
		a := t.At(s.Key)
		if a == nil || a.State != job.Ready {
			continue
		}
		clear = clear || s.Step.Kind == procedure.Clear
		if s.Step.Kind == procedure.Sign && s.Step.Role == procedure.Pilot && a.Event.Sign != nil {
			out = append(out, Release{t.No, a.Event.Sign.Name, r.at(a.Line), a.Event.Sign.States})
		}
	}
	if !clear {
		return nil
	}
	return out
}
