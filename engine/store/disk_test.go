package store

import (
	"encoding/json"
	"errors"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.org/linewright/engine/journal"
)

// brokenFS is the disk under the journals of a store. It fails on demand and
// writes down what is opened, closed and synced by name.
type brokenFS struct {
	journal.FS
	cannotOpen, cannotWrite bool
	open                    int // files
	steps                   []string
}

type brokenFile struct {
	journal.File
	fs *brokenFS
}

var errFull = errors.New("the disk is full")

func breakable(s *Store) *brokenFS {
	b := &brokenFS{FS: s.files}
	s.files = b
	return b
}

func (b *brokenFS) OpenFile(name string, flag int) (journal.File, error) {
	if b.cannotOpen {
		return nil, errFull
	}
	b.steps = append(b.steps, "open "+name)
	f, err := b.FS.OpenFile(name, flag)
	if err != nil {
		return nil, err
	}
	b.open++
	return brokenFile{f, b}, nil
}

func (b *brokenFS) SyncDir(name string) error {
	b.steps = append(b.steps, "sync folder "+name)
	return b.FS.SyncDir(name)
}

func (f brokenFile) WriteAt(p []byte, off int64) (int, error) {
	if f.fs.cannotWrite {
		n, _ := f.File.WriteAt(p[:len(p)/2], off)
		return n, errFull
	}
	return f.File.WriteAt(p, off)
}

func (f brokenFile) Close() error {
	f.fs.open--
	return f.File.Close()
}

// A line is safe only when every folder on the way to it is. The folder of a job
// may have been made by another program, so its name is synced here in any case.
func TestFoldersAreSyncedBeforeTheJournalIsOpened(t *testing.T) {
	s := newStore(t)
	disk := breakable(s)
	closeJob(t, newJob(t, s))
	want := []string{
		"sync folder .", // jobs
		"sync folder jobs",
		"sync folder .", "sync folder jobs", // for the file that names the holder
		"open jobs/0001/journal.jsonl",
		"sync folder jobs/0001",
	}
	if diff := cmp.Diff(want, disk.steps); diff != "" {
		t.Error(diff)
	}
}

func TestReopenAfterAFullDisk(t *testing.T) {
	s := newStore(t)
	disk := breakable(s)
	other := openStore(t, s.Dir())
	j := newJob(t, s)
	add(t, j, `{"kept":1}`)
	disk.cannotWrite = true
	if _, err := j.Log().Append(j.Log().Head(), json.RawMessage(`{"lost":1}`)); !errors.Is(err, errFull) {
		t.Fatalf("error %v", err)
	}
	stillLocked := func(when string) {
		t.Helper()
		var locked *LockedError
		if _, err := other.OpenJob(1, "Ben"); !errors.As(err, &locked) {
			t.Errorf("%s the lock is gone: error %v", when, err)
		}
	}
	stopped := func(when string) {
		t.Helper()
		if _, err := j.Log().Append(j.Log().Head(), json.RawMessage(`{}`)); err == nil {
			t.Errorf("%s a line was taken", when)
		}
		if n := len(j.Log().Lines()); n != 1 {
			t.Errorf("%s there are %d lines", when, n)
		}
		stillLocked(when)
	}
	stopped("after the failed write")
	disk.cannotOpen = true
	if err := j.Reopen(); !errors.Is(err, errFull) {
		t.Errorf("error %v", err)
	}
	stopped("after the failed reopening")
	disk.cannotOpen, disk.cannotWrite = false, false
	if err := j.Reopen(); err != nil {
		t.Fatal(err)
	}
	stillLocked("after reopening")
	if j.Log().Head().N != 1 || j.Recovery().Torn() {
		t.Errorf("head %+v, recovery %+v", j.Log().Head(), j.Recovery())
	}
	add(t, j, `{"kept":2}`)
	if lines, err := other.ReadJob(1); err != nil || len(lines) != 2 {
		t.Errorf("read %d lines, error %v", len(lines), err)
	}
	closeJob(t, j)
	if disk.open != 0 {
		t.Errorf("%d files are still open", disk.open)
	}
}
