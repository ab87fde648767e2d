//go:build unix

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/creack/pty"
)

// TestBuilt tests the real program: what a test binary imports besides could
// hide what an init function does.
func TestBuilt(t *testing.T) {
	if _, err := exec.LookPath("go"); err != nil {
		if os.Getenv("LINEWRIGHT_NEED_TOOLS") == "1" {
			t.Fatal("go is needed and absent")
		}
		t.Skip("go is not here to build the program")
	}
	path := filepath.Join(t.TempDir(), "linewright")
	if out, err := exec.Command("go", "build", "-o", path, ".").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	t.Run("commands write no query to the terminal", func(t *testing.T) { noQuery(t, program(path)) })
	t.Run("the first picture of the bench writes no query", func(t *testing.T) { benchAsksNothing(t, program(path)) })
	t.Run("line mode is named where the bench cannot be drawn", func(t *testing.T) { namesLineMode(t, program(path)) })
	t.Run("a pass phrase is not shown", func(t *testing.T) { hiddenPhrase(t, program(path)) })
	t.Run("a burst of empty lines does not run on", func(t *testing.T) { noRunOn(t, program(path)) })
	t.Run("kill loses nothing that was said to be saved", func(t *testing.T) { killLosesNothing(t, program(path)) })
}

// program is the path of the real program.
type program string

// on makes a command of it that has a folder of its own.
func (p program) on(dir string, args ...string) *exec.Cmd {
	cmd := exec.Command(string(p), args...)
	cmd.Env = []string{"LINEWRIGHT_STORE=" + filepath.Join(dir, "store"), "USER=ann", "TERM=xterm-256color", "HOME=" + dir, "PATH=" + os.Getenv("PATH")}
	return cmd
}

// seat is a program on a terminal that answers nothing.
type seat struct {
	t        *testing.T
	cmd      *exec.Cmd
	terminal *os.File
	text     chan string
	all      string
}

// sit starts a command on a terminal of 80 columns and 24 lines.
func sit(t *testing.T, cmd *exec.Cmd) *seat {
	t.Helper()
	terminal, err := pty.StartWithSize(cmd, &pty.Winsize{Rows: 24, Cols: 80})
	if err != nil {
		t.Fatal(err)
	}
	s := &seat{t: t, cmd: cmd, terminal: terminal, text: make(chan string)}
	t.Cleanup(func() { _ = cmd.Process.Kill(); _ = terminal.Close() })
	go func() {
		defer close(s.text)
		for part := make([]byte, 4096); ; {
			n, err := terminal.Read(part)
			if err != nil {
				return // the program has ended
			}
			s.text <- string(part[:n])
		}
	}()
	return s
}

// patience is how long anything may take before a test gives up.
const patience = 20 * time.Second

// wait reads until the text is there and gives what came before it too.
func (s *seat) wait(text string) {
	s.t.Helper()
	from := len(s.all)
	limit := time.After(patience)
	for !strings.Contains(s.all[from:], text) {
		select {
		case part, ok := <-s.text:
			if s.all += part; !ok {
				s.t.Fatalf("the program ended and never wrote %q:\n%s", text, s.all)
			}
		case <-limit:
			s.t.Fatalf("never saw %q:\n%s", text, s.all)
		}
	}
}

// types types after a pause that a person would make: what comes in one burst
// with the question is no answer to it.
func (s *seat) types(text string) {
	s.t.Helper()
	time.Sleep(300 * time.Millisecond)
	if _, err := s.terminal.WriteString(text); err != nil {
		s.t.Fatal(err)
	}
}

// end waits for the program and gives all that it wrote.
func (s *seat) end() string {
	s.t.Helper()
	limit := time.After(patience)
	for {
		select {
		case part, ok := <-s.text:
			if !ok {
				_ = s.cmd.Wait()
				return s.all
			}
			s.all += part
		case <-limit:
			s.t.Fatalf("the program does not end:\n%s", s.all)
		}
	}
}

// No command asks the terminal anything before it needs it: on a terminal that
// never answers it would wait in silence.
func noQuery(t *testing.T, p program) {
	dir := t.TempDir()
	for _, args := range [][]string{{"--version"}, {"--help"}, {"job", "list"}, {"wing", "list"}, {"signer", "list"}, {"procedure", "list"}, {"nothing"}} {
		text := sit(t, p.on(dir, args...)).end()
		if strings.ContainsRune(text, '\x1b') {
			t.Errorf("%v wrote a control sequence: %q", args, text)
		}
		if strings.TrimSpace(text) == "" {
			t.Errorf("%v wrote nothing", args)
		}
	}
}

// query matches what a terminal would answer: reports of device, cursor, colours.
var query = regexp.MustCompile(`\x1b\[[>=?]?[0-9;]*[cn]|\x1b\][0-9;]+\?|\x1bP|\x1b\[\?[0-9;]+\$p`)

func benchAsksNothing(t *testing.T, p program) {
	s := sit(t, p.on(t.TempDir()))
	s.wait("NOTHING IS HERE YET")
	s.types("\x03")
	if asked := query.FindString(s.end()); asked != "" {
		t.Errorf("the bench asked the terminal %q", asked)
	}
}

func hiddenPhrase(t *testing.T, p program) {
	s := sit(t, p.on(t.TempDir(), "signer", "new", "ann"))
	for _, ask := range []string{"(not shown; empty for none):", "The same again:"} {
		s.wait(ask)
		s.types("gorse\n")
	}
	text := s.end()
	if strings.Contains(text, "gorse") {
		t.Errorf("the pass phrase was shown:\n%s", text)
	}
	if !strings.Contains(text, "kept: pass phrase") {
		t.Errorf("no key was made:\n%s", text)
	}
}

// A doubled line end, or a key that is held down, goes on by no step.
func noRunOn(t *testing.T, p program) {
	dir := t.TempDir()
	for _, args := range [][]string{{"wing", "add", "barn", "--sample"}, {"job", "start", "barn", "line-swap", "C1.2@left"}} {
		if out, err := p.on(dir, args...).CombinedOutput(); err != nil {
			t.Fatalf("%v: %v\n%s", args, err, out)
		}
	}
	s := sit(t, p.on(dir, "job", "walk", "1"))
	s.wait("\n> ")
	s.types("1\n\n\n\n\n")
	s.wait("when it is done.")
	s.types(":quit\n")
	text := s.end()
	if !strings.Contains(text, "Saved, entry 3.") || strings.Contains(text, "Saved, entry 4.") {
		t.Errorf("the empty lines behind the answer were taken:\n%s", text)
	}
}
