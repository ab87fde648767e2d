//go:build unix

package tui

import (
	"os"
	"os/exec"
	"os/signal"
	"syscall"
	"testing"
)

// A file that may not grow stands for a full disk. The limit holds for a whole
// process, so the test runs in one of its own.
func TestAFullDiskSaysSoAndLosesNothing(t *testing.T) {
	if os.Getenv("TUI_FULL_DISK") == "" {
		child := exec.Command(os.Args[0], "-test.run=^TestAFullDiskSaysSoAndLosesNothing$")
		child.Env = append(os.Environ(), "TUI_FULL_DISK=1")
		if out, err := child.CombinedOutput(); err != nil {
			t.Errorf("%v\n%s", err, out)
		}
		return
	}
	u := atWork(t, 80, 24, nil).goTo("new_mm")
	lift := noRoom(t, 64)
	u.types("4205").press("enter")
	u.sees("NOT SAVED. The last entry could not be written.", "6 entries before it are on the disk", "enter: try again", "NOT SAVED: the last entry")
	lift()
	before := u.lines()
	u.press("enter").sees("the last entry is NOT SAVED: enter it again", "[ 4205 ")
	if u.lines() != before {
		t.Fatal("mending wrote something")
	}
	u.press("enter").sees("SAVED 10:00  reading 1")
	if u.lines() != before+1 {
		t.Errorf("%d lines after mending", u.lines()-before)
	}
}

// noRoom keeps files from growing beyond so many bytes until lift is called.
func noRoom(t *testing.T, bytes uint64) (lift func()) {
	t.Helper()
	signal.Ignore(syscall.SIGXFSZ)
	var old syscall.Rlimit
	if err := syscall.Getrlimit(syscall.RLIMIT_FSIZE, &old); err != nil {
		t.Fatal(err)
	}
	limit := old
	limit.Cur = bytes
	if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &limit); err != nil {
		t.Skipf("the size of files cannot be limited here: %v", err)
	}
	lift = func() {
		if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &old); err != nil {
			t.Error(err)
		}
	}
	t.Cleanup(lift)
	return lift
}
