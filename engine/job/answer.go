package job

import (
	"strconv"
	"strings"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

// answer decides a typed value for the current step.
func (d *decider) answer() error {
	text := strings.TrimSpace(d.en.Text)
	d.ev.Kind, d.ev.Typed, d.ev.Outcome = Answered, d.en.Text, Taken
	if text == "" && d.en.Photo == nil {
		return d.empty()
	}
	switch d.slot.Step.Kind {
	case procedure.Do, procedure.Sign:
		return refuse(NoValueWanted)
	case procedure.Measure:
		return d.reading(text)
	case procedure.Choose, procedure.Check:
		return d.choice(text)
	case procedure.Count:
		return d.count(text)
	case procedure.Code:
		return d.code(text)
	case procedure.Order:
		return d.order(text)
	case procedure.Inspect:
		return d.inspected(text)
	case procedure.Lengths:
		return d.length(text)
	case procedure.Loops:
		return d.loops(text)
	case procedure.Clear, procedure.Trim:
		return refuse(NoValueWanted)
	case procedure.Photo:
		if d.en.Photo == nil {
			return refuse(PhotoWanted)
		}
		d.ev.Photo = d.en.Photo
		return nil
	}
	d.ev.Text = text
	return nil
}

// on decides a bare Enter: it does what needs no value, and never answers a
// field that wants one.
func (d *decider) on() error {
	a := d.task.answers[d.slot.Key]
	switch d.slot.Step.Kind {
	case procedure.Do:
		d.ev.Kind, d.ev.Outcome = Answered, Taken
		return d.opening()
	case procedure.Measure:
		if a != nil && a.State == Partial && len(a.counting()) > 0 {
			return d.settle(a)
		}
	case procedure.Sign:
		return refuse(HoldWaits, d.task.saying(d.slot))
	case procedure.Lengths:
		return d.settleLengths()
	case procedure.Trim:
		return d.report()
	case procedure.Clear:
		return d.clearance()
	}
	d.ev.Kind, d.ev.Outcome = Answered, Taken
	return d.empty()
}

// empty decides an empty answer: only an optional step takes one.
func (d *decider) empty() error {
	if d.slot.Step.Optional {
		d.ev.Text = "none"
		return nil
	}
	return refuse(ValueWanted, wanted(d.slot))
}

// opening refuses to take a gate off while another link is open, or another
// task has one open. Work on the link itself may take on one that was left
// open, where no turns are counted any more.
func (d *decider) opening() error {
	if !d.slot.Step.Opens {
		return nil
	}
	t, link := d.j.LinkOpen()
	if t != nil && t != d.task && d.task.Add.Target == link && d.slot.Step.Kind == procedure.Do {
		return nil
	}
	if t != nil && (t != d.task || !d.j.onLink(d.slot.Target, link)) {
		return refuse(LinkOpen, t.No, link)
	}
	return nil
}

// noted turns the event into one that leaves the step open.
func (d *decider) noted(b *Because) error {
	d.ev.Outcome, d.ev.Why = Open, b
	return nil
}

// noteElse is noted, with the procedure's own words on what to do.
func (d *decider) noteElse(code Code, args ...any) error {
	if e := d.slot.Step.Else; !e.Empty() {
		args = append(args, d.slot.Say(e, "en", d.task))
	}
	return d.noted(because(code, args...))
}

// pickOption finds the option that a text names: its digit or its id, and
// words behind it as the reason.
func pickOption(slot *procedure.Slot, vals procedure.Values, text string) (*procedure.Option, string, error) {
	offered := slot.Offered(vals)
	word, reason, _ := strings.Cut(text, " ")
	for i, o := range offered {
		if word == strconv.Itoa(i+1) || word == o.ID {
			return o, strings.TrimSpace(reason), nil
		}
	}
	return nil, "", refuse(ChoiceUnknown, text, len(offered))
}

func (d *decider) choice(text string) error {
	o, reason, err := pickOption(d.slot, d.task, text)
	if err != nil {
		return err
	}
	if o.Reason && reason == "" {
		return refuse(ReasonMissing)
	}
	d.ev.Choice, d.ev.Text = o.ID, reason
	switch {
	case !o.Stop.Empty():
		return d.noted(because(StopHere, d.slot.Say(o.Text, "en", d.task), d.slot.Say(o.Stop, "en", d.task)))
	case d.slot.Step.Kind == procedure.Check && !o.Right:
		return d.noteElse(WrongState, d.slot.Say(o.Text, "en", d.task))
	}
	if !o.Open.Empty() {
		d.ev.Opened, d.ev.Grounds = d.slot.Say(o.Open, "en", d.task), o.Grounds
	}
	if err := d.opening(); err != nil {
		return err
	}
	d.ev.LoopFit = d.task.loopFit(d.slot)
	return d.must(o.ID)
}

func (d *decider) count(text string) error {
	v, err := quantity.Parse(quantity.Kind(d.slot.Step.Quantity), text)
	if err != nil {
		return refuseValue(err)
	}
	d.ev.Value = &v
	if err := d.opening(); err != nil {
		return err
	}
	if b, err := d.plausible(v.Float()); b != nil || err != nil {
		if err != nil {
			return err
		}
		return d.noted(b)
	}
	return d.must(v.Float())
}

// must judges the step's own condition on the entry.
func (d *decider) must(value any) error {
	if d.slot.Step.Must == "" {
		return nil
	}
	ok, err := d.slot.Must(d.task, map[string]any{"value": value})
	switch {
	case err != nil:
		return refuse(Fault, d.slot.Key, err)
	case ok:
		return nil
	case d.slot.Step.Observes == "":
		return d.noteElse(MustFails, d.printed())
	}
	return d.notTheTarget(d.slot.Seen(d.task, value))
}

// notTheTarget says which line the observations lead to. It never says which
// one the task was started for: the answers would be bent to fit.
func (d *decider) notTheTarget(refs []wing.Ref) error {
	switch len(refs) {
	case 0:
		return d.noteElse(SeenNone)
	case 1:
		return d.noteElse(SeenOther, refs[0])
	}
	return d.noteElse(SeenSeveral, len(refs))
}

// printed is the entry as it was understood.
func (d *decider) printed() string {
	switch {
	case d.ev.Value != nil:
		return d.ev.Value.String()
	case d.ev.Choice != "":
		return optionText(d.slot, d.task, &d.ev)
	case d.ev.Codes != nil:
		return strings.Join(d.ev.Codes, " ")
	}
	return d.ev.Text
}

// code decides a line code as it is written on a part. Case counts.
func (d *decider) code(text string) error {
	if len(text) > quantity.MaxTyped {
		return refuse(TooLong, quantity.MaxTyped)
	}
	d.ev.Text = text
	if d.slot.Step.SameAs != "" {
		want, ok := d.slot.Value(d.slot.Step.SameAs, d.task)
		if !ok {
			return refuse(Fault, d.slot.Key, d.slot.Step.SameAs)
		}
		switch {
		case text == want:
		case d.slot.Card.By == procedure.Second:
			return d.noteElse(CodeCovered, text)
		case strings.EqualFold(text, want.(string)):
			return d.noteElse(CodeCase, text, want)
		default:
			return d.noteElse(CodeOther, text, want)
		}
	}
	return d.must(text)
}
