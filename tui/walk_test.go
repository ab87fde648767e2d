package tui

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/store"
	"example.org/linewright/engine/wing"
	"example.org/linewright/procedures"
)

func parseRef(text string) (wing.Ref, error) { return wing.ParseRef(text) }

// walk answers every step as a person would at the screen, and gives the number
// of cards and of key presses. each sees every screen before it is answered.
func (u *user) walk(each func()) (steps, keys int) {
	u.t.Helper()
	press := func(ks ...string) {
		keys += len(ks)
		u.press(ks...)
	}
	for range 500 {
		c := u.due()
		if each != nil {
			each()
		}
		before := u.lines()
		switch {
		case c.Over:
			return steps, keys
		case c.Confirm != nil, c.Waiting != "":
			press("enter")
		case c.Second && c.Looker == "":
			press("1", "enter")
		case c.Fields[c.At].Kind == procedure.Sign:
			press("1", "enter")
		default:
			u.answer(c, press)
		}
		steps++
		if u.lines() == before {
			u.t.Fatalf("nothing was written at %s:\n%s", c.Key, u.view())
		}
	}
	u.t.Fatal("the walk does not end")
	return 0, 0
}

func (u *user) answer(c job.Card, press func(...string)) {
	f := c.Fields[c.At]
	if p, ok := u.m.top().(*cardPage); ok {
		for p.read < len(p.intro(u.m)) {
			press("enter")
		}
	}
	counting := 0
	if f.Scale != nil {
		for _, r := range f.Scale.Readings {
			if r.Outcome == job.Taken {
				counting++
			}
		}
	}
	switch {
	case f.Kind == procedure.Do, f.Empty:
	case counting > 0 && counting >= f.Scale.Need:
	default:
		number, words, more := strings.Cut(u.reply(c), " ")
		if len(f.Options) > 0 {
			press(number)
			if more {
				press("enter")
				press(strings.Split(words, "")...)
			}
			break
		}
		press(strings.Split(strings.TrimSpace(number+" "+words), "")...)
	}
	press("enter")
}

// walked lists what is walked to its end at the screen: each way through the
// shipped procedures that a person can take with the sample wing.
var walked = []struct {
	id, target string
	say        map[string]string
}{
	{"line-swap", "line:C1.2@left", nil},
	{"line-swap", "line:C2.2@right", map[string]string{"saw_side": "2"}},
	{"line-swap", "line:C3.2@left", nil},
	{"link-reclosure", "link:C@left", nil},
	{"pulley-relocation", "brakes", map[string]string{"place_new": "2", "distance_left": "135", "distance_right": "135"}},
	{"loop-change", "line:C1.2@left", map[string]string{"loop_there": "2", "loop_wanted": "1", "shift": "10", "there_same": "4195", "closure.changed_alike": "4195", "there_again": "4195"}},
	{"loop-change", "line:C1.3@right", map[string]string{"saw_side": "2", "loop_here": "2", "way": "2", "shift": "10"}},
	{"brake-fittings", "brakes", map[string]string{"renew": "3", "sides": "1", "play_known": "1"}},
	{"brake-fittings", "brakes", map[string]string{"renew": "2", "sides": "3", "play_how": "5"}},
	{"retainer-renewal", "link:C@left", map[string]string{"way_taken": "1"}},
	{"retainer-renewal", "link:B@right", map[string]string{"way_taken": "2", "pattern": "3"}},
}

// Every card of the shipped procedures is whole at 80 x 24, and no caution is
// cut at any size.
func TestEveryShippedCardIsWhole(t *testing.T) {
	t.Parallel() // one of the longest; each has its own store and screen
	for _, size := range [][2]int{{80, 24}, {120, 40}, {60, 20}, {40, 15}} {
		w, h := size[0], size[1]
		for _, x := range walked {
			t.Run(fmt.Sprintf("%dx%d/%s/%s", w, h, x.id, x.target), func(t *testing.T) {
				u := sitDown(t, newStore(t, nil), procedures.Files(), w, h, nil).start(x.id, x.target)
				u.say = x.say
				u.walk(func() {
					u.fits(w, h)
					u.cautionIsWhole()
					u.standsInPlace(w, h)
					if w == 80 {
						u.outlivesEverySize(w, h)
					}
					if p, ok := u.m.top().(*holdPage); ok {
						u.signedIsWhole(p)
					} else if h >= 24 {
						u.seesNot("shows all of it", "Read this first", "more below")
					}
				})
				u.sees("THE LIST IS COMPLETE")
			})
		}
	}
}

