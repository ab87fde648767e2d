package job

import (
	"fmt"
	"slices"
	"strings"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

// touched is the answer of an inspect step: all that is not marked was touched
// and is sound.
const touched = "touched"

// inspected decides the answer of an inspect step. Findings are entries of
// their own; this one says that the hand went over all the rest.
func (d *decider) inspected(text string) error {
	if text != "1" && text != touched {
		return refuse(TouchFirst, text)
	}
	d.ev.Choice = touched
	return nil
}

// finding decides a defect on a thing of an inspect step: of the one that is
// due, or of one that was answered already. Striking it later asks for the
// thing anew.
func (d *decider) finding() error {
	if err := d.ready(); err != nil {
		return err
	}
	slot, err := d.inspectSlot()
	if err != nil {
		return err
	}
	d.slot = slot
	if slot.Card.By == procedure.Second {
		if d.task.looker == "" || d.task.lookedIn != d.st.Sitting {
			return refuse(LookerFirst)
		}
		d.ev.Who = d.task.looker
	}
	found, err := d.foundBy(slot)
	if err != nil {
		return err
	}
	d.ev.Kind, d.ev.Key, d.ev.Found, d.ev.Outcome = FoundOne, slot.Key, found, Open
	d.ev.Finding = findingID(d.j.Start.Job, d.st)
	d.ev.Voids = d.task.restsOnFindings(slot)
	return nil
}

// inspectSlot is the step to which a finding belongs.
func (d *decider) inspectSlot() (*procedure.Slot, error) {
	due, err := d.task.current()
	if err != nil {
		return nil, refuse(Fault, due.Key, err)
	}
	slot := due
	if d.en.Key != "" {
		s, ok := d.task.Unfolded.Slot(d.en.Key)
		if !ok {
			return nil, refuse(NotDone, d.en.Key)
		}
		switch a := d.task.answers[s.Key]; {
		case s == due || a != nil && a.State != Blank:
		case due == nil:
			return nil, refuse(NotDone, d.en.Key)
		default:
			return nil, d.notCurrent(due)
		}
		slot = s
	}
	if slot == nil || slot.Step.Kind != procedure.Inspect {
		return nil, refuse(NoInspection)
	}
	return slot, nil
}

func (d *decider) foundBy(slot *procedure.Slot) (*Found, error) {
	seen := d.en.Seen
	if seen == nil {
		return nil, refuse(ValueWanted, "what was found, and on what")
	}
	if !slices.Contains(d.task.Things(slot), seen.Thing) {
		return nil, refuse(NotLookedAt, seen.Thing)
	}
	rules := slot.Rules(seen.Thing)
	r, ok := procedure.RuleNamed(rules, seen.Rule)
	if !ok {
		return nil, refuse(RuleUnknown, seen.Rule, seen.Thing, procedure.RuleNumbers(rules))
	}
	note := strings.TrimSpace(seen.Note)
	if err := decent(note); err != nil {
		return nil, err
	}
	f := &Found{
		Thing: seen.Thing, Rule: r.ID, Text: r.Text.In("en"), Note: note, Photos: seen.Photos,
		Disposition: r.Disposition, Reason: r.Reason.In("en"),
	}
	if place := strings.TrimSpace(seen.Place); place != "" {
		v, err := quantity.Parse(quantity.KindLength, place)
		if err != nil {
			return nil, refuseValue(err)
		}
		at := quantity.Length(v.N)
		if l, ok := d.j.Plan.LineAt(seen.Thing); ok && l.Length > 0 && at > l.Length+200*quantity.Millimetre {
			return nil, refuse(PlaceBeyond, at, seen.Thing, l.Length)
		}
		f.Place = &at
	}
	for _, other := range d.task.found(slot.Key) {
		if other.Thing == f.Thing && other.Rule == f.Rule && samePlace(other.Place, f.Place) {
			return nil, refuse(FoundAlready, f.Thing, f.Text)
		}
	}
	return f, nil
}

func samePlace(a, b *quantity.Length) bool {
	return (a == nil) == (b == nil) && (a == nil || *a == *b)
}

// restsOnFindings lists the answers that no longer count when the findings of a
// step change: the look at twins and neighbours, what a second person said of
// the findings, and what was signed behind it.
func (t *Task) restsOnFindings(from *procedure.Slot) []string {
	var out []string
	for _, s := range t.Unfolded.Slots[from.Index:] {
		a := t.answers[s.Key]
		switch {
		case a == nil || a.State != Ready && a.State != Partial:
		case s == from && (a.State == Partial || s.Step.Of != procedure.OfKin):
		case s.Step.Of == procedure.OfKin, s.Step.Kind == procedure.Sign, s.Step.Kind == procedure.Clear,
			s.Card.By == procedure.Second && s.Step.Kind != procedure.Inspect:
			out = append(out, name(t.No, s.Key))
		}
	}
	return out
}

// unfind gives what a struck finding takes with it: its step asks for the
// thing again, and what rested on the findings does not count.
func (j *Job) unfind(e *Event) []string {
	t, ok := j.Task(e.Task)
	if !ok {
		return nil
	}
	slot, ok := t.Unfolded.Slot(e.Key)
	if !ok {
		return nil
	}
	out, own := t.restsOnFindings(slot), name(t.No, e.Key)
	if a := t.answers[e.Key]; a != nil && a.State == Ready && !slices.Contains(out, own) {
		return append([]string{own}, out...)
	}
	return out
}

// applyFound keeps a finding.
func (j *Job) applyFound(t *Task, e *Event, line int) {
	j.findings = append(j.findings, &Finding{
		Carried: Carried{ID: e.Finding, At: e.At, Who: e.Who, Found: *e.Found},
		Task:    t.No, Key: e.Key, Line: line,
	})
	a := t.answers[e.Key]
	if a == nil || a.State == Void {
		t.answers[e.Key] = &Answer{State: Partial, Event: e, Line: line, Old: a}
	}
	j.void(e.Voids)
	t.sitting, j.at = e.Sitting, t.No
}

// findingID names a finding for as long as the wing lives: by job and line, and
// by a piece of the chain before it, since two machines may each have a job 7.
func findingID(job int, st Stamp) string {
	return fmt.Sprintf("%d/%d-%s", job, st.HeadN+1, st.Head[:min(4, len(st.Head))])
}

// deferFinding carries a finding over. What grounds the wing is never carried over.
func (d *decider) deferFinding() error {
	f, err := d.openFinding()
	if err != nil {
		return err
	}
	df := d.en.Deferral
	switch {
	case f.Disposition.Grounds():
		return refuse(GroundsStill, f.Thing, f.Text)
	case df == nil || df.Hours <= 0 && df.Until == "" || df.Hours > 0 && df.Until != "":
		return refuse(LimitMissing)
	case df.Hours > 0 && d.j.Start.Hours == nil:
		return refuse(HoursUnknown, df.Hours)
	}
	if df.Until != "" {
		if !isDate(df.Until) {
			return refuse(DateUnknown, df.Until)
		}
		if df.Until <= day(d.st.At) {
			return refuse(DatePast, df.Until)
		}
	}
	if err := d.withReason(Deferring); err != nil {
		return err
	}
	d.ev.Finding, d.ev.Deferral = f.ID, &Deferral{Hours: df.Hours, Until: df.Until}
	return nil
}

// clearFinding ends a finding other than by work at this bench.
func (d *decider) clearFinding() error {
	f, err := d.openFinding()
	if err != nil {
		return err
	}
	switch d.en.Way {
	case ByWorkshop:
	case ByLooking:
		if f.Disposition.Grounds() {
			return refuse(LookingIsNot, f.Thing, f.Text)
		}
	case ByLength:
		if f.Disposition != procedure.ByLength || !d.j.provedInside(f) {
			return refuse(LengthNotProved, f.Thing)
		}
	default:
		return refuse(WayUnknown, d.en.Way)
	}
	if err := d.withReason(Clearing); err != nil {
		return err
	}
	d.ev.Finding, d.ev.Way = f.ID, d.en.Way
	return nil
}

func (d *decider) openFinding() (*Finding, error) {
	f, ok := d.j.Finding(d.en.Finding)
	if !ok {
		return nil, refuse(NoFinding, d.en.Finding)
	}
	if s, _ := d.j.StateOf(f); s != StateOpen && s != StateDeferred {
		return nil, refuse(FindingOver, f.Thing, s)
	}
	d.ev.Task = 0
	return f, nil
}

// provedInside reports whether the line of a finding was measured after it was
// found, and is inside: every path that runs through it.
func (j *Job) provedInside(f *Finding) bool {
	if f.Thing.Kind != wing.KindLine {
		return false
	}
	points := j.Plan.Points(f.Thing.Code)
	for _, point := range points {
		if l, ok := j.PathLength(point, f.Thing.Side); !ok || l.Line <= f.Line || !l.Inside() {
			return false
		}
	}
	return len(points) > 0
}

// provedOutside reports whether the line of a finding that its length decides
// was measured after it was found, and a path through it is outside.
func (j *Job) provedOutside(f *Finding) bool {
	if f.Thing.Kind != wing.KindLine || f.Disposition != procedure.ByLength {
		return false
	}
	return slices.ContainsFunc(j.Plan.Points(f.Thing.Code), func(point string) bool {
		l, ok := j.PathLength(point, f.Thing.Side)
		return ok && l.Line > f.Line && l.Verdict == metrology.Outside
	})
}

// asksNew reports whether a finding asks for a new part: by itself, or because
// its line was measured outside.
func (j *Job) asksNew(f *Finding) bool {
	return f.Disposition == procedure.Replace || j.provedOutside(f)
}

// applyFinding moves a finding on that was deferred or ended.
func (j *Job) applyFinding(e *Event) error {
	f, ok := j.Finding(e.Finding)
	if !ok {
		return fmt.Errorf("there is no finding %s", e.Finding)
	}
	if e.Kind == Clearing {
		f.Clear = e
		return nil
	}
	df := *e.Deferral
	df.Reason, df.At, df.Who, df.Job, df.Base = e.Reason, e.At, e.Who, j.Start.Job, j.Start.Hours
	f.Deferred = &df
	return nil
}

// inspection lists what a step looks at, with what stands found there.
func (t *Task) inspection(s *procedure.Slot) *Inspection {
	in := &Inspection{Of: s.Step.Of, Row: s.Instance.Row, Side: s.Instance.Side}
	for _, ref := range t.Things(s) {
		thing := Thing{Ref: ref, Rules: s.Rules(ref)}
		for _, f := range t.job.findings {
			if f.Thing == ref && f.Task == t.No && f.Struck == "" {
				thing.Found = append(thing.Found, f)
			}
		}
		in.Things = append(in.Things, thing)
	}
	return in
}

// inspected says an answer of an inspect step in words, with what stands found.
func (t *Task) inspected(s *procedure.Slot, e *Event) string {
	found := t.found(s.Key)
	rest := "touched, sound"
	if e.Choice != touched {
		rest = "not answered yet"
	}
	if len(found) == 0 {
		return "all " + rest
	}
	words := make([]string, len(found))
	for i, f := range found {
		words[i] = f.Thing.String() + ": " + f.Text
	}
	return strings.Join(words, "; ") + "; the rest " + rest
}
