package job

import (
	"slices"
	"strings"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

// Found is a defect as it is written: on which thing, by which rule, where, and
// what becomes of it by the rule as it stood then.
type Found struct {
	Thing       wing.Ref              `json:"thing"`
	Rule        string                `json:"rule"`
	Text        string                `json:"text"`
	Place       *quantity.Length      `json:"place_um,omitempty"` // from the lower end of the thing; nil: not said
	Note        string                `json:"note,omitempty"`
	Photos      []Photo               `json:"photos,omitempty"`
	Disposition procedure.Disposition `json:"disposition"`
	Reason      string                `json:"reason"`
}

// Seen is a finding as a person enters it: the rule by its id or its number
// among those that are offered, the place as typed, "" where it cannot be said.
type Seen struct {
	Thing  wing.Ref
	Rule   string
	Place  string
	Note   string
	Photos []Photo
}

// Way says how a finding ended other than by work of this job.
type Way string

// The ways in which a finding ends without being mended at the bench.
const (
	ByLength   Way = "measured"     // its length was measured in this job and is inside
	ByLooking  Way = "looked again" // watched, and found sound
	ByWorkshop Way = "workshop"     // a workshop mended it; the reason names its paper
)

// Deferral carries a finding over: until when, in flying hours from the job in
// which it was deferred, or by date. One of the two stands there.
type Deferral struct {
	Hours  Hours  `json:"hours_tenths,omitempty"`
	Until  string `json:"until,omitempty"` // a date, 2006-01-02
	Reason string `json:"reason,omitempty"`
	At     string `json:"at,omitempty"`
	Who    string `json:"who,omitempty"`
	Job    int    `json:"job,omitempty"`
	// Base is the wing's hours at that job, where they were known.
	Base *Hours `json:"base_hours_tenths,omitempty"`
}

// Carried is a finding of an earlier job that was not over when this one began.
// ID, At and Who are those of the line by which it was first written.
type Carried struct {
	ID  string `json:"id"`
	At  string `json:"at"`
	Who string `json:"who"`
	Found
	Deferred *Deferral `json:"deferred,omitempty"`
}

// Finding is a defect with what became of it so far.
type Finding struct {
	Carried
	Task   int    // of this job; 0: carried over into it
	Key    string // of the inspect step
	Line   int    // of this job's journal
	Struck string // the reason for which it was withdrawn
	Clear  *Event // by which it ended, if not by work
}

// FindingState says what became of a finding.
type FindingState string

// The states of a finding.
const (
	StateOpen     FindingState = "open"
	StateMended   FindingState = "mended" // by work of this job
	StateCleared  FindingState = "cleared"
	StateDeferred FindingState = "deferred"
	StateStruck   FindingState = "struck"
	StateSound    FindingState = "sound" // by its rule
)

// Findings lists what was found, those carried over first, each in the order
// in which it was written.
func (j *Job) Findings() []*Finding { return j.findings }

// Finding finds one by its ID, or by the beginning of it that stands before the
// hyphen where that is of one finding alone.
func (j *Job) Finding(id string) (*Finding, bool) {
	i := slices.IndexFunc(j.findings, func(f *Finding) bool { return f.ID == id })
	if i < 0 {
		short := func(f *Finding) bool { head, _, _ := strings.Cut(f.ID, "-"); return head == id }
		i = slices.IndexFunc(j.findings, short)
		if i >= 0 && slices.ContainsFunc(j.findings[i+1:], short) {
			i = -1
		}
	}
	if i < 0 {
		return nil, false
	}
	return j.findings[i], true
}

// StateOf says what became of a finding, and which task mended it.
func (j *Job) StateOf(f *Finding) (FindingState, *Task) {
	switch {
	case f.Struck != "":
		return StateStruck, nil
	case f.Clear != nil:
		return StateCleared, nil
	case f.Disposition == procedure.Sound:
		return StateSound, nil
	}
	for _, t := range j.Tasks {
		if t.State() == Done && t.line > f.Line && t.mends(f.Thing, f.Disposition) {
			return StateMended, t
		}
	}
	if f.Deferred != nil {
		return StateDeferred, nil
	}
	return StateOpen, nil
}

// mends reports whether a task, once done, mends findings on a thing: by a new
// part, or, where none is needed, by putting it right.
func (t *Task) mends(thing wing.Ref, d procedure.Disposition) bool {
	p, at := t.Unfolded.Procedure, t.Add.Target
	renewed := slices.Contains(p.Mends, string(thing.Kind))
	if !renewed && (d != procedure.Mend || !slices.Contains(p.PutsRight, string(thing.Kind))) {
		return false
	}
	switch {
	case at == thing, p.Pair && at.Twin() == thing:
		return true
	case at.Kind == wing.KindBrakes:
		return !renewed || t.mendedOn(thing)
	case thing.Kind == wing.KindRetainer || thing.Kind == wing.KindLink:
		link, ok := t.job.link(at)
		return ok && link.Code == thing.Code && link.Side == thing.Side
	case thing.Kind == wing.KindKnot: // it comes with the line that it is tied in
		brake := t.job.Plan.Brake
		return brake != nil && at == wing.LineRef(brake.Main, thing.Side)
	}
	return false
}

// mendedOn reports whether work on both brakes mended a thing of one side.
func (t *Task) mendedOn(thing wing.Ref) bool {
	return slices.ContainsFunc(t.Unfolded.Slots, func(s *procedure.Slot) bool {
		a := t.answers[s.Key]
		return s.Step.Mends == string(thing.Kind) && s.Instance.Side == thing.Side && a != nil && a.State == Ready
	})
}

// Beyond gives a task what the job knows of its target besides the task's own
// answers: procedure.Beyond.
func (t *Task) Beyond(name string, target wing.Ref) (any, bool) {
	switch name {
	case "received":
		return t.received(target), true
	case "findings":
		return float64(len(t.damaged())), true
	case "findings.codes":
		return t.damagedLines(), true
	case "wanted_mm":
		if l, ok := t.ordered(target); ok {
			return l.Length.MM(), true
		}
		l, ok := t.job.Plan.LineAt(target)
		return l.Length.MM(), ok && l.Length > 0
	case "wanted_source":
		if l, ok := t.ordered(target); ok {
			if plan, ok := strings.CutPrefix(l.LengthOf, planLength); ok {
				return "the order, by the plan: " + plan, true
			}
			return "the order: " + l.LengthOf, true
		}
		v, ok := t.Unfolded.Facts["plan.source"]
		return v, ok
	}
	return nil, false
}

// received reports whether the part for a target was received in another task
// of the job: at hand, and right.
func (t *Task) received(target wing.Ref) bool {
	return slices.ContainsFunc(t.job.Tasks, func(o *Task) bool {
		return o != t && o.Unfolded.Procedure.Receives && o.Add.Target == target && o.State() == Done
	})
}

// ordered finds the part that was ordered for a target, with the length that
// was asked for.
func (t *Task) ordered(target wing.Ref) (*Listing, bool) {
	for _, l := range t.job.parts {
		if l.Thing == target && l.Length > 0 && (l.state == Ordered || l.state == AtHand) {
			return l, true
		}
	}
	return nil, false
}

// Things lists what an inspect step of the task looks at.
func (t *Task) Things(s *procedure.Slot) []wing.Ref {
	if s.Step.Of == procedure.OfKin {
		return t.kin()
	}
	return s.Things()
}

// kin lists the twins and neighbours of what this task found damaged. What was
// found damaged before is not looked at once more; what is found so here stays
// on the list, since it may be damaged twice.
func (t *Task) kin() []wing.Ref {
	var out, before []wing.Ref
	for _, f := range t.damaged() {
		if s, ok := t.Unfolded.Slot(f.Key); ok && s.Step.Of != procedure.OfKin {
			before = append(before, f.Thing)
		}
	}
	for _, f := range t.damaged() {
		for _, near := range t.job.Plan.Kin(f.Thing) {
			if t.job.Plan.Has(near) && !slices.Contains(out, near) && !slices.Contains(before, near) {
				out = append(out, near)
			}
		}
	}
	return out
}

// damaged lists the findings of this task that stand and are not sound.
func (t *Task) damaged() []*Finding {
	var out []*Finding
	for _, f := range t.job.findings {
		if f.Task == t.No && f.Struck == "" && f.Disposition != procedure.Sound {
			out = append(out, f)
		}
	}
	return out
}

// damagedLines lists the codes of the lines among them, each once.
func (t *Task) damagedLines() []string {
	out := []string{}
	for _, f := range t.damaged() {
		if f.Thing.Kind == wing.KindLine && !slices.Contains(out, f.Thing.Code) {
			out = append(out, f.Thing.Code)
		}
	}
	return out
}

// found lists the findings of a step that still stand.
func (t *Task) found(key string) []*Finding {
	var out []*Finding
	for _, f := range t.job.findings {
		if f.Task == t.No && f.Key == key && f.Struck == "" {
			out = append(out, f)
		}
	}
	return out
}

// Words says a finding in one line: on what, what, where, and what becomes of
// it.
func (f *Finding) Words() string { return f.What() + ": " + f.Becomes() }

// What says on what a finding is, what, and where.
func (f *Finding) What() string {
	text := f.Thing.String() + ": " + f.Text
	if f.Place != nil {
		text += ", " + f.Place.String() + " from its lower end"
	}
	if f.Note != "" {
		text += " (" + f.Note + ")"
	}
	return text
}

// Becomes says what becomes of a finding by its rule: "to be replaced".
func (f *Finding) Becomes() string { return dispositionWords[f.Disposition] }

var dispositionWords = map[procedure.Disposition]string{
	procedure.Replace: "to be replaced", procedure.Mend: "to be put right", procedure.ByLength: "its length decides", procedure.Workshop: "for a workshop",
	procedure.Watch: "to be watched", procedure.Sound: "sound",
}
