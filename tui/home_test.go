package tui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/logbook"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/store"
	"example.org/linewright/procedures"
)

func TestTheFirstRunSaysWhatToDo(t *testing.T) {
	st, err := store.Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	defer st.Close()
	u := sitDown(t, st, procedures.Files(), 80, 24, func(o *Options) { o.Desk.Who = "" })
	u.sees("Who is at the bench?").types("an na").press("enter").sees("cannot").press("ctrl+u").types("anna").press("enter")
	u.sees("NOTHING IS HERE YET", "A mistake on a line can kill", "linewright wing add ID FILE", "linewright signer new anna", "linewright demo", "anna is at the bench").press("enter").sees("Bench sums", "Nothing of this is written").press("esc", "1").sees("NOTHING IS HERE YET")
}

func TestAJobIsStartedInFewSteps(t *testing.T) {
	u := sitDown(t, newStore(t, nil), procedures.Files(), 80, 24, nil)
	u.sees("1 wing here").press("enter").sees("Which wing").press("enter").sees("What is to be done?", "Mend: lines")
	u.press("enter").sees("NOTHING CHOSEN").picks("Mend").sees("Line swap").press("enter").sees("NOTHING CHOSEN").press("1").sees("One damaged line replaced").press("enter").sees("Which side").press("2", "enter").sees("type the code")
	u.types("c1.2").press("enter").sees("Capital and small letters count", "c1.2")
	u.press("ctrl+u").types("C1.2").sees("C1.2 right").press("enter").sees("Why is the wing here?", "Enter starts the job")
	if nos, err := u.m.desk.Store.Jobs(); err != nil || len(nos) != 0 {
		t.Fatalf("something was written before it was said so: %v %v", nos, err)
	}
	u.types("snagged").press("enter").sees("line to be found", "<Prepare>", "SAVED the start of job 1")
	if got := u.m.session.Job().Start.Reason; got != "snagged" {
		t.Errorf("the reason is %q", got)
	}
}

func TestTheFanIsWalkedWithArrows(t *testing.T) {
	u := sitDown(t, newStore(t, nil), procedures.Files(), 80, 24, nil)
	u.press("enter", "enter").picks("Mend").picks("Line swap").press("1", "enter").sees("A1.1 left")
	u.press("up").sees("A2.1 left").press("down", "left").sees("A1.2 left").press("right", "right").sees("A1.1 right")
	u.press("esc").sees("Which side")
}

func TestAProcedureThatDoesNotFitSaysWhatInstead(t *testing.T) {
	u := sitDown(t, newStore(t, nil), procedures.Files(), 80, 24, nil)
	main := ""
	plan, err := procedures.Sample.ReadFile("sample/plan.toml")
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range strings.Split(string(plan), "\n") {
		if strings.HasPrefix(l, "main = ") {
			main = strings.Trim(strings.TrimPrefix(l, "main = "), `"`)
		}
	}
	u.press("enter", "enter").picks("Mend").picks("Line swap").press("1", "enter").types(main).press("enter").sees("Not with this procedure")
	if nos, err := u.m.desk.Store.Jobs(); err != nil || len(nos) != 0 {
		t.Errorf("something was written: %v %v", nos, err)
	}
}

func TestAJobInUseSaysWhoHoldsIt(t *testing.T) {
	st := newStore(t, nil)
	u := sitDown(t, st, small(t), 80, 24, nil).start("small", "line:C1.2@left")
	other := sitDown(t, st, small(t), 80, 24, func(o *Options) { o.Desk.Who = "bea" })
	other.press("1", "enter").sees("Job 1 is in use", "held by anna", "is on the disk", "Close the job there").press("enter").sees("Job 1 is in use")
	other.press("l").sees("read only", "Last entry", "Small swap: ").press("enter").sees("Job 1 is in use")
	u.press("tab", "9")
	other.press("enter").sees("FOLLOW THE DAMAGED LINE")
}

func TestADamagedJournalIsSaidAndHidesNoOther(t *testing.T) {
	st := newStore(t, nil)
	u := sitDown(t, st, small(t), 80, 24, nil).start("small", "line:C1.2@left").start("small", "line:C1.1@left")
	u.press("tab", "9")
	file := filepath.Join(st.Dir(), "jobs", "0002", "journal.jsonl")
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, []byte(strings.Replace(string(data), "Sample", "Simple", 1)), 0o644); err != nil {
		t.Fatal(err)
	}
	u = sitDown(t, st, small(t), 80, 24, nil)
	u.sees("job 2: CANNOT BE READ", "job 1: Sample wing, 0042").press("2", "enter").sees("Job 2 cannot be opened", "line")
}

func TestFaultyProceduresAreSaid(t *testing.T) {
	files := append(small(t), procedure.File{Name: "bad.toml", Data: []byte("id = ")})
	u := sitDown(t, newStore(t, nil), files, 80, 24, nil)
	u.sees("Some procedures have faults").press("enter", "enter").sees("Small swap", "Some procedures have faults")
}

func TestATornLineIsTold(t *testing.T) {
	st := newStore(t, nil)
	u := sitDown(t, st, small(t), 80, 24, nil).start("small", "line:C1.2@left")
	u.press("tab", "9")
	file := filepath.Join(st.Dir(), "jobs", "0001", "journal.jsonl")
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, append(data, `{"n":3,"pre`...), 0o644); err != nil {
		t.Fatal(err)
	}
	u = sitDown(t, st, small(t), 80, 24, nil)
	u.press("1", "enter").sees("The journal was mended", "was cut off while it was written").press("enter").sees("FOLLOW THE DAMAGED LINE")
}

