package store

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"slices"

	"example.org/linewright/engine/journal"
)

// Take says how a packed job is taken up.
type Take struct {
	Holder string // who, for others who want to open the job
	// SameWing: a person says that the wing of that id here is the one that the
	// job is about. It is needed where no serial number says so.
	SameWing bool
	// Progress is told how many of the files are written; nil: nobody looks.
	Progress func(done, of int)
}

// Taken is a job that was taken up.
type Taken struct {
	Job     *JobDir // open: the caller closes it
	Lines   int     // of the journal that were not here before
	Home    bool    // the job was here before
	NewWing bool    // its wing was not
}

// ForkError says that work on one job went on in two places.
type ForkError struct {
	Job         int // here
	Line        int // the first on which they differ
	Here, There journal.Head
}

func (e *ForkError) Error() string {
	return fmt.Sprintf("job %d here and the packed job are one job up to line %d and differ from there on: "+
		"here %d lines, the last %.12s; packed %d lines, the last %.12s\n"+
		"nothing was changed; go on with the one that tells what was done on the wing, and note in it what only the other tells",
		e.Job, e.Line-1, e.Here.N, e.Here.Hash, e.There.N, e.There.Hash)
}

// TakeJob puts a packed job into the store and opens it. Where it is here
// already it comes home: the packed journal goes on from the one here, or is the
// same, else a *ForkError or another refusal leaves all as it was. A job that was
// not here keeps the number that its journal claims if that is free, and has the
// next one else; Taken.Job tells.
//
// The journal is written last and at once, so a crash before leaves a number
// under which no job is listed, or the job as it was; taking it up again mends
// that.
func (s *Store) TakeJob(p *Packed, t Take) (Taken, error) {
	if err := s.makeDir("jobs"); err != nil {
		return Taken{}, s.fault("jobs", "the folder cannot be created", err, "see that you may write there")
	}
	// Two programs would each find that the job is not here.
	lock, err := s.tryLock("jobs/.taking")
	if err != nil {
		return Taken{}, err
	}
	if lock == nil {
		return Taken{}, &Error{What: "another program is taking up a job", Do: "try again when it is done"}
	}
	taken, err := s.take(p, t)
	return taken, errors.Join(err, lock.Unlock())
}

func (s *Store) take(p *Packed, t Take) (Taken, error) {
	no, err := s.findJob(p.lines[0].Hash)
	if err != nil {
		return Taken{}, err
	}
	if no > 0 {
		return s.comeHome(no, p, t)
	}
	if err := s.sameWing(p.Wing, t.SameWing); err != nil {
		return Taken{}, err
	}
	added, err := s.bringWing(p)
	if err != nil {
		return Taken{}, err
	}
	j, err := s.newJob(p.Job, t.Holder)
	if err != nil {
		return Taken{}, err
	}
	if err := j.install(p, t.Progress); err != nil {
		return Taken{}, errors.Join(err, j.empty(), j.Close())
	}
	return Taken{Job: j, Lines: len(p.lines), NewWing: added}, nil
}

// empty takes away what was written into a new job before its journal. Its
// number stays given out.
func (j *JobDir) empty() error {
	if head, err := j.store.JobHead(j.no); err != nil || head.N > 0 {
		return err
	}
	var errs []error
	for _, dir := range []string{"pinned", "photos"} {
		errs = append(errs, j.store.root.RemoveAll(path.Join(jobPath(j.no), dir)))
	}
	return errors.Join(errs...)
}

// findJob returns the job whose first line has a hash; 0 for none. A journal
// that cannot be read is not the one, or is past going on with.
func (s *Store) findJob(first string) (int, error) {
	nos, err := s.JobFolders()
	if err != nil {
		return 0, err
	}
	for _, no := range nos {
		if hash, err := s.firstHash(no); err == nil && hash == first {
			return no, nil
		}
	}
	return 0, nil
}

