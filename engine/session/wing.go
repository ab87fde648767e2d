package session

import (
	"fmt"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/logbook"
	"example.org/linewright/engine/store"
)

// first makes what the first line of a job on a wing says, but for its number
// and its plan: who works on what, and what the wing brings along: its hours,
// what earlier jobs left, the loops that somebody measured. It refuses where
// another job has a link of the wing open.
func (d Desk) first(w store.Wing, n New) (job.Start, error) {
	start := job.Start{WingID: w.ID, WingName: w.Name, Serial: w.Serial, Bench: n.Bench, Reason: n.Reason, Demo: n.Demo}
	pages, err := d.pagesOf(w.ID)
	if err != nil {
		return start, err
	}
	if err := linkOpen(pages, w.ID, 0); err != nil {
		return start, err
	}
	if n.Hours != "" {
		h, err := job.ParseHours(n.Hours)
		if err != nil {
			return start, err
		}
		start.Hours = &h
	}
	book, err := d.BookOf(w.ID, pages, start.Hours)
	if err != nil {
		return start, err
	}
	start.Carried = book.Carried()
	if start.Loops, err = d.loops(w.ID); err != nil {
		return start, err
	}
	if n.Bench.Name == "" {
		start.Bench, err = d.Bench()
	}
	return start, err
}

// linkOpen refuses work on a wing on which another job has left a link open:
// one link is open at a time on a wing, whatever the job. except is the job
// that asks.
func linkOpen(pages []logbook.Page, wing string, except int) error {
	for _, p := range pages {
		if p.Job != except && p.Wing == wing && p.LinkOpen != "" {
			return fmt.Errorf("the %s of this wing is open in job %d\n  close it there first: one link is open at a time", p.LinkOpen, p.Job)
		}
	}
	return nil
}
