//go:build unix

package tui

import (
	"fmt"
	"os"
	"os/exec"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/creack/pty"
)

// A terminal that takes nothing for a while, in the middle of large pictures,
// loses no entry: the journal stays whole for others to read, and once the
// terminal takes its text again the entry is on the disk and said to be saved.
func TestAStalledTerminalLosesNothing(t *testing.T) {
	st := benchStore(t)
	x := onTerminal(t, st.Dir(), 80, 24).toTheLabel()
	x.types("C1.2").waits("understood: C1.2")
	stalled := func() error {
		x.mu.Lock() // its reader waits here, so that the terminal fills up
		defer x.mu.Unlock()
		for i := range 60 {
			if err := pty.Setsize(x.pty, &pty.Winsize{Rows: uint16(40 + i%2), Cols: 120}); err != nil {
				return err
			}
			if _, err := x.pty.WriteString("\x1b[D\x1b[C"); err != nil {
				return err
			}
		}
		_, err := st.ReadJob(1)
		return err
	}
	if err := stalled(); err != nil {
		t.Fatal(err)
	}
	x.resize(80, 24).patiently("\r", "Where is the part from?")
	x.waits("SAVED")
	lines, err := st.ReadJob(1)
	if err != nil || len(lines) != 5 {
		t.Errorf("said to be saved with %d lines on the disk, %v", len(lines), err)
	}
	x.types("\x03").ends()
	x.isAsBefore()
	wholeAndFree(t, st, 5)
}

// consoleKnows is what the console of linux acts on, or passes over as a private
// mode that it lacks: places, erasing, the 8 colours, modes.
var consoleKnows = regexp.MustCompile(`\x1b\[(\?[0-9;]+[hl]|[0-9;]*[ABCDGHJKLMPXdfgr]|(0|1|4|7|2[2457]|[349][0-9]|10[0-7]|;)*m)`)

// On the console of linux only ASCII is written, and no sequence that would
// leave rubbish there.
func TestTheConsoleOfLinuxGetsWhatItKnows(t *testing.T) {
	x := onTerminal(t, benchStore(t).Dir(), 80, 25, "TERM=linux", "COLORTERM=").toTheLabel()
	x.types("C1.2").waits("understood: C1.2").patiently("\r", "Where is the part from?")
	x.types("\t").waits("leave the job").types("\x03").ends()
	rest := consoleKnows.ReplaceAllString(x.wrote(), "")
	for i, b := range []byte(rest) {
		if b >= 0x7f || b < ' ' && b != '\r' && b != '\n' && b != '\b' {
			t.Fatalf("the console gets %q", rest[max(0, i-40):min(len(rest), i+40)])
		}
	}
}

// Inside tmux an entry is typed, the window dragged and the bench left as on
// any terminal.
func TestTheBenchInsideTmux(t *testing.T) {
	if _, err := exec.LookPath("tmux"); err != nil {
		if os.Getenv("LINEWRIGHT_NEED_TOOLS") == "1" {
			t.Fatal("tmux is needed and absent")
		}
		t.Skip("tmux is not here")
	}
	st := benchStore(t)
	socket := fmt.Sprintf("linewright-%d", os.Getpid())
	tmux := func(args ...string) string {
		t.Helper()
		out, err := exec.Command("tmux", append([]string{"-L", socket, "-f", "/dev/null"}, args...)...).CombinedOutput()
		if err != nil {
			t.Fatalf("tmux %v: %v\n%s", args, err, out)
		}
		return string(out)
	}
	comes := func(text string, within time.Duration) bool {
		t.Helper()
		for end := time.Now().Add(within); time.Now().Before(end); {
			if strings.Contains(tmux("capture-pane", "-p"), text) {
				return true
			}
		}
		return false
	}
	shows := func(text string) {
		t.Helper()
		if !comes(text, 30*time.Second) {
			t.Fatalf("tmux never showed %q:\n%s", text, tmux("capture-pane", "-p"))
		}
	}
	tmux("new-session", "-d", "-x", "80", "-y", "24", "env", "TUI_STORE="+st.Dir(), os.Args[0], ";", "set", "remain-on-exit", "on")
	t.Cleanup(func() { _ = exec.Command("tmux", "-L", socket, "kill-server").Run() })
	shows("FOLLOW THE DAMAGED LINE")
	tmux("send-keys", "1")
	shows("> 1  the one with the tape")
	tmux("resize-window", "-x", "39", "-y", "14")
	shows("needs a screen of 40 x 15")
	tmux("resize-window", "-x", "120", "-y", "40")
	shows("> 1  the one with the tape")
	for range 10 { // an Enter too soon after the resizing does nothing
		tmux("send-keys", "Enter")
		if comes("TIE THE TAG ON", time.Second) {
			break
		}
	}
	shows("TIE THE TAG ON")
	shows("SAVED")
	tmux("send-keys", "C-c")
	shows("everything that was said to be saved is on the disk")
	wholeAndFree(t, st, 3)
}
