package tui

import (
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/procedures"
)

// atWork sits down at a job with the small procedure.
func atWork(t *testing.T, w, h int, change func(*Options)) *user {
	t.Helper()
	u := sitDown(t, newStore(t, nil), small(t), w, h, change)
	return u.start("small", "line:C1.2@left")
}

// goTo answers everything before a step.
func (u *user) goTo(step string) *user {
	u.t.Helper()
	for range 200 {
		c := u.due()
		if c.Key == step && (!c.Second || c.Looker != "") {
			return u
		}
		if c.Fields[c.At].Kind == procedure.Sign || c.Second && c.Looker == "" {
			u.press("1", "enter")
			continue
		}
		u.answer(c, func(ks ...string) { u.press(ks...) })
	}
	u.t.Fatalf("the step %s is never due", step)
	return u
}

func TestTheWholeProcedureIsWalkedWithKeysAlone(t *testing.T) {
	u := atWork(t, 80, 24, nil)
	u.walk(nil)
	u.sees("THE LIST IS COMPLETE")
	u.press("enter").sees("Your closing statement").types("7").press("enter").sees("needs words").press("ctrl+u").types("all done").press("enter", "enter").sees("Close the job for good?").press("1", "enter").sees("Job 1 is closed", "linewright record export 1")
	if u.m.session.Job().Closed == nil {
		t.Error("the closing line is not written")
	}
}

func TestABareEnterAnswersNothing(t *testing.T) {
	for _, step := range []string{"saw_side", "part_code", "why", "new_mm", "order_before", "turns", "loops", "way", "look", "closing"} {
		t.Run(step, func(t *testing.T) {
			u := atWork(t, 80, 24, nil).goTo(step)
			before := u.lines()
			u.press("enter")
			if u.lines() != before || u.due().Key != step {
				t.Errorf("a bare Enter was taken")
			}
		})
	}
}

func TestTheVerdictIsShownBeforeItIsWritten(t *testing.T) {
	u := atWork(t, 80, 24, nil).goTo("new_mm")
	u.types("4207").sees("understood: 4207 mm").press("enter")
	u.sees("1 is in and covered", "1 of 2 readings").seesNot("4207")
	u.types("420,8cm").sees("understood: 4208 mm").press("enter")
	u.sees("4207 mm, 4208 mm", "3 mm long, sure within", "limit 10: INSIDE", "enter: write the verdict down")
	before := u.lines()
	u.press("enter")
	if u.lines() != before+1 || u.due().Key != "order_before" {
		t.Errorf("the verdict was not written: %d lines, at %s", u.lines(), u.due().Key)
	}
	u.sees("SAVED 10:", "inside")
}

func TestStrikeOffersTheReadingThatTheCardNames(t *testing.T) {
	u := atWork(t, 80, 24, nil).goTo("new_mm")
	u.types("4206").press("enter").types("4212").press("enter").types("4205").press("enter").sees("still differ")
	u.press("tab", "2").sees("> 2  reading 2, 4212 mm", "  1  reading 1, 4206 mm").press("enter").sees("Struck: reading 2, 4212 mm")
	u.types("tape had slipped").press("enter").sees("4206 mm, (struck), 4205 mm")
}

func TestWhatIsNotUnderstoodIsSaidSoftlyAndStays(t *testing.T) {
	u := atWork(t, 80, 24, nil).goTo("new_mm")
	before := u.lines()
	u.types("4x05").sees("so far:", "[ 4x05").press("enter")
	if u.lines() != before {
		t.Error("a refused entry was written")
	}
	u.sees("[ 4x05", "field not saved")
}

func TestAnOutsideValueIsNotedAndTheStepStaysOpen(t *testing.T) {
	u := atWork(t, 80, 24, nil).goTo("new_mm")
	u.types("4225").press("enter").types("4225").press("enter").sees("20 mm long, sure within", "OUTSIDE", "the step stays open")
	u.press("enter")
	if u.due().Key != "new_mm" {
		t.Error("an outside value closed the step")
	}
	u.sees("20 mm long, sure within", "SAVED 10:00  noted 4225 mm", "tab: strike one, lay down").seesNot("decide")
	u.press("tab").seesNot("4 decide")
}

