package tui

import (
	"fmt"
	"runtime"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/procedures"
)

// outlivesEverySize types a draft where the due step takes one, drags the
// screen through all sizes, and checks that each view fits and that at the end
// all is as it was. The draft is taken out again.
func (u *user) outlivesEverySize(w, h int) {
	u.t.Helper()
	c := u.due()
	p, ok := u.m.top().(*cardPage)
	typing := ok && !c.Over && c.Confirm == nil && c.Waiting == "" && !p.entry.listed() && !p.at().Empty
	if typing {
		u.press("4")
	}
	draft, seen, lines := u.m.draft(), u.view(), u.lines()
	for _, size := range [][2]int{{0, 0}, {1, 1}, {40, 15}, {59, 19}, {39, 14}, {60, 20}, {300, 100}, {w, h}} {
		u.size(size[0], size[1])
		u.fits(size[0], max(size[1], 1))
		if u.m.tooSmall() {
			u.wait()
			u.press("7", "enter", "backspace")
		}
		if size[0] == 39 {
			u.sees("needs a screen of 40 x 15")
		}
		if u.m.draft() != draft || u.lines() != lines {
			u.t.Fatalf("at %d x %d the draft is %q and was %q; %d lines written", size[0], size[1], u.m.draft(), draft, u.lines()-lines)
		}
	}
	if u.view() != seen {
		u.t.Fatalf("after all sizes the screen is\n%s\nand was\n%s", u.view(), seen)
	}
	u.wait()
	if typing {
		u.press("ctrl+u")
	}
}

// hostile is a megabyte as it can come out of a clipboard: line ends, control
// sequences, marks that turn the direction of writing.
func hostile() tea.KeyMsg {
	text := strings.Repeat("x\x1b[2J\x1b]0;t\a\r\n\x00\u202e\u009b31m界", 1<<20/32)
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(text), Paste: true}
}

// A paste of a megabyte is cut to what a field holds, writes nothing, and takes
// no more work with each character than a small one.
func TestAPasteOfAMegabyteIsRefusedSoftly(t *testing.T) {
	for _, step := range []string{"saw_side", "part_code", "why", "new_mm", "order_before", "turns", "loops", "words"} {
		t.Run(step, func(t *testing.T) {
			u := atWork(t, 80, 24, nil).goTo(step)
			before := u.lines()
			var start, end runtime.MemStats
			runtime.ReadMemStats(&start)
			u.send(hostile())
			u.wait()
			u.press("enter").fits(80, 24)
			runtime.ReadMemStats(&end)
			if step != "why" && u.lines() != before { // what is left of it may be a note
				t.Errorf("a paste and an Enter wrote %d lines", u.lines()-before)
			}
			if n := len([]rune(u.m.draft())); n > maxDraft {
				t.Errorf("%d characters are kept in the field", n)
			}
			if used := (end.TotalAlloc - start.TotalAlloc) >> 20; used > 200 {
				t.Errorf("a paste of 1 MB took %d MB", used)
			}
			if strings.ContainsAny(u.view(), "\x1b\a\x00\u202e\u009b\r") {
				t.Errorf("the paste reached the terminal:\n%q", u.view())
			}
		})
	}
}

// Ten thousand keys in one message are one entry at most, and their line ends
// confirm nothing.
func TestABurstInOneMessageWritesNothing(t *testing.T) {
	u := atWork(t, 80, 24, nil).goTo("new_mm")
	before := u.lines()
	u.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(strings.Repeat("4205\r", 2000))})
	u.fits(80, 24)
	if u.lines() != before {
		t.Errorf("%d lines written", u.lines()-before)
	}
}

// Ten thousand keys in as many messages, faster than a card can be read, write
// no more than the one entry that stood there before, whatever the card is.
func TestABurstOfMessagesDoesNotRunOn(t *testing.T) {
	for _, step := range []string{"tagged", "saw_side", "new_mm", "turns", "words"} {
		for name, keys := range map[string][]string{"enter": {"enter"}, "ctrl+j": {"ctrl+j"}, "both": {"enter", "ctrl+j"}, "typed": {"1", "enter"}} {
			t.Run(step+"/"+name, func(t *testing.T) {
				u := atWork(t, 80, 24, nil).goTo(step)
				before := u.lines()
				for i := range 10_000 / len(keys) {
					u.send(keyOf(keys[i%len(keys)]))
				}
				if wrote := u.lines() - before; wrote > 1 {
					t.Errorf("%d lines written", wrote)
				}
				u.fits(80, 24)
			})
		}
	}
}

// What comes while an entry is on its way to the disk confirms nothing, however
// much it is, and is not kept for later cards.
func TestABurstWhileAnEntryIsWrittenConfirmsNothing(t *testing.T) {
	u := atWork(t, 80, 24, nil).goTo("new_mm")
	u.types("4205")
	before := u.lines()
	_, writing := u.m.Update(keyOf("enter"))
	for i := range 10_000 {
		if _, cmd := u.m.Update(keyOf([]string{"4", "2", "enter"}[i%3])); cmd != nil {
			t.Fatal("a key acted while an entry was being written")
		}
		u.clock.t = u.clock.t.Add(3 * time.Millisecond)
	}
	u.run(writing)
	if wrote := u.lines() - before; wrote != 1 {
		t.Errorf("%d lines written for one entry", wrote)
	}
	if u.m.ahead != nil || len(u.m.draft()) > 2 {
		t.Errorf("%d keys and the draft %q are kept", len(u.m.ahead), u.m.draft())
	}
}

// The bench keeps nothing of the keys that it has done with.
func TestManyKeysLeaveNothingBehind(t *testing.T) {
	u := sitDown(t, newStore(t, nil), procedures.Files(), 80, 24, nil).start("line-swap", "line:C1.2@left")
	rounds := func(n int) uint64 {
		for i := range n {
			u.press([]string{"tab", "down", "up", "esc", "?", "esc", "4", "backspace"}[i%8])
			_ = u.m.View()
		}
		return heap()
	}
	first := rounds(1_600)
	if more := rounds(4_800); more > first+1<<20 {
		t.Errorf("after 1600 keys the heap has %d kB, after 4800 more %d kB", first>>10, more>>10)
	}
}

// heap is what is in use once all garbage is gone.
func heap() uint64 {
	var m runtime.MemStats
	for range 2 { // what the first finds to be finalised the second takes
		runtime.GC()
	}
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}

// The heap after 10 000 keys and after 100 000.
func BenchmarkHeapOver100000Keys(b *testing.B) {
	for b.Loop() {
		u := sitDown(b, newStore(b, nil), procedures.Files(), 80, 24, nil).start("line-swap", "line:C1.2@left")
		for i := range 100_001 {
			if i == 10_000 || i == 100_000 {
				b.ReportMetric(float64(heap())/1024, fmt.Sprintf("kB-at-%d", i))
			}
			u.press([]string{"tab", "down", "up", "esc", "?", "esc", "4", "backspace"}[i%8])
			_ = u.m.View()
		}
	}
}
