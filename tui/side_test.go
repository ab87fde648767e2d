package tui

import (
	"fmt"
	"path/filepath"
	"slices"
	"testing"

	"example.org/linewright/engine/job"
)

// mirrored is the bench with an order typed exactly the other way round: the
// side is asked for, and nothing is written before it is known.
func mirrored(t *testing.T) *user {
	t.Helper()
	u := sitDown(t, newStore(t, nil), small(t), 80, 24, nil).start("small", "line:C1.2@left").goTo("order_after")
	n := u.lines()
	u.types("3 2 1").press("enter").sees("from which side do you see the link?", "as typed", "a digit or the arrows choose")
	u.press("enter").sees("Nothing is chosen yet.")
	if u.lines() != n {
		t.Fatalf("%d lines were written", u.lines()-n)
	}
	return u
}

func TestAMirrorFromTheOtherSideIsTakenTurnedRound(t *testing.T) {
	u := mirrored(t)
	u.press("2", "enter").sees("Turns", "C1.1 C1.2 C1.3, turned round: seen from")
	events := u.m.session.Job().Events()
	e := events[len(events)-1]
	if e.Typed != "3 2 1" || e.SeenFrom != job.SeenOtherSide || !slices.Equal(e.Codes, []string{"C1.1", "C1.2", "C1.3"}) {
		t.Errorf("%+v", e)
	}
}

// What was typed waits in its field until the answer is in, and after one that
// does not help.
func TestAMirrorWaitsForItsSide(t *testing.T) {
	u := mirrored(t)
	n := u.lines()
	u.press("esc").sees("[ 3 2 1", "understood: C1.3 C1.2 C1.1")
	u.press("enter", "3", "enter").sees("[ 3 2 1", "nothing was written", "read from it outward")
	u.press("enter", "?").sees("Why").press("esc").sees("from which side")
	if u.lines() != n {
		t.Errorf("%d lines were written", u.lines()-n)
	}
}

// Seen as the step says it is a mirror indeed: all of it is crossed.
func TestScreensOfAMirror(t *testing.T) {
	t.Parallel()
	for _, size := range [][2]int{{80, 24}, {120, 40}, {60, 20}} {
		w, h := size[0], size[1]
		t.Run(fmt.Sprintf("%dx%d", w, h), func(t *testing.T) {
			file := func(name string) string {
				return filepath.Join("testdata", "golden", fmt.Sprintf("%s.%dx%d.txt", name, w, h))
			}
			u := golden(t, w, h, "order_after").types("3 2 1").press("enter", "2")
			u.fits(w, h)
			compare(t, file("from-which-side"), steady(u))
			u.press("backspace", "1", "enter")
			u.fits(w, h)
			compare(t, file("full-mirror"), steady(u))
		})
	}
}
