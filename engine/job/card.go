package job

import (
	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/trim"
	"example.org/linewright/engine/wing"
)

// Card is what a front end shows: one action, its fields, and what stands
// written. It holds no colour, no width, no key binding.
type Card struct {
	Task   int
	Title  string
	Target string // "C1.2 left"; not named while it has to be found out
	Ref    wing.Ref
	Hidden bool
	Cord   []Phase
	Step   int // the steps done before this one, and it
	Of     int

	Key     string // the step that the card is about
	Due     bool   // it is the step that is due; else the card is looked back at
	Caution string
	Action  string
	Detail  string
	Reason  string
	Picture string
	Shown   map[string]any // what the picture draws: numbers and texts by name
	Sides   []SidesRow     // values of both sides beside each other
	Second  bool           // for the second person
	Looker  string         // their name; "" while it has to be said first
	Unheard bool           // they said nothing yet: another can still take their place
	Blind   bool           // they are being asked: nothing that the doer answered may be seen
	Fields  []Field
	At      int // index of the step's field

	Seen    wing.Ref // the line that the observations lead to, where it is not the target
	Confirm *Confirm // after an interruption, before anything else
	Orders  []Stack
	Next    string // action of the card behind this one
	Items   []Item // what is open in the job, where the doer signs for it
	Over    bool   // every step is answered
	Waiting string // why the task is laid down
}

// Phase is one mark of the cord.
type Phase struct {
	Title string
	State string // "done", "here", "ahead"
	Void  bool
	Held  bool // a hold is due in it
}

// Confirm is the last step done before an interruption.
type Confirm struct {
	Key    string
	Action string
	Answer string
	Last   string // time of the last entry, as it was written
}

// Stack is an order of lines that was entered, centre first.
type Stack struct {
	Key   string
	Codes []string
}

// Field is one step on the card.
type Field struct {
	Key     string
	Ask     string
	Kind    procedure.Kind
	State   AnswerState
	Answer  string // what stands written, as understood
	Old     string // the answer before it became void
	Stands  bool   // the old answer may be confirmed
	Who, At string
	Line    int
	Options []string
	Wanted  string // what an entry looks like
	Why     *Because
	Scale   *Scale
	Role    procedure.Role
	States  string // what a hold's signature says
	Empty   bool   // an empty Enter passes it

	Misread *Misread // of an order that was held against another and is not the same

	Inspection *Inspection  // of an inspect step
	Lengths    *LengthsView // of a lengths step
	Trim       *trim.Report // of a trim step that is answered
	Move       *trim.Move   // with it, where an earlier report can be compared
	Loops      *trim.Choice // of a loops step that is answered
	Blocking   []Item       // of a clear step: what keeps the wing on the ground
	LoopFit    *LoopFit     // of a step that fixes the loop of a new line
}

// Inspection is what an inspect step looks at, with what was found so far.
type Inspection struct {
	Of     string // procedure.OfLines …
	Row    string // of lines
	Side   wing.Side
	Things []Thing
}

// Thing is one thing that is looked at.
type Thing struct {
	Ref   wing.Ref
	Found []*Finding // in this task; all that still stand
	Rules []*procedure.FindingRule
}

// Scale is a measure step's reading against what is expected.
type Scale struct {
	Quantity  quantity.Kind
	Readings  []Reading
	Need      int
	Covered   bool // earlier readings stay covered until the last is in
	Expected  quantity.Length
	Source    string
	HasValue  bool            // Expected is known
	Nominal   quantity.Length // of what is measured, by the plan; 0 where it is not known, or no length
	Limit     quantity.Length
	LimitOf   string
	HasLimit  bool
	Against   string // what it is compared with, if another measurement
	Value     *metrology.Measurement
	Judgement *metrology.Judgement
	Deviation quantity.Length
	U         quantity.Length
	Bench     metrology.Bench    // what is measured with
	Outlook   *metrology.Outlook // what this bench can reach; nil where nothing is judged
}

