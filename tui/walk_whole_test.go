package tui

import (
	"fmt"
	"strings"
	"testing"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
	"example.org/linewright/procedures"
)

// shippedWhole lists the shipped procedures that work on the whole wing, with
// the answers that are given where the first one would lead elsewhere.
var shippedWhole = []struct {
	id  string
	say map[string]string
}{
	{"damage-survey", map[string]string{"second_line": "C3.1", "second_marked": "C3.1"}},
	{"trim-measure", nil},
	{"release", nil},
	{"first-flight", nil},
}

// Every card of them is whole at 80 x 24, and no caution is cut at any size.
func TestEveryShippedCardOfAWholeWingIsWhole(t *testing.T) {
	t.Parallel() // one of the longest; each has its own store and screen
	for _, size := range [][2]int{{80, 24}, {120, 40}, {60, 20}, {40, 15}} {
		for _, x := range shippedWhole {
			t.Run(fmt.Sprintf("%dx%d/%s", size[0], size[1], x.id), func(t *testing.T) {
				u := sitDown(t, newStore(t, nil), procedures.Files(), size[0], size[1], nil).start(x.id, wing.Whole().Text())
				u.say = x.say
				for range 300 {
					if u.due().Over {
						u.sees("THE LIST IS COMPLETE")
						return
					}
					u.seeCard(size[0], size[1])
					u.step()
				}
				t.Fatal("the walk does not end")
			})
		}
	}
}

// seeCard checks the card that is due, and turns the pages before it.
func (u *user) seeCard(w, h int) {
	u.t.Helper()
	u.fits(w, h)
	u.cautionIsWhole()
	c := u.due()
	seen := u.view()
	for strings.Contains(u.view(), "Read this first") {
		u.press("enter").fits(w, h)
		seen += u.view()
	}
	_, plain := u.m.top().(*cardPage) // its caution was seen with its pages
	_, hold := u.m.top().(*holdPage)
	for _, l := range strings.Fields(c.Caution) {
		if !strings.Contains(seen, l) && !plain && !c.Second && !(hold && c.At > 0) {
			u.t.Fatalf("%q of the caution is lost:\n%s", l, seen)
		}
	}
	if h >= 24 {
		u.seesNot("shows all of it", ".. more below\n") // a report may be long
	}
	if w == 80 {
		u.outlivesEverySize(w, h)
	}
}

// toEnd reads on by Enter to the end of what is shown.
func (u *user) toEnd() *user {
	for strings.Contains(u.view(), "enter: read on") || strings.Contains(u.view(), readsOn) {
		u.press("enter")
	}
	return u
}

// step does the step that is due.
func (u *user) step() {
	u.t.Helper()
	c := u.due()
	before := u.lines()
	switch f := c.Fields[c.At]; {
	case c.Second && c.Looker == "":
		u.press("1", "enter")
	case f.Kind == procedure.Sign:
		u.press("1", "enter")
	case f.Kind == procedure.Inspect:
		u.types("1").press("enter")
	case f.Kind == procedure.Lengths:
		u.sheet(nil, 0).readsOn(nil)
	case f.Kind == procedure.Clear:
		u.press("enter")
	case f.Kind == procedure.Trim:
		u.toEnd().press("enter")
	case f.Kind == procedure.Loops:
		u.types("plain").press("enter").toEnd().press("enter")
	default:
		u.answer(c, func(ks ...string) { u.press(ks...) })
	}
	if u.lines() == before {
		u.t.Fatalf("nothing was written at %s:\n%s", c.Key, u.view())
	}
}
