package job

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/wing"
)

var update = flag.Bool("update", false, "write golden files; read them before you commit them")

// attempt is one thing that a person might try at a step, and what stops it.
type attempt struct {
	at   string // step that is due; "" for a new task, "end" for a task that is done
	do   func(r *rig) (Event, error)
	name string
	want Code
}

func typed(text string) func(*rig) (Event, error) {
	return func(r *rig) (Event, error) { return r.enter(Entry{Kind: EnterAnswer, Text: text}) }
}

func entry(en Entry) func(*rig) (Event, error) {
	return func(r *rig) (Event, error) { return r.enter(en) }
}

// then runs entries that must succeed before the last one.
func then(first Entry, last Entry) func(*rig) (Event, error) {
	return func(r *rig) (Event, error) {
		r.must(first)
		return r.enter(last)
	}
}

// onBench changes the bench, enters readings and asks for the verdict.
func onBench(b *metrology.Bench, readings ...string) func(*rig) (Event, error) {
	return func(r *rig) (Event, error) {
		r.must(Entry{Kind: EnterBench, Bench: b})
		for _, text := range readings {
			r.must(Entry{Kind: EnterAnswer, Text: text})
		}
		return r.enter(Entry{Kind: EnterOn})
	}
}

func signAs(role, name, key string) func(*rig) (Event, error) {
	return func(r *rig) (Event, error) {
		m, err := r.job.Hold(1, r.stamp(), name, key)
		if err != nil {
			return Event{}, err
		}
		if role != "" {
			m.Role = role
		}
		return r.enter(Entry{Kind: EnterSign, Sign: &m})
	}
}

