package record

import (
	"strconv"
	"strings"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/quantity"
)

// step gives a step with what stands written for it. It looks only at what the
// events say was expected and judged then, and judges nothing.
func (b *builder) step(t *job.Task, s *procedure.Slot) Step {
	out := Step{
		Key: s.Key, Phase: phaseOf(t, s), At: s.Instance.Label, Kind: string(s.Step.Kind),
		Action: s.Say(s.Card.Action, "en", t), Ask: s.Say(s.Step.Ask, "en", t),
		Second: s.Card.By == procedure.Second, Role: string(s.Step.Role),
	}
	a := t.At(s.Key)
	out.State = string(a.State)
	if a.State != job.Void {
		b.current(&out, t, s, a)
	}
	b.earlier(&out, t, s, a)
	return out
}

func phaseOf(t *job.Task, s *procedure.Slot) string {
	m := t.Unfolded.Phases[s.Phase]
	return strings.TrimSpace(m.Title.In("en") + " " + string(m.Side))
}

// current writes the answer that counts, or that is under way.
func (b *builder) current(out *Step, t *job.Task, s *procedure.Slot, a *job.Answer) {
	for _, r := range a.Readings {
		out.Readings = append(out.Readings, Reading{
			Stamp: b.stamp(r.Line), Typed: r.Typed, Value: value(r.Value), Struck: r.Struck, Bench: b.events[r.Line-1].BenchName,
			Counts: r.Outcome == job.Taken && r.Struck == "", Why: b.events[r.Line-1].Why,
			FarFrom: b.events[r.Line-1].FarFrom,
		})
	}
	if a.State != job.Ready {
		return
	}
	e := a.Event
	at := b.stamp(a.Line)
	out.Entry, out.Typed, out.Answer = &at, e.Typed, answer(t, s, e)
	out.Choice, out.Codes, out.Photo, out.Open, out.Decision = e.Choice, e.Codes, e.Photo, e.Opened, a.Decided
	out.Measurement, out.Difference, out.Judgement = a.Measurement, a.Difference, a.Judgement
	out.Grounds, out.LoopFit = e.Grounds, e.LoopFit
	out.wholeStep(e)
	if e.Photo != nil {
		out.Typed = "" // the path on somebody's disk is nobody's business
	}
	if e.Value != nil {
		v := value(*e.Value)
		out.Value = &v
	}
	if x := e.Expected; x != nil {
		out.Expected = &Expected{x.Value, x.Source, x.Limit, x.Rule}
	}
	if e.Kind == job.Signed {
		h := hold(e.Sign)
		out.Hold = &h
	}
	if s.Step.Part {
		b.c.Parts = append(b.c.Parts, Part{at, t.No, s.Key, out.Ask, out.Answer})
	}
}

// earlier writes the entries of a step that do not count. Signatures stand in
// a list of their own.
func (b *builder) earlier(out *Step, t *job.Task, s *procedure.Slot, a *job.Answer) {
	counts := map[int]bool{}
	if a.State != job.Void {
		for _, r := range a.Readings {
			counts[r.Line] = true
		}
		counts[a.Line] = a.State == job.Ready || counts[a.Line]
	}
	for _, line := range b.steps[stepName(t.No, s.Key)] {
		if counts[line] {
			continue
		}
		e, at, by := b.events[line-1], b.stamp(line), b.voidedBy(t.No, s.Key, line)
		switch e.Kind {
		case job.Answered, job.Read, job.Settled, job.Decided, job.Stands:
		default:
			continue
		}
		switch {
		case e.Path != nil && e.Kind == job.Decided:
			out.Paths = append(out.Paths, PathDecision{at, *e.Path, e.Reason})
		case e.Kind == job.Stands && by == 0:
			out.Stands = append(out.Stands, at)
		case by == 0 && decidedOn(a, e):
			out.Judged = &at
		default:
			out.Earlier = append(out.Earlier, Earlier{
				Stamp: at, Kind: string(e.Kind), Typed: e.Typed, Answer: answer(t, s, e), Taken: e.Outcome == job.Taken,
				Why: e.Why, Judgement: e.Judgement, Decision: e.Reason, VoidBy: by,
			})
		}
	}
}

// decidedOn reports whether an entry is the verdict on which a person took the
// value: it stands with the answer.
func decidedOn(a *job.Answer, e *job.Event) bool {
	return a.Decided != "" && e.Kind == job.Settled && e.Judgement != nil && a.Judgement != nil && *e.Judgement == *a.Judgement
}

