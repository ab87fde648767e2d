package prompt

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/wing"
)

// walked feeds lines to a new job, patiently, and gives what was said.
func walked(t *testing.T, lines ...string) (string, *job.Job) {
	t.Helper()
	d := bench(t)
	s := start(t, d)
	text, err := feed(t, d, s, Options{Patient: true}, append(lines, ":quit")...)
	check(t, err)
	return text, s.Job()
}

func TestHelpListsEveryCommand(t *testing.T) {
	text, _ := walked(t, ":help all")
	for _, topic := range topics {
		for _, k := range topic.commands {
			mustSay(t, text, sign+k.name)
		}
	}
}

func TestNothingIsMendedWithoutNeed(t *testing.T) {
	text, j := walked(t, ":mend")
	mustSay(t, text, "Nothing is to be mended: every entry was saved.")
	if j.Lines != 2 {
		t.Errorf("the journal has %d lines, want 2", j.Lines)
	}
}

func TestCommandsByTheirFirstLetters(t *testing.T) {
	text, _ := walked(t, ":ov", ":t 1", ":st", ":zz")
	mustSay(t, text, "Phases: Find here; Work to come; Check to come.",
		`"st" can be strike or stands`, `there is no command "zz"`)
}

func TestReasonAndWholeCardOnDemand(t *testing.T) {
	text, _ := walked(t, ":why", ":card")
	mustSay(t, text, "To do: FIND THE LINE", "Reason: The wrong line is easily taken.", "To do: FIND THE LINE")
}

func TestLookingBackChangesNothing(t *testing.T) {
	text, j := walked(t, append(upTo(atOrder), ":back", ":back 2", ":back 99", ":back x")...)
	mustSay(t, text, "You are looking back.", "Step 5.", "Damage: sheath cut (ann, ", "New line: 4206.5 mm", "Verdict: ",
		"To do: FIND THE LINE", "Side: left",
		"To do: FIND THE LINE",
		`"x" is no number of cards`)
	if j.Lines != 2+atOrder {
		t.Errorf("the journal has %d lines, want %d", j.Lines, 2+atOrder)
	}
}

func TestTheTargetStaysCoveredUntilItIsFound(t *testing.T) {
	text, _ := walked(t, append(upTo(atJoints), ":overview", ":card", ":back", ":why")...)
	if strings.Contains(text, "C1.2") {
		t.Errorf("the code was said before it was found out:\n%s", text)
	}
}

func TestNotesAndStrikes(t *testing.T) {
	text, j := walked(t, append(upTo(atLoose+1), ":note wind from the left", ":strike 9 jerked the line", ":strike 9 again", ":strike x", ":note")...)
	mustSay(t, text, ":note wind", "Saved, entry 10.", ":strike 9 jerked", "Saved, entry 11.", "Entry 9 is struck already.", "the number of an entry is wanted", "An empty entry")
	if len(j.Notes) != 1 || j.Tasks[0].At("loose").Readings[0].Struck != "jerked the line" {
		t.Error("the note or the strike is not in the job")
	}
}

func TestReopeningShowsFirstWhatBecomesVoid(t *testing.T) {
	// Steps 1 to 4 find the line, 5 is the damage, 6 the label, 7 the length.
	text, j := walked(t, append(upTo(atOrder), ":reopen 6 read it in a bad light", "no")...)
	mustSay(t, text, "2 answers are void", "step 6, READ THE LABEL, Code on the label: C1.2", "step 7, READ THE LABEL, New line: 4206.5 mm", "Left as it is.")
	if j.Tasks[0].At("label").State != job.Ready {
		t.Error("the step was re-opened without a yes")
	}
	text, j = walked(t, append(upTo(atOrder), ":reopen 1/damage looked again", "yes", ":stands", "C1.2", ":stands")...)
	mustSay(t, text, "3 answers are void", "Re-open it?", "> yes", "Saved, entry 12.",
		"Void, answer again. It said: sheath cut", "If it still holds: :stands", "Saved, entry 13.",
		"Void, answer again. It said: C1.2", "Saved, entry 14.", "is done anew")
	if a := j.Tasks[0].At("damage"); a.State != job.Ready || a.Event.Choice != "sheath" {
		t.Errorf("the old answer does not stand: %+v", a)
	}
	text, _ = walked(t, ":reopen 99 why", ":reopen nothing why", ":reopen 1")
	mustSay(t, text, "there is no step 99", "Not answered yet: nothing")
}