var attempts = []attempt{
	{"branch", typed(""), "(Enter)", ValueWanted},
	{"branch", entry(Entry{Kind: EnterAnswer, Key: "label", Text: "C1.2"}), "C1.2 for a later step", NotYet},
	{"joints", typed("1"), "1 (two middle lines fit)", SeenSeveral},
	{"place", then(Entry{Kind: EnterAnswer, Text: "3"}, Entry{Kind: EnterAnswer, Text: "0"}), "3rd on the link", SeenOther},
	{"place", then(Entry{Kind: EnterAnswer, Text: "9"}, Entry{Kind: EnterAnswer, Text: "0"}), "9th on the link", SeenNone},
	{"place", typed("two"), "two", BadValue},
	{"damage", typed("4"), "4", ChoiceUnknown},
	{"damage", typed("3"), "3", ReasonMissing},
	{"damage", typed("2"), "2", StopHere},
	{"damage", entry(Entry{Kind: EnterAnswer, Text: "3 \x1b[31m"}), "3 and an escape", Unprintable},
	{"damage", entry(Entry{Kind: EnterAnswer, Text: strings.Repeat("x", 5000)}), "5000 letters", TooLong},
	{"label", typed("c1.2"), "c1.2", CodeCase},
	{"label", typed("C1.3"), "C1.3", CodeOther},
	{"loose", typed("1.234,5"), "1.234,5", BadValue},
	{"loose", typed("nan"), "nan", BadValue},
	{"loose", typed("-5"), "-5", BadValue},
	{"loose", typed("4 kg"), "4 kg", BadValue},
	{"loose", typed("420"), "420", Implausible},
	{"loose", then(Entry{Kind: EnterAnswer, Text: "4206"}, Entry{Kind: EnterOn}), "4206, (Enter)", MoreReadings},
	{"loose", func(r *rig) (Event, error) {
		r.must(Entry{Kind: EnterAnswer, Text: "4206"})
		return then(Entry{Kind: EnterAnswer, Text: "4211"}, Entry{Kind: EnterOn})(r)
	}, "4206, 4211, (Enter)", SpreadWide},
	{"loose", func(r *rig) (Event, error) {
		r.must(Entry{Kind: EnterAnswer, Text: "4206"})
		r.must(Entry{Kind: EnterAnswer, Text: "4211"})
		return then(Entry{Kind: EnterAnswer, Text: "4206"}, Entry{Kind: EnterOn})(r)
	}, "4206, 4211, 4206, (Enter)", StrikeOdd},
	{"loose", func(r *rig) (Event, error) {
		r.must(Entry{Kind: EnterAnswer, Text: "4217"})
		return then(Entry{Kind: EnterAnswer, Text: "4217"}, Entry{Kind: EnterOn})(r)
	}, "4217, 4217, (Enter)", OutsideLimit},
	{"loose", func(r *rig) (Event, error) {
		r.must(Entry{Kind: EnterAnswer, Text: "4214"})
		return then(Entry{Kind: EnterAnswer, Text: "4214"}, Entry{Kind: EnterOn})(r)
	}, "4214, 4214, (Enter)", NotProvedYet},
	{"loose", onBench(bench("I", metrology.PullWeight, 1, 1500), "4213", "4213"), "two readings on a good bench", NotProvedMore},
	{"loose", onBench(bench("III", metrology.PullHand, 15, 500), "4212", "4212"), "the same on a poor bench", NotProvedNever},
	{"loose", func(r *rig) (Event, error) {
		return then(Entry{Kind: EnterAnswer, Text: "4206"}, Entry{Kind: EnterBench, Bench: bench("I", metrology.PullWeight, 1, 300)})(r)
	}, "another bench between readings", BenchInUse},
	{"damage", func(r *rig) (Event, error) {
		r.must(Entry{Kind: EnterAnswer, Text: "3 core bare"})
		r.to("old")
		r.must(Entry{Kind: EnterAnswer, Text: "4190"})
		return then(Entry{Kind: EnterAnswer, Text: "4197"}, Entry{Kind: EnterOn})(r)
	}, "an old line with a bare core: 4190, 4197, (Enter)", NoReference},
	{"loose", entry(Entry{Kind: EnterDecide, Text: "fine"}), "decide", NothingProved},
	{"loose", entry(Entry{Kind: EnterStrike, Line: 2, Text: "no"}), "strike line 2", NotAReading},
	{"loose", func(r *rig) (Event, error) {
		r.must(Entry{Kind: EnterAnswer, Text: "4206"})
		n := len(r.journal)
		return then(Entry{Kind: EnterStrike, Line: n, Text: "slipped"}, Entry{Kind: EnterStrike, Line: n, Text: "again"})(r)
	}, "strike a reading twice", StruckAlready},
	{"first_order", entry(Entry{Kind: EnterStrike, Line: 9, Text: "no"}), "strike a reading of a closed step", StrikeClosed},
	{"first_order", typed("1 2"), "1 2", OrderIncomplete},
	{"first_order", typed("1 2 2"), "1 2 2", OrderTwice},
	{"first_order", typed("1 2 c1.3"), "1 2 c1.3", CodeUnknown},
	{"second_order", typed("1 3 2"), "1 3 2", OrderCrossed},
	{"second_order", typed("3 2 1"), "3 2 1", OrderMirrored},
	{"second_order", entry(order("3 2 1", SeenAsAsked)), "3 2 1, seen as the step says", OrderCrossed},
	{"second_order", entry(order("3 2 1", SeenUnknown)), "3 2 1, from a side that is not known", OrderNoSide},
	{"second_order", entry(Entry{Kind: EnterDrop, Text: "no"}), "drop with the link open", LinkOpenDrop},
	{"second_order", func(r *rig) (Event, error) {
		a := r.job.Tasks[0].Add.clone()
		a.Target = wing.LineRef("A1.1", wing.Left)
		return r.enter(Entry{Kind: EnterAdd, Add: a})
	}, "add a task on another link with this one open", LinkOpen},
	{"turns_open", typed("30"), "30", Miscounted},
	{"turns_closed", typed("4"), "4 (opened with 5)", MustFails},
	{"joint", typed("2"), "2", WrongState},
	{"second_look", typed("ok"), "ok", NoValueWanted},
	{"second_look", entry(Entry{Kind: EnterOn}), "(Enter)", HoldWaits},
	{"joint", func(r *rig) (Event, error) {
		r.must(Entry{Kind: EnterReopen, Key: "twin_installed", Text: "again"})
		r.bare = "joint"
		r.to("joint")
		return r.enter(Entry{Kind: EnterAnswer, Text: "1"})
	}, "1, before the second person gave a name", LookerFirst},
	{"joint", entry(Entry{Kind: EnterLook, Text: "ann"}), "the doer's name as the second person's", SamePerson},
	{"second_look", signAs("", "eve", "SHA256:eve"), "signed by another than gave the answers", OtherLooker},
	{"second_look", signAs("", "ann", "SHA256:other"), "signed by the doer's name", SamePerson},
	{"second_look", signAs("", "bea", "SHA256:ann"), "signed with the doer's key", SameKey},
	{"second_look", signAs("doer", "bea", "SHA256:bea"), "signed in another role", WrongRole},
	{"doer_sign", signAs("", "bea", "SHA256:bea"), "signed by the one who looked", LookedAtIt},
	{"second_look", func(r *rig) (Event, error) {
		m, _ := r.job.Hold(1, r.stamp(), "bea", "SHA256:bea")
		r.must(Entry{Kind: EnterNote, Text: "in between"})
		return r.enter(Entry{Kind: EnterSign, Sign: &m})
	}, "signed over an older state", StaleSignature},
	{"picture", typed("photo.jpg"), "a path, no photo taken", PhotoWanted},
	{"tools", entry(Entry{Kind: EnterReopen, Key: "tools", Text: "again"}), "re-open what is not done", NotDone},
	{"tools", entry(Entry{Kind: EnterReopen, Key: "label", Text: " "}), "re-open without a reason", ReasonMissing},
	{"tools", entry(Entry{Kind: EnterStands}), "the old answer stands", NotVoid},
	{"label", then(Entry{Kind: EnterReopen, Key: "joints", Text: "again"}, Entry{Kind: EnterStands}), "an observation stands", DoAnew},
	{"tools", entry(Entry{Kind: EnterTakeUp}), "take up a task that runs", TaskRuns},
	{"tools", then(Entry{Kind: EnterLayDown, Text: "dark"}, Entry{Kind: EnterOn}), "go on with a task laid down", TaskWaits},
	{"label", then(Entry{Kind: EnterDrop, Text: "wrong line"}, Entry{Kind: EnterOn}), "go on with a dropped task", TaskOver},
	{"tools", entry(Entry{Kind: EnterOn, Task: 5}), "task 5", NoTask},
	{"tools", func(r *rig) (Event, error) {
		r.sitting = 2
		return r.enter(Entry{Kind: EnterAnswer, Key: "tools", Text: "x"})
	}, "go on in a new sitting", ConfirmFirst},
	{"tools", entry(Entry{Kind: EnterClose, Text: "done"}), "close the job", TasksOpen},
	{"end", entry(Entry{Kind: EnterClose, Text: "?"}), "close with a stray key", WordsMissing},
	{"end", entry(Entry{Kind: EnterOn}), "(Enter)", AllDone},
	{"end", then(Entry{Kind: EnterClose, Text: "done"}, Entry{Kind: EnterNote, Text: "late"}), "a note after the close", JobClosed},
	{"label", func(r *rig) (Event, error) {
		delete(r.pins, r.sha)
		return r.enter(Entry{Kind: EnterAdd, Add: r.job.Tasks[0].Add.clone()})
	}, "a procedure that is gone", PartUnpinned},
	{"label", func(r *rig) (Event, error) { return Decide(New(r.pins), r.stamp(), Entry{}) }, "a job without a start", NotStarted},
}

