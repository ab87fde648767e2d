// Package session is the one loop between a front end and the engine: it
// holds the clock, the lock of the job and the keys; it decides, appends,
// syncs and applies, in that order and nowhere else.
//
// One confirmed entry is one event, one line, one sync. What Enter returns
// without an error is on the disk and may be shown as saved.
package session

import (
	"errors"
	"fmt"
	"time"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/journal"
	"example.org/linewright/engine/logbook"
	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/seal"
	"example.org/linewright/engine/store"
	"example.org/linewright/engine/wing"
)

// Desk is what a session works with. It is made once by the command.
type Desk struct {
	Store      *store.Store
	Procedures []procedure.File // shipped ones and the user's own
	Who        string           // name of the person at the bench
	Clock      func() time.Time
	Agent      string // socket of an ssh-agent; "" for none
	Elsewhere  bool   // a bare command would look for another store: Command names this one
	// Progress is told how many jobs were read, where that takes time; nil for
	// nobody.
	Progress func(done, of int)
}

// Session is one sitting at one job. It is not safe for use by several
// goroutines at once: entries have an order.
type Session struct {
	desk    Desk
	dir     *store.JobDir
	job     *job.Job
	sitting int
	doer    *Person
	stopped error // the failed write after which nothing is taken
	due     []logbook.Due
}

// Person is somebody with a key that is open.
type Person struct {
	Name   string
	Signer seal.Signer
}

// New says what a job starts with.
type New struct {
	Wing   string
	Reason string
	Bench  metrology.Bench // zero: the profile of the workplace
	Hours  string          // flying hours of the wing now, as typed; "" where they are not known
	Demo   bool
}

// Start makes a job on a wing and writes its first line.
func (d Desk) Start(n New) (*Session, error) {
	if err := seal.CheckName(d.Who); err != nil {
		return nil, err
	}
	w, err := d.Store.Wing(n.Wing)
	if err != nil {
		return nil, err
	}
	plan, err := d.Store.PlanBytes(w)
	if err != nil {
		return nil, err
	}
	if _, err := wing.ParsePlan(plan, "plan of "+w.ID); err != nil {
		return nil, err
	}
	start, err := d.first(w, n)
	if err != nil {
		return nil, err
	}
	dir, err := d.Store.NewJob(d.Who)
	if err != nil {
		return nil, err
	}
	s := &Session{desk: d, dir: dir, job: job.New(dir), sitting: 1}
	if start.Plan, err = dir.Pin(plan); err != nil {
		return nil, errors.Join(err, s.Close())
	}
	start.Job = dir.No()
	if err := s.write(job.Begin(s.stamp(), start)); err != nil {
		return nil, errors.Join(err, s.Close())
	}
	return s, nil
}

// Open takes a job up again. It writes nothing.
func (d Desk) Open(no int) (*Session, error) {
	if err := seal.CheckName(d.Who); err != nil {
		return nil, err
	}
	dir, err := d.Store.OpenJob(no, d.Who)
	if err != nil {
		return nil, err
	}
	s := &Session{desk: d, dir: dir}
	if err := s.replay(); err != nil {
		return nil, errors.Join(err, s.Close())
	}
	s.sitting = s.job.Sitting + 1
	return s, nil
}

// Replay folds the lines of a journal into a job.
func Replay(lines []journal.Line, pins job.Pins) (*job.Job, error) {
	j := job.New(pins)
	for _, l := range lines {
		e, err := job.Decode(l.Event)
		if err != nil {
			return nil, fmt.Errorf("line %d of the journal %w\n  restore the job from a backup or an export", l.N, err)
		}
		if err := j.Apply(e); err != nil {
			return nil, err
		}
	}
	return j, nil
}

// Look reads a job without its lock: for lists and exports.
func (d Desk) Look(no int) (*job.Job, []journal.Line, error) {
	lines, err := d.Store.ReadJob(no)
	if err != nil {
		return nil, nil, err
	}
	j, err := Replay(lines, pinsOf{d.Store, no})
	return j, lines, err
}

// Holder names who has a job open at this moment, "" if nobody has.
func (d Desk) Holder(no int) (string, error) { return d.Store.Holder(no) }

// pinsOf reads the pinned files of a job that is not open.
type pinsOf struct {
	store *store.Store
	no    int
}

func (p pinsOf) Pinned(sha string) ([]byte, error) { return p.store.ReadPinned(p.no, sha) }

// Pins gives the pinned files of a job that need not be open.
func (d Desk) Pins(no int) job.Pins { return pinsOf{d.Store, no} }

func (s *Session) replay() error {
	j, err := Replay(s.dir.Log().Lines(), s.dir)
	if err != nil {
		return err
	}
	s.job = j
	return nil
}

// Close gives the job and its lock back. The doer's key is put away.
func (s *Session) Close() error {
	if s.doer != nil {
		s.doer.Signer.Forget()
	}
	return s.dir.Close()
}