// Card gives the card of the step that is due in a task.
func (j *Job) Card(task, sitting int) (Card, error) {
	t, ok := j.Task(task)
	if !ok {
		return Card{}, refuse(NoTask, task)
	}
	slot, err := t.current()
	if err != nil {
		return Card{}, refuse(Fault, slot.Key, err)
	}
	if slot == nil {
		return j.lastCard(t), nil
	}
	c := j.cardOf(t, slot)
	c.Due = true
	if c.Second && t.lookedIn == sitting {
		c.Looker, c.Unheard = t.looker, j.unheard(t, slot)
	}
	if t.state == Waiting {
		c.Waiting = t.Reason
	} else if j.interrupted(t, sitting) {
		c.Confirm = j.confirm(t)
	}
	return c, nil
}

// CardAt gives the card of any step, to look back at. It changes nothing. While
// the second person is asked those of the doer are refused.
func (j *Job) CardAt(task int, key string) (Card, error) {
	t, ok := j.Task(task)
	if !ok {
		return Card{}, refuse(NoTask, task)
	}
	slot, ok := t.Unfolded.Slot(key)
	if !ok {
		return Card{}, refuse(NotDone, key)
	}
	due, err := t.current()
	if err == nil && t.keeps(due, slot) {
		return Card{}, refuse(LookIsBlind)
	}
	c := j.cardOf(t, slot)
	c.Due = err == nil && due == slot
	return c, nil
}

// lastCard says that the list is complete.
func (j *Job) lastCard(t *Task) Card {
	c := j.head(t, t.Add.Target, false)
	c.Over, c.Step = true, c.Of
	for i := range c.Cord {
		c.Cord[i].State = "done"
	}
	return c
}

func (j *Job) head(t *Task, target wing.Ref, hidden bool) Card {
	c := Card{Task: t.No, Title: t.Unfolded.Procedure.Title.In("en"), Hidden: hidden}
	c.Target, c.Ref = target.String(), target
	if hidden {
		c.Target, c.Ref = "line to be found", wing.Ref{}
	}
	_, c.Of = t.Progress()
	for _, m := range t.Unfolded.Phases {
		title := m.Title.In("en")
		if m.Side != "" {
			title += " " + string(m.Side)
		}
		if m.Twin {
			title += " twin"
		}
		c.Cord = append(c.Cord, Phase{Title: title, State: "ahead"})
	}
	return c
}

func (j *Job) cardOf(t *Task, slot *procedure.Slot) Card {
	due, _ := t.current()
	c := j.head(t, slot.Target, due != nil && (j.covered(t, due) || t.coveredForLook(slot)))
	c.Key, c.Picture, c.Second = slot.Key, slot.Card.Picture, slot.Card.By == procedure.Second
	c.Blind = t.blind(due)
	if !c.Hidden && !c.Blind {
		c.Shown = slot.Shown(t)
		c.seesSides(t.sides(slot))
	}
	c.Caution = slot.Say(slot.Card.Caution, "en", t)
	c.Action = slot.Say(slot.Card.Action, "en", t)
	c.Detail = slot.Say(slot.Card.Detail, "en", t)
	c.Reason = slot.Say(slot.Card.Reason, "en", t)
	t.markCord(&c, slot)
	for _, s := range t.Unfolded.Slots {
		if s.CardKey == slot.CardKey {
			if skip, err := t.skips(s); err == nil && skip && s != slot {
				continue
			}
			if s == slot {
				c.At = len(c.Fields)
			}
			c.Fields = append(c.Fields, j.field(t, s))
		}
		if s.Index > slot.Index && s.CardKey != slot.CardKey && c.Next == "" {
			if skip, err := t.skips(s); err == nil && !skip {
				c.Next = s.Say(s.Card.Action, "en", t)
			}
		}
		if s.Index < slot.Index {
			if a := t.answers[s.Key]; a != nil && a.State == Ready {
				c.Step++
			}
		}
	}
	c.Step++
	if slot.Step.Role == procedure.Doer {
		c.Items = append(t.openItems(), t.openLengths()...)
	}
	if !c.Blind {
		c.Orders = t.orders(slot)
	}
	if a := t.answers[slot.Key]; a != nil && a.State == Partial && a.Event.Why != nil && a.Event.Why.Code == SeenOther {
		if v, ok := a.value(); ok {
			c.Seen = slot.Seen(t, v)[0]
		}
	}
	return c
}

