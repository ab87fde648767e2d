package tui

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/procedures"
)

// noticeScreens are the views that are no step: the first ones of a store, those
// of trouble, and the last ones. Each is reached once and then drawn in three
// sizes.
var noticeScreens = []struct {
	name string
	to   func(t *testing.T) *user
}{
	{"first-run", func(t *testing.T) *user {
		return sitDown(t, emptyStore(t), procedures.Files(), 80, 24, nil)
	}},
	{"no-job", func(t *testing.T) *user {
		return sitDown(t, newStore(t, nil), small(t), 80, 24, nil)
	}},
	{"no-key", func(t *testing.T) *user {
		return sitDown(t, newStore(t, nil), small(t), 80, 24, func(o *Options) { o.Desk.Who = "cal" })
	}},
	{"faults", func(t *testing.T) *user {
		files := append(small(t), procedure.File{Name: "bad.toml", Data: []byte("linewright_procedure = 1\nid = \"bad\"\nfoo = 3\n")})
		return sitDown(t, newStore(t, nil), files, 80, 24, nil).press("f")
	}},
	{"plan-changed", func(t *testing.T) *user {
		u := sitDown(t, newStore(t, nil), small(t), 80, 24, nil)
		plans, err := filepath.Glob(filepath.Join(u.m.desk.Store.Dir(), "wings/sample/plans/*.toml"))
		if err != nil || len(plans) != 1 {
			t.Fatal(plans, err)
		}
		u.spoil(plans[0], "length_mm = ", "length_m = ")
		return u.press("0", "enter", "enter")
	}},
	{"held", func(t *testing.T) *user {
		u := twoJobs(t)
		u.press("1", "enter")
		holder := filepath.Join(u.m.desk.Store.Dir(), "jobs/0001/holder")
		if err := os.WriteFile(holder, []byte("anna, process 1 on bench\n"), 0o644); err != nil {
			t.Fatal(err)
		}
		since := u.clock.t.Add(-190 * time.Minute)
		if err := os.Chtimes(holder, since, since); err != nil {
			t.Fatal(err)
		}
		return sitDown(t, u.m.desk.Store, small(t), 80, 24, func(o *Options) { o.Desk.Who = "bea"; o.Job = 1 })
	}},
	{"read-only", func(t *testing.T) *user {
		u := openScrew(t)
		bea := sitDown(t, u.m.desk.Store, small(t), 80, 24, func(o *Options) { o.Desk.Who = "bea"; o.Job = 1 })
		bea.clock.t = u.clock.t.Add(2 * time.Minute)
		return bea.press("l")
	}},
	{"damaged", func(t *testing.T) *user {
		u := twoJobs(t)
		u.spoil(filepath.Join(u.m.desk.Store.Dir(), "jobs/0001/journal.jsonl"), "Sample", "Simple")
		return u.press("1", "enter")
	}},
	{"newer", func(t *testing.T) *user {
		u := twoJobs(t)
		u.spoil(filepath.Join(u.m.desk.Store.Dir(), "jobs/0001/journal.jsonl"), `{"linewright_journal":1`, `{"linewright_journal":2`)
		return u.press("1", "enter")
	}},
	{"not-writable", func(t *testing.T) *user {
		u := twoJobs(t)
		u.run(u.m.notOpened(1, 0, errors.New(u.m.desk.Store.Dir()+"/jobs/0001/lock: the lock cannot be opened: permission denied\nsee that you may write there")))
		return u
	}},
	{"torn", func(t *testing.T) *user {
		u := twoJobs(t)
		u.spoil(filepath.Join(u.m.desk.Store.Dir(), "jobs/0001/journal.jsonl"), "", `{"linewright_journal":1,"n":3,"pre`)
		return u.press("1", "enter")
	}},
	{"disk-full", func(t *testing.T) *user {
		u := sitDown(t, newStore(t, nil), small(t), 80, 24, nil).start("small", "line:C1.2@left")
		u.m.failed = errors.New("not saved: journal line 3 was not saved: write journal.jsonl: no space left on device\n  make room on the disk")
		u.m.push(failedPage(u.m, u.m.failed))
		return u
	}},
	{"return-open", func(t *testing.T) *user {
		u := openScrew(t).press("tab", "9")
		u.clock.t = u.clock.t.Add(50 * time.Hour)
		return u.press("1", "enter")
	}},
	{"return-jobs", func(t *testing.T) *user {
		u := golden(t, 80, 24, "why").startsAnother("line:C1.1@right").press("tab", "9")
		u.clock.t = u.clock.t.Add(50 * time.Hour)
		return u.press("1", "enter")
	}},
	{"all-tasks", func(t *testing.T) *user { return openScrew(t).press("tab", "8") }},
	{"complete", func(t *testing.T) *user {
		return golden(t, 80, 24, "closing").press("1", "enter")
	}},
	{"closed-job", func(t *testing.T) *user {
		u := golden(t, 80, 24, "closing")
		u.m.opt.RecordJSON = func(int) ([]byte, error) { return []byte(`{"a":1}`), nil }
		return u.press("1", "enter", "enter").types("done; tag on").press("enter", "1", "enter")
	}},
	{"key-unreadable", func(t *testing.T) *user {
		u := golden(t, 80, 24, "look")
		u.spoil(filepath.Join(u.m.desk.Store.Dir(), "signers/bea"), "OPENSSH", "OPEN")
		return u.press("1", "enter")
	}},
	{"key-in-agent", func(t *testing.T) *user {
		u := golden(t, 80, 24, "look")
		if err := os.Remove(filepath.Join(u.m.desk.Store.Dir(), "signers/bea")); err != nil {
			t.Fatal(err)
		}
		return u.press("1", "enter")
	}},
}