// An instrument types a value and ends the line with CR LF: one reading, and
// the second line end confirms nothing.
func TestADoubledLineEndDoesNotRunOn(t *testing.T) {
	u := atWork(t, 80, 24, nil).goTo("new_mm")
	u.types("4205").press("enter")
	before := u.lines()
	for _, k := range []string{"4206", "enter", "ctrl+j"} {
		u.send(keyOf(k))
	}
	if got := u.lines() - before; got != 1 {
		t.Fatalf("%d lines were written by one burst", got)
	}
	if u.due().Key != "new_mm" || !strings.Contains(u.view(), "INSIDE") {
		t.Errorf("the verdict ran on:\n%s", u.view())
	}
	u.wait()
	u.press("enter")
	if u.due().Key == "new_mm" {
		t.Error("a later Enter does not confirm")
	}
}

func TestTwoValuesInOneBurstAreOneEntryAndADraft(t *testing.T) {
	u := atWork(t, 80, 24, nil).goTo("new_mm")
	before := u.lines()
	for _, k := range []string{"4205", "enter", "4206", "enter"} {
		u.send(keyOf(k))
		u.clock.t = u.clock.t.Add(2 * time.Millisecond)
	}
	if got := u.lines() - before; got != 1 {
		t.Fatalf("%d lines were written by one burst", got)
	}
	u.sees("[ 4206")
}

// A held key repeats after some hundred milliseconds, then fast.
func TestAHeldEnterDoesNotRunOn(t *testing.T) {
	for _, first := range []time.Duration{250, 400, 500, 660} {
		u := atWork(t, 80, 24, nil).goTo("tagged")
		before := u.lines()
		u.send(keyOf("enter"))
		u.clock.t = u.clock.t.Add(first * time.Millisecond)
		for range 200 {
			u.send(keyOf("enter"))
			u.clock.t = u.clock.t.Add(33 * time.Millisecond)
		}
		if got := u.lines() - before; got != 1 {
			t.Errorf("held for 7 s, first repeat after %d ms: %d lines", first, got)
		}
	}
}

func TestAPasteNeverGoesOn(t *testing.T) {
	u := atWork(t, 80, 24, nil).goTo("new_mm")
	before := u.lines()
	u.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("4205\r\n"), Paste: true})
	u.sees("[ 4205 ", "understood: 4205 mm")
	if u.lines() != before {
		t.Error("a pasted line end confirmed an entry")
	}
	u.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(strings.Repeat("x\x1b[2J", 200_000)), Paste: true})
	if n := len(u.m.top().(*cardPage).entry.text.text); n > maxDraft {
		t.Errorf("a paste of a megabyte left %d characters in the field", n)
	}
	u.seesNot("\x1b")
}

// While an entry is being written no key acts; what was typed goes into the
// field that comes, and nothing is confirmed.
func TestOneEntryIsUnderWayAtATime(t *testing.T) {
	u := atWork(t, 80, 24, nil).goTo("new_mm")
	u.types("4205")
	_, cmd := u.m.Update(keyOf("enter"))
	before := u.lines()
	for _, k := range []string{"enter", "4", "2"} {
		if _, c := u.m.Update(keyOf(k)); c != nil {
			t.Errorf("%s acted while an entry was being written", k)
		}
		u.wait()
	}
	u.run(cmd)
	if u.lines() != before+1 {
		t.Errorf("%d lines for one entry", u.lines()-before)
	}
	u.sees("[        ") // what followed an Enter was typed before this card was seen
}

func TestLeavingWaitsForTheEntryUnderWay(t *testing.T) {
	u := atWork(t, 80, 24, nil).goTo("new_mm")
	u.types("4205")
	_, cmd := u.m.Update(keyOf("enter"))
	if _, c := u.m.Update(keyOf("ctrl+c")); c != nil || u.quit {
		t.Fatal("left while an entry was being written")
	}
	before := u.lines()
	u.run(cmd)
	if !u.quit || u.lines() != before+1 {
		t.Errorf("quit %v, %d lines", u.quit, u.lines()-before)
	}
}