// Job is the state of the job. Front ends read it; only Enter changes it.
func (s *Session) Job() *job.Job { return s.job }

// No is the job's number.
func (s *Session) No() int { return s.dir.No() }

// Who is the person at the bench.
func (s *Session) Who() string { return s.desk.Who }

// Recovery tells what had to be mended when the journal was opened.
func (s *Session) Recovery() journal.Recovery { return s.dir.Recovery() }

// Stopped gives the failed write after which nothing is taken until Mend.
func (s *Session) Stopped() error { return s.stopped }

// Card gives the card of the step that is due in a task.
func (s *Session) Card(task int) (job.Card, error) { return s.job.Card(task, s.sitting) }

// Preview gives an entry as it would be understood. Nothing is written.
func (s *Session) Preview(en job.Entry) (string, error) {
	return s.job.Understood(s.stamp(), en)
}

// Foresee gives the event that an entry would write, or the refusal: so a front
// end can show a verdict before it is taken. Nothing is written.
func (s *Session) Foresee(en job.Entry) (job.Event, error) {
	return job.Decide(s.job, s.stamp(), en)
}

// Enter decides an entry, writes its event and applies it. A *job.Refusal
// means that nothing was written and the entry can be mended; any other error
// means that it is not known to be on the disk, and Mend is needed.
func (s *Session) Enter(en job.Entry) (job.Event, error) {
	if s.stopped != nil {
		return job.Event{}, s.stopped
	}
	e, err := job.Decide(s.job, s.stamp(), en)
	if err != nil {
		return job.Event{}, err
	}
	return e, s.write(e)
}

// write appends one event and, once it is on the disk, applies it.
func (s *Session) write(e job.Event) error {
	body, err := job.Encode(e)
	if err != nil {
		return err
	}
	if _, err := s.dir.Log().Append(s.dir.Log().Head(), body); err != nil {
		s.stopped = fmt.Errorf("not saved: %w", err)
		return s.stopped
	}
	return s.job.Apply(e)
}

// Mend opens the journal again after a failed write and reads back what is
// really there. The line that failed may be there or not; the job says which.
func (s *Session) Mend() error {
	if err := s.dir.Reopen(); err != nil {
		return err
	}
	if err := s.replay(); err != nil {
		return err
	}
	s.stopped = nil
	return nil
}

// Now is the time with which an entry would be written now, RFC 3339.
func (s *Session) Now() string { return s.desk.Clock().UTC().Format(time.RFC3339) }

func (s *Session) stamp() job.Stamp {
	head := s.dir.Log().Head()
	st := job.Stamp{At: s.Now(), Who: s.desk.Who, Sitting: s.sitting, HeadN: head.N, Head: head.Hash}
	if s.doer != nil {
		st.Key = s.doer.Signer.Public().Fingerprint()
	}
	return st
}

// Library reads the procedures that are offered. The error lists the faults of
// those that are not.
func (d Desk) Library() (*procedure.Library, error) { return procedure.Known(d.Procedures) }

// AddTask pins a procedure with all that it includes, and adds it as a task.
// It fails with a *procedure.BarError where the procedure does not fit.
func (s *Session) AddTask(id string, target wing.Ref, reason string) (int, error) {
	lib, faults := s.desk.Library()
	p, ok := lib.Get(id)
	if !ok {
		if faults != nil {
			return 0, faults
		}
		return 0, fmt.Errorf("there is no procedure %q\n  procedures here: %v", id, lib.IDs())
	}
	if _, err := procedure.Unfold(p, s.job.Plan, target); err != nil {
		return 0, err // before anything is pinned
	}
	pages, err := s.desk.pagesOf(s.job.Start.WingID)
	if err != nil {
		return 0, err
	}
	if err := linkOpen(pages, s.job.Start.WingID, s.No()); err != nil {
		return 0, err
	}
	add := &job.Add{Procedure: p.ID, Edition: p.Edition, Target: target}
	for i, part := range p.Parts() {
		sha, err := s.dir.Pin(part.Bytes())
		if err != nil {
			return 0, err
		}
		if i == 0 {
			add.SHA256 = sha
			continue
		}
		add.Parts = append(add.Parts, sha)
	}
	e, err := s.Enter(job.Entry{Kind: job.EnterAdd, Add: add, Text: reason})
	return e.Task, err
}

// KeepPhoto copies a picture into the job; it is a part of it once an entry
// names it.
func (s *Session) KeepPhoto(path string) (job.Photo, error) {
	sha, name, err := s.dir.AddPhoto(path)
	return job.Photo{Name: name, SHA256: sha}, err
}

// AddPhoto copies a picture into the job and enters it for the step that is
// due.
func (s *Session) AddPhoto(task int, key, path string) (job.Event, error) {
	photo, err := s.KeepPhoto(path)
	if err != nil {
		return job.Event{}, err
	}
	return s.Enter(job.Entry{Kind: job.EnterAnswer, Task: task, Key: key, Text: photo.Name, Photo: &photo})
}
