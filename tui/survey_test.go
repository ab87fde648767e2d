package tui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/store"
	"example.org/linewright/engine/wing"
)

// atRow is a survey at the first row of lines.
func atRow(t *testing.T, w, h int) *user {
	t.Helper()
	u := onWing(t, w, h, "damage-survey")
	return u.surveyTo("row@A.left")
}

// surveyTo says that all is sound up to a step.
func (u *user) surveyTo(step string) *user {
	u.t.Helper()
	for range 40 {
		u.readFirst()
		if u.due().Key == step {
			return u
		}
		u.types("1").press("enter")
	}
	u.t.Fatalf("the step %s is never due; due is %s", step, u.due().Key)
	return u
}

// readFirst turns the pages before a card.
func (u *user) readFirst() *user {
	for strings.Contains(u.view(), "Read this first") {
		u.press("enter")
	}
	return u
}

func TestAnEmptyEnterAnswersNoInspection(t *testing.T) {
	u := atRow(t, 80, 24)
	before := u.lines()
	u.press("enter").sees("An empty entry does not answer this.", "EVERY LINE OF ROW A left")
	if u.lines() != before {
		t.Fatal("an empty Enter was written")
	}
	u.press("up", "esc").sees("You are looking back").press("enter").press("enter").sees("What is it on A1.1 left?")
	u.press("esc", "backspace").types("x").press("backspace", "enter").sees("What is it on A1.1 left?")
	if u.lines() != before {
		t.Fatal("the way to the questions wrote something")
	}
}

// After a finding the walk stands where it stood, and an Enter that follows
// opens nothing: nobody chose that line anew.
func TestTheWalkGoesOnWhereItStood(t *testing.T) {
	u := atRow(t, 80, 24).press("up", "left", "up").sees("[A2.3]", "A2.3 left: middle tier")
	u.press("enter", "3", "enter").sees("To be watched: wear").press("enter", "enter").sees("A2.3 left: the surface is fluffy")
	before := u.lines()
	u.press("enter").sees("[A2.3*]", "found: A2.3, to be watched: the surface is fluffy, nothing is open", "looked at: 1 of 21*")
	if u.lines() != before+1 {
		t.Fatalf("%d lines for one finding", u.lines()-before)
	}
	u.press("enter").sees("An empty entry does not answer this.").press("right", "enter").sees("What is it on A2.2 left?")
}

func TestAFindingIsAskedForQuestionByQuestion(t *testing.T) {
	u := atRow(t, 80, 24).types("A1.2").sees("understood: A1.2 left", "[A1.2]", "enter: say what was found on A1.2 left").press("enter")
	before := u.lines()
	u.press("enter").sees("Nothing is chosen yet.").press("1", "enter").sees("To be replaced before the next flight: the core carries", "Where, from its lower end")
	u.types("1 m").sees("understood: 1000 mm from its lower end").press("enter").sees("is seen; 1000 mm from its lower end", "A note in a few words").press("esc").sees("Where, from its lower end").types("3x").press("enter").sees("3x")
	u.press("ctrl+u").types("30 cm").press("enter").types("thin? yes").press("enter").sees("Photo file (0 photos so far)")
	photo := filepath.Join(t.TempDir(), "loop.jpg")
	if err := os.WriteFile(photo, []byte("\xff\xd8\xff\xe0 no picture"), 0o644); err != nil {
		t.Fatal(err)
	}
	u.types("nowhere.jpg").press("enter").sees("nowhere.jpg").press("ctrl+u").types(photo).press("enter").sees("Photo file (1 photo so far)", "1 photo")
	u.press("enter").sees("A1.2 left: the sheath is open and the core is seen, 300 mm from its lower", "(thin? yes): to be replaced", "Enter writes this finding down")
	if u.lines() != before {
		t.Fatal("something was written before the last Enter")
	}
	u.press("esc").sees("Photo file (1 photo so far)").press("enter", "enter").sees("SAVED 10:0", "[A1.2!]")
	f := u.m.session.Job().Findings()[0]
	if len(f.Photos) != 1 || f.Place == nil || f.Place.String() != "300 mm" || f.Rule != "cut" || f.Note != "thin? yes" {
		t.Errorf("%+v", f)
	}
	u.types("1").sees("the core is seen; the rest").press("enter")
	if e := u.m.session.Job().Events()[u.lines()-1]; e.Kind != job.Answered || e.Choice != "touched" {
		t.Errorf("%+v", e)
	}
}

// A place beyond the end of the line is refused where it is asked, and can be put
// right there.
func TestAPlaceBeyondTheEndIsRefusedWhereItIsAsked(t *testing.T) {
	u := atRow(t, 80, 24).types("A1.2").press("enter", "1", "enter").types("30 m").press("enter")
	u.sees("beyond the end of", "[ 30 m", "Where, from its lower end").press("ctrl+u").types("30").press("enter").sees("A note in a few words")
}

func TestThingsStandInGroupsWhereThereIsNoFan(t *testing.T) {
	u := onWing(t, 80, 24, "damage-survey").readFirst().sees(" cloth\n", "tabs A   A1 ", "tabs C   C1   C2   C3   C4   C5", "tabs D   D1  D2 ", "Br6", "Damage here ends in a workshop.")
	u.seesNot("more below", "[cloth").press("down", "down").sees("[A1]", "enter: what is on tab A1 left?").press("enter", "2", "enter", "enter", "enter", "enter")
	u.sees("[A1!]", "found: tab A1, for a workshop: torn, or a seam is open").types("cloth").press("enter").sees("What is it on cloth left?").press("esc")
	u.press("ctrl+u").types("C2").sees("[C2]").press("right", "right", "up").sees("[B4]").press("left", "down", "down").sees("[D3]")
	u.press("ctrl+u").types("Z9").sees("so far:").press("enter").sees("is not looked at here")
	u.size(40, 15)
	u.sees("more above")
}

// Where the fan has no room for every line, all of them stand in groups, and it
// is said that there is a fan.
func TestAFanThatLeavesLinesOutIsReplaced(t *testing.T) {
	st := newStore(t, nil)
	if _, err := st.AddWing(store.Wing{ID: "large", Name: "Large wing"}, []byte(largePlan())); err != nil {
		t.Fatal(err)
	}
	u := sitDown(t, st, whole(t), 80, 24, nil).startOn("large", "damage-survey", wing.Whole().Text()).surveyTo("row@A.left")
	u.sees("lower  A1.1  A1.2  A1.3", "upper  A2.1 ", "more below", "fan left out: a larger window has it").seesNot("link A")
	u.press("down", "down", "right").sees("[A2.2]").types("A2.90").sees("[A2.90]", "more above")
}

// Twins and neighbours of what was damaged are looked at once more, and striking
// a finding asks for its thing anew.
func TestKinAndStrike(t *testing.T) {
	u := atRow(t, 80, 24).types("A1.2").press("enter", "1", "enter", "enter", "enter", "enter", "enter").surveyTo("kin")
	u.sees("right  A1.2", "left   A1.1  A1.3")
	u.press("tab").sees("2 strike").press("2").sees("A1.2 left: the sheath").press("1", "enter").types("dirt").press("enter")
	if u.due().Key != "row@A.left" {
		t.Fatalf("at %s\n%s", u.due().Key, u.view())
	}
	u.readFirst().sees("void: all touched, sound", "Lines void")
}
