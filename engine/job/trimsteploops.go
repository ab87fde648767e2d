package job

import (
	"slices"
	"strings"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/trim"
	"example.org/linewright/engine/wing"
)

// plainLoop is the loop of every line that is not named.
const plainLoop = "plain"

// loops decides a loops step: from the loops that hang on the links now and
// the report before it, which ones would bring the wing inside its limits. That
// none can is an answer too.
func (d *decider) loops(text string) error {
	report := d.task.reportBefore(d.slot)
	if report == nil {
		return refuse(Fault, d.slot.Key, "no trim was reported before it")
	}
	on, err := d.j.readLoops(text)
	if err != nil {
		return err
	}
	d.ev.Text = d.j.loopWords(on)
	if d.preview {
		return nil
	}
	c, err := trim.Choose(d.j.Plan, *report, on, trim.Demand{})
	if err != nil {
		return refuseValue(err)
	}
	d.ev.Loops = &c
	return nil
}

// reportBefore is the report of the last trim step before a slot.
func (t *Task) reportBefore(at *procedure.Slot) *trim.Report {
	for _, s := range slices.Backward(t.Unfolded.Slots[:at.Index]) {
		a := t.answers[s.Key]
		if s.Step.Kind == procedure.Trim && a != nil && a.State == Ready {
			return a.Event.Trim
		}
	}
	return nil
}

// loopTable is what the loops of this wing take, or a fallback that says so.
func (j *Job) loopTable() trim.LoopTable {
	if j.Start.Loops != nil {
		return *j.Start.Loops
	}
	return trim.FallbackLoops()
}

// readLoops reads which loops hang on the links: "plain" where all do, else
// those that are not, as "C1.2 left wrapped, B1.1 hitched". Without a side both
// are meant.
func (j *Job) readLoops(text string) (trim.Loops, error) {
	loops := trim.Loops{Table: j.loopTable(), On: map[wing.Ref]string{}, Others: plainLoop}
	known := loops.Table.Codes()
	if !slices.Contains(known, plainLoop) {
		return loops, refuse(LoopUnknown, plainLoop, strings.Join(known, ", "))
	}
	for _, item := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ';' }) {
		words := strings.Fields(item)
		if len(words) == 0 || len(words) == 1 && words[0] == plainLoop {
			continue
		}
		refs, loop, err := j.readLoop(words)
		if err != nil {
			return loops, err
		}
		if !slices.Contains(known, loop) {
			return loops, refuse(LoopUnknown, loop, strings.Join(known, ", "))
		}
		for _, ref := range refs {
			if _, twice := loops.On[ref]; twice {
				return loops, refuse(OrderTwice, ref)
			}
			loops.On[ref] = loop
		}
	}
	return loops, nil
}

// readLoop reads one line with its side and its loop.
func (j *Job) readLoop(words []string) ([]wing.Ref, string, error) {
	code, side, _ := strings.Cut(words[0], "@")
	rest := words[1:]
	if side == "" && len(rest) > 1 && sideWord(rest[0]) != "" {
		side, rest = rest[0], rest[1:]
	}
	l, ok := j.Plan.Line(code)
	if !ok || l.On.Kind != wing.OnLink || side != "" && sideWord(side) == "" {
		return nil, "", refuse(LoopLine, words[0])
	}
	loop := strings.Join(rest, " ")
	if side != "" {
		return []wing.Ref{wing.LineRef(code, sideWord(side))}, loop, nil
	}
	return []wing.Ref{wing.LineRef(code, wing.Left), wing.LineRef(code, wing.Right)}, loop, nil
}

// loopWords says which loops hang on the links, in the order of the plan.
func (j *Job) loopWords(on trim.Loops) string {
	var named []string
	for _, l := range j.Plan.Lines {
		for _, side := range wing.Sides {
			if loop := on.On[wing.LineRef(l.Code, side)]; loop != "" && loop != plainLoop {
				named = append(named, wing.LineRef(l.Code, side).String()+" "+loop)
			}
		}
	}
	if len(named) == 0 {
		return "all plain"
	}
	return strings.Join(named, ", ") + "; all others plain"
}

// LoopChanges lists the loops that the last answer to a loops step would have
// changed and that no loop change has been done for since.
func (j *Job) LoopChanges() []trim.LoopChange {
	last := j.lastLoops()
	if last == nil {
		return nil
	}
	return slices.DeleteFunc(slices.Clone(last.Event.Loops.Changes), func(c trim.LoopChange) bool {
		return slices.ContainsFunc(j.Tasks, func(t *Task) bool { return t.changedLoop(c.Line) && t.lastLine() > last.Line })
	})
}

// lastLoops is the last answer to a loops step that counts; nil if none does.
func (j *Job) lastLoops() *Answer {
	var last *Answer
	for _, t := range j.Tasks {
		for _, s := range t.Unfolded.Slots {
			a := t.answers[s.Key]
			if s.Step.Kind == procedure.Loops && a != nil && a.State == Ready && a.Event.Loops != nil && t.wantsLoops(s) && (last == nil || a.Line > last.Line) {
				last = a
			}
		}
	}
	return last
}

// wantsLoops reports whether the loops that a step proposed are to be changed:
// where a choice stands behind it on the card, its answer has to be "change".
func (t *Task) wantsLoops(s *procedure.Slot) bool {
	for _, next := range t.Unfolded.Slots[s.Index+1:] {
		if next.CardKey == s.CardKey && next.Step.Kind == procedure.Choose {
			a := t.answers[next.Key]
			return a == nil || a.Event == nil || a.Event.Choice == "" || a.Event.Choice == "change"
		}
	}
	return true
}

// changedLoop reports whether a task that is done changed the loop of a line.
func (t *Task) changedLoop(line wing.Ref) bool {
	p := t.Unfolded.Procedure
	return p.ID == ProcLoop && t.State() == Done && (t.Add.Target == line || p.Pair && t.Add.Target.Twin() == line)
}

// loopsWords says a choice in a line.
func loopsWords(e *Event) string {
	if e.Loops == nil {
		return e.Text
	}
	return e.Text + ". " + e.Loops.Words()[0]
}
