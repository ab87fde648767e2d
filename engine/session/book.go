package session

import (
	"fmt"
	"time"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/logbook"
	"example.org/linewright/engine/trim"
)

// Pages gives what every job of the store says to the book of its wing, in the
// order of their numbers. A job that cannot be read has a page with its fault
// and hides no other. Pages are kept in the store's cache by the head of their
// journal; those that have to be made anew are counted to progress, which may
// be nil.
func (d Desk) Pages(progress func(done, of int)) ([]logbook.Page, error) {
	return d.pages(func(string) bool { return true }, progress)
}

// pagesOf is Pages for one wing, with the jobs of which it cannot be told on
// which wing they are.
func (d Desk) pagesOf(wing string) ([]logbook.Page, error) {
	return d.pages(func(of string) bool { return of == wing || of == "" }, d.Progress)
}

// page makes the page of a job anew. Of one that cannot be read as a whole the
// first line may still say of which wing it is.
func (d Desk) page(no int) logbook.Page {
	j, lines, err := d.Look(no)
	if err == nil && j.Lines == 0 {
		err = fmt.Errorf("nothing is written in job %d\n  start a new one for its wing", no)
	}
	if err == nil {
		p := logbook.PageOf(j)
		p.Job = no // a job that came from elsewhere can have got another number
		return p
	}
	p := logbook.Page{Job: no, Fault: err.Error()}
	if len(lines) > 0 {
		if e, err := job.Decode(lines[0].Event); err == nil && e.Start != nil {
			p.Wing, p.WingName, p.Serial, p.Begun = e.Start.WingID, e.Start.WingName, e.Start.Serial, e.At
		}
	}
	return p
}

// Book gives the logbook of a wing today. Its flying hours are those that its
// jobs know.
func (d Desk) Book(wing string) (logbook.Book, error) { return d.BookAt(wing, nil) }

// BookAt is Book where somebody says the wing's flying hours.
func (d Desk) BookAt(wing string, hours *job.Hours) (logbook.Book, error) {
	pages, err := d.pagesOf(wing)
	if err != nil {
		return logbook.Book{}, err
	}
	return d.BookOf(wing, pages, hours)
}

// BookOf binds pages into the logbook of a wing today. hours is its flying
// time, nil where nobody says it.
func (d Desk) BookOf(wing string, pages []logbook.Page, hours *job.Hours) (logbook.Book, error) {
	w, err := d.Store.Wing(wing)
	if err != nil {
		return logbook.Book{}, err
	}
	b := logbook.Bind(wing, pages, d.Clock().UTC().Format(time.DateOnly), hours)
	b.Name, b.Serial = w.Name, w.Serial
	return b, nil
}

// loops reads what each loop takes on a wing; nil where nobody measured it.
func (d Desk) loops(wing string) (*trim.LoopTable, error) {
	data, err := d.Store.WingLoops(wing)
	if err != nil || data == nil {
		return nil, err
	}
	table, err := trim.ParseLoops(d.Store.WingLoopsPath(wing), data)
	if err != nil {
		return nil, err
	}
	return &table, nil
}

// Due lists the new lines of earlier jobs on the wing of this one that nobody has
// looked at again since, but for those whose time has not come. It is read once;
// of books that cannot be read it says nothing here.
func (s *Session) Due() []logbook.Due {
	if s.due != nil {
		return s.due
	}
	s.due = []logbook.Due{}
	start := s.job.Start
	pages, err := s.desk.pagesOf(start.WingID)
	if err != nil {
		return s.due
	}
	book, err := s.desk.BookOf(start.WingID, pages, start.Hours)
	if err != nil {
		return s.due
	}
	for _, d := range book.Due {
		if d.Finding == "" && d.Job < s.No() && d.Reach != logbook.Later {
			s.due = append(s.due, d)
		}
	}
	return s.due
}
