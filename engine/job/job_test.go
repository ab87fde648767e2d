package job

import (
	"encoding/json"
	"errors"
	"reflect"
	"slices"
	"strings"
	"testing"

	"example.org/linewright/engine/metrology"
)

func TestAWholeTaskIsAnsweredAndClosed(t *testing.T) {
	r := withTask(t)
	r.to("")
	task, _ := r.job.Task(1)
	if task.State() != Done {
		t.Fatalf("state %q, due %q", task.State(), r.due())
	}
	items := r.job.OpenItems()
	if len(items) != 1 || items[0].Text != "inflation not done" {
		t.Errorf("open items %+v", items)
	}
	r.must(Entry{Kind: EnterClose, Text: "Swap done."})
	if _, err := r.enter(Entry{Kind: EnterNote, Text: "late"}); code(err) != JobClosed {
		t.Errorf("a note after the close: %v", err)
	}
}

// The same journal gives the same job: state after state.
func TestReplayGivesTheSameJob(t *testing.T) {
	r := withTask(t)
	r.to("turns_closed")
	r.must(Entry{Kind: EnterReopen, Key: "label", Text: "misread"})
	r.to("")
	again := New(r.pins)
	for _, line := range r.journal {
		var e Event
		if err := json.Unmarshal(line, &e); err != nil {
			t.Fatal(err)
		}
		if err := again.Apply(e); err != nil {
			t.Fatal(err)
		}
	}
	a, errA := r.job.Overview(1)
	b, errB := again.Overview(1)
	if errA != nil || errB != nil || !reflect.DeepEqual(a, b) {
		t.Errorf("overviews differ: %v %v\n%+v\n%+v", errA, errB, a, b)
	}
	if !reflect.DeepEqual(r.job.OpenItems(), again.OpenItems()) {
		t.Error("open items differ")
	}
}

// Deciding changes nothing, whatever the outcome.
func TestDecideIsPure(t *testing.T) {
	r := withTask(t)
	r.to("loose")
	before, _ := r.job.Card(1, 1)
	for _, text := range []string{"4206", "nan", "9999", "x"} {
		_, _ = Decide(r.job, r.stamp(), Entry{Kind: EnterAnswer, Task: 1, Text: text})
	}
	after, _ := r.job.Card(1, 1)
	if !reflect.DeepEqual(before, after) {
		t.Error("Decide changed the card")
	}
}

// Five places, each with the list that a person writes down by hand. How the
// link was found stays, unless it is asked for itself or which line it is.
func TestReopeningVoidsWhatRestsOnIt(t *testing.T) {
	all := []string{"side_seen", "branch", "place", "joints", "damage", "label", "loose", "first_order", "turns_open",
		"second_order", "turns_closed", "new_installed", "twin_installed", "joint", "free@C1.1", "free@C1.2", "free@C1.3",
		"second_look", "inflation", "tools", "words", "picture", "doer_sign"}
	for key, from := range map[string]int{"side_seen": 0, "label": 5, "turns_open": 8, "free@C1.2": 15, "doer_sign": 22} {
		r := withTask(t)
		r.to("")
		var want []string
		for _, k := range all[from:] {
			if key != "label" || k != "first_order" && k != "turns_open" {
				want = append(want, "1/"+k)
			}
		}
		if got := r.job.Voids(1, key); !slices.Equal(got, want) {
			t.Errorf("%s: voids %v, by hand %v", key, got, want)
		}
		e := r.must(Entry{Kind: EnterReopen, Key: key, Text: "look again"})
		if !slices.Equal(e.Voids, want) {
			t.Errorf("%s: the event voids %v", key, e.Voids)
		}
		if r.due() != key {
			t.Errorf("%s re-opened, due is %s", key, r.due())
		}
	}
}

