package session

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/journal"
	"example.org/linewright/engine/seal"
	"example.org/linewright/engine/store"
)

// HandOn is what is said when a job goes to another place.
type HandOn struct {
	To    string   // who goes on with it
	Words string   // what they have to know
	Safe  []string // answers to job.SafeState
}

// HandOn hands the job on and writes it to w as one file, for TakeOver on another
// machine. All of it is read once before the line is written that ends the work
// here, so that no job is handed on that cannot be packed. What fails after that
// line is mended by calling it again: a job that is handed on, or closed, is
// packed as it is.
func (s *Session) HandOn(h HandOn, w io.Writer) error {
	if err := s.pack(io.Discard); err != nil {
		return err
	}
	if s.job.Closed == nil && s.job.HandedTo() == "" {
		if _, err := s.Enter(job.Entry{Kind: job.EnterHandOn, To: h.To, Text: h.Words, Safe: h.Safe}); err != nil {
			return err
		}
	}
	return s.pack(w)
}

func (s *Session) pack(w io.Writer) error {
	lines := s.dir.Log().Lines()
	if err := notTooLong(lines); err != nil {
		return err
	}
	pins, photos, err := needs(s.job)
	if err != nil {
		return err
	}
	start := s.job.Start
	return s.desk.Store.PackJob(s.No(), store.Packing{Job: start.Job, Wing: start.WingID, Lines: lines, Pinned: pins, Photos: photos}, w)
}

// Arrival says how a packed job came here.
type Arrival struct {
	Was     int  // its number in the journal; Session.No is the one here
	Lines   int  // of the journal that were not here before
	Home    bool // the job was here before
	NewWing bool // its wing was not
}

// Receive says how a packed job is taken over.
type Receive struct {
	// SameWing: a person knows the wing of that id here to be the job's wing. It
	// is asked for where no serial number tells.
	SameWing bool
	Progress func(done, of int) // files written; nil: nobody looks
}

// TakeOver takes up a job that HandOn packed into r, which has size bytes, and
// writes the line by which it goes on here; a closed job gets none. The whole job
// is folded before anything is written. The caller closes the session.
func (d Desk) TakeOver(r io.ReaderAt, size int64, how Receive) (*Session, Arrival, error) {
	if err := seal.CheckName(d.Who); err != nil {
		return nil, Arrival{}, err
	}
	p, err := store.ReadPacked(r, size)
	if err != nil {
		return nil, Arrival{}, err
	}
	if err := sound(p); err != nil {
		return nil, Arrival{}, err
	}
	taken, err := d.Store.TakeJob(p, store.Take{Holder: d.Who, SameWing: how.SameWing, Progress: how.Progress})
	if err != nil {
		return nil, Arrival{}, err
	}
	s := &Session{desk: d, dir: taken.Job}
	if err := s.goOn(); err != nil {
		return nil, Arrival{}, errors.Join(err, s.Close())
	}
	return s, Arrival{Was: p.Job, Lines: taken.Lines, Home: taken.Home, NewWing: taken.NewWing}, nil
}

// goOn writes the line by which a job that was handed on goes on here.
func (s *Session) goOn() error {
	if err := s.replay(); err != nil {
		return err
	}
	s.sitting = s.job.Sitting + 1
	if s.job.HandedTo() == "" {
		return nil
	}
	_, err := s.Enter(job.Entry{Kind: job.EnterTakeOver})
	return err
}

// unsound is a packed job that does not hold together.
func unsound(what string) error {
	return errors.New("this packed job cannot be taken up: " + what + "\n" +
		"  have the job packed again where it comes from, and take that file as it is")
}

// sound folds a packed job and sees that everything in the pack is what the
// events name, no more and no less. The pack may come from a stranger.
func sound(p *store.Packed) error {
	if err := notTooLong(p.Lines()); err != nil {
		return err
	}
	j, err := Replay(p.Lines(), p)
	if err != nil {
		return err
	}
	pins, photos, err := needs(j)
	switch {
	case err != nil:
		return err
	case j.Start.Job != p.Job || j.Start.WingID != p.Wing.ID:
		return unsound("number or wing are not those of its journal")
	case j.Closed == nil && j.HandedTo() == "":
		return unsound("it was not handed on")
	}
	if what := different(p.PinnedNames(), pins); what != "" {
		return unsound("plan and procedures: " + what)
	}
	if what := different(p.PhotoNames(), photos); what != "" {
		return unsound("photos: " + what)
	}
	return nil
}

// different names a file that is missing from a sorted list, or is one too many.
func different(have, want []string) string {
	for _, name := range want {
		if _, ok := slices.BinarySearch(have, name); !ok {
			return fmt.Sprintf("%.80q is missing", name)
		}
	}
	for _, name := range have {
		if _, ok := slices.BinarySearch(want, name); !ok {
			return fmt.Sprintf("nothing in the journal names %q", name)
		}
	}
	return ""
}

// needs gives the SHA-256 of the plan and the procedures, and the names of the
// photos, that the events of a job name; both in order.
func needs(j *job.Job) (pins, photos []string, err error) {
	for _, e := range j.Events() {
		switch e.Kind {
		case job.Started:
			pins = append(pins, e.Start.Plan)
		case job.Added:
			pins = append(append(pins, e.Add.SHA256), e.Add.Parts...)
		}
		for _, p := range e.Photos() {
			if !strings.HasPrefix(p.Name, p.SHA256+".") {
				return nil, nil, unsound(fmt.Sprintf("the journal names a photo %.80q that no job of this program has", p.Name))
			}
			photos = append(photos, p.Name)
		}
	}
	return sortedOnce(pins), sortedOnce(photos), nil
}

func sortedOnce(names []string) []string {
	slices.Sort(names)
	return slices.Compact(names)
}

// More than any job needs, as a record is checked to: the journal of a stranger
// must not keep the program busy for hours.
const (
	mostLines = 100_000
	mostTasks = 1000
)

func notTooLong(lines []journal.Line) error {
	tasks := 0
	for _, l := range lines {
		if bytes.Contains(l.Event, []byte(`"kind":"add"`)) {
			tasks++
		}
	}
	if len(lines) > mostLines || tasks > mostTasks {
		return fmt.Errorf("the job has %d lines and %d tasks; with more than %d or %d it cannot be handed on\n  see whether it is the journal of one job",
			len(lines), tasks, mostLines, mostTasks)
	}
	return nil
}

// JobName names a job by its number here, and by the one in its journal where
// that is another: on another machine the number was taken.
func JobName(no int, start job.Start) string {
	if no == start.Job {
		return fmt.Sprintf("job %d", no)
	}
	return fmt.Sprintf("job %d here, job %d in its journal", no, start.Job)
}
