//go:build unix

package tui

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"reflect"
	"regexp"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/charmbracelet/x/vt"
	"github.com/creack/pty"
	"golang.org/x/term"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/session"
	"example.org/linewright/engine/store"
)

// The tests below run the bench as a program of its own on a real terminal
// pair: TestMain is that program when it is told so.
func TestMain(m *testing.M) {
	if dir := os.Getenv("TUI_STORE"); dir != "" {
		os.Exit(benchProgram(dir))
	}
	os.Exit(m.Run())
}

func benchProgram(dir string) int {
	st, err := store.Open(dir)
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 2
	}
	data, err := os.ReadFile("testdata/small.toml")
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 2
	}
	o := Options{Job: 1, Desk: session.Desk{Store: st, Who: "anna", Clock: time.Now, Procedures: []procedure.File{{Name: "small.toml", Data: data}}}}
	if os.Getenv("TUI_PANIC") != "" {
		o.Demo = &Demo{Offer: func(c job.Card) (string, bool) {
			if c.Key == "tagged" {
				panic("on purpose")
			}
			return "", false
		}}
	}
	if err := Run(context.Background(), o); err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	return 0
}

// terminal is a terminal with the bench on it. It reads the screen and answers
// no question.
type terminal struct {
	t      *testing.T
	pty    *os.File
	tty    *os.File
	cmd    *exec.Cmd
	before *term.State

	mu     sync.Mutex
	screen *vt.Emulator
	raw    bytes.Buffer
	moved  chan struct{}
	deaf   bool          // read no more
	done   chan struct{} // closed when reading has ended
}

// inShell starts the bench from a shell that can wake it.
const inShell = "TUI_SHELL=1"

// onTerminal starts the bench at job 1 of a store.
func onTerminal(t *testing.T, dir string, w, h int, env ...string) *terminal {
	t.Helper()
	p, tty, err := pty.Open()
	if err != nil {
		t.Fatal(err)
	}
	x := &terminal{t: t, pty: p, tty: tty, screen: vt.NewEmulator(w, h), moved: make(chan struct{}, 1), done: make(chan struct{})}
	if err := pty.Setsize(p, &pty.Winsize{Rows: uint16(h), Cols: uint16(w)}); err != nil {
		t.Fatal(err)
	}
	if x.before, err = term.GetState(int(tty.Fd())); err != nil {
		t.Fatal(err)
	}
	x.cmd = exec.Command(os.Args[0])
	if len(env) > 0 && env[0] == inShell {
		x.cmd = exec.Command("sh", "-c", `set -m; "$0"; echo it sleeps; read x; fg`, os.Args[0])
	}
	x.cmd.Env = append(append(os.Environ(), "TUI_STORE="+dir, "TERM=xterm-256color"), env...)
	x.cmd.Stdin, x.cmd.Stdout, x.cmd.Stderr = tty, tty, tty
	x.cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true}
	if err := x.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	go x.read()
	t.Cleanup(func() {
		_ = x.cmd.Process.Kill() // it may have ended already
		_ = tty.Close()
		_ = p.Close()
	})
	return x
}

func (x *terminal) read() {
	defer close(x.done)
	buf := make([]byte, 4096)
	for {
		n, err := x.pty.Read(buf)
		x.mu.Lock()
		x.raw.Write(buf[:n])
		_, _ = x.screen.Write(buf[:n])
		deaf := x.deaf
		x.mu.Unlock()
		select {
		case x.moved <- struct{}{}:
		default:
		}
		if err != nil || deaf {
			return
		}
	}
}

// close closes the terminal under the bench. A read under way would keep it
// open, so the bench is made to write once more.
func (x *terminal) close() {
	x.t.Helper()
	x.mu.Lock()
	x.deaf = true
	x.mu.Unlock()
	x.types("x")
	<-x.done
	if err := x.tty.Close(); err != nil {
		x.t.Fatal(err)
	}
	if err := x.pty.Close(); err != nil {
		x.t.Fatal(err)
	}
}