// coveredForLook reports whether the second person still has to say by which
// code they know the line: until then nothing on the card may tell them.
func (t *Task) coveredForLook(slot *procedure.Slot) bool {
	if t.Add.Target.Kind != wing.KindLine {
		return false // a code on such a card is one of many, and no target
	}
	for _, s := range t.Unfolded.Slots {
		if s.CardKey == slot.CardKey && s.Card.By == procedure.Second && s.Step.Kind == procedure.Code {
			if a := t.answers[s.Key]; a == nil || a.State != Ready {
				return true
			}
		}
	}
	return false
}

// markCord says how far each phase is. A phase with a void step says so.
func (t *Task) markCord(c *Card, slot *procedure.Slot) {
	for i := range c.Cord {
		switch {
		case i < slot.Phase:
			c.Cord[i].State = "done"
		case i == slot.Phase:
			c.Cord[i].State = "here"
		}
	}
	c.Cord[slot.Phase].Held = slot.Step.Kind == procedure.Sign
	for _, s := range t.Unfolded.Slots {
		if a := t.answers[s.Key]; a != nil && a.State == Void {
			c.Cord[s.Phase].Void = true
		}
	}
}

// orders lists the orders of the step's link that may be seen at it: where one
// is asked for again, the first stays covered.
func (t *Task) orders(slot *procedure.Slot) []Stack {
	if slot.Step.Kind == procedure.Order {
		return nil
	}
	var out []Stack
	for _, s := range t.Unfolded.Slots[:slot.Index] {
		if a := t.answers[s.Key]; s.Step.Kind == procedure.Order && s.Target == slot.Target && a != nil && a.State == Ready {
			out = append(out, Stack{s.Key, a.Event.Codes})
		}
	}
	return out
}

func (j *Job) field(t *Task, s *procedure.Slot) Field {
	f := Field{
		Key: s.Key, Ask: s.Say(s.Step.Ask, "en", t), Kind: s.Step.Kind, Wanted: wanted(s),
		Role: s.Step.Role, States: s.Say(s.Step.States, "en", t), Empty: s.Step.Optional,
	}
	for _, o := range s.Offered(t) {
		f.Options = append(f.Options, s.Say(o.Text, "en", t))
	}
	if s.Step.Kind == procedure.Measure {
		f.Scale = j.scale(t, s)
	}
	f.LoopFit = t.loopFit(s)
	switch s.Step.Kind {
	case procedure.Inspect:
		f.Inspection = t.inspection(s)
	case procedure.Lengths:
		f.Lengths = j.lengthsView(t, s)
		f.Wanted = f.Lengths.wanted()
	case procedure.Clear:
		f.Blocking = t.notClear(j.lastAt())
	}
	a := t.answers[s.Key]
	if a == nil {
		return f
	}
	f.State, f.Line = a.State, a.Line
	if a.Event != nil {
		f.Who, f.At = a.Event.Who, a.Event.At
		f.Why = a.Event.Why
	}
	old := a.Old
	if a.State == Void && old != nil {
		if s.Card.By != procedure.Second { // who looks again says what is there now
			f.Old = t.printed(s, old)
		}
		f.Stands = standing(s)
		f.Why = nil
	} else {
		f.Answer = t.printed(s, a)
	}
	f.Misread = t.misread(s, a)
	if a.State == Ready {
		f.Trim, f.Move, f.Loops = a.Event.Trim, a.Event.Move, a.Event.Loops
	}
	return f
}

// standing reports whether an old answer of this step may be confirmed.
func standing(s *procedure.Slot) bool {
	if s.Card.By == procedure.Second {
		return false
	}
	switch s.Step.Kind {
	case procedure.Do, procedure.Choose, procedure.Note, procedure.Photo:
		return s.Step.Observes == ""
	}
	return false
}

func (j *Job) confirm(t *Task) *Confirm {
	s, ok := t.Unfolded.Slot(t.lastDone)
	if !ok {
		return nil
	}
	c := &Confirm{Key: s.Key, Action: s.Say(s.Card.Action, "en", t)}
	if ask := s.Say(s.Step.Ask, "en", t); ask != "" {
		c.Action += " — " + ask
	}
	if a := t.answers[s.Key]; a != nil {
		c.Answer = t.printed(s, a)
	}
	if n := len(j.events); n > 0 {
		c.Last = j.events[n-1].At
	}
	return c
}
