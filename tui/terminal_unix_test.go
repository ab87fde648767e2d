//go:build unix

package tui

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"reflect"
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
