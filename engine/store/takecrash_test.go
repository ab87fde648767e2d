package store

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"example.org/linewright/engine/journal"
)

// watched calls at before each step that changes a disk.
type watched struct {
	disk
	at func(step string)
}

type watchedFile struct {
	file
	at func(step string)
}

func (d watched) create(name string, perm os.FileMode) (file, error) {
	d.at("create " + name)
	f, err := d.disk.create(name, perm)
	return watchedFile{f, d.at}, err
}

func (d watched) Rename(from, to string) error {
	d.at("rename to " + to)
	return d.disk.Rename(from, to)
}

func (f watchedFile) Write(p []byte) (int, error) {
	f.at("write")
	n, err := f.file.Write(p[:len(p)/2])
	if err != nil {
		return n, err
	}
	f.at("write on")
	m, err := f.file.Write(p[n:])
	return n + m, err
}

// moments copies a store before each step of taking up a job, and after the
// last: what a crash at any time leaves.
func moments(t *testing.T, s *Store, p *Packed) map[string]string {
	t.Helper()
	all := t.TempDir()
	copies := map[string]string{}
	look := func(step string) {
		dir := filepath.Join(all, fmt.Sprint(len(copies)))
		if err := os.CopyFS(dir, os.DirFS(s.Dir())); err != nil {
			t.Fatal(err)
		}
		copies[fmt.Sprintf("%03d %s", len(copies), step)] = dir
	}
	s.disk = watched{s.disk, look}
	takeJob(t, s, p)
	look("end")
	return copies
}

func TestACrashWhileANewJobIsTakenUp(t *testing.T) {
	a, what := away(t)
	p := unpack(t, pack(t, a, 1, what))
	empty, whole := 0, 0
	for step, dir := range moments(t, newStore(t), p) {
		b := openStore(t, dir)
		nos, err := b.Jobs()
		if err != nil {
			t.Fatal(err)
		}
		switch {
		case len(nos) == 0:
			empty++
		case slices.Equal(nos, []int{1}):
			whole++
			if lines, err := b.ReadJob(1); err != nil || len(lines) != 3 {
				t.Errorf("%s: %d lines, error %v", step, len(lines), err)
			}
			if _, err := b.ReadPinned(1, what.Pinned[0]); err != nil {
				t.Errorf("%s: %v", step, err)
			}
			if _, err := b.ReadPhoto(1, what.Photos[0]); err != nil {
				t.Errorf("%s: %v", step, err)
			}
		default:
			t.Errorf("%s: jobs %v", step, nos)
		}
		// Taking it up again makes it whole, once.
		again := takeJob(t, b, p)
		checkTaken(t, b, again.Job.No(), what)
		if nos, err := b.Jobs(); len(nos) != 1 || err != nil {
			t.Errorf("%s: jobs %v, error %v", step, nos, err)
		}
	}
	if empty < 10 || whole < 5 {
		t.Errorf("%d moments without the job and %d with it", empty, whole)
	}
}

func TestACrashWhileAJobComesHome(t *testing.T) {
	far, what := away(t)
	there := grown(t, what, `{"there":1}`, `{"there":2}`)
	// The photo and the plan are new at home too.
	home := newStore(t)
	if _, err := home.AddWing(Wing{ID: "red", Name: "Red", Serial: "S-1", HoursAtStart: hours(112.5)}, plan); err != nil {
		t.Fatal(err)
	}
	put(t, home, journalPath(1), string(journal.Join(what.Lines)))
	p := unpack(t, pack(t, far, 1, there))
	before, after := 0, 0
	for step, dir := range moments(t, home, p) {
		b := openStore(t, dir)
		lines, err := b.ReadJob(1)
		if err != nil {
			t.Fatalf("%s: %v", step, err)
		}
		switch len(lines) {
		case 3:
			before++
		case 5:
			after++
			if _, err := b.ReadPhoto(1, what.Photos[0]); err != nil {
				t.Errorf("%s: %v", step, err)
			}
		default:
			t.Errorf("%s: %d lines", step, len(lines))
		}
		takeJob(t, b, p)
		checkTaken(t, b, 1, there)
	}
	if before < 10 || after < 5 {
		t.Errorf("%d moments before and %d after", before, after)
	}
}

// A disk that fails in the middle leaves a job that can be taken up, or none.
func TestAFullDiskWhileAJobIsTakenUp(t *testing.T) {
	a, what := away(t)
	p := unpack(t, pack(t, a, 1, what))
	for failAt := 1; ; failAt++ {
		b := newStore(t)
		real := b.disk
		d := &diary{disk: real, failAt: failAt}
		b.disk = d
		taken, err := b.TakeJob(p, Take{})
		if len(d.steps) < failAt {
			closeJob(t, taken.Job)
			break
		}
		checkRefusal(t, fmt.Sprint("step ", failAt), err)
		b.disk = real
		again := takeJob(t, b, p)
		checkTaken(t, b, again.Job.No(), what)
		if nos, err := b.Jobs(); len(nos) != 1 || err != nil {
			t.Errorf("step %d, %s: jobs %v, error %v", failAt, d.steps[failAt-1], nos, err)
		}
		closeJob(t, again.Job)
	}
}