// twoJobs is the list of a store with two jobs.
func twoJobs(t *testing.T) *user {
	t.Helper()
	u := sitDown(t, newStore(t, nil), small(t), 80, 24, nil)
	u.start("small", "line:C1.2@left").start("small", "line:C1.1@left")
	return u.press("tab", "9")
}

// openScrew is a job with its link open.
func openScrew(t *testing.T) *user {
	t.Helper()
	u := golden(t, 80, 24, "order_after")
	if open, _ := u.m.session.Job().LinkOpen(); open == nil {
		t.Fatal("no link is open")
	}
	return u
}

// spoil changes the first place of a text in a file; for no text, it adds one.
func (u *user) spoil(file, old, text string) {
	u.t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		u.t.Fatal(err)
	}
	changed := string(data) + text
	if old != "" {
		changed = strings.Replace(string(data), old, text, 1)
	}
	if err := os.Chmod(file, 0o644); err != nil {
		u.t.Fatal(err)
	}
	if err := os.WriteFile(file, []byte(changed), 0o644); err != nil {
		u.t.Fatal(err)
	}
}

func TestNoticeScreens(t *testing.T) {
	t.Parallel() // each has its own store and screen
	for _, s := range noticeScreens {
		t.Run(s.name, func(t *testing.T) {
			u := s.to(t)
			for _, size := range [][2]int{{80, 24}, {60, 20}, {40, 15}} {
				u.size(size[0], size[1])
				u.fits(size[0], size[1])
				compare(t, filepath.Join("testdata", "golden", fmt.Sprintf("notice-%s.%dx%d.txt", s.name, size[0], size[1])), steady(u))
			}
		})
	}
}

// startsAnother adds a task to the job, without keys.
func (u *user) startsAnother(target string) *user {
	u.t.Helper()
	ref, err := parseRef(target)
	if err != nil {
		u.t.Fatal(err)
	}
	if _, err := u.m.session.AddTask("small", ref, ""); err != nil {
		u.t.Fatal(err)
	}
	u.run(u.m.due())
	u.wait()
	return u
}
