package job

import (
	"fmt"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/trim"
)

// Blocking lists what keeps the wing on the ground: what is open on it, what
// was found and is neither mended nor carried over, what was measured and is
// not inside, and tasks that are not done. at is the time by which deferrals
// are judged, RFC 3339; except is the task that asks.
func (j *Job) Blocking(except int, at string) []Item {
	out := j.grounding(except, at)
	for _, t := range j.Tasks {
		if t.No != except && t.State() != Gone && t.State() != Done {
			out = append(out, Item{Task: t.No, Text: fmt.Sprintf("task %d, %s on %s, is %s", t.No, t.Unfolded.Procedure.Title.In("en"), j.TargetName(t), unfinished(t)), Grounds: true})
		}
	}
	return out
}

// grounding is Blocking without the tasks that are only not done.
func (j *Job) grounding(except int, at string) []Item {
	var out []Item
	if t, link := j.LinkOpen(); t != nil {
		out = append(out, Item{Task: t.No, Text: fmt.Sprintf("%s is open", link), Grounds: true})
	}
	for _, t := range j.Tasks {
		if t.No == except || t.State() == Gone {
			continue
		}
		if t.OneSide() {
			out = append(out, Item{Task: t.No, Text: t.OneSideWords(), Grounds: true})
		}
		for _, it := range t.openItems() {
			if it.Grounds {
				out = append(out, it)
			}
		}
	}
	if it, stale := j.lookedBefore(except); stale {
		out = append(out, it)
	}
	out = append(out, j.blockingFindings(at)...)
	out = append(out, j.blockingLengths()...)
	return append(out, j.unmeasured()...)
}

// lookedBefore names a task that changed the wing after the look of another
// one, which then says nothing about the wing as it is.
func (j *Job) lookedBefore(task int) (Item, bool) {
	t, ok := j.Task(task)
	if !ok {
		return Item{}, false
	}
	for _, s := range t.Unfolded.Slots {
		a := t.answers[s.Key]
		if s.Step.Kind != procedure.Inspect || a == nil || a.State != Ready {
			continue
		}
		for _, o := range j.Tasks {
			if o != t && o.state != Gone && o.works() && o.lastLine() > a.Line {
				text := fmt.Sprintf("task %d, %s on %s, was worked on after this look: re-open %q and look again",
					o.No, o.Unfolded.Procedure.Title.In("en"), j.TargetName(o), t.saying(s))
				return Item{Task: t.No, Key: s.Key, Text: text, Grounds: true}, true
			}
		}
	}
	return Item{}, false
}

func (j *Job) blockingFindings(at string) []Item {
	var out []Item
	for _, f := range j.findings {
		state, _ := j.StateOf(f)
		it := Item{Task: f.Task, Key: f.Key, At: f.At, Finding: f.ID, Grounds: f.Disposition.Grounds()}
		switch {
		case state == StateOpen && f.Disposition.Grounds():
			it.Text = fmt.Sprintf("%s: %s, found %s: %s", f.Thing, f.Text, day(f.At), f.Disposition)
		case state == StateOpen:
			it.Text = fmt.Sprintf("%s: %s, found %s: mend it, or carry it over with a reason and a limit", f.Thing, f.Text, day(f.At))
		case state == StateDeferred && f.Deferred.Over(at, j.Start.Hours):
			it.Text = fmt.Sprintf("%s: %s, found %s, was carried over until %s: that has run out", f.Thing, f.Text, day(f.At), f.Deferred.Limit())
		default:
			continue
		}
		out = append(out, it)
	}
	return out
}

func (j *Job) blockingLengths() []Item {
	var out []Item
	touched := map[int]map[trim.PathRef]bool{} // by the line at which a row was closed
	for _, l := range j.PathLengths() {
		if touched[l.Line] == nil {
			touched[l.Line] = j.changedSince(l.Line)
		}
		if touched[l.Line][l.PathRef] {
			out = append(out, Item{Task: l.Task, Key: l.Key, Text: fmt.Sprintf("path %s was measured before the work on it: measure it again", l.PathRef), Grounds: true})
			continue
		}
		if l.Verdict == "" || l.Inside() {
			continue
		}
		text := "not proved"
		if l.Verdict == metrology.Outside {
			text = "outside"
		}
		out = append(out, Item{Task: l.Task, Text: fmt.Sprintf("path %s: %s off, limit %s: %s", l.PathRef, l.Deviation, l.Limit, text), Grounds: true})
	}
	return out
}

// changedSince lists the paths that work behind a line of the journal changed.
func (j *Job) changedSince(line int) map[trim.PathRef]bool {
	out := map[trim.PathRef]bool{}
	again, err := trim.Repeat(j.Plan, j.worked(line))
	if err != nil {
		return out // nothing was worked on since
	}
	for _, ref := range again.Changed {
		out[ref] = true
	}
	return out
}

// Over reports whether a deferral has run out at a time, with the wing's hours
// where they are known. By hours it can only run out where they are.
func (d *Deferral) Over(at string, hours *Hours) bool {
	if d.Until != "" {
		return day(at) > d.Until
	}
	return hours != nil && d.Base != nil && *hours >= *d.Base+d.Hours
}

// Limit says until when a finding is carried over.
func (d *Deferral) Limit() string {
	switch {
	case d.Until != "":
		return d.Until
	case d.Base != nil:
		return (*d.Base + d.Hours).String() + " on the wing"
	}
	return d.Hours.String() + " of flying"
}

// notClear lists what keeps a clear step from being answered: all that blocks,
// and what its own task left open.
func (t *Task) notClear(at string) []Item {
	left := t.job.Blocking(t.No, at)
	for _, it := range t.openItems() {
		if it.Grounds {
			left = append(left, it)
		}
	}
	return left
}

// clearance decides a clear step.
func (d *decider) clearance() error {
	if left := d.task.notClear(d.st.At); len(left) > 0 {
		return refuse(NotClear, len(left), left[0].Text)
	}
	d.ev.Kind, d.ev.Outcome, d.ev.Choice = Answered, Taken, "clear"
	return nil
}
