package record

import (
	"fmt"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/procedure"
)

func stepName(task int, key string) string { return fmt.Sprintf("%d/%s", task, key) }

// history lists, in the order of the journal, what was taken back, done again
// or said beside the steps.
func (b *builder) history() {
	c := &b.c
	c.Strikes, c.Reopenings, c.Disagreements, c.Confirmations = []Change{}, []Change{}, []Change{}, []Change{}
	c.Superseded, c.Pauses, c.Notes, c.Looks, c.Benches = []HoldAt{}, []Pause{}, []Note{}, []Look{}, []BenchAt{}
	for i, e := range b.events {
		at := b.stamp(i + 1)
		change := Change{Stamp: at, Task: e.Task, Step: e.Key, Reason: e.Reason, Struck: e.Line, Voids: e.Voids}
		switch e.Kind {
		case job.Struck:
			c.Strikes = append(c.Strikes, change)
		case job.Reopened:
			c.Reopenings = append(c.Reopenings, change)
		case job.Disagreed:
			c.Disagreements = append(c.Disagreements, change)
		case job.Confirmed:
			c.Confirmations = append(c.Confirmations, change)
		case job.LaidDown, job.TakenUp, job.Dropped:
			c.Pauses = append(c.Pauses, Pause{at, e.Task, string(e.Kind), e.Reason, e.Safe})
		case job.Noted:
			c.Notes = append(c.Notes, Note{at, e.Task, e.Key, e.Text, b.struck[i+1]})
		case job.Looking:
			c.Looks = append(c.Looks, Look{at, e.Task, e.Key, e.Text})
		case job.Benched:
			c.Benches = append(c.Benches, BenchAt{at, *e.Bench})
		case job.Signed:
			b.superseded(at, e)
		}
	}
}

// superseded lists a signature whose step was opened again.
func (b *builder) superseded(at Stamp, e *job.Event) {
	t, ok := b.job.Task(e.Task)
	if !ok {
		return
	}
	if a := t.At(e.Key); a != nil && a.State == job.Ready && a.Line == at.Line {
		return
	}
	b.c.Superseded = append(b.c.Superseded, HoldAt{at, e.Task, e.Key, hold(e.Sign), b.voidedBy(e.Task, e.Key, at.Line)})
}

// people lists who made entries, in the order of their first: those who worked,
// and those who only looked at it as the second person.
func (b *builder) people() {
	did, looked := names{list: []string{}}, names{list: []string{}}
	for _, e := range b.events {
		if b.bySecond(e) {
			looked.add(e.Who)
		} else {
			did.add(e.Who)
		}
	}
	b.c.People, b.c.SecondPeople = did.list, looked.list
}

// bySecond reports whether the second person made an entry. What is said about
// one of their steps, to open it again or to confirm it, is the doer's.
func (b *builder) bySecond(e *job.Event) bool {
	switch e.Kind {
	case job.Looking:
		return true
	case job.Answered, job.Read, job.Settled, job.Decided, job.Stands, job.Signed, job.Disagreed, job.FoundOne:
		t, ok := b.job.Task(e.Task)
		if !ok {
			return false
		}
		s, ok := t.Unfolded.Slot(e.Key)
		return ok && s.Card.By == procedure.Second
	}
	return false
}