// In another task only the checks and holds on the same link are void.
func TestReopeningReachesChecksOfTheSameLink(t *testing.T) {
	r := withTask(t)
	r.to("")
	r.add("line:C1.3@left")
	for key, texts := range map[string][]string{"place": {"3"}, "label": {"C1.3"}} {
		old := good[key]
		good[key] = texts
		defer func() { good[key] = old }()
	}
	r.to("label")
	voids := r.job.Voids(2, "side_seen")
	for _, want := range []string{"1/joint", "1/free@C1.1", "1/free@C1.2", "1/free@C1.3", "1/second_look", "1/doer_sign"} {
		if !slices.Contains(voids, want) {
			t.Errorf("%s is not void: %v", want, voids)
		}
	}
	if slices.Contains(voids, "1/loose") || slices.Contains(voids, "1/tools") {
		t.Errorf("a measurement or a do of another task is void: %v", voids)
	}
}

func TestVoidAnswers(t *testing.T) {
	r := withTask(t)
	r.to("doer_sign")
	r.must(Entry{Kind: EnterReopen, Key: "damage", Text: "worse than thought"})
	card, _ := r.job.Card(1, 1)
	f := card.Fields[card.At]
	if f.State != Void || f.Old != "sheath cut" || !f.Stands {
		t.Errorf("the old choice is not offered: %+v", f)
	}
	r.must(Entry{Kind: EnterStands, Key: "damage"})
	if r.due() != "label" {
		t.Errorf("due %s", r.due())
	}
	if _, err := r.enter(Entry{Kind: EnterStands, Key: "label"}); code(err) != DoAnew {
		t.Errorf("a code stood: %v", err)
	}
	r.to("second_look")
	rows, _ := r.job.Overview(1)
	i := slices.IndexFunc(rows, func(row Row) bool { return row.Key == "second_look" })
	if rows[i].OldSign != "bea" {
		t.Errorf("the superseded signature is not shown: %+v", rows[i])
	}
}

func TestInterruptionConfirmsTheLastStep(t *testing.T) {
	r := withTask(t)
	r.to("turns_open")
	r.sitting = 2
	card, _ := r.job.Card(1, 2)
	if card.Confirm == nil || card.Confirm.Key != "first_order" || card.Confirm.Answer != "C1.1 C1.2 C1.3" {
		t.Fatalf("confirm %+v", card.Confirm)
	}
	if _, err := r.enter(Entry{Kind: EnterAnswer, Key: "turns_open", Text: "5"}); code(err) != ConfirmFirst {
		t.Errorf("answered without confirming: %v", err)
	}
	r.must(Entry{Kind: EnterOn})
	r.must(Entry{Kind: EnterAnswer, Key: "turns_open", Text: "5"})
	if card, _ := r.job.Card(1, 2); card.Confirm != nil {
		t.Error("confirmed twice in one sitting")
	}
}

func TestNoListOrRefusalNamesACoveredTarget(t *testing.T) {
	r := withTask(t)
	r.to("place")
	_, err := r.enter(Entry{Kind: EnterClose, Text: "done"})
	r.must(Entry{Kind: EnterLayDown, Text: "rain"})
	text, _ := json.Marshal(r.job.OpenItems())
	for _, said := range []string{err.Error(), string(text)} {
		if strings.Contains(said, "C1.2") || !strings.Contains(said, "has to be found out") {
			t.Errorf("the covered target is named: %s", said)
		}
	}
	r.must(Entry{Kind: EnterTakeUp})
	r.must(Entry{Kind: EnterOn})
	r.to("label")
	if got := r.job.TargetName(r.job.Tasks[0]); got != "C1.2 left" {
		t.Errorf("found out, but called %q", got)
	}
}

func TestWorkInAnotherTaskIsAnInterruption(t *testing.T) {
	r := withTask(t)
	r.to("label")
	r.add("line:A1.1@right")
	card, _ := r.job.Card(1, 1)
	if card.Confirm == nil {
		t.Error("task 1 goes on without a confirmation after task 2 was added")
	}
}

func TestHiddenTargetIsNotShown(t *testing.T) {
	r := withTask(t)
	r.to("place")
	card, _ := r.job.Card(1, 1)
	text, _ := json.Marshal(card)
	if strings.Contains(string(text), "C1.2") {
		t.Errorf("the covered card shows the line: %s", text)
	}
	rows, _ := r.job.Overview(1)
	text, _ = json.Marshal(rows)
	if strings.Contains(string(text), "C1.2") {
		t.Errorf("the overview shows the line: %s", text)
	}
	r.to("damage")
	if card, _ := r.job.Card(1, 1); card.Target != "C1.2 left" {
		t.Errorf("target %q after it was found", card.Target)
	}
}