func TestAPersonDecidesWhatIsNotProved(t *testing.T) {
	text, j := walked(t, append(upTo(atLoose), "4214", "4214", "", ":decide twin reads the same")...)
	mustSay(t, text, "not proved", "Noted, and the step stays open", "Saved, entry 12.")
	if a := j.Tasks[0].At("loose"); a.State != job.Ready || a.Decided != "twin reads the same" {
		t.Errorf("not decided: %+v", a)
	}
}

func TestAHoldIsNotAgreedTo(t *testing.T) {
	text, j := walked(t, append(upTo(atSecond), ":disagree the joint looks twisted")...)
	mustSay(t, text, "STOP.", ":disagree the joint", "answers are void.", "To do: OPEN THE LINK", "Void, answer again.")
	if j.Tasks[0].At("first_order").State != job.Void {
		t.Error("the covered work still counts")
	}
}

func TestATaskIsLaidDownAndTakenUp(t *testing.T) {
	text, _ := walked(t, append(upTo(atOrderAgain), ":lay-down wind", "1", "3", "1", "1", "1", ":take-up", ":quit")...)
	mustSay(t, text, ":lay-down", "Task 1 is laid down: wind", "Refused: Task 1 is laid down.", ":take-up", "Saved",
		"LINK OPEN: link C left, task 1.")
}

func TestATaskIsDroppedAndAnotherAdded(t *testing.T) {
	text, j := walked(t, ":add", ":add nothing C1.2 left", ":add bench-test C9.9 left", ":add bench-test C1.2", ":add bench-test C1.3 right", ":task 1", ":task 7", ":drop the other side", ":task 2")
	mustSay(t, text, "bench-test: Bench test. Target: a line and its side", `there is no procedure "nothing"`, "no C9.9 left",
		`"C1.2" is no target here`, "Task 2: Bench test", "Task 1:", `there is no task "7"`, "Saved", "Task 2:")
	if len(j.Tasks) != 2 || j.Tasks[0].State() != job.Gone || j.Tasks[1].Add.Target != wing.LineRef("C1.3", wing.Right) {
		t.Errorf("tasks: %+v", j.Tasks)
	}
}

func TestADroppedTaskAsksForNothing(t *testing.T) {
	d := bench(t)
	s := start(t, d)
	text, err := feed(t, d, s, Options{}, ":drop the wing is sold")
	check(t, err)
	mustSay(t, text, "Saved, entry 3.", "Task 1 was dropped. Add another with :add")
	if _, rest, _ := strings.Cut(text, "Saved, entry 3."); strings.Contains(rest, "Wanted:") {
		t.Errorf("a step of a dropped task is asked for:\n%s", text)
	}
}

func TestTargetsAsPeopleWriteThem(t *testing.T) {
	for _, c := range []struct {
		kind wing.Kind
		text string
		want wing.Ref
	}{
		{wing.KindLine, "C1.2 left", wing.LineRef("C1.2", wing.Left)},
		{wing.KindLine, " C1.2@right ", wing.LineRef("C1.2", wing.Right)},
		{wing.KindLine, "line:C1.2@left", wing.LineRef("C1.2", wing.Left)},
		{wing.KindLink, "C left", wing.LinkRef("C", wing.Left)},
		{wing.KindBrakes, "", wing.Brakes()},
		{wing.KindBrakes, "brakes", wing.Brakes()},
	} {
		got, err := Target(c.kind, c.text)
		if err != nil || got != c.want {
			t.Errorf("Target(%s, %q) = %v, %v; want %v", c.kind, c.text, got, err, c.want)
		}
	}
	for _, text := range []string{"", "C1.2", "left", "C1.2 up", "C1.2 left right"} {
		if got, err := Target(wing.KindLine, text); err == nil {
			t.Errorf("Target(line, %q) = %v, want an error", text, got)
		}
	}
}