func TestADraftOutlivesLookingBackSleepAndResize(t *testing.T) {
	u := atWork(t, 80, 24, nil).goTo("new_mm")
	u.types("42").sees("field not saved")
	u.press("esc").sees("You are looking back", "READ THE LABEL").press("enter").sees("[ 42 ")
	u.press("tab").sees("all steps").press("esc").sees("[ 42 ")
	u.press("ctrl+z")
	if !u.slept {
		t.Error("ctrl+z does not put the bench to sleep")
	}
	u.send(tea.ResumeMsg{})
	u.size(40, 15)
	u.size(3, 2)
	u.size(80, 24)
	u.sees("[ 42 ").press("tab", "1").types("wind comes up").press("enter").sees("[ 42 ", "SAVED 10:")
	u.press("ctrl+c")
	if !u.quit || u.m.dropped != "42" {
		t.Errorf("quit %v, dropped %q", u.quit, u.m.dropped)
	}
}

func TestLettersDoNotActInATextField(t *testing.T) {
	u := atWork(t, 80, 24, nil).goTo("words")
	u.types("r n ? 1").sees("[ r n ? 1")
	u = atWork(t, 80, 24, nil).goTo("new_mm")
	u.press("?").sees("Reason and keys", "Invented for tests.").press("enter").sees("MEASURE THE NEW LINE")
}

// In haste a number goes into a list, or a word to a thing to be done.
func TestAKeyThatTypesWhereNothingIsTypedIsSaid(t *testing.T) {
	u := atWork(t, 80, 24, nil).goTo("saw_side")
	u.types("xy").sees("Nothing is typed here: a digit or the arrows choose.").press("1").seesNot("Nothing is typed")
	u = atWork(t, 80, 24, nil).goTo("tagged")
	lines := u.lines()
	u.press("2").sees("Nothing is typed here: enter says that it is done.")
	u.press("enter").sees("What was typed has no place here. That Enter took nothing.")
	if u.lines() != lines {
		t.Error("it was written")
	}
	u = sitDown(t, newStore(t, nil), procedures.Files(), 80, 24, nil).press("enter", "enter")
	u.types("pulley").sees("Nothing is typed here: a digit or the arrows choose.", "What is to be done?")
}

func TestARefusedReasonIsAskedFor(t *testing.T) {
	u := atWork(t, 80, 24, nil).goTo("why")
	u.press("2", "enter").sees("because:").types("a friend").press("enter")
	if u.due().Key != "new_mm" {
		t.Fatalf("at %s:\n%s", u.due().Key, u.view())
	}
	u.press("esc").sees("somewhere else (say where): a friend")
}

func TestLookingBackChangesNothingAndReopeningSaysWhatBecomesVoid(t *testing.T) {
	u := atWork(t, 80, 24, nil).goTo("turns")
	before := u.lines()
	u.press("esc", "esc", "esc", "left", "right").sees("TIE THE TAG ON")
	if u.lines() != before {
		t.Fatal("looking back wrote something")
	}
	u.press("right").sees("READ THE LABEL").press("2", "r")
	u.sees("3 answers will be void", "Where is the part from?", "New line, loose", "Codes on the link, centre first")
	u.seesNot("Code on the label")
	u.press("enter").sees("An empty answer says nothing").types("wrong shop").press("enter")
	if u.due().Key != "why" || u.lines() != before+1 {
		t.Fatalf("at %s, %d lines", u.due().Key, u.lines()-before)
	}
	u.sees("Part in hand void", "as before, it still holds: the maker", "SAVED 10:00  3 answers void").press("0", "enter")
	if u.due().Key != "new_mm" {
		t.Errorf("the old answer does not stand: at %s", u.due().Key)
	}
}