func (a Add) clone() *Add { return &a }

// Every wrong entry of each kind: what is typed, what is shown. The golden
// file is the table that a reader of the program can hold against the bench.
func TestEveryRefusalSaysWhatAndWhatToDo(t *testing.T) {
	var b strings.Builder
	for _, a := range attempts {
		r := withTask(t)
		key := a.at
		if key == "end" {
			key = ""
		}
		r.to(key)
		e, err := a.do(r)
		because := e.Why
		kind := "noted"
		var refusal *Refusal
		if errors.As(err, &refusal) {
			because, kind = refusal.Because, "refused"
		}
		if because == nil || because.Code != a.want {
			t.Errorf("%s at %s: got %+v %v, want %s", a.name, a.at, because, err, a.want)
			continue
		}
		what, do := because.Words()
		if what == "" || do == "" || strings.Contains(what+do, "{") {
			t.Errorf("%s: words %q / %q", a.want, what, do)
		}
		fmt.Fprintf(&b, "at %s, %s\n  %s: %s\n  %s\n", a.at, a.name, kind, what, strings.ReplaceAll(do, "\n", " "))
	}
	golden(t, "testdata/refusals.golden", b.String())
}

// No code without words, none that nothing can reach but those listed here.
func TestEveryCodeHasWordsAndIsReached(t *testing.T) {
	reached := map[Code]bool{
		CodeAmbiguous: true, // see TestReadCodes
		CannotCompare: true, Fault: true,
		OrderOffPlan: true,                         // see TestARealMirrorIsCrossedThroughout
		OrderUnlike:  true,                         // in older journals
		CodeCovered:  true,                         // in the shipped procedures
		LookIsBlind:  true,                         // see TestASecondLookIsBlind
		TypeAgain:    true, TypeAgainCovered: true, // see again_test.go
	}
	for _, a := range attempts {
		reached[a.want] = true
	}
	for code := range wording {
		if !reached[code] {
			t.Errorf("nothing in the tests leads to %q", code)
		}
	}
	for code := range reached {
		if _, ok := wording[code]; !ok {
			t.Errorf("%q has no words", code)
		}
	}
}

func TestReadCodes(t *testing.T) {
	all := []string{"C1.1", "C1.2", "s1.1"}
	for text, want := range map[string]Code{"1 2 s1.1": CodeAmbiguous, "C1.1,C1.2;s1.1": "", "C1.1 2 s1.1": "", "C1.1 2 S1.1": CodeUnknown} {
		_, err := ReadCodes(text, all)
		if code(err) != want {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}

func golden(t *testing.T, path, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if string(want) != got {
		t.Errorf("%s differs; run with -update and read it\n%s", path, got)
	}
}