// comeHome lets a job that is here go on as the packed one does.
func (s *Store) comeHome(no int, p *Packed, t Take) (Taken, error) {
	j, err := s.OpenJob(no, t.Holder)
	if err != nil {
		return Taken{}, err
	}
	here := j.Log().Lines()
	err = follows(no, here, p.lines)
	if err == nil {
		err = j.sameClosing(p)
	}
	added := false
	if err == nil {
		added, err = s.bringWing(p)
	}
	if err == nil {
		err = j.install(p, t.Progress)
	}
	if err != nil {
		return Taken{}, errors.Join(err, j.Close())
	}
	return Taken{Job: j, Lines: len(p.lines) - len(here), Home: true, NewWing: added}, nil
}

// follows refuses a packed journal that does not go on from the one here. The
// hash of a line stands for all lines up to it.
func follows(no int, here, there []journal.Line) error {
	n := min(len(here), len(there))
	if here[n-1].Hash == there[n-1].Hash {
		if len(here) <= len(there) {
			return nil
		}
		return &Error{What: fmt.Sprintf("job %d is further on here: it has %d lines, the packed one %d", no, len(here), len(there)),
			Do: "nothing was changed; go on with the job here, or take up a later file"}
	}
	at, _ := slices.BinarySearchFunc(here[:n], there, func(l journal.Line, there []journal.Line) int {
		if l.Hash == there[l.N-1].Hash {
			return -1
		}
		return 1
	})
	return &ForkError{no, at + 1, here[len(here)-1].Head(), there[len(there)-1].Head()}
}

// sameClosing refuses a closing signature where another one stands.
func (j *JobDir) sameClosing(p *Packed) error {
	have, err := j.Closing()
	if err != nil {
		return err
	}
	for _, role := range slices.Sorted(maps.Keys(p.closing)) {
		if have[role] != nil && !bytes.Equal(have[role], p.closing[role]) {
			return &Error{What: fmt.Sprintf("job %d is signed as %s here and in the packed job, and not by the same signature", j.no, role),
				Err: fs.ErrExist, Do: "nothing was changed; the signature here stands"}
		}
	}
	return nil
}

// install writes a packed job into an open job. Its journal is written when all
// that it names is there, and the closing signatures, which are made over it,
// after that.
func (j *JobDir) install(p *Packed, progress func(done, of int)) error {
	done := 0
	count := func() {
		if done++; progress != nil {
			progress(done, len(p.pinned)+len(p.photos))
		}
	}
	for _, sha := range p.PinnedNames() {
		if _, err := j.Pin(p.pinned[sha]); err != nil {
			return err
		}
		count()
	}
	for _, name := range p.PhotoNames() {
		if err := j.installPhoto(p, name); err != nil {
			return err
		}
		count()
	}
	if len(p.lines) > len(j.log.Lines()) {
		if err := j.replaceJournal(p.lines); err != nil {
			return err
		}
	}
	for _, role := range slices.Sorted(maps.Keys(p.closing)) {
		if err := j.WriteClosing(role, p.closing[role]); err != nil {
			return err
		}
	}
	return nil
}

func (j *JobDir) installPhoto(p *Packed, name string) error {
	data, err := readPart(p.photos[name])
	if err != nil {
		return err
	}
	if hashOf(data)+path.Ext(name) != name { // since it was read first
		return changed(packPhotos + name)
	}
	_, err = j.store.writeHashed(path.Join(jobPath(j.no), "photos"), path.Ext(name), data)
	return err
}

// replaceJournal puts another journal in the place of the one that is open, as a
// whole.
func (j *JobDir) replaceJournal(lines []journal.Line) error {
	// Not every system renames over a file that is open.
	if err := j.log.Close(); err != nil {
		return err
	}
	if err := j.store.write(journalPath(j.no), journal.Join(lines), 0o644); err != nil {
		return err
	}
	return j.Reopen()
}