func TestStrikeANoteAndAReading(t *testing.T) {
	u := atWork(t, 80, 24, nil).goTo("new_mm")
	u.types("4205").press("enter").types("4245").press("enter").sees("differ by 40 mm")
	u.press("tab", "2").sees("reading 2, 4245 mm").press("down", "enter").types("jerked").press("enter").sees("(struck)", "1 of 2 readings")
	u.press("tab", "1").types("a note").press("enter").press("tab", "2", "down", "enter").types("wrong").press("enter")
	n := 0
	for _, e := range u.m.session.Job().Events() {
		if e.Kind == job.Struck {
			n++
		}
	}
	if n != 2 {
		t.Errorf("%d entries are struck", n)
	}
}

func TestNotProvedIsTakenByDecisionOnly(t *testing.T) {
	u := atWork(t, 80, 24, nil).goTo("new_mm")
	u.types("4214").press("enter").types("4214").press("enter").sees("NOT PROVED").press("enter")
	if u.due().Key != "new_mm" {
		t.Fatal("not proved closed the step")
	}
	u.press("enter").sees("MEASURE THE NEW LINE") // judged already: Enter changes nothing
	u.sees("tab: strike one, decide, lay down")
	u.press("tab", "4").sees("Decide yourself").types("it will be measured again").press("enter")
	if u.due().Key != "order_before" {
		t.Errorf("a decision does not close the step: %s\n%s", u.due().Key, u.view())
	}
}

// What would decide instead of a person is said as it is.
func TestADecisionSaysWhatElseWouldDecide(t *testing.T) {
	u := onBench(t, 80, 24, goodBench)
	u.types("4213").press("enter").types("4214.4").press("enter", "enter", "tab", "4").sees("8 readings in all would", "your name and reason stand")
	u = atWork(t, 80, 24, nil).goTo("new_mm")
	u.types("4214").press("enter").types("4214").press("enter", "enter", "tab", "4").sees("No number of readings would").seesNot("More readings")
}

func TestLayDownTakeUpDrop(t *testing.T) {
	u := atWork(t, 80, 24, nil).goTo("part_code")
	u.press("tab", "6").types("no part yet").press("enter").sees("THIS TASK IS LAID DOWN", "no part yet")
	u.press("enter").sees("IS IT AS IT SAYS").press("enter").sees("READ THE LABEL")
	u.press("tab", "7").types("wrong line").press("enter").sees("The tasks of this job", "dropped")
}

func TestAnInterruptionIsConfirmedFirst(t *testing.T) {
	st := newStore(t, nil)
	u := sitDown(t, st, small(t), 80, 24, nil).start("small", "line:C1.2@left").goTo("new_mm")
	u.press("tab", "9").sees("the jobs at this bench", "Small swap: C1.2 left, step 5")
	u.clock.t = u.clock.t.Add(3 * time.Hour)
	u.press("1", "enter").sees("The work was interrupted", "3 hours ago", "the maker", "IS IT AS IT SAYS")
	before := u.lines()
	u.press("esc").sees("You are looking back").press("enter").press("r").sees("Why is it done again?").press("esc")
	u.press("enter").sees("MEASURE THE NEW LINE")
	if u.lines() != before+1 {
		t.Errorf("%d lines for one confirmation", u.lines()-before)
	}
}

func TestTheBenchIsDescribedDuringAJob(t *testing.T) {
	u := atWork(t, 80, 24, nil).goTo("new_mm")
	u.sees("bench: not described").press("tab", "0").sees("The bench", "(a fallback)").press("enter").types("barn").press("enter").sees("barn")
	before := u.lines()
	u.press("0", "enter").sees("SAVED the bench barn").seesNot("bench: not described")
	if got := u.m.session.Job().Bench.Name; got != "barn" || u.lines() != before+1 {
		t.Errorf("the job measures on %q, %d entries", got, u.lines()-before)
	}
	u.types("4205").press("enter", "tab", "0", "enter").types("shed").press("enter", "0", "enter").sees("Readings wait for their verdict")
}
