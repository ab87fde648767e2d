package prompt

import (
	"strings"
	"testing"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/wing"
)

func TestHelpBackAndASlipKeepTheAnswersOfTheBench(t *testing.T) {
	d, s := undescribed(t)
	lines := append(upTo(atLoose), described[:4]...) // :bench, yes, a name, a class
	lines = append(lines, "?", ":note a slip", ":back", ":ba", ":back", "", "")
	text, err := feed(t, d, s, Options{Patient: true}, append(append(lines, described[4:]...), ":quit")...)
	check(t, err)
	mustSay(t, text, ReplyRule,
		"> ?", "3. How far apart", ReplyRule,
		"> :note a slip", "cannot be done between two questions; your answers are kept",
		"> :back", "2. Which accuracy class", "Enter: III",
		"> :ba", "1. What do you call", "Enter: meadow",
		"> :back", "This is the first question.", "1. What do you call",
		"2. Which accuracy class", "3. How far apart", "Saved, entry 9.")
	if b := s.Job().Bench; b.Name != "meadow" || b.TapeClass != "III" {
		t.Errorf("the bench is %q of class %s", b.Name, b.TapeClass)
	}
}

func TestGoingBackInAFindingKeepsWhatWasSaid(t *testing.T) {
	d, s, err := realJob(t, "damage-survey", wing.Whole())
	check(t, err)
	toRowB := []string{"", "snag", "left", "freed by hand", "good", "", "1", "1", "1", "1"}
	finding := []string{"B2.3", ":back", "lump", "1500", "thin", "?", ":back", ":back", ":back", "1", "", "", ""}
	text, err := feed(t, d, s, Options{Patient: true}, append(append(toRowB, finding...), ":quit")...)
	check(t, err)
	mustSay(t, text, "> :back", "This is the first question.", "> lump", "> 1500", "> thin", "> ?", "Photo file", ReplyRule,
		"> :back", "it stays as it was said, thin", "> :back", "it stays as it was said, 1500", "> :back", "What is it on B2.3 left?",
		"> 1", "Found, entry ", "core bare", "1500 mm from its lower end (thin)")
}

func TestTheSafeStateIsAskedWithoutLoss(t *testing.T) {
	text, j := walked(t, append(upTo(atOrderAgain), ":lay-down wind", "1", "?", "3", ":back", ":note x", "3", "1", "1", "1")...)
	mustSay(t, text, "> ?", ReplyRule, "> 3", "> :back", "> :note x", "your answers are kept", "Task 1 is laid down: wind")
	if len(j.Notes) != 0 || j.Tasks[0].State() != job.Waiting {
		t.Errorf("notes %v, task %s", j.Notes, j.Tasks[0].State())
	}
}

func TestGoingBackInASumKeepsTheOtherValues(t *testing.T) {
	text, _ := walked(t, ":reckon knot", ":back", "1200", "?", ":back", "", ":quit", ":quit")
	mustSay(t, text, "This is the first question.", "> 1200", "> ?", "> :back", "So far: 1200. An empty line keeps it.", "Broken off.")
}

func TestAQuestionMarkIsNoNo(t *testing.T) {
	text, j := walked(t, append(upTo(atOrder), ":reopen 6 read it in a bad light", "?", "yes")...)
	mustSay(t, text, "Re-open it?", "> ?", "Re-open it?", "> yes", "Saved")
	if j.Tasks[0].At("label").State != job.Void {
		t.Error("the step was not re-opened")
	}
}

func TestRepliesBetweenQuestions(t *testing.T) {
	for line, want := range map[string]Reply{
		"4206": Answered, "": Answered, "?": Explain, ":help": Explain, ":h": Explain, " :back ": GoBack, ":b": GoBack, ":": BreakOff, ":quit": BreakOff,
	} {
		if got, err := ReplyOf(line); got != want || err != nil {
			t.Errorf("%q is %d, %v; want %d", line, got, err, want)
		}
	}
	if _, err := ReplyOf(":note wind"); err == nil || !strings.Contains(err.Error(), "your answers are kept") {
		t.Errorf("a command between two questions: %v", err)
	}
}
