package job

import (
	"slices"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/trim"
	"example.org/linewright/engine/wing"
)

// A reading further from what is expected was misread, or taken of another
// path (common practice, no source).
const farOff = 200 * quantity.Millimetre

// measuring is a lengths step as it stands: its paths with what was read.
type measuring struct {
	plan  *wing.Plan
	from  wing.From
	bench metrology.Bench
	limit trim.Limit
	paths []measured
}

// measured is a path of a lengths step.
type measured struct {
	trim.PathRef
	role     trim.Role
	expected trim.Expected
	known    bool      // what is expected
	readings []Reading // that count
	evaluated
}

// evaluated is what the readings of a path come to.
type evaluated struct {
	m      metrology.Measurement
	repeat metrology.Repeat
	length PathLength
}

// measuring gathers a lengths step. The error is a *Refusal where the bench
// cannot evaluate a reading.
func (j *Job) measuring(t *Task, s *procedure.Slot) (*measuring, error) {
	m := &measuring{plan: j.Plan, from: trim.FromOf(j.Plan), bench: j.Bench, limit: trim.LimitsOf(j.Plan).Path, paths: t.paths(s)}
	a := t.answers[s.Key]
	if a == nil || a.State == Void {
		a = &Answer{}
	}
	if a.bench != nil {
		m.bench = *a.bench
	}
	byPath := map[trim.PathRef][]Reading{}
	for _, r := range a.counting() {
		if r.Path != nil {
			byPath[*r.Path] = append(byPath[*r.Path], r)
		}
	}
	for i := range m.paths {
		p := &m.paths[i]
		p.expected, p.known = trim.Expect(j.Plan, p.PathRef, m.from)
		p.readings = byPath[p.PathRef]
		if err := m.evaluate(p); err != nil {
			return nil, refuseValue(err)
		}
	}
	m.closed(t.closed(s))
	return m, nil
}

// closed puts what was judged when the row was closed in the place of what
// would be judged today.
func (m *measuring) closed(lengths []PathLength) {
	for _, l := range lengths {
		if p := m.path(l.PathRef); p != nil {
			p.length = l
		}
	}
}

// paths lists what a lengths step measures. Of a row that is closed it is what
// was measured then.
func (t *Task) paths(s *procedure.Slot) []measured {
	var out []measured
	for _, l := range t.closed(s) {
		out = append(out, measured{PathRef: l.PathRef, role: l.Role})
	}
	switch {
	case out != nil:
		return out
	case s.Step.Of == procedure.OfChanged:
		return t.job.changed()
	}
	refs := trim.Refs(t.job.Plan, s.Instance.Row)
	out = make([]measured, len(refs)) // at once: every key on the page comes through here
	for i, ref := range refs {
		out[i].PathRef = ref
	}
	return out
}

// changed lists what work makes to be measured again, in the order of the plan.
func (j *Job) changed() []measured {
	again, err := trim.Repeat(j.Plan, j.worked(0))
	if err != nil {
		return nil // nothing was worked on
	}
	roles := map[trim.PathRef]trim.Role{}
	for _, ref := range again.Changed {
		roles[ref] = trim.RoleChanged
	}
	for _, ref := range again.Twins {
		roles[ref] = trim.RoleTwin
	}
	if again.Control != nil {
		roles[*again.Control] = trim.RoleControl
	}
	var out []measured
	for _, ref := range trim.Refs(j.Plan, "") {
		if role, ok := roles[ref]; ok {
			out = append(out, measured{PathRef: ref, role: role})
		}
	}
	return out
}

// worked lists what was worked on behind a line of the journal: the targets of
// the tasks that change lengths, begun and not dropped before they did.
func (j *Job) worked(since int) []wing.Ref {
	var out []wing.Ref
	for _, t := range j.Tasks {
		if !t.works() || t.state == Gone && !t.altered() || t.lastLine() <= since {
			continue
		}
		out = append(out, t.Add.Target)
		if t.Add.Target.Kind == wing.KindLine && t.Unfolded.Procedure.Pair {
			out = append(out, t.Add.Target.Twin())
		}
	}
	return out
}

// works reports whether a task is one that can change the length of a path: it
// renews something, opens or closes a link, or moves a side of a pair.
func (t *Task) works() bool {
	return len(t.Unfolded.Procedure.Mends) > 0 || slices.ContainsFunc(t.Unfolded.Slots, func(s *procedure.Slot) bool {
		return s.Step.Opens || s.Step.Closes || s.Step.Alters
	})
}