// The sample wing has screw links only.
func TestEveryCardOfASoftLinkIsWhole(t *testing.T) {
	plan, err := os.ReadFile("../procedures/testdata/soft.toml")
	if err != nil {
		t.Fatal(err)
	}
	renewed := map[string]string{"cord_seen": "4", "passes_before": "2", "passes_after": "2", "second_passes": "2", "new_mm": "82", "old_mm": "81"}
	closed := map[string]string{"how_found": "2", "cord_open": "5", "passes_before": "3"}
	for target, say := range map[string]map[string]string{"link:A@left": renewed, "link:T@right": closed} {
		for _, size := range [][2]int{{80, 24}, {40, 15}} {
			t.Run(fmt.Sprintf("%dx%d/%s", size[0], size[1], target), func(t *testing.T) {
				st := newStore(t, nil)
				if _, err := st.AddWing(store.Wing{ID: "soft", Name: "Soft"}, plan); err != nil {
					t.Fatal(err)
				}
				u := sitDown(t, st, procedures.Files(), size[0], size[1], nil).startOn("soft", "soft-link", target)
				u.say = say
				u.walk(func() {
					u.fits(size[0], size[1])
					u.cautionIsWhole()
					if size[1] >= 24 {
						u.seesNot("shows all of it", "Read this first", "more below")
					}
				})
				u.sees("THE LIST IS COMPLETE")
			})
		}
	}
}

// fits checks that the screen is neither taller nor wider than the terminal.
func (u *user) fits(w, h int) {
	u.t.Helper()
	rest, _, _ := cut([]byte(u.m.View()))
	lines := strings.Split(string(rest), "\n")
	if len(lines) > h {
		u.t.Fatalf("%d lines on a screen of %d", len(lines), h)
	}
	for _, l := range lines {
		if ansi.StringWidth(l) > w {
			u.t.Fatalf("a line of %d columns on a screen of %d: %q", ansi.StringWidth(l), w, l)
		}
	}
}

// signedIsWhole checks that the arrows show all that a hold signs, on the hold.
func (u *user) signedIsWhole(p *holdPage) {
	u.t.Helper()
	seen := u.view()
	for p.part.key(keyOf("down")) {
		seen += u.view()
	}
	if h := u.m.h; h >= 18 && (!strings.Contains(u.view(), "STOP") || !strings.Contains(u.view(), "(==)(==)")) {
		u.t.Fatalf("the chain is lost:\n%s", u.view())
	}
	p.part.top = 0
	col, missing := columnsFor(u.m.w), 0
	widths := []int{col.full, col.narrow, sidesColumns(u.m.w).narrow}
	for _, width := range widths {
		for _, l := range p.evidence(width) {
			if !strings.Contains(seen, strings.TrimSpace(l)) {
				missing++
				break
			}
		}
	}
	if missing == len(widths) {
		u.t.Fatalf("not all that is signed is seen:\n%s\nwanted\n%s", seen, strings.Join(p.evidence(col.full), "\n"))
	}
}

// cautionIsWhole checks that every line of the caution is on the card, or was
// on the page before it.
func (u *user) cautionIsWhole() {
	u.t.Helper()
	p, ok := u.m.top().(*cardPage)
	if !ok || p.card.Caution == "" {
		return
	}
	col := columnsFor(u.m.w)
	seen := u.view()
	for p.read < len(p.intro(u.m)) {
		seen += u.view()
		u.press("enter")
	}
	missing := 0
	widths := []int{col.full, col.narrow, sidesColumns(u.m.w).narrow}
	for _, width := range widths {
		for _, l := range cautionLines(p.card, width) {
			if !strings.Contains(seen, l) {
				missing++
				break
			}
		}
	}
	if missing == len(widths) {
		u.t.Fatalf("the caution %q is cut:\n%s", p.card.Caution, seen)
	}
}
