package store

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"sync"

	"example.org/linewright/engine/journal"
)

// maxFirst is more than the first line of a journal can have.
const maxFirst = journal.MaxEvent + 1<<10

// JobHead is where the journal of one job stands.
type JobHead struct {
	No   int
	Head journal.Head // empty where no whole line is written
	Err  error        // why it cannot be told; a job does not hide the others
}

// JobHead returns number and hash of the last whole line of a job's journal. It
// reads the end of the file only: what it says is what ReadJob and OpenJob say,
// but damage before the last line does not show. So it tells whether a job has
// moved on since somebody read it as a whole.
func (s *Store) JobHead(no int) (journal.Head, error) {
	head, _, err := s.headIn(s.root, journalPath(no), no)
	return head, err
}

// JobHeads returns the heads of all jobs that Jobs lists, in order. It is the
// quick way to all of them.
func (s *Store) JobHeads() ([]JobHead, error) {
	nos, err := s.JobFolders()
	if err != nil || len(nos) == 0 {
		return nil, err
	}
	jobs, err := s.root.OpenRoot("jobs")
	if err != nil {
		return nil, s.fault("jobs", "the folder cannot be read", err, "see that you may read it")
	}
	found := make([]*JobHead, len(nos))
	var reading sync.WaitGroup
	for begin := range headsAtOnce {
		reading.Go(func() {
			for i := begin; i < len(nos); i += headsAtOnce {
				found[i] = s.headOf(jobs, nos[i])
			}
		})
	}
	reading.Wait()
	var heads []JobHead
	for _, h := range found {
		if h != nil {
			heads = append(heads, *h)
		}
	}
	return heads, jobs.Close()
}

// headsAtOnce is how many journals are read at the same time.
const headsAtOnce = 4

// headOf is the head of a job whose folder lies in jobs; nil where nothing is
// written.
func (s *Store) headOf(jobs *os.Root, no int) *JobHead {
	head, empty, err := s.headIn(jobs, path.Join(path.Base(jobPath(no)), journalName), no)
	if empty || errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return &JobHead{no, head, err}
}

// headIn reads the head of the journal that lies under root as name.
func (s *Store) headIn(root *os.Root, name string, no int) (head journal.Head, empty bool, err error) {
	err = s.withJournal(root, name, no, func(f *os.File) error {
		info, err := f.Stat()
		if err != nil {
			return err
		}
		empty = info.Size() == 0
		head, err = journal.Tail(f, info.Size())
		return err
	})
	return head, empty, err
}

// startBytes is as much of a journal as JobStart reads: the first line and the
// tasks that a job most often begins with.
const startBytes = 16 << 10

// JobStart returns the first lines of a job's journal, as many as lie whole in
// its first 16 KiB: enough to say for a list what the job is.
func (s *Store) JobStart(no int) (lines []journal.Line, err error) {
	err = s.withJournal(s.root, journalPath(no), no, func(f *os.File) error {
		data, err := io.ReadAll(io.LimitReader(f, startBytes))
		if err != nil {
			return err
		}
		lines, _, err = journal.Parse(data[:bytes.LastIndexByte(data, '\n')+1])
		return err
	})
	return lines, err
}

// firstHash returns the hash of the first line of a job's journal, which tells
// jobs apart wherever they lie; nothing where no line is written.
func (s *Store) firstHash(no int) (hash string, err error) {
	err = s.withJournal(s.root, journalPath(no), no, func(f *os.File) error {
		data, err := io.ReadAll(io.LimitReader(f, maxFirst))
		if err != nil {
			return err
		}
		end := bytes.IndexByte(data, '\n')
		if end < 0 {
			return nil
		}
		lines, _, err := journal.Parse(data[:end+1])
		if err == nil {
			hash = lines[0].Hash
		}
		return err
	})
	return hash, err
}

// withJournal opens the journal of a job to read, without its lock.
func (s *Store) withJournal(root *os.Root, name string, no int, use func(*os.File) error) error {
	// Asked first, since opening a pipe would wait for its other end.
	info, err := root.Stat(name)
	if errors.Is(err, fs.ErrNotExist) {
		return noJob(no)
	}
	if err == nil && !info.Mode().IsRegular() {
		err = errors.New("not a regular file")
	}
	var f *os.File
	if err == nil {
		f, err = root.Open(name)
	}
	if err != nil {
		return s.fault(journalPath(no), "the journal cannot be read", err, "see that it is there and that you may read it")
	}
	if err := errors.Join(use(f), f.Close()); err != nil {
		return fmt.Errorf("%s: %w", s.path(journalPath(no)), err)
	}
	return nil
}