func TestOneBrakeMovedIsSaidWhereTheJobIsListed(t *testing.T) {
	st := newStore(t, nil)
	u := sitDown(t, st, procedures.Files(), 80, 24, nil).start("pulley-relocation", "brakes")
	u.say = map[string]string{"place_new": "2", "distance_left": "135", "distance_right": "135"}
	for range 80 {
		one := false
		for _, task := range u.m.session.Job().Tasks {
			one = one || task.OneSide()
		}
		if one {
			u.press("tab", "8").sees("one brake is moved").press("9", "enter").sees("ONE BRAKE IS MOVED, THE OTHER IS NOT")
			return
		}
		u.answer(u.due(), func(ks ...string) { u.press(ks...) })
	}
	t.Fatal("no side was ever altered")
}

func TestAJobCanBeOpenedDirectly(t *testing.T) {
	st := newStore(t, nil)
	u := sitDown(t, st, small(t), 80, 24, nil).start("small", "line:C1.2@left").start("small", "line:C1.1@left")
	u.press("tab", "9")
	u = sitDown(t, st, small(t), 80, 24, func(o *Options) { o.Job = 1 })
	u.sees("FOLLOW THE DAMAGED LINE", "job 1")
	u.press("tab", "8", "7", "enter", "1", "enter", "1", "enter").types("C1.3").press("enter").sees("adds this task").press("enter").sees("SAVED task 2")
	u.press("tab", "8").sees("The tasks of this job").press("1", "enter").sees("job 1").press("tab", "8", "9", "enter").sees("the jobs at this bench")
}

func TestTheRecordIsSignedAfterClosing(t *testing.T) {
	st := newStore(t, nil)
	asked := 0
	u := sitDown(t, st, small(t), 80, 24, func(o *Options) {
		o.RecordJSON = func(int) ([]byte, error) { asked++; return []byte(`{"a":1}`), nil }
	}).start("small", "line:C1.2@left")
	u.walk(nil)
	u.press("enter").types("done").press("enter", "1", "enter").sees("Sign the record as the doer", "linewright record export 1").press("1", "enter").sees("Signed by anna", "SAVED 10:", "the doer's signature")
	got, err := st.ReadClosing(1)
	if err != nil || len(got["doer"]) == 0 || asked != 1 {
		t.Errorf("signatures %v, %v, asked %d times", got, err, asked)
	}
	u.press("enter").sees("closed")
}

// Digits gather to a job's number, whether they come one by one or at once.
func TestAJobOfTwoDigitsIsOpenedByItsNumber(t *testing.T) {
	u := sitDown(t, newStore(t, nil), small(t), 80, 24, nil)
	for range 12 {
		u.start("small", "line:C1.2@left").press("tab", "9")
	}
	u.sees("> 12  job 12", "   9  job 9")
	u.press("1").sees(">  1  job 1:", "number 1: enter takes it, esc clears it").press("0").sees("> 10  job 10", "number 10: enter takes it")
	u.press("esc").sees("> 12  job 12").seesNot("number 10").press("7").sees(">  7  job 7").press("enter").sees("Sample wing, job 7").press("tab", "9")
	u.send(keyOf("11"))
	u.wait()
	u.press("enter").sees("Sample wing, job 11").press("tab", "9")
	u.send(keyOf("4207")) // an instrument
	u.wait()
	u.sees("4207 is none of the numbers here: nothing is marked.").seesNot("> ").press("enter").sees("That Enter took nothing.", "> 12  job 12")
}

func TestANumberThatNoJobHasOpensNothing(t *testing.T) {
	l := list{items: []item{{digit: 10, text: "a"}, {digit: 11, text: "b"}, {digit: 0, text: "new"}}}
	l.key(keyOf("1"), 5)
	if l.at != -1 || l.gathered() != "number 1..: type on; esc clears it" {
		t.Errorf("marked %d, %q", l.at, l.gathered())
	}
	if l.key(keyOf("1"), 5); l.at != 1 {
		t.Errorf("marked %d", l.at)
	}
	if l.key(keyOf("0"), 5); l.at != -1 || !l.odd() {
		t.Errorf("marked %d by %s", l.at, l.typed)
	}
	if l.key(keyOf("backspace"), 5); l.at != 0 || l.typed != "" {
		t.Errorf("marked %d", l.at)
	}
}

// The list counts what a job left open as its record does, and says who waits
// for it.
func TestTheListSaysWhatAJobLeftOpen(t *testing.T) {
	p := logbook.Page{
		HandedTo: "cal",
		Open:     []logbook.Item{{Task: 1, Step: "end", Text: "look again"}, {Task: 1, Step: "tail", Text: "taken", Decided: true}, {Task: 2, Text: "laid down"}},
		Findings: []logbook.Finding{{State: job.StateDeferred}, {State: job.StateMended}, {State: job.StateOpen}},
	}
	if got, want := pageWords(p), "HANDED ON to cal; 3 open items"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	p.Closed, p.HandedTo = true, ""
	if got, want := pageWords(p), "closed; 4 open items"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}
