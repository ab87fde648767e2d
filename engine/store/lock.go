package store

import (
	"errors"
	"fmt"
	"os"
	"path"
	"strings"

	"github.com/gofrs/flock"
)

// lockJob takes the lock of a job or returns a *LockedError. The lock ends with
// the process. Its file is never removed: two programs could then each hold a
// lock on a file of that name.
func (s *Store) lockJob(no int, holder string) (*flock.Flock, error) {
	lock, err := s.tryLock(path.Join(jobPath(no), "lock"))
	if err != nil {
		return nil, err
	}
	if lock == nil {
		return nil, &LockedError{Job: no, Holder: s.holder(no)}
	}
	if err := s.write(holderPath(no), []byte(holderText(holder)+"\n"), 0o644); err != nil {
		return nil, errors.Join(err, lock.Unlock())
	}
	return lock, nil
}

// tryLock takes a lock; nil when another program holds it.
func (s *Store) tryLock(name string) (*flock.Flock, error) {
	if err := s.touch(name); err != nil {
		return nil, s.fault(name, "the lock cannot be opened", err, "see that you may write there")
	}
	lock := flock.New(s.path(name))
	got, err := lock.TryLock()
	if err != nil {
		return nil, s.fault(name, "the lock cannot be taken", err, "keep the store on a disk that knows file locks")
	}
	if !got {
		return nil, nil
	}
	return lock, nil
}

// touch creates the file if it is absent. The lock library goes by path; this
// goes through the root first, which refuses a link that leads out.
func (s *Store) touch(name string) error {
	if info, err := s.root.Lstat(name); err == nil && !info.Mode().IsRegular() {
		return errors.New("not a regular file")
	}
	f, err := s.root.OpenFile(name, os.O_CREATE|os.O_RDWR, 0o644)
	if err != nil {
		return err
	}
	return f.Close()
}

func holderPath(no int) string { return path.Join(jobPath(no), "holder") }

// holderText says who holds a lock, in words for the one who waits.
func holderText(who string) string {
	if who == "" {
		who = "somebody"
	}
	host, err := os.Hostname()
	if err != nil {
		host = "an unknown machine"
	}
	return clean(fmt.Sprintf("%s, process %d on %s", clip(who), os.Getpid(), host))
}

// Holder names who has a job open at this moment, "" if nobody has. A name is
// written for as long as a job is open, so most jobs have none and are not
// asked for their lock; where one stands only the lock knows whether it still
// holds, and it is taken for an instant.
func (s *Store) Holder(no int) (string, error) {
	if no < 1 || no > MaxJob || !s.exists(jobPath(no)) {
		return "", noJob(no)
	}
	if !s.exists(holderPath(no)) {
		return "", nil
	}
	lock, err := s.tryLock(path.Join(jobPath(no), "lock"))
	if err != nil {
		return "", err
	}
	if lock == nil {
		return s.holder(no), nil
	}
	return "", lock.Unlock()
}

// holder reads who holds the lock. The file is a courtesy: the lock is what
// counts, so a missing or strange one is no error.
func (s *Store) holder(no int) string {
	data, err := s.readOptional(holderPath(no), 1<<10)
	text := strings.TrimSpace(string(data))
	if err != nil || text == "" {
		return "somebody who has just opened it"
	}
	return clean(text)
}