// voidedBy gives the line that took an entry's effect away; 0 if none did.
func (b *builder) voidedBy(task int, key string, line int) int {
	for _, by := range b.voids[stepName(task, key)] {
		if by > line {
			return by
		}
	}
	return 0
}

// answer gives an entry as a person reads it. Its words are those of the
// pinned procedure and the record's own, so that a program of next year gives
// the same bytes.
func answer(t *job.Task, s *procedure.Slot, e *job.Event) string {
	switch {
	case e.Kind == job.Signed:
		return e.Sign.Name
	case e.Kind == job.Stands:
		return "found to stand"
	case e.Measurement != nil:
		return e.Measurement.Value.String()
	case e.Lengths != nil:
		return count(len(e.Lengths), "path") + " measured"
	case e.Trim != nil:
		return strings.TrimSuffix("reported; "+e.Text, "; ")
	case s.Step.Kind == procedure.Inspect:
		return touched(s)
	case s.Step.Kind == procedure.Clear:
		return "nothing kept the wing on the ground"
	case len(e.Codes) > 0:
		return strings.Join(e.Codes, " ") + seenFrom[e.SeenFrom]
	case e.Choice != "":
		return option(t, s, e)
	case e.Value != nil:
		return e.Value.String()
	case e.Photo != nil:
		return "photo " + e.Photo.SHA256[:12]
	case e.Text != "":
		return e.Text
	}
	return "done"
}

// seenFrom says from which side a link was seen, where that had to be asked.
var seenFrom = map[job.SeenFrom]string{
	job.SeenAsAsked:   ", seen from the side that the step asks for",
	job.SeenOtherSide: ", seen from the other side of the link and turned round",
}

// touched names what was looked at, without the side where the step says it.
func touched(s *procedure.Slot) string {
	var names []string
	for _, ref := range s.Things() {
		names = append(names, strings.TrimSuffix(ref.String(), " "+string(s.Instance.Side)))
	}
	if len(names) == 0 {
		return "touched; what is not found damaged is sound"
	}
	return "touched: " + strings.Join(runs(names), ", ") + "; what is not found damaged is sound"
}

// runs writes three names or more whose numbers follow one another as the first
// and the last of them.
func runs(names []string) []string {
	var out []string
	for i := 0; i < len(names); {
		end := i + 1
		for end < len(names) && follows(names[end-1], names[end]) {
			end++
		}
		if end-i > 2 {
			out = append(out, names[i]+" to "+names[end-1])
		} else {
			out = append(out, names[i:end]...)
		}
		i = end
	}
	return out
}

// follows reports whether two names differ by their last number alone, and it
// is the next one.
func follows(a, b string) bool {
	headA, headB := strings.TrimRight(a, "0123456789"), strings.TrimRight(b, "0123456789")
	numA, errA := strconv.Atoi(a[len(headA):])
	numB, errB := strconv.Atoi(b[len(headB):])
	return errA == nil && errB == nil && headA == headB && numB == numA+1
}

func option(t *job.Task, s *procedure.Slot, e *job.Event) string {
	text := e.Choice
	for _, o := range s.Step.Options {
		if o.ID == e.Choice {
			text = s.Say(o.Text, "en", t)
		}
	}
	if e.Text != "" {
		text += ": " + e.Text
	}
	return text
}

func value(v quantity.Value) Value {
	n := v.N
	switch v.Kind {
	case quantity.KindLength:
		return Value{UM: &n}
	case quantity.KindForce:
		return Value{MN: &n}
	case quantity.KindTorque:
		return Value{MNM: &n}
	case quantity.KindTurns:
		return Value{MilliTurns: &n}
	}
	return Value{Count: &n}
}

// String gives the number with its unit.
func (v Value) String() string {
	switch {
	case v.UM != nil:
		return quantity.Length(*v.UM).String()
	case v.MN != nil:
		return quantity.Force(*v.MN).String()
	case v.MNM != nil:
		return quantity.Torque(*v.MNM).String()
	case v.MilliTurns != nil:
		return quantity.Turns(*v.MilliTurns).String()
	case v.Count != nil:
		return quantity.Count(*v.Count).String()
	}
	return ""
}

func hold(m *job.Mark) Hold {
	return Hold{m.Role, m.Name, m.Fingerprint, m.Custody, m.States, m.OverN, m.OverHash}
}
