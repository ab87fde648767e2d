package record

import (
	"cmp"
	"fmt"

	"example.org/linewright/engine/job"
)

// What a job holds besides its tasks: findings, the order list, lengths of
// paths, and that it was handed on. Each key is left out of a record that has
// nothing for it.

// Finding is a defect with what became of it in this job.
type Finding struct {
	ID  string `json:"id"` // job and line by which it was first written
	At  string `json:"at"` // its original date
	Who string `json:"who"`
	// Carried says that it came from an earlier job.
	Carried bool   `json:"carried,omitempty"`
	Task    int    `json:"task,omitempty"`
	Step    string `json:"step,omitempty"`
	job.Found
	ThingAs  string        `json:"thing_text"`
	State    string        `json:"state"` // "open", "mended", "cleared", "deferred", "struck" or "sound"
	MendedBy int           `json:"mended_by_task,omitempty"`
	Struck   string        `json:"struck,omitempty"`
	Deferred *job.Deferral `json:"deferred,omitempty"`
	Cleared  *Cleared      `json:"cleared,omitempty"`
}

// Cleared says by which line a finding ended, and how.
type Cleared struct {
	Stamp
	Way    job.Way `json:"way"`
	Reason string  `json:"reason"`
}

// OrderItem is a part of the order list with all that was entered for it.
type OrderItem struct {
	No int `json:"no"`
	job.Part
	ThingAs string      `json:"thing_text"`
	State   string      `json:"state"`
	Order   int         `json:"order,omitempty"`
	Moves   []OrderMove `json:"moves"`
}

// OrderMove is one entry for a part.
type OrderMove struct {
	Stamp
	Op   job.PartOp `json:"op"`
	Text string     `json:"text,omitempty"`
}

// LengthAt is the last length of a path that counts in this job.
type LengthAt struct {
	Stamp
	Task int `json:"task"`
	job.PathLength
	Decided string `json:"decided,omitempty"`
}

// Handover says that the job went to another person, or was taken over.
type Handover struct {
	Stamp
	To   string   `json:"to,omitempty"`
	Text string   `json:"text,omitempty"`
	Safe []string `json:"safe,omitempty"`
}

// whole gathers what does not belong to one task.
func (b *builder) whole() {
	for _, f := range b.job.Findings() {
		b.c.Findings = append(b.c.Findings, b.finding(f))
	}
	for _, l := range b.job.Parts() {
		b.c.Order = append(b.c.Order, b.ordered(l))
	}
	for _, l := range b.job.PathLengths() {
		b.c.Lengths = append(b.c.Lengths, LengthAt{b.stamp(l.Line), l.Task, l, l.Decided})
	}
	for i, e := range b.events {
		if e.Kind == job.HandedOn || e.Kind == job.TakenOver {
			b.c.Handovers = append(b.c.Handovers, Handover{b.stamp(i + 1), e.To, e.Text, e.Safe})
		}
	}
	b.c.Hours = b.job.Start.Hours
}

func (b *builder) finding(f *job.Finding) Finding {
	state, by := b.job.StateOf(f)
	out := Finding{
		ID: f.ID, At: f.At, Who: f.Who, Carried: f.Task == 0, Task: f.Task, Step: f.Key, Found: f.Found, ThingAs: f.Thing.String(),
		State: string(state), Struck: f.Struck, Deferred: f.Deferred,
	}
	if by != nil {
		out.MendedBy = by.No
	}
	if f.Clear != nil {
		for i, e := range b.events {
			if e == f.Clear {
				out.Cleared = &Cleared{b.stamp(i + 1), e.Way, e.Reason}
			}
		}
	}
	return out
}

// ordered gives a part with its moves. An order is one of them where the part
// had been read back for it.
func (b *builder) ordered(l *job.Listing) OrderItem {
	out := OrderItem{No: l.No, Part: l.Part, ThingAs: l.Thing.String(), State: string(b.job.PartState(l)), Order: l.Order}
	ready := false
	for i, e := range b.events {
		if e.Kind != job.Parted || e.Part.No != l.No && !(e.Part.Op == job.PartOrder && ready) {
			continue
		}
		ready = e.Part.Op == job.PartRead
		out.Moves = append(out.Moves, OrderMove{b.stamp(i + 1), e.Part.Op, cmp.Or(e.Reason, e.Part.Text)})
	}
	return out
}

// openFindings puts what was found and is not over among the open items, with
// its original date.
func (b *builder) openFindings() {
	for _, f := range b.c.Findings {
		it := OpenItem{Task: f.Task, Step: f.Step, Text: fmt.Sprintf("finding on %s: %s", f.ThingAs, f.Text), At: f.At}
		switch job.FindingState(f.State) {
		case job.StateOpen:
			it.Grounds = f.Disposition.Grounds()
		case job.StateDeferred:
			it.Text += "; carried over until " + f.Deferred.Limit() + ": " + f.Deferred.Reason
		default:
			continue
		}
		b.c.Open = append(b.c.Open, it)
	}
}

// wholeStep adds what a step of a whole wing holds.
func (out *Step) wholeStep(e *job.Event) {
	out.Trim, out.Move, out.Loops, out.Lengths = e.Trim, e.Move, e.Loops, e.Lengths
}