// The card proposes the line that was seen, so that a task for it can follow.
func TestTheSeenLineIsProposed(t *testing.T) {
	r := withTask(t)
	r.to("place")
	r.must(Entry{Kind: EnterAnswer, Text: "3"})
	r.must(Entry{Kind: EnterAnswer, Text: "0"})
	card, _ := r.job.Card(1, 1)
	if card.Seen.String() != "C1.3 left" {
		t.Errorf("proposed %q", card.Seen)
	}
}

// A side that is mirrored, as on a wing that lies on its back, is caught.
func TestAMirroredSideIsCaught(t *testing.T) {
	r := withTask(t)
	r.must(Entry{Kind: EnterAnswer, Text: "2"})
	r.to("joints")
	e := r.must(Entry{Kind: EnterAnswer, Text: "0"})
	if e.Outcome != Open || e.Why.Code != SeenOther || e.Why.Args[0] != "C1.2 right" {
		t.Errorf("%+v", e.Why)
	}
}

func TestTheFirstOrderStaysCovered(t *testing.T) {
	r := withTask(t)
	r.to("second_order")
	card, _ := r.job.Card(1, 1)
	if len(card.Orders) != 0 {
		t.Errorf("the first order is shown: %+v", card.Orders)
	}
	r.to("turns_closed")
	if card, _ := r.job.Card(1, 1); len(card.Orders) != 2 {
		t.Errorf("orders %+v", card.Orders)
	}
}

func TestSpreadCallsForAThirdThenForTheOddOne(t *testing.T) {
	r := withTask(t)
	r.to("loose")
	line := func(text string) int {
		r.must(Entry{Kind: EnterAnswer, Text: text})
		return len(r.journal)
	}
	line("4206")
	odd := line("4212")
	if _, err := r.enter(Entry{Kind: EnterOn}); code(err) != SpreadWide {
		t.Fatalf("two that differ by 6 mm: %v", err)
	}
	line("4205")
	_, err := r.enter(Entry{Kind: EnterOn})
	if code(err) != StrikeOdd || !strings.Contains(err.Error(), "4212") {
		t.Fatalf("three: %v", err)
	}
	r.must(Entry{Kind: EnterStrike, Line: odd, Text: "tape had slipped"})
	e := r.must(Entry{Kind: EnterOn})
	if e.Measurement.Value.MM() != 4205.5 || e.Judgement.Verdict != metrology.Inside {
		t.Errorf("%+v", e.Judgement)
	}
	if e.Expected.Source == "" || e.Expected.Rule == "" {
		t.Errorf("the sources are missing: %+v", e.Expected)
	}
}

func TestImplausibleReadingsAreWrittenAndDoNotCount(t *testing.T) {
	r := withTask(t)
	r.to("loose")
	e := r.must(Entry{Kind: EnterAnswer, Text: "42.06"})
	if e.Outcome != Open || e.Why.Code != Implausible {
		t.Fatalf("%+v", e)
	}
	if _, err := r.enter(Entry{Kind: EnterOn}); code(err) != ValueWanted {
		t.Errorf("%v", err)
	}
}

// 12 mm too long is outside ±10 with the default bench; 9 mm is not proved.
func TestOutsideAndNotProvedLeaveTheStepOpen(t *testing.T) {
	for text, want := range map[string]Code{"4217": OutsideLimit, "4214": NotProvedYet} {
		r := withTask(t)
		r.to("loose")
		r.must(Entry{Kind: EnterAnswer, Text: text})
		r.must(Entry{Kind: EnterAnswer, Text: text})
		e := r.must(Entry{Kind: EnterOn})
		if e.Outcome != Open || e.Why.Code != want || r.due() != "loose" {
			t.Errorf("%s: %+v, due %s", text, e.Why, r.due())
		}
		if _, err := r.enter(Entry{Kind: EnterOn}); code(err) != want {
			t.Errorf("%s: a second Enter: %v", text, err)
		}
		_, err := r.enter(Entry{Kind: EnterDecide, Text: "agreed with the workshop"})
		if want == OutsideLimit && code(err) != NothingProved {
			t.Errorf("outside was taken by decision: %v", err)
		}
		if want == NotProvedYet && (err != nil || r.due() != "first_order" || len(r.job.OpenItems()) != 2) {
			t.Errorf("not proved was not taken by decision: %v, %+v", err, r.job.OpenItems())
		}
	}
}

