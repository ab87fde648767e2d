package tui

import (
	"testing"
	"time"

	"example.org/linewright/engine/job"
)

// surveyed is a survey with two cuts on two links and one line to be watched.
func surveyed(t *testing.T, w, h int) *user {
	t.Helper()
	u := atRow(t, w, h)
	u.finds("A1.2", "1").finds("A2.3", "3").surveyTo("row@C.left").finds("C1.2", "1")
	return u
}

// finds marks a line by its code with a rule, and nothing more.
func (u *user) finds(code, rule string) *user {
	u.t.Helper()
	u.types(code).press("enter", rule, "enter")
	for range 5 {
		if _, ok := u.m.top().(*findingPage); !ok {
			return u
		}
		u.press("enter")
	}
	u.t.Fatalf("the finding on %s is not written:\n%s", code, u.view())
	return u
}

func TestAFindingIsCarriedOverOrEnds(t *testing.T) {
	u := surveyed(t, 80, 24).press("tab", "f").sees("Of 3 findings: 2 KEEP THE WING ON THE GROUND; 1 may wait: say until when.", "OPEN, it may wait")
	before := u.lines()
	u.press("1", "enter").sees("it is over: a workshop mended it").seesNot("carried over", "looked at again", "length was measured")
	u.press("esc", "2", "enter").sees("it is carried over").press("1", "enter").types("soon").press("enter").sees("is no limit")
	u.press("ctrl+u").types("10 h worn").press("enter").sees("10 h of flying never run out here", "Give a date")
	u.press("ctrl+u").types("2027-03-01").press("enter").sees("A reason is needed")
	u.press("ctrl+u").types("2027-03-01 worn a little").press("enter").sees("The findings", "Carried over until 2027-03-01: worn a little.", "SAVED 10:01  carried over: A2")
	if u.lines() != before+1 {
		t.Fatalf("%d lines for one deferral", u.lines()-before)
	}
	u.press("2", "enter", "2", "enter").types("rubbed off, it was dirt").press("enter").sees("Over, looked again: rubbed off, it was dirt.")
	u.press("1", "enter", "2", "enter").types("not this one").press("enter").sees("Struck: not this one.", "Of 3 findings: 1 KEEPS THE WING")
	u.press("2", "enter").sees("strike it").press("esc").press("1", "enter").sees("Nothing more can be said of it here.")
	u.press("esc").sees("EVERY LINE OF ROW A left")
}

func TestThePartsGoTheirWay(t *testing.T) {
	u := surveyed(t, 80, 24).press("tab", "p").sees("0 parts on the list; suggested besides: 4.", "suggested: 1 x A1.2 left, 4167 mm")
	u.press("enter", "4", "enter").types("4x").press("enter").sees("4x").press("ctrl+u").types("4190").press("enter").sees("4190 mm (copy of its twin, A1.2 right, as measured)")
	u.press("2", "enter").types("14,50 EUR").press("enter", "3", "enter").types("bright yellow").press("enter").sees("14,50 EUR, bright yellow", "field not saved")
	u.press("1", "enter").sees("LISTED: 1 x A1.2 left", "1 part on the list, 14.50 EUR", "> 2  suggested: 1 x retainer of link A left")
	u.press("enter", "enter").sees("2 parts on the list, 14.50 EUR, 1 without a price")
	u.press("1", "enter").sees("read its code back").press("1", "enter").seesNot("A1.2").types("a1.2").press("enter").sees("a1.2 is not the code that is wanted here. Capital and small letters count.", "Part 1: line, left.")
	u.press("ctrl+u").types("A1.2").press("enter").sees("READ BACK: 1 x A1.2 left", "o make the order final").press("o").sees("Not read back yet: retainer of link A left.")
	u.press("2", "enter", "1", "enter").types("A").press("enter").press("o").sees("Make the order final?", "1 x A1.2 left", "1 x retainer of link A left")
	before := u.lines()
	u.press("enter")
	if u.lines() != before {
		t.Fatal("the order was made final by Enter alone")
	}
	u.press("1", "enter").sees("ORDERED: 1 x A1.2 left", "the order is final")
	u.press("2", "enter", "1", "enter").types("the old one").press("enter").sees("RECEIVED: 1 x retainer of link A left")
	u.press("2", "enter", "1", "enter").types("too thin").press("enter").sees("It went back: too thin", "LISTED: 1 x retainer")
	u.press("2", "enter", "2", "enter").types("there is one in the box").press("enter").sees("1 part on the list").seesNot("too thin")
	u.press("l").sees("ORDER LIST", "capital A, 1, dot, 2").press("enter").press("n").types("Z9 left").press("enter").sees("cannot be ordered")
	u.press("ctrl+u").types("B1.1 right").press("enter", "enter").sees("1 x B1.1 right").press("1", "enter").sees("it came: look at label, ends")
	u.press("1", "enter").sees("Enter adds this task to the job").press("enter").sees("Receive a part  A1.2 left")
}

