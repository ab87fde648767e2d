package tui

import (
	"testing"

	"example.org/linewright/procedures"
)

// A reading that is far off is asked for once more in an empty field, in which
// Enter alone takes nothing; typed again it is taken, and so is another.
func TestAFarReadingIsTypedAgain(t *testing.T) {
	u := sitDown(t, newStore(t, nil), procedures.Files(), 80, 24, nil).start("pulley-relocation", "brakes")
	u.press("1", "enter", "enter", "enter", "1", "enter", "1", "enter", "1", "enter")
	before := u.lines()
	u.types("4.1").sees("enter: far off, so it is asked for once more").press("enter")
	u.sees("4.1 mm, where the plan has 250 mm as made.").sees("Type it again").sees("[                ]")
	u.press("enter")
	if u.lines() != before {
		t.Fatalf("something was written:\n%s", u.view())
	}
	u.types("241").seesNot("far off").press("enter")
	u.press("1", "enter", "1", "enter").types("410").press("enter").sees("410 mm, where the left side has 241 mm.")
	u.types("410").sees("enter: take it, typed twice").press("enter")
	events := u.m.session.Job().Events()
	left, right := events[before], events[len(events)-1]
	if left.FarFrom != "" || left.Typed != "241" || right.FarFrom != "the left side has 241 mm" || right.Typed != "410" {
		t.Errorf("%+v\n%+v", left, right)
	}
	u.sees("tail found    241    410  -169  min 50")
}