// The same readings give another verdict on another bench, and every reading
// names the bench that it was taken on.
func TestTheBenchDecides(t *testing.T) {
	for class, want := range map[string]metrology.Verdict{"I": metrology.Inside, "III": metrology.NotProved} {
		r := withTask(t)
		r.to("loose")
		how, errN := metrology.PullWeight, int64(1)
		if class == "III" {
			how, errN = metrology.PullHand, 15
		}
		r.must(Entry{Kind: EnterBench, Bench: bench(class, how, errN, 300)})
		card, _ := r.job.Card(1, 1)
		if card.Fields[card.At].Scale.Outlook == nil {
			t.Fatal("the card does not say what this bench can reach")
		}
		e := r.must(Entry{Kind: EnterAnswer, Text: "4212"})
		if e.BenchName != "test bench" {
			t.Errorf("the reading names %q", e.BenchName)
		}
		r.must(Entry{Kind: EnterAnswer, Text: "4212"})
		e = r.must(Entry{Kind: EnterOn})
		if e.Judgement.Verdict != want || e.Measurement.Rule != metrology.BudgetRule {
			t.Errorf("class %s: %s, by %s", class, e.Judgement.Words(), e.Measurement.Rule)
		}
	}
}

func TestOneLinkIsOpenAtATime(t *testing.T) {
	r := withTask(t)
	r.to("second_order")
	if open, link := r.job.LinkOpen(); open == nil || open.No != 1 || link.String() != "link C left" {
		t.Fatal("the link does not count as open")
	}
	if _, err := r.enter(Entry{Kind: EnterDrop, Text: "no"}); code(err) != LinkOpenDrop {
		t.Errorf("dropped with a link open: %v", err)
	}
	if _, err := r.enter(Entry{Kind: EnterClose, Text: "bye"}); code(err) != LinkOpen {
		t.Errorf("closed with a link open: %v", err)
	}
	for _, safe := range [][]string{nil, {"1", "1", "1", "1"}, {"1", "3", "2", "1"}, {"1", "3"}} {
		if _, err := r.enter(Entry{Kind: EnterLayDown, Text: "wind", Safe: safe}); err == nil {
			t.Errorf("laid down with the link open on %v", safe)
		}
	}
	r.must(Entry{Kind: EnterLayDown, Text: "wind", Safe: []string{"1", "3", "1", "1"}})
	if open, _ := r.job.LinkOpen(); open == nil {
		t.Error("laying down closed the link")
	}
	r.must(Entry{Kind: EnterTakeUp})
	r.must(Entry{Kind: EnterOn}) // confirms the last step
	r.to("new_installed")
	if open, _ := r.job.LinkOpen(); open != nil {
		t.Error("the link still counts as open after it was closed")
	}
}

func TestApplyRefusesWhatDoesNotFit(t *testing.T) {
	r := withTask(t)
	for name, e := range map[string]Event{
		"second start": {Kind: Started, Start: &Start{}},
		"no task":      {Kind: Answered, Task: 9, Key: "damage"},
		"no step":      {Kind: Answered, Task: 1, Key: "nothing"},
		"unknown kind": {Kind: "sing", Task: 1, Key: "damage"},
		"strike":       {Kind: Struck, Line: 99},
	} {
		if err := r.job.Apply(e); err == nil {
			t.Errorf("%s was applied", name)
		}
	}
	if err := New(r.pins).Apply(Event{Kind: Started, Start: &Start{Journal: Edition + 1}}); err == nil {
		t.Error("a newer edition was applied")
	}
}

// code gives a refusal's code, "" for none.
func code(err error) Code {
	var r *Refusal
	if errors.As(err, &r) {
		return r.Code
	}
	return ""
}