func TestAfterAnInterruptionTheLastStepIsConfirmed(t *testing.T) {
	d := bench(t)
	s := start(t, d)
	_, err := feed(t, d, s, Options{Patient: true}, append(upTo(atOrder), ":quit")...)
	check(t, err)
	no := s.No()
	check(t, s.Close())
	s, err = d.Open(no)
	check(t, err)
	t.Cleanup(func() { _ = s.Close() })
	text, err := feed(t, d, s, Options{Patient: true}, "1 2 3", "", ":quit")
	check(t, err)
	mustSay(t, text, "The work was interrupted.", "Last entry: 2026-03-01", "Last step done: READ THE LABEL: New line", "It says: 4206.5 mm",
		":reopen 7 REASON", "Refused: The work was interrupted", "Saved, entry 12.", "To do: OPEN THE LINK")
}

func TestAJobWithoutATask(t *testing.T) {
	d := bench(t)
	s, err := d.Start(newJob)
	check(t, err)
	t.Cleanup(func() { _ = s.Close() })
	text, err := feed(t, d, s, Options{}, ":add bench-test C1.2 left")
	mustSay(t, text, "This job has no task yet.", "Saved, entry 2.", "Task 1: Bench test")
	if err == nil {
		t.Error("the input ended in a task and nothing was said")
	}
}

func TestAPhotoIsCopiedIntoTheJob(t *testing.T) {
	dir := t.TempDir()
	picture, bad := filepath.Join(dir, "link.jpg"), filepath.Join(dir, "link.txt")
	check(t, os.WriteFile(picture, []byte("a picture"), 0o644))
	check(t, os.WriteFile(bad, []byte("no picture"), 0o644))
	text, j := walked(t, upTo(atPhoto, bad, filepath.Join(dir, "absent.jpg"), picture)...)
	mustSay(t, text, "link.txt: this is not known as a photo", "absent.jpg: the photo cannot be read", "> "+picture, "Saved, entry ")
	if p := j.Tasks[0].At("picture").Event.Photo; p == nil || p.Name != p.SHA256+".jpg" {
		t.Errorf("the photo is not in the job: %+v", p)
	}
}

// What could not be packed for the other machine is not handed on: the work
// would be lost between two places.
func TestAJobWithALostPhotoIsNotHandedOn(t *testing.T) {
	d := bench(t)
	s := start(t, d)
	picture := filepath.Join(t.TempDir(), "link.jpg")
	check(t, os.WriteFile(picture, []byte("a picture"), 0o644))
	_, err := feed(t, d, s, Options{Patient: true}, append(upTo(atPhoto, picture), ":quit")...)
	check(t, err)
	photo := filepath.Join(d.Store.Dir(), "jobs", "0001", "photos", s.Job().Tasks[0].At("picture").Event.Photo.Name)
	kept := read(t, photo)
	check(t, os.Remove(photo))
	text, err := feed(t, d, s, Options{}, ":hand-on bea the rest")
	if err == nil || s.Job().HandedTo() != "" {
		t.Fatalf("handed to %q: %v", s.Job().HandedTo(), err)
	}
	mustSay(t, text, "Refused: ", ".jpg")
	check(t, os.WriteFile(photo, kept, 0o644))
	text, err = feed(t, d, s, Options{Patient: true}, ":hand-on", ":hand-on bea the rest", ":hand-on cal more", ":quit")
	check(t, err)
	mustSay(t, text, "Refused: ", "Saved, entry ", "linewright job pack 1 -o FILE", "Refused: ")
	if s.Job().HandedTo() != "bea" || s.Job().HandedWords() != "the rest" {
		t.Errorf("handed to %q with %q", s.Job().HandedTo(), s.Job().HandedWords())
	}
}
