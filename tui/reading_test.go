package tui

import (
	"testing"

	"github.com/charmbracelet/x/ansi"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/procedures"
)

// shipped is a step of a shipped procedure.
func shipped(t *testing.T, w, h int, id, target, step string) *user {
	t.Helper()
	return sitDown(t, newStore(t, nil), procedures.Files(), w, h, nil).start(id, target).goTo(step)
}

// A reading that nothing judges is taken by its first Enter, so what it means
// is said while it is typed.
func TestAPlainReadingIsHeldAgainstThePlanBeforeItIsTaken(t *testing.T) {
	u := shipped(t, 80, 24, "line-swap", "line:C1.2@left", "twin_mm")
	u.types("4217").sees("understood: 4217 mm: 12 mm longer than the plan", "enter: take this value, and go on to: LOOK AT THE LINK")
	u.press("ctrl+u").types("4205").sees("4205 mm: exactly the plan's").press("ctrl+u").types("420.4cm").sees("1 mm shorter than the plan")
	u.press("ctrl+u").types("4290").sees("4290 mm, not right here: 85 mm longer than the plan", "enter: write it down; the step stays open")
	before := u.lines()
	u.press("enter").sees("4290 mm is not right here", "More than")
	if u.lines() != before+1 || u.due().Key != "twin_mm" {
		t.Errorf("%d lines, at %s", u.lines()-before, u.due().Key)
	}
	u.types("4206").press("enter")
	if u.due().Key == "twin_mm" {
		t.Error("the second Enter is wanted for a plain reading")
	}
}

func TestAReadingOutOfItsRangeIsToldWhileItIsTyped(t *testing.T) {
	u := atWork(t, 80, 24, nil).goTo("new_mm")
	u.types("42").sees("understood: 42 mm, not between 4005 and 4405", "enter: write it down; the step stays open")
	u.types("07").sees("understood: 4207 mm", "enter: write this reading down").seesNot("not between", "longer than the plan")
}

func TestTheOldestReadingsAreLeftOutFirst(t *testing.T) {
	s := &job.Scale{Quantity: quantity.KindLength}
	for _, mm := range []quantity.Length{4201, 4202, 4203, 4204} {
		s.Readings = append(s.Readings, job.Reading{Outcome: job.Taken, Value: quantity.Value{Kind: quantity.KindLength, N: int64(mm) * 1000}})
	}
	for w, want := range map[int]string{
		60: "readings: 4201 mm, 4202 mm, 4203 mm, 4204 mm",
		40: "readings: 2 earlier, 4203 mm, 4204 mm",
		30: "readings: 3 earlier, 4204 mm",
	} {
		if got := newestReadings(s, w); got != want || ansi.StringWidth(got) > w {
			t.Errorf("%d columns: %q, want %q", w, got, want)
		}
	}
}

// Words and picture round the uncertainty alike.
func TestOneScreenHasOneUncertainty(t *testing.T) {
	u := onBench(t, 80, 24, goodBench)
	u.types("4208").press("enter").types("4208.3").press("enter").sees("sure within 2 mm", "2 mm either way").seesNot("1.4 mm", "1.3 mm")
	j, err := metrology.Judge(5900, 4100, 10000)
	if err != nil {
		t.Fatal(err)
	}
	d, n := asPrinted(&job.Scale{Judgement: &j, Deviation: 5900, U: 4100})
	if d.String() != "5.9 mm" || n.String() != "4.1 mm" {
		t.Errorf("drawn as %s and %s beside %q", d, n, j.Words())
	}
}

func TestATorqueIsNoLength(t *testing.T) {
	u := sitDown(t, newStore(t, nil), procedures.Files(), 80, 24, nil).start("link-reclosure", "link:C@left")
	u.say = map[string]string{"nut": "2"}
	u.goTo("torque").sees("expected 1 N·m: sample plan, invented").seesNot("1 mm")
}

// A second look at a closed link is held against the wing, not against what the
// doer read off it or the plan says.
func TestTheSecondLookShowsNoOrder(t *testing.T) {
	secrets := []string{"seen from the gate", "C1.1", "C1.2", "quarter turn", "free, thread sound"}
	u := shipped(t, 80, 24, "link-reclosure", "link:C@left", "second_order").seesNot(secrets...)
	u.press("esc").sees("Who looks?").seesNot(secrets...).press("esc").sees("(1 of ")
	u.press("?").seesNot(secrets...).press("esc", "tab").sees("covered for the look").seesNot(secrets...)
	u.press("up", "enter").sees("stays covered").press("f").sees("stays covered").press("a").sees("stays covered")
	u.press("esc").goTo("second_sign").press("tab", "up", "up", "up", "up", "up", "up", "up").sees("C1.1 C1.2 C1.3")
}

// What is refused is said once, with the way to empty the field.
func TestARefusedReadingIsToldOnce(t *testing.T) {
	u := atWork(t, 80, 24, nil).goTo("new_mm").types("abc").sees(`so far: "abc" is not a length`)
	u.press("enter").sees(`"abc" is not a length`, "mend it, then enter; ctrl+u empties the field").seesNot("so far:")
	u.press("ctrl+u").types("4217").press("enter").types("4205").press("enter").types("4217").press("enter")
	u.sees("The readings still differ", "tab: strike one")
}

// An Enter before a choice hides none of the answers.
func TestAnEnterBeforeAChoiceHidesNoAnswer(t *testing.T) {
	u := shipped(t, 80, 24, "line-swap", "line:C1.2@left", "may")
	for range 2 {
		u.press("enter").sees("NOTHING CHOSEN: a digit or the arrows, enter takes it").seesNot("more below")
	}
	u.press("down").seesNot("NOTHING CHOSEN")
}

// A number that is typed a screen too early chooses nothing, whether it comes at
// once or digit by digit, and an Enter behind it takes nothing.
func TestANumberAtAListOfAnswersTakesNothing(t *testing.T) {
	u := atWork(t, 80, 24, nil).goTo("way")
	n := u.lines()
	for _, type165 := range []func(){func() { u.types("165") }, func() { u.send(keyOf("165")); u.wait() }} {
		type165()
		u.sees("165 is none of the numbers here: nothing is marked.").seesNot("> 1", "> 2").press("enter").sees("165 is none of the numbers here. That Enter took nothing.")
		u.press("enter").sees("NOTHING CHOSEN: a digit or the arrows, enter takes it; n: I do not agree")
	}
	u.types("12").sees("12 is none").press("backspace").seesNot("12 is none", "> 1").press("1").sees("> 1", "enter: take the marked answer; n: I do not agree").press("down").sees("> 2")
	if u.lines() != n {
		t.Errorf("%d lines were written", u.lines()-n)
	}
}
