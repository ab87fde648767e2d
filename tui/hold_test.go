package tui

import (
	"strings"
	"testing"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/procedure"
)

func TestASecondLookIsSignedByAnotherPerson(t *testing.T) {
	u := atWork(t, 80, 24, nil).goTo("look")
	u.sees("For the second person, bea.", "STOP. Nothing behind this opens", "(==)(==)", "1  bea", "I touched the joint", "Link HOLD")
	u.seesNot("anna")
	before := u.lines()
	u.press("enter").sees("A hold is not signed by Enter alone.")
	if u.lines() != before {
		t.Fatal("signed by a bare Enter")
	}
	u.press("1", "enter")
	e := u.m.session.Job().Events()[u.lines()-1]
	if e.Kind != job.Signed || e.Sign.Name != "bea" || e.Sign.Role != "second" || e.Sign.Signature == "" {
		t.Errorf("the last line is %+v", e)
	}
	u.sees("SAVED 10:01  signature of bea")
}

func TestTheSecondPersonSaysTheirNameFirst(t *testing.T) {
	u := atWork(t, 80, 24, nil).goTo("words").press("enter")
	u.sees("Who looks? Your own name", "1  bea", "For the second person. Doer, step back.").seesNot("1  anna")
	before := u.lines()
	u.press("enter").sees("says their name first").press("0", "enter").types("anna").press("enter").sees("anna did the work")
	u.press("esc").types("anna").sees("[ anna").press("enter").sees("anna did the work")
	if u.lines() != before {
		t.Error("the doer was taken as the second person")
	}
	u.press("esc", "1", "enter").sees("For the second person, bea. Another? esc.", "bea looks")
	u.press("esc").sees("Who looks?", "Did the work, so not offered: anna.").types("carl").press("enter", "enter").sees("For the second person, carl.")
	u.press("esc", "esc").sees("For the second person, carl.").press("esc", "1", "enter").sees("For the second person, bea.").types("2").press("enter")
	u.seesNot("Another? esc")
	if e := u.m.session.Job().Events()[u.lines()-1]; e.Who != "bea" {
		t.Errorf("the answer stands under %s", e.Who)
	}
}

// A second person who has a key here and writes their name another way would
// look without being able to sign.
func TestANameThatDiffersInCapitalsIsHinted(t *testing.T) {
	u := atWork(t, 80, 24, nil).goTo("words").press("enter")
	before := u.lines()
	u.types("Be").seesNot("is known here").types("a").sees("[ Bea", "bea is known here; write it so").press("enter").sees("bea is known here", "Enter again takes the name")
	if u.lines() != before {
		t.Error("the name was taken at once")
	}
	u.press("backspace", "backspace", "backspace").types("bea").seesNot("is known here").press("enter").sees("For the second person, bea.")
}

func TestALockedKeyAsksForItsPassPhrase(t *testing.T) {
	st := newStore(t, map[string]string{"bea": "cold hands"})
	u := sitDown(t, st, small(t), 80, 24, nil).start("small", "line:C1.2@left")
	u.goTo("look")
	u.press("1", "enter").sees("Pass phrase of bea", "I touched the joint of C1.2")
	u.types("warm").sees("> ****").seesNot("warm").press("enter").sees("that is not the pass phrase")
	u.types("cold hands").press("enter")
	if u.due().Key != "closing" {
		t.Fatalf("at %s:\n%s", u.due().Key, u.view())
	}
}

func TestTheDoersKeyIsOpenedOnceASitting(t *testing.T) {
	st := newStore(t, map[string]string{"anna": "thread"})
	u := sitDown(t, st, small(t), 80, 24, nil).start("small", "line:C1.2@left")
	u.goTo("closing")
	u.press("1", "enter").types("thread").press("enter").sees("THE LIST IS COMPLETE")
	if u.m.session.Doer() == nil {
		t.Fatal("the doer's key is not kept")
	}
	u.press("esc", "r").types("once more").press("enter")
	if u.due().Key != "closing" {
		t.Fatalf("at %s", u.due().Key)
	}
	u.press("1", "enter").sees("THE LIST IS COMPLETE")
}

func TestNotAgreedMakesTheWorkVoid(t *testing.T) {
	u := atWork(t, 80, 24, nil).goTo("look")
	u.press("n").sees("You do not agree").types("a line lies under it").press("enter")
	if u.due().Key != "order_after" {
		t.Fatalf("at %s:\n%s", u.due().Key, u.view())
	}
	u.sees("not agreed", "Link void")
}

// The doer does not disagree with their own work: they do it again.
func TestTheDoerIsNotAskedToDisagree(t *testing.T) {
	u := atWork(t, 80, 24, nil).goTo("closing").sees("STOP. Nothing behind this opens until it is signed.", "r there does a step again").seesNot("I do not agree")
	u.press("n").sees("READ WHAT YOU SIGN", "STOP.").press("tab").sees("6 lay down").seesNot("not agreed")
}

// The second person may say so at the first question, before the signature.
func TestNotAgreedAtAQuestion(t *testing.T) {
	u := atWork(t, 80, 24, nil).goTo("way")
	u.press("2", "enter").sees("Found: other way round", "Do not agree (n): say what you see.")
	u.press("n").sees("Not agreed").types("it is the wrong way round").press("enter")
	if u.due().Key != "order_after" {
		t.Errorf("at %s", u.due().Key)
	}
}

func TestAHoldWithoutAKeySaysWhatToDo(t *testing.T) {
	st := newStore(t, nil)
	u := sitDown(t, st, small(t), 80, 24, func(o *Options) { o.Desk.Who = "carl" }).start("small", "line:C1.2@left")
	u.goTo("look").sees("1  anna").press("1", "enter")
	u.sees("There is no key of carl here.", "linewright signer new carl").press("enter")
	if u.due().Fields[0].Kind != procedure.Sign {
		t.Error("the hold is gone")
	}
	u.press("tab", "6").types("no key here").press("enter").sees("LAID DOWN")
}

func TestTheDemoWalksWithEnterAlone(t *testing.T) {
	answers := map[string][]string{
		"saw_side": {"left"}, "part_code": {"C1.2"}, "why": {"other a friend"}, "new_mm": {"4206", "4207"},
		"order_before": {"1 2 3"}, "turns": {"5"}, "order_after": {"1 2 3"}, "turns_closed": {"5"}, "loops": {"2"}, "way": {"same"},
	}
	given := map[string]int{}
	demo := &Demo{Offer: func(c job.Card) (string, bool) {
		f := c.Fields[c.At]
		n := 0
		if f.Scale != nil {
			n = len(f.Scale.Readings)
		}
		given[f.Key]++
		if n < len(answers[f.Key]) {
			return answers[f.Key][n], true
		}
		return "", false
	}}
	u := atWork(t, 80, 24, func(o *Options) { o.Demo = demo })
	for range 40 {
		if strings.Contains(u.view(), "THE LIST IS COMPLETE") {
			return
		}
		u.sees("DEMO").press("enter")
	}
	t.Fatalf("Enter alone does not walk through; offered %v:\n%s", given, u.view())
}
