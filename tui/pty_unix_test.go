//go:build unix

package tui

import (
	"bytes"
	"regexp"
	"syscall"
	"testing"
	"time"

	"example.org/linewright/engine/session"
	"example.org/linewright/engine/store"
)

// benchStore makes a store with one job at its first step.
func benchStore(t *testing.T) *store.Store {
	t.Helper()
	st := newStore(t, nil)
	u := sitDown(t, st, small(t), 80, 24, nil).start("small", "line:C1.2@left")
	u.press("tab", "9")
	return st
}

// question matches what a program can ask a terminal: device attributes and
// status, colours, modes, keyboard, version, size, terminfo.
var question = regexp.MustCompile(`\x1b\[[?>=]?[0-9;]*[cnx]|\x1b\][0-9;]+;\?|\x1b\[\??[0-9;]+\$p|\x1b\[\?u|\x1b\[>[0-9]*q|\x1b\[1[3-9][;0-9]*t|\x1bP[+$]q`)

func TestTheFirstPictureAsksTheTerminalNothing(t *testing.T) {
	x := onTerminal(t, benchStore(t).Dir(), 80, 24).waits("FOLLOW THE DAMAGED LINE").waits("more")
	x.mu.Lock()
	defer x.mu.Unlock()
	if q := question.Find(x.raw.Bytes()); q != nil {
		t.Errorf("the terminal is asked: %q", q)
	}
	if bytes.Contains(x.raw.Bytes(), []byte("cursor ")) {
		t.Error("the wish for the cursor reached the terminal")
	}
}

func TestTypedKeysAndTheCursorOfTheTerminal(t *testing.T) {
	x := onTerminal(t, benchStore(t).Dir(), 80, 24).toTheLabel()
	x.types("C1.").waits("[ C1.")
	row, col, hidden := x.cursor()
	if row != placesFor(24).field || col != 2+2+3 || hidden {
		t.Errorf("the cursor is at %d, %d, hidden %v", row, col, hidden)
	}
	x.types("\x1b[D")
	x.types("\x1b[D")
	x.types("x").waits("[ Cx1.")
	if row, col, _ := x.cursor(); row != placesFor(24).field || col != 2+2+2 {
		t.Errorf("after two steps left and a letter the cursor is at %d, %d", row, col)
	}
	x.types("\x15").types("C1.2").waits("understood: C1.2")
	x.patiently("\r", "Where is the part from?")
	x.resize(120, 40).waits("Where is the part from?").resize(60, 20).waits("Where is the part from?").resize(20, 5).waits("needs a").resize(80, 24).waits("Where is the part from?")
	x.types("\x03")
	if code := x.ends(); code != 0 {
		t.Errorf("leaving gives status %d", code)
	}
	x.waits("everything that was said to be saved is on the disk").isAsBefore()
}

func TestIdleWritesNoByte(t *testing.T) {
	x := onTerminal(t, benchStore(t).Dir(), 80, 24).waits("FOLLOW THE DAMAGED LINE")
	quiet := 0
	for quiet < 5 { // what the start still writes comes at once
		select {
		case <-x.moved:
			quiet = 0
		case <-time.After(100 * time.Millisecond):
			quiet++
		}
	}
	x.mu.Lock()
	before := x.raw.Len()
	x.mu.Unlock()
	select {
	case <-x.moved:
		x.mu.Lock()
		t.Errorf("an idle bench wrote %q", x.raw.Bytes()[before:])
		x.mu.Unlock()
	case <-time.After(700 * time.Millisecond):
	}
}

func TestSignalsLeaveTerminalAndJournalWhole(t *testing.T) {
	for _, sig := range []syscall.Signal{syscall.SIGTERM, syscall.SIGHUP, syscall.SIGINT} {
		t.Run(sig.String(), func(t *testing.T) {
			st := benchStore(t)
			x := onTerminal(t, st.Dir(), 80, 24).toTheLabel()
			x.types("C1.").waits("[ C1.")
			if err := x.cmd.Process.Signal(sig); err != nil {
				t.Fatal(err)
			}
			x.ends()
			x.isAsBefore()
			wholeAndFree(t, st, 4)
		})
	}
}

func TestAClosedTerminalLeavesTheJournalWhole(t *testing.T) {
	st := benchStore(t)
	x := onTerminal(t, st.Dir(), 80, 24).toTheLabel()
	x.close()
	x.ends()
	wholeAndFree(t, st, 4)
}

func TestAPanicLeavesTerminalAndJournalWhole(t *testing.T) {
	st := benchStore(t)
	x := onTerminal(t, st.Dir(), 80, 24, "TUI_PANIC=1").waits("FOLLOW THE DAMAGED LINE")
	x.types("1").waits("> 1  the one with the tape")
	x.patiently("\r", "on purpose")
	if code := x.ends(); code == 0 {
		t.Error("a panic ends with status 0")
	}
	x.isAsBefore()
	wholeAndFree(t, st, 3)
}

// wholeAndFree checks that job 1 can be opened and has so many lines.
func wholeAndFree(t *testing.T, st *store.Store, lines int) {
	t.Helper()
	s, err := session.Desk{Store: st, Who: "bea", Clock: time.Now}.Open(1)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if s.Job().Lines != lines || s.Recovery().Torn() {
		t.Errorf("%d lines, torn %v; want %d whole", s.Job().Lines, s.Recovery().Torn(), lines)
	}
}

func TestSleepAndWakeKeepTheDraft(t *testing.T) {
	x := onTerminal(t, benchStore(t).Dir(), 80, 24, inShell).toTheLabel()
	x.types("C1.").waits("[ C1.").types("\x1a").waits("it sleeps")
	x.isAsBefore()
	x.types("\n").waits("[ C1.").types("2").waits("understood: C1.2")
	x.types("\x03").ends()
	x.isAsBefore()
}