// altered reports whether a task opened a link or moved a side of a pair.
func (t *Task) altered() bool {
	for _, s := range t.Unfolded.Slots {
		if (s.Step.Opens || s.Step.Alters) && t.answers[s.Key].everTaken() {
			return true
		}
	}
	return false
}

// lastLine is the line of the journal by which a task was last answered.
func (t *Task) lastLine() int {
	last := 0
	for _, a := range t.answers {
		for ; a != nil; a = a.Old {
			last = max(last, a.Line)
		}
	}
	return last
}

// nothingToMeasure reports whether a lengths step has no path: none of the row
// can be followed to the canopy, or none runs through what was worked on.
func (t *Task) nothingToMeasure(s *procedure.Slot) bool {
	if s.Step.Of == procedure.OfChanged {
		return len(t.job.worked(0)) > 0 && len(t.job.changed()) == 0
	}
	for _, l := range t.job.Plan.Lines {
		if l.Row == s.Instance.Row && l.Point != "" {
			return false
		}
	}
	for _, p := range t.job.Plan.Stated {
		if p.Row == s.Instance.Row {
			return false
		}
	}
	return true
}

func (m *measuring) path(ref trim.PathRef) *measured {
	for i := range m.paths {
		if m.paths[i].PathRef == ref {
			return &m.paths[i]
		}
	}
	return nil
}

// evaluate judges the readings of a path as they stand.
func (m *measuring) evaluate(p *measured) error {
	if len(p.readings) == 0 {
		return nil
	}
	rs := raw(p.readings)
	o, _ := trim.Object(m.plan, p.PathRef, m.from)
	var err error
	if p.m, err = metrology.Evaluate(o, rs, m.bench); err != nil {
		return err
	}
	if p.repeat, err = metrology.Repeats(rs, m.bench); err != nil {
		return err
	}
	p.length = PathLength{PathRef: p.PathRef, Role: p.role, Value: p.m.Value, U: p.m.U, N: p.m.N}
	if !p.known {
		return nil
	}
	limit, err := quantity.LengthFromMM(m.limit.MM)
	if err != nil {
		return err
	}
	j, err := p.m.Judge(p.expected.Length, limit)
	if err != nil {
		return err
	}
	p.length.Expected, p.length.Stated = p.expected.Length, p.expected.Stated
	p.length.Deviation, p.length.Limit, p.length.LimitOf, p.length.Verdict = j.Deviation, j.Limit, m.limit.Source, j.Verdict
	return nil
}

// again reports whether a path has to be read once more: one reading that is
// not inside may be misread, and readings that do not agree prove nothing.
func (p *measured) again() bool {
	switch len(p.readings) {
	case 0:
		return false
	case 1:
		return p.length.Verdict != "" && p.length.Verdict != metrology.Inside
	}
	return !p.repeat.Agrees
}

// odd reports whether a third reading did not settle it: then the odd one is
// struck by a person, who has to see it.
func (p *measured) odd() bool { return len(p.readings) > 2 && p.again() }

// plausible is the range of a reading that can be one of the path.
func (p *measured) plausible() (low, high quantity.Length) {
	if !p.known {
		return trim.LeastPath, trim.GreatestPath
	}
	return max(p.expected.Length-farOff, 0), p.expected.Length + farOff
}

// due is the path that a bare number is for: the first that was not read; then,
// of those to be read again, the one that was read least. Reading it at once
// would only repeat what is still before the eyes.
func (m *measuring) due() *measured {
	var next *measured
	for i := range m.paths {
		p := &m.paths[i]
		if len(p.readings) == 0 {
			return p
		}
		if p.again() && (next == nil || len(p.readings) < len(next.readings)) {
			next = p
		}
	}
	return next
}

// unfinished says what keeps a row from being closed.
func (m *measuring) unfinished() *Because {
	if len(m.paths) == 0 {
		return because(NothingWorked)
	}
	var unread, again []trim.PathRef
	for i := range m.paths {
		p := &m.paths[i]
		switch {
		case len(p.readings) == 0:
			unread = append(unread, p.PathRef)
		case p.odd():
			far := p.readings[p.repeat.Farthest]
			return because(LengthsOdd, p.PathRef, p.repeat.Spread, p.repeat.Allowed, far.Value, far.Line)
		case p.again():
			again = append(again, p.PathRef)
		}
	}
	switch {
	case len(unread) > 0:
		return because(LengthsDue, len(unread), len(m.paths), names(unread))
	case len(again) > 0:
		return because(LengthsAgain, names(again))
	}
	return nil
}

// mostNames is how many paths a message names.
const mostNames = 6