func (x *terminal) text() string {
	x.mu.Lock()
	defer x.mu.Unlock()
	return x.screen.String()
}

// wrote is all that was written to the terminal.
func (x *terminal) wrote() string {
	x.mu.Lock()
	defer x.mu.Unlock()
	return x.raw.String()
}

// waits waits until the screen shows a text.
func (x *terminal) waits(text string) *terminal {
	x.t.Helper()
	end := time.After(30 * time.Second)
	for !strings.Contains(x.text(), text) {
		select {
		case <-x.moved:
		case <-end:
			x.t.Fatalf("the terminal never showed %q:\n%s", text, x.text())
		}
	}
	return x
}

func (x *terminal) types(text string) *terminal {
	x.t.Helper()
	if _, err := x.pty.WriteString(text); err != nil {
		x.t.Fatal(err)
	}
	return x
}

// ends waits for the end of the program and gives its exit status.
func (x *terminal) ends() int {
	x.t.Helper()
	done := make(chan int, 1)
	go func() {
		_ = x.cmd.Wait() // the status is looked at below
		done <- x.cmd.ProcessState.ExitCode()
	}()
	select {
	case code := <-done:
		return code
	case <-time.After(30 * time.Second):
		x.t.Fatalf("the bench does not end:\n%s", x.text())
		return -1
	}
}

// isAsBefore checks that the terminal was given back as it was.
func (x *terminal) isAsBefore() {
	x.t.Helper()
	after, err := term.GetState(int(x.tty.Fd()))
	if err != nil {
		x.t.Fatal(err)
	}
	if !reflect.DeepEqual(x.before, after) {
		x.t.Error("the modes of the terminal are not what they were")
	}
	end := time.After(30 * time.Second)
	for !x.plain() {
		select {
		case <-x.moved:
		case <-end:
			x.t.Fatal("the terminal is left on the other screen, or with its cursor hidden")
		}
	}
}

// plain reports whether the terminal shows its first screen and its cursor.
func (x *terminal) plain() bool {
	x.mu.Lock()
	defer x.mu.Unlock()
	return !x.screen.IsAltScreen() && !x.screen.CursorHidden()
}

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

// toTheLabel goes to the code field as a person does.
func (x *terminal) toTheLabel() *terminal {
	x.t.Helper()
	x.waits("FOLLOW THE DAMAGED LINE")
	x.types("1").waits("> 1  the one with the tape")
	x.patiently("\r", "TIE THE TAG ON")
	x.patiently("\r", "Code on the label")
	return x
}

// patiently presses a key until the screen shows a text: an Enter too soon
// after another does nothing.
func (x *terminal) patiently(key, text string) {
	x.t.Helper()
	shown := func() bool { return strings.Contains(x.text(), text) || strings.Contains(x.wrote(), text) }
	for range 60 {
		if shown() {
			return
		}
		x.types(key)
		end := time.After(time.Second)
	wait:
		for !shown() {
			select {
			case <-x.moved:
			case <-end:
				break wait
			}
		}
	}
	x.t.Fatalf("the terminal never showed %q:\n%s", text, x.text())
}

func (x *terminal) cursor() (row, col int, hidden bool) {
	x.mu.Lock()
	defer x.mu.Unlock()
	at := x.screen.CursorPosition()
	return at.Y, at.X, x.screen.CursorHidden()
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

func (x *terminal) resize(w, h int) *terminal {
	x.t.Helper()
	x.mu.Lock()
	x.screen.Resize(w, h)
	_, _ = x.screen.WriteString("\x1b[2J\x1b[H")
	x.mu.Unlock()
	if err := pty.Setsize(x.pty, &pty.Winsize{Rows: uint16(h), Cols: uint16(w)}); err != nil {
		x.t.Fatal(err)
	}
	return x
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
