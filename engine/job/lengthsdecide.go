package job

import (
	"fmt"
	"slices"
	"strings"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/trim"
	"example.org/linewright/engine/wing"
)

// mostReads is how many readings one entry may bring, so that it stays a line
// that a journal takes.
const mostReads = 800

// length decides one reading of a lengths step: of the path that is due, or of
// the one that is named. It is never judged by itself; see settleLengths.
func (d *decider) length(text string) error {
	m, err := d.j.measuring(d.task, d.slot)
	if err != nil {
		return err
	}
	p, number, err := m.read(text)
	if err != nil {
		return err
	}
	v, err := quantity.Parse(quantity.KindLength, number)
	if err != nil {
		return refuseValue(err)
	}
	ref := p.PathRef
	d.ev.Kind, d.ev.Path, d.ev.Value, d.ev.BenchName = Read, &ref, &v, d.j.Bench.Name
	if low, high := p.plausible(); quantity.Length(v.N) < low || quantity.Length(v.N) > high {
		return d.noted(because(Implausible, v, low, high))
	}
	return nil
}

// sideWords are the words for a side, as typed.
var sideWords = map[string]wing.Side{"left": wing.Left, "l": wing.Left, "right": wing.Right, "r": wing.Right}

// sideWord reads a side; "" where it is none.
func sideWord(text string) wing.Side { return sideWords[strings.ToLower(text)] }

// read finds the path that a reading is for, and the number: "4208" is for the
// path that is due, "C7 left 4208" and "C7L 4208" for the one that is named.
func (m *measuring) read(text string) (*measured, string, error) {
	point, rest, _ := strings.Cut(text, " ")
	word, number, _ := strings.Cut(strings.TrimSpace(rest), " ")
	if side := sideWord(word); side != "" {
		return m.named(trim.PathRef{Point: point, Side: side}, number)
	}
	if short := point[:len(point)-1]; rest != "" && short != "" {
		ref := trim.PathRef{Point: short, Side: sideWord(point[len(short):])}
		if trim.Has(m.plan, ref) {
			return m.named(ref, rest)
		}
	}
	if rest != "" && trim.Has(m.plan, trim.PathRef{Point: point, Side: wing.Left}) {
		return nil, "", refuse(PathSide, point)
	}
	if p := m.due(); p != nil {
		return p, text, nil
	}
	if len(m.paths) == 0 {
		return nil, "", refuse(NothingWorked)
	}
	return nil, "", refuse(LengthsRead, m.paths[0].PathRef)
}

func (m *measuring) named(ref trim.PathRef, number string) (*measured, string, error) {
	p := m.path(ref)
	if p == nil {
		return nil, "", refuse(PathUnknown, ref, m.points())
	}
	return p, strings.TrimSpace(number), nil
}

// points names what is measured, from the first to the last.
func (m *measuring) points() string {
	refs := make([]trim.PathRef, len(m.paths))
	for i := range m.paths {
		refs[i] = m.paths[i].PathRef
	}
	return names(refs)
}

// names lists paths, at most so many that a line holds them.
func names(refs []trim.PathRef) string {
	all := make([]string, min(len(refs), mostNames))
	for i := range all {
		all[i] = refs[i].String()
	}
	if more := len(refs) - len(all); more > 0 {
		all = append(all, fmt.Sprintf("and %d more", more))
	}
	return strings.Join(all, ", ")
}

// sheet takes the readings of a sheet that are of this step; those of other
// rows wait in the sheet for theirs. A sheet with a fault in it is not taken
// at all: it is put right where it was written.
func (d *decider) sheet() error {
	if d.slot.Step.Kind != procedure.Lengths {
		return refuse(SheetNotHere)
	}
	m, err := d.j.measuring(d.task, d.slot)
	if err != nil {
		return err
	}
	for _, r := range d.en.Sheet {
		p := m.path(r.PathRef)
		if p == nil {
			continue
		}
		if r.Value, err = quantity.ParseLength(r.Typed); err != nil {
			return refuseValue(err)
		}
		if low, high := p.plausible(); r.Value < low || r.Value > high {
			return refuse(SheetOff, p.PathRef, r.Value, low, high)
		}
		d.ev.Sheet = append(d.ev.Sheet, r)
	}
	switch n := len(d.ev.Sheet); {
	case len(m.paths) == 0:
		return refuse(NothingWorked)
	case n == 0:
		return refuse(SheetNone, m.points())
	case n > mostReads:
		return refuse(SheetLong, n, mostReads)
	}
	if line := d.task.sheeted(d.slot, d.ev.Sheet); line > 0 {
		return refuse(SheetTwice, line)
	}
	d.ev.Kind, d.ev.Outcome, d.ev.BenchName = Sheeted, Taken, d.j.Bench.Name
	return nil
}

