package tui

import (
	"fmt"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"pgregory.net/rapid"

	"example.org/linewright/procedures"
)

// Random keys never panic, never make the screen larger than the terminal, and
// never write what no Enter confirmed.
func TestRandomKeys(t *testing.T) {
	t.Parallel() // one of the longest; each has its own store and screen
	keys := rapid.SampledFrom([]string{
		"enter", "enter", "enter", "esc", "tab", "up", "down", "left", "right", "backspace", "home", "end", "delete", "pgup", "pgdown",
		"ctrl+j", "ctrl+u", "?", "n", "r", "s", "0", "1", "1", "2", "3", "4", "5", "6", "7", "8", "9", "C1.2", "4205", "1 2 3", "x", "é", "界", " ", "-1", "5,5",
	})
	sizes := rapid.SampledFrom([][2]int{{80, 24}, {120, 40}, {60, 20}, {40, 15}, {39, 14}, {1, 1}, {0, 0}, {300, 100}, {56, 17}})
	rapid.Check(t, func(rt *rapid.T) {
		files := procedures.Files()
		if rapid.Bool().Draw(rt, "small") {
			files = small(t)
		}
		u := sitDown(t, newStore(t, nil), files, 80, 24, nil)
		u.t = rt
		if rapid.Bool().Draw(rt, "at work") {
			id := "line-swap"
			if len(files) == 1 {
				id = "small"
			}
			u.start(id, "line:C1.2@left")
			if rapid.Bool().Draw(rt, "at a sum") {
				u.press("tab", "s", fmt.Sprint(rapid.IntRange(1, 8).Draw(rt, "sum")), "enter")
			}
		}
		for range rapid.IntRange(1, 60).Draw(rt, "keys") {
			u.random(rt, keys, sizes)
		}
	})
}

// random presses one key, or changes the size, and checks what must hold.
func (u *user) random(rt *rapid.T, keys *rapid.Generator[string], sizes *rapid.Generator[[2]int]) {
	if rapid.IntRange(0, 9).Draw(rt, "resize") == 0 {
		s := sizes.Draw(rt, "size")
		u.size(s[0], s[1])
	}
	name := keys.Draw(rt, "key")
	before, session, unseen := u.lines(), u.m.session, u.m.tooSmall() || u.m.now().Sub(u.m.gate.drawn) < burst
	u.send(keyOf(name))
	u.clock.t = u.clock.t.Add(time.Duration(rapid.SampledFrom([]int{1, 30, 200, 900}).Draw(rt, "ms")) * time.Millisecond)
	wrote := u.lines() - before
	isEnter := name == "enter" || name == "ctrl+j"
	if u.m.session == session && (wrote > 1 || wrote > 0 && (!isEnter || unseen)) {
		rt.Fatalf("%q wrote %d lines; on a card that nobody can have seen: %v", name, wrote, unseen)
	}
	u.fits(max(u.m.w, 0), max(u.m.h, 1))
}

func TestAnyMessageOrderIsSurvived(t *testing.T) {
	u := sitDown(t, newStore(t, nil), small(t), 0, 0, nil)
	if got := u.m.View(); got != "" {
		t.Errorf("a screen of no size shows %q", got)
	}
	u.send(tea.ResumeMsg{})
	u.send(tea.MouseMsg{})
	u.send(tea.FocusMsg{})
	u.size(80, 24)
	u.sees("1 wing here")
}
