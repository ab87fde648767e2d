package job

import (
	"fmt"
	"strings"

	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

// PartOp says how the order list moves on.
type PartOp string

// The moves of the order list.
const (
	PartList   PartOp = "list"      // a part is wanted
	PartDrop   PartOp = "drop"      // it is not wanted after all
	PartRead   PartOp = "read_back" // its code was read back from the plan or the old line
	PartOrder  PartOp = "order"     // all that is listed and read back is ordered: final
	PartTaken  PartOp = "receive"   // it came, and is right; lines are received by a task of their own
	PartReturn PartOp = "return"    // it came, and is wrong: it goes back on the list
)

// PartMove is one move of the order list, as it is entered and written. No is
// the part's number on the list, from 1; List gives a new one.
type PartMove struct {
	Op   PartOp `json:"op"`
	No   int    `json:"no,omitempty"`
	Text string `json:"text,omitempty"` // read_back: the code as it was read
	Part *Part  `json:"part,omitempty"` // list
}

// Part is what is ordered: as much as a maker or a workshop needs.
type Part struct {
	Thing    wing.Ref        `json:"thing"` // a line, a link or a retainer
	Count    int             `json:"count"`
	Length   quantity.Length `json:"length_um,omitempty"`
	LengthOf string          `json:"length_source,omitempty"` // "plan: …" or "copy of its twin: …"
	Material string          `json:"material,omitempty"`
	Diameter quantity.Length `json:"diameter_um,omitempty"`
	Loops    string          `json:"loops,omitempty"` // both ends, as they are made
	Why      string          `json:"why,omitempty"`   // the finding, or why it is one of a pair
	Finding  string          `json:"finding,omitempty"`
	Price    string          `json:"price,omitempty"` // as the maker states it
	Note     string          `json:"note,omitempty"`
}

// planLength begins the source of a length that is the plan's.
const planLength = "plan: "

// PartState says how far a part is.
type PartState string

// The states of a part.
const (
	Listed   PartState = "listed"
	ReadBack PartState = "read back"
	Ordered  PartState = "ordered"
	AtHand   PartState = "received"
	PartGone PartState = "dropped"
)

// Listing is a part on the order list with what became of it.
type Listing struct {
	No int
	Part
	Line     int      // of the journal, by which it was listed
	Order    int      // number of the order by which it was ordered; 0: by none
	Returned []string // reasons for which it went back on the list

	state PartState
	since int // line since which it is as it is
}

// Parts is the order list, in the order of its numbers.
func (j *Job) Parts() []*Listing { return j.parts }

// PartState says how far a part is. A line is received by a task of its own.
func (j *Job) PartState(l *Listing) PartState {
	if l.state == Ordered {
		for _, t := range j.Receipts(l.Thing) {
			if t.line > l.since && t.State() == Done {
				return AtHand
			}
		}
	}
	return l.state
}

// Receipts gives the tasks in which a part for a thing is looked at, or was.
func (j *Job) Receipts(thing wing.Ref) []*Task {
	var out []*Task
	for _, t := range j.Tasks {
		if t.Unfolded.Procedure.Receives && t.Add.Target == thing && t.state != Gone {
			out = append(out, t)
		}
	}
	return out
}

// Receiving gives the ordered part that a task looks at; false where it looks at
// none, or found it right.
func (j *Job) Receiving(task int) (*Listing, bool) {
	t, ok := j.Task(task)
	if !ok || !t.Unfolded.Procedure.Receives || t.state == Gone {
		return nil, false
	}
	l, ok := j.Wanted(t.Add.Target)
	return l, ok && l.state == Ordered
}

// Wanted reports whether a thing is on the list and not received yet.
func (j *Job) Wanted(thing wing.Ref) (*Listing, bool) {
	for _, l := range j.parts {
		if s := j.PartState(l); l.Thing == thing && s != PartGone && s != AtHand {
			return l, true
		}
	}
	return nil, false
}

// Have reports whether a part was received for a thing.
func (j *Job) Have(thing wing.Ref) bool {
	for _, l := range j.parts {
		if l.Thing == thing && j.PartState(l) == AtHand {
			return true
		}
	}
	return false
}

// part decides a move of the order list.
func (d *decider) part() error {
	m := d.en.Part
	if m == nil {
		return refuse(ValueWanted, "a move of the order list")
	}
	d.ev.Kind, d.ev.Part, d.ev.Task = Parted, m, 0
	switch m.Op {
	case PartList:
		return d.listPart(m)
	case PartOrder:
		return d.orderParts()
	}
	if m.No < 1 || m.No > len(d.j.parts) {
		return refuse(PartUnknown, m.No)
	}
	return d.movePart(d.j.parts[m.No-1], m)
}

func (d *decider) listPart(m *PartMove) error {
	p := m.Part
	if p == nil {
		return refuse(ValueWanted, "the part")
	}
	if !d.j.Plan.Has(p.Thing) || p.Count < 1 || p.Count > 99 {
		return refuse(PartNoThing, p.Thing, p.Count)
	}
	if l, ok := d.j.Wanted(p.Thing); ok {
		return refuse(PartTwice, p.Thing, l.No)
	}
	for _, text := range []string{p.LengthOf, p.Material, p.Loops, p.Why, p.Price, p.Note} {
		if err := decent(text); err != nil {
			return err
		}
	}
	if p.Length < 0 || p.Length > 0 && p.LengthOf == "" {
		return refuse(PartLength, p.Thing)
	}
	if l, ok := d.j.Plan.LineAt(p.Thing); ok && p.Thing.Kind == wing.KindLine && p.Length > 0 && l.Length > 0 && (p.Length-l.Length).Abs() > farOff {
		return refuse(PartFar, p.Thing, p.Length, l.Length)
	}
	m.No = len(d.j.parts) + 1
	return nil
}

// orderParts makes the order final: every part on it was read back.
func (d *decider) orderParts() error {
	var unread []string
	ready := 0
	for _, l := range d.j.parts {
		switch d.j.PartState(l) {
		case Listed:
			unread = append(unread, l.Thing.String())
		case ReadBack:
			ready++
		}
	}
	switch {
	case len(unread) > 0:
		return refuse(PartUnread, strings.Join(unread, ", "))
	case ready == 0:
		return refuse(PartNone)
	}
	return nil
}

func (d *decider) movePart(l *Listing, m *PartMove) error {
	state := d.j.PartState(l)
	switch m.Op {
	case PartDrop:
		if state == PartGone || state == AtHand {
			return refuse(PartIs, l.Thing, state)
		}
		return d.partReason()
	case PartRead:
		if state != Listed {
			return refuse(PartIs, l.Thing, state)
		}
		return d.readBack(l, strings.TrimSpace(m.Text))
	case PartTaken:
		if state != Ordered {
			return refuse(PartIs, l.Thing, state)
		}
		if l.Thing.Kind == wing.KindLine {
			return refuse(PartByTask, l.Thing)
		}
		return d.partReason()
	case PartReturn:
		if state != Ordered && state != AtHand {
			return refuse(PartIs, l.Thing, state)
		}
		return d.partReason()
	}
	return refuse(PartOpUnknown, m.Op)
}

// partReason keeps the words behind a move: why it is dropped or sent back,
// what it was compared with when it came.
func (d *decider) partReason() error {
	text := strings.TrimSpace(d.en.Text)
	if text == "" {
		return refuse(ReasonMissing)
	}
	d.ev.Reason = text
	return nil
}

// readBack compares a code with the one that stands on the list. It is read
// from the plan or the old line, never from the list: a refusal does not say it.
func (d *decider) readBack(l *Listing, text string) error {
	want := l.Thing.Code
	if want == "" {
		want = string(l.Thing.Kind)
	}
	if text == want {
		return nil
	}
	return refuse(CodeCovered, text, "Wanted: "+l.CodeWanted()+". The list and what you read differ: look at the plan and at the old part.")
}

// CodeWanted says what is read back for a part, without the code.
func (l *Listing) CodeWanted() string {
	switch {
	case l.Thing.Code == "":
		return "the word " + string(l.Thing.Kind) + ", as it has no code"
	case l.Thing.Kind == wing.KindRetainer:
		return "the code of its link, letter by letter"
	}
	return "the code of the " + string(l.Thing.Kind) + ", letter by letter"
}

// applyPart moves the order list on.
func (j *Job) applyPart(e *Event, line int) error {
	m := e.Part
	switch m.Op {
	case PartList:
		if m.No != len(j.parts)+1 {
			return fmt.Errorf("part %d does not follow part %d", m.No, len(j.parts))
		}
		j.parts = append(j.parts, &Listing{No: m.No, Part: *m.Part, Line: line, state: Listed, since: line})
		return nil
	case PartOrder:
		j.orders++
		for _, l := range j.parts {
			if l.state == ReadBack {
				l.state, l.since, l.Order = Ordered, line, j.orders
			}
		}
		return nil
	}
	if m.No < 1 || m.No > len(j.parts) {
		return fmt.Errorf("there is no part %d", m.No)
	}
	l := j.parts[m.No-1]
	l.since = line
	switch m.Op {
	case PartDrop:
		l.state = PartGone
	case PartRead:
		l.state = ReadBack
	case PartTaken:
		l.state = AtHand
	case PartReturn:
		l.state, l.Order = Listed, 0
		l.Returned = append(l.Returned, e.Reason)
		j.endReceipt(l.Thing, e.Reason)
	default:
		return fmt.Errorf("the order list knows no %q", m.Op)
	}
	return nil
}

// endReceipt ends the task in which a part was looked at that goes back.
func (j *Job) endReceipt(thing wing.Ref, reason string) {
	for _, t := range j.Receipts(thing) {
		t.state, t.Reason = Gone, "the part went back: "+reason
	}
}