func TestTheAgendaIsTheFirstPageOfABiggerJob(t *testing.T) {
	u := surveyed(t, 80, 24).press("tab", "9").sees("the jobs at this bench")
	u.clock.t = u.clock.t.Add(30 * time.Hour)
	u.press("1", "enter").sees("The agenda", "1  task 1, Damage survey, the wing: under way", "Put 4 parts on the order list: can be done now", "Swap C1.2 left: later (after the survey)", "Release: later")
	before := u.lines()
	u.press("2", "enter").sees("The order list").press("esc").sees("The agenda").press("f").sees("The findings").press("t").sees("The tasks of this job").press("esc").sees("The agenda")
	u.press("6", "enter").sees("This comes later").press("enter").sees("Release, the wing", "Enter adds this task").press("esc")
	if u.lines() != before {
		t.Fatal("looking round wrote something")
	}
	u.press("1", "enter").sees("The work was interrupted").press("enter").readFirst().sees("ROW C left")
	u.press("tab", "9").press("1", "enter").press("esc").sees("the jobs at this bench")
}

// openLink is the small swap with its link open.
func openLink(t *testing.T, w, h int) *user {
	t.Helper()
	return golden(t, w, h, "order_after")
}

func TestWithALinkOpenTheSafeStateComesFirst(t *testing.T) {
	u := openLink(t, 80, 24)
	before := u.lines()
	u.press("tab", "6").sees("(1 of 4) The lines of the link C left", "Work stops in the middle").press("enter").sees("Look at the wing, then answer what you see.")
	u.press("2", "enter").sees("It cannot be left so.", "Slide them on a rod").press("1", "enter").sees("(2 of 4) Lines on the rod, counted")
	u.types("9").press("enter").sees("cannot be left so.").press("backspace").types("3").press("enter").sees("(3 of 4) On the link itself hangs")
	u.press("1", "enter", "1", "enter").sees("Why, and how is the wing left?").types("rain").press("enter").sees("THIS TASK IS LAID DOWN", "rain")
	if u.lines() != before+1 {
		t.Fatalf("%d lines for laying down", u.lines()-before)
	}
	if e := u.m.session.Job().Events()[u.lines()-1]; len(e.Safe) != 4 {
		t.Errorf("the safe state is %v", e.Safe)
	}
	u.press("tab", "a").sees("LINK OPEN: link C left", "1  task 1, Small swap, C1.2 left: laid down (link C left IS OPEN; rain)")
}

func TestAJobIsHandedOnAndTakenOver(t *testing.T) {
	u := openLink(t, 80, 24).press("tab", "h").sees("(1 of 4)").press("1", "enter").types("3").press("enter", "1", "enter", "1", "enter")
	u.sees("Who goes on with it?").types("a b").press("enter").sees("a b").press("ctrl+u").types("bea").press("enter").sees("What does bea have to know?").types("mind the knot").press("enter")
	u.sees("This job was handed on to bea.", "What was said: mind the knot", "LINK OPEN: link C left, task 1", "As it was left: On the wing hangs: the tag DO NOT FLY.", "linewright job pack 1")
	before := u.lines()
	u.press("enter", "esc").sees("the jobs at this bench").press("1", "enter").sees("This job was handed on to bea.")
	u.press("t", "enter")
	if u.lines() != before {
		t.Fatal("taken over by Enter alone")
	}
	u.press("1", "enter").sees("The agenda", "LINK OPEN", "the job is taken over")
	if e := u.m.session.Job().Events()[u.lines()-1]; e.Kind != job.TakenOver {
		t.Errorf("%+v", e)
	}
}