// sheeted gives the line by which the same sheet was taken in this step, 0 if
// it was not: readings taken over twice would pass for repeated ones.
func (t *Task) sheeted(s *procedure.Slot, sheet []PathRead) int {
	a := t.answers[s.Key]
	if a == nil || a.State != Partial {
		return 0
	}
	for _, r := range a.Readings {
		if e := t.job.events[r.Line-1]; r.Struck == "" && e.Kind == Sheeted && slices.Equal(e.Sheet, sheet) {
			return r.Line
		}
	}
	return 0
}

// settleLengths closes a row once nothing in it is due. It is taken whatever
// the verdicts are: what is outside keeps the wing on the ground.
func (d *decider) settleLengths() error {
	m, err := d.j.measuring(d.task, d.slot)
	if err != nil {
		return err
	}
	if b := m.unfinished(); b != nil {
		return &Refusal{b}
	}
	d.ev.Kind, d.ev.Outcome = Settled, Taken
	for i := range m.paths {
		d.ev.Lengths = append(d.ev.Lengths, m.paths[i].length)
	}
	return nil
}

// onSheet reports whether a path is on the sheet that an event took.
func (e *Event) onSheet(ref trim.PathRef) bool {
	return slices.ContainsFunc(e.Sheet, func(r PathRead) bool { return r.PathRef == ref })
}

// applyReadings keeps one reading, or those of a sheet.
func (t *Task) applyReadings(slot *procedure.Slot, a *Answer, e *Event, line int) error {
	if (e.Kind == Sheeted || e.Path != nil) != (slot.Step.Kind == procedure.Lengths) {
		return fmt.Errorf("step %q does not take such a reading", slot.Key)
	}
	if e.Kind == Read {
		if e.Path != nil && !trim.Has(t.job.Plan, *e.Path) {
			return fmt.Errorf("the plan has no path %q", e.Path.Point)
		}
		a.Readings = append(a.Readings, Reading{Line: line, Path: e.Path, Typed: e.Typed, Value: *e.Value, Outcome: e.Outcome})
	}
	for i := range e.Sheet {
		r := &e.Sheet[i]
		if !trim.Has(t.job.Plan, r.PathRef) {
			return fmt.Errorf("the plan has no path %q", r.Point)
		}
		value := quantity.Value{Kind: quantity.KindLength, N: int64(r.Value)}
		a.Readings = append(a.Readings, Reading{Line: line, Path: &r.PathRef, Typed: r.Typed, Value: value, Outcome: e.Outcome})
	}
	a.Event, a.Line = e, line
	a.Measurement, a.Difference, a.Judgement = nil, nil, nil
	return nil
}

// applyLengths closes a row: its readings were taken on the bench of now.
func (t *Task) applyLengths(a *Answer, e *Event) error {
	if e.Lengths == nil {
		return nil
	}
	for _, l := range e.Lengths {
		if !trim.Has(t.job.Plan, l.PathRef) {
			return fmt.Errorf("the plan has no path %q", l.Point)
		}
	}
	bench := t.job.Bench
	a.bench = &bench
	return nil
}

// applyDecidedPath keeps a person's reason for one path.
func (j *Job) applyDecidedPath(e *Event) error {
	if !trim.Has(j.Plan, *e.Path) {
		return fmt.Errorf("the plan has no path %q", e.Path.Point)
	}
	j.decided[decision{*e.Path, e.Line}] = e.Reason
	return nil
}
