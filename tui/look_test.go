package tui

import (
	"regexp"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"

	"example.org/linewright/engine/store"
)

// keptLook is what the store keeps.
func (u *user) keptLook() string {
	u.t.Helper()
	set, err := u.m.desk.Store.Settings()
	if err != nil {
		u.t.Fatal(err)
	}
	return set.Look
}

// What is marked is seen at once, from all of 16 colours up; Enter keeps it, esc
// goes back to what was.
func TestALookIsSeenBeforeItIsKept(t *testing.T) {
	u := sitDown(t, newStore(t, nil), small(t), 80, 24, nil)
	u.m.can = termenv.TrueColor
	u.m.dress("own")
	black := "\x1b[38;2;0;0;0;48;2;255;255;255m"
	u.press("l").sees("> 1  own", "SO IT SAYS WHAT TO DO")
	if strings.Contains(u.m.View(), black) {
		t.Error("own sets a ground")
	}
	u.press("3").sees("> 3  light")
	for _, l := range strings.Split(u.m.View(), "\n") {
		if !strings.HasPrefix(l, black) {
			t.Fatalf("a line is not in the colours of the look: %q", l)
		}
	}
	if u.press("esc"); u.m.opt.Look != "own" || u.keptLook() != "" {
		t.Errorf("after esc the look is %q, kept %q", u.m.opt.Look, u.keptLook())
	}
	u.press("l", "4", "enter").sees("The look sun is kept.")
	if u.m.opt.Look != "sun" || u.keptLook() != "sun" {
		t.Errorf("after enter the look is %q, kept %q", u.m.opt.Look, u.keptLook())
	}
}

func TestALookIsChosenInAJob(t *testing.T) {
	u := golden(t, 80, 24, "new_mm")
	u.m.opt.LookFrom = "NO_COLOR"
	u.press("tab").sees("l look").press("l", "down", "enter").sees("The look dark is kept. At the next start NO_COLOR goes before it.")
	if u.keptLook() != "dark" {
		t.Errorf("kept %q", u.keptLook())
	}
}

// inEveryLook checks that no look changes a word of the screen, and that a
// ground reaches to all of its edges.
func (u *user) inEveryLook(w, h int) {
	u.t.Helper()
	plain := u.view()
	for _, look := range store.Looks {
		for _, can := range []termenv.Profile{termenv.TrueColor, termenv.ANSI} {
			u.m.can = can
			u.m.dress(look)
			if got := u.view(); got != plain {
				u.t.Fatalf("%s, %s: the words are\n%s\nwithout colour\n%s", look, can.Name(), got, plain)
			}
			u.isCalm()
			if u.m.look.base != "" {
				u.isPainted(w, h)
			}
		}
	}
	u.m.can = termenv.Ascii
	u.m.dress(store.Looks[0])
}

var sequences = regexp.MustCompile(`\x1b\[[0-9;]*m`)

// isPainted checks that every column of every line is in the colours of the look.
func (u *user) isPainted(w, h int) {
	u.t.Helper()
	base := u.m.look.base
	frame, _, _ := cut([]byte(u.m.View()))
	lines := strings.Split(string(frame), "\n")
	if len(lines) != h {
		u.t.Fatalf("%d lines are painted on a screen of %d", len(lines), h)
	}
	for _, l := range lines {
		if ansi.StringWidth(l) != w || !strings.HasPrefix(l, base) || !strings.HasSuffix(l, reset) {
			u.t.Fatalf("the colours do not reach to the edges: %q", l)
		}
		bare := false // after a reset, until the colours are set again
		for _, at := range sequences.FindAllStringIndex(l, -1) {
			seq := l[at[0]:at[1]]
			if bare && seq != base {
				u.t.Fatalf("a piece stands outside the colours: %q", l)
			}
			bare = seq == reset
		}
	}
}
