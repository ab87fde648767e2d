package job

import (
	"fmt"
	"strings"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/quantity"
)

// HoldText is what a hold's signature is made over. Edition 1, one item a
// line, the last line ended too:
//
//	linewright hold 1
//	states: the text of the hold
//	job: 7
//	wing: barn-m-0042
//	task: 1
//	step: closure.second_look
//	role: second
//	name: bea
//	key: SHA256:…
//	journal: line 41, 64 hex digits of its hash
//
// Number and hash bind it to everything answered before.
func (j *Job) HoldText(task int, key string, m Mark) string {
	rows := []string{
		"linewright hold 1",
		"states: " + m.States,
		fmt.Sprintf("job: %d", j.Start.Job),
		"wing: " + j.Start.WingID,
		fmt.Sprintf("task: %d", task),
		"step: " + key,
		"role: " + m.Role,
		"name: " + m.Name,
		"key: " + m.Fingerprint,
		fmt.Sprintf("journal: line %d, %s", m.OverN, m.OverHash),
	}
	return strings.Join(rows, "\n") + "\n"
}

// Hold gives the mark that the current hold of a task wants signed, still
// without signature; the role is the step's.
func (j *Job) Hold(task int, st Stamp, name, fingerprint string) (Mark, error) {
	t, ok := j.Task(task)
	if !ok {
		return Mark{}, refuse(NoTask, task)
	}
	slot, err := t.current()
	if err != nil || slot == nil || slot.Step.Kind != procedure.Sign {
		return Mark{}, refuse(NoValueWanted)
	}
	m := Mark{
		Role: string(slot.Step.Role), Name: name, Fingerprint: fingerprint,
		OverN: st.HeadN, OverHash: st.Head, States: slot.Say(slot.Step.States, "en", t),
	}
	return m, j.MaySign(t, slot, m)
}

// MaySign refuses a second look by the doer: neither the name nor the key may
// be one of those that did the work, and a doer may not be one who looked.
func (j *Job) MaySign(t *Task, slot *procedure.Slot, m Mark) error {
	if m.Role != string(slot.Step.Role) {
		return refuse(WrongRole, m.Role, slot.Step.Role)
	}
	if slot.Step.Role == procedure.Second {
		if name, ok := j.doerKeys[m.Fingerprint]; ok {
			return refuse(SameKey, name)
		}
		if j.DidWork(m.Name) {
			return refuse(SamePerson, m.Name)
		}
		if t.looker == "" {
			return refuse(LookerFirst)
		}
		if m.Name != t.looker {
			return refuse(OtherLooker, t.looker, m.Name)
		}
		return nil
	}
	if slot.Step.Role == procedure.Pilot {
		return nil // who flies may have done the work, or looked at it
	}
	for _, e := range j.events {
		if e.Kind == Signed && e.Sign.Role == string(procedure.Second) && e.Task == t.No &&
			(e.Sign.Fingerprint == m.Fingerprint || strings.EqualFold(e.Sign.Name, m.Name)) {
			return refuse(LookedAtIt, m.Name)
		}
	}
	return nil
}

// DidWork reports whether a person did some of the work of this job: they cannot
// be its second person.
func (j *Job) DidWork(name string) bool { return j.people[strings.ToLower(name)] }

// look takes the name of the second person before their first answer, so that
// what they say stands under their name, and a doer is refused at once. It is
// their word only until they sign.
func (d *decider) look() error {
	name := strings.TrimSpace(d.en.Text)
	switch {
	case d.slot.Card.By != procedure.Second:
		return refuse(NoValueWanted)
	case name == "":
		return refuse(LookerFirst)
	case len(name) > quantity.MaxTyped:
		return refuse(TooLong, quantity.MaxTyped)
	case d.j.DidWork(name) || strings.EqualFold(name, d.st.Who):
		return refuse(SamePerson, name)
	}
	d.ev.Kind, d.ev.Text, d.ev.Who = Looking, name, name
	if d.task.looker != "" && d.task.looker != name {
		d.ev.Voids = d.task.lookedAt(d.slot)
	}
	return nil
}

// lookedAt names the answers that were given on a second person's card so far:
// another person gives their own.
func (t *Task) lookedAt(slot *procedure.Slot) []string {
	var out []string
	for _, s := range t.Unfolded.Slots {
		if a := t.answers[s.Key]; s.CardKey == slot.CardKey && a != nil && (a.State == Ready || a.State == Partial) {
			out = append(out, name(t.No, s.Key))
		}
	}
	return out
}

// unheard reports whether nothing that the second person said stands yet since
// the hold before: then another can still take their place.
func (j *Job) unheard(t *Task, due *procedure.Slot) bool {
	if due.Card.By != procedure.Second || due.Step.Kind == procedure.Sign {
		return false
	}
	for i := due.Index; i >= 0; i-- {
		s := t.Unfolded.Slots[i]
		if s.Step.Kind == procedure.Sign {
			return true
		}
		if a := t.answers[s.Key]; s.Card.By == procedure.Second && a != nil && a.State != Void {
			return false
		}
		for _, f := range j.findings {
			if f.Task == t.No && f.Key == s.Key && f.Struck == "" && s.Card.By == procedure.Second {
				return false
			}
		}
	}
	return true
}

// sign takes a signature that the caller has verified over HoldText.
func (d *decider) sign() error {
	m := d.en.Sign
	if d.slot.Step.Kind != procedure.Sign || m == nil {
		return refuse(NoValueWanted)
	}
	if err := d.j.MaySign(d.task, d.slot, *m); err != nil {
		return err
	}
	if m.Role == string(procedure.Second) && m.Fingerprint == d.st.Key {
		return refuse(SameKey, d.st.Who)
	}
	if m.OverN != d.st.HeadN || m.OverHash != d.st.Head || m.States != d.slot.Say(d.slot.Step.States, "en", d.task) {
		return refuse(StaleSignature)
	}
	if slot := d.slot; slot.Step.Role == procedure.Pilot {
		if left := d.j.Blocking(d.task.No, d.st.At); len(left) > 0 {
			return refuse(NotClear, len(left), left[0].Text)
		}
	}
	d.ev.Kind, d.ev.Outcome, d.ev.Sign = Signed, Taken, m
	return nil
}

// disagree is the way out of a hold that is not agreed: the work it covers is
// done again.
func (d *decider) disagree() error {
	if d.slot.Step.Kind != procedure.Sign && d.slot.Card.By != procedure.Second {
		return refuse(NoValueWanted)
	}
	if err := d.withReason(Disagreed); err != nil {
		return err
	}
	d.ev.Voids = d.j.Voids(d.task.No, d.task.covered(d.slot))
	return nil
}

// covered is the first step of the work that a hold is about: the one it
// names, or the first after the hold before it.
func (t *Task) covered(hold *procedure.Slot) string {
	slots := t.Unfolded.Slots
	at := hold.Index
	for at < len(slots) && slots[at].Step.Kind != procedure.Sign {
		at++
	}
	if at < len(slots) && slots[at].Step.Covers != "" {
		if key, ok := slots[at].KeyOf(slots[at].Step.Covers); ok {
			return key
		}
	}
	first := hold.Key
	for i := min(at, len(slots)) - 1; i >= 0 && slots[i].Step.Kind != procedure.Sign; i-- {
		if a := t.answers[slots[i].Key]; a != nil && a.State == Ready {
			first = slots[i].Key
		}
	}
	return first
}
