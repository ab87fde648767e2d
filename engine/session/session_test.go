package session

import (
	"errors"
	"os"
	"strings"
	"testing"
	"time"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/seal"
	"example.org/linewright/engine/store"
	"example.org/linewright/engine/wing"
)

const holding = `
linewright_procedure = 1
id = "holding"
edition = "1"
title.en = "Holding"
target = "line"
[[phase]]
id = "work"
title.en = "Work"
[[phase.card]]
id = "do"
action.en = "DO IT"
reason.en = "It has to be done."
[[phase.card.step]]
id = "done"
kind = "do"
ask.en = "Done"
[[phase.card]]
id = "look"
by = "second"
action.en = "LOOK AT IT"
reason.en = "Two see more."
[[phase.card.step]]
id = "look"
kind = "sign"
role = "second"
states.en = "Looked at {line.code} {side}."
[[phase.card]]
id = "end"
action.en = "SIGN"
reason.en = "Somebody answers for it."
[[phase.card.step]]
id = "mine"
kind = "sign"
role = "doer"
states.en = "Worked on {line.code} {side}."
`

// desk makes a store with the sample wing and keys for ann and bea, both
// trusted, and eve, who is not.
func desk(t *testing.T) Desk {
	t.Helper()
	folder, err := store.Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = folder.Close() })
	plan, err := os.ReadFile("../../procedures/sample/plan.toml")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := folder.AddWing(store.Wing{ID: "cloth", Name: "Cloth"}, plan); err != nil {
		t.Fatal(err)
	}
	var allowed []byte
	for _, name := range []string{"ann", "bea", "eve"} {
		private, public, err := seal.NewKey(name, nil)
		if err != nil {
			t.Fatal(err)
		}
		if err := folder.WriteSigner(name, private, public); err != nil {
			t.Fatal(err)
		}
		key, _, err := seal.ParsePublicKey(public)
		if err != nil {
			t.Fatal(err)
		}
		if name == "eve" {
			continue
		}
		if allowed, err = seal.Append(allowed, name, key); err != nil {
			t.Fatal(err)
		}
	}
	if err := folder.WriteAllowedSigners(allowed); err != nil {
		t.Fatal(err)
	}
	return Desk{
		Store: folder, Who: "ann", Clock: func() time.Time { return time.Date(2026, 3, 1, 10, 0, 0, 0, time.UTC) },
		Procedures: []procedure.File{{Name: "holding.toml", Data: []byte(holding)}},
	}
}

func atHold(t *testing.T, d Desk) *Session {
	t.Helper()
	s, err := d.Start(New{Wing: "cloth", Bench: metrology.DefaultBench()})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() })
	if _, err := s.AddTask("holding", wing.LineRef("C1.2", wing.Left), ""); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Enter(job.Entry{Kind: job.EnterOn, Task: 1}); err != nil {
		t.Fatal(err)
	}
	return s
}

func person(t *testing.T, d Desk, name string) *Person {
	t.Helper()
	p, err := d.Unlock(name, func() ([]byte, error) { t.Fatal("asked for a pass phrase"); return nil, nil })
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestASecondLookIsSignedAndItsKeyPutAway(t *testing.T) {
	d := desk(t)
	s := atHold(t, d)
	if err := s.SetDoer(person(t, d, "ann")); err != nil {
		t.Fatal(err)
	}
	var refused *job.Refusal
	if _, err := s.SignHold(1, person(t, d, "ann")); !errors.As(err, &refused) || refused.Code != job.SameKey {
		t.Errorf("the doer's own key signed a second look: %v", err)
	}
	if _, err := s.SignHold(1, person(t, d, "eve")); !errors.Is(err, seal.NotTrusted) {
		t.Errorf("an untrusted key signed: %v", err)
	}
	if _, err := s.Enter(job.Entry{Kind: job.EnterLook, Task: 1, Text: "bea"}); err != nil {
		t.Fatal(err)
	}
	bea := person(t, d, "bea")
	e, err := s.SignHold(1, bea)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := bea.Signer.Sign(seal.NamespaceHold, []byte("again")); !errors.Is(err, seal.Forgotten) {
		t.Errorf("the second look's key is still open: %v", err)
	}
	text := s.Job().HoldText(1, e.Key, *e.Sign)
	key, err := seal.Verify(seal.NamespaceHold, []byte(text), []byte(e.Sign.Signature))
	if err != nil || key.Fingerprint() != e.Sign.Fingerprint {
		t.Errorf("the signature does not hold over\n%s%v", text, err)
	}
	if e.Sign.OverN != 4 || e.Sign.Custody != string(seal.Unencrypted) {
		t.Errorf("%+v", e.Sign)
	}
	if _, err := s.SignHold(1, s.Doer()); err != nil {
		t.Errorf("the doer could not sign their own hold: %v", err)
	}
}

func TestOnlyTheOneAtTheBenchIsTheDoer(t *testing.T) {
	d := desk(t)
	s := atHold(t, d)
	if err := s.SetDoer(person(t, d, "bea")); err == nil || !strings.Contains(err.Error(), "ann is at the bench") {
		t.Errorf("%v", err)
	}
}

func TestOpeningWritesNothingAndCountsTheSitting(t *testing.T) {
	d := desk(t)
	s := atHold(t, d)
	lines := s.Job().Lines
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	again, err := d.Open(1)
	if err != nil {
		t.Fatal(err)
	}
	defer again.Close()
	if again.Job().Lines != lines {
		t.Errorf("%d lines, want %d", again.Job().Lines, lines)
	}
	card, err := again.Card(1)
	if err != nil || card.Confirm == nil || card.Confirm.Key != "done" {
		t.Errorf("the last step is not asked about: %+v %v", card.Confirm, err)
	}
	if _, err := d.Open(1); err == nil || !strings.Contains(err.Error(), "ann") {
		t.Errorf("a second holder: %v", err)
	}
}

func TestAFailedWriteStopsUntilMended(t *testing.T) {
	d := desk(t)
	s := atHold(t, d)
	if err := s.dir.Log().Close(); err != nil {
		t.Fatal(err)
	}
	note := job.Entry{Kind: job.EnterNote, Text: "wind comes up"}
	if _, err := s.Enter(note); err == nil || !strings.HasPrefix(err.Error(), "not saved") {
		t.Fatalf("written to a closed journal: %v", err)
	}
	if s.Stopped() == nil || len(s.Job().Notes) != 0 {
		t.Error("the entry counts although it was not saved")
	}
	if err := s.Mend(); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Enter(note); err != nil || len(s.Job().Notes) != 1 {
		t.Errorf("after mending: %v", err)
	}
}

func TestARecordIsSignedOnceTheJobIsClosed(t *testing.T) {
	d := desk(t)
	s := atHold(t, d)
	if err := s.SignRecord("doer", person(t, d, "ann"), []byte("{}")); !errors.Is(err, ErrNotClosed) {
		t.Errorf("%v", err)
	}
	if _, err := s.Enter(job.Entry{Kind: job.EnterDrop, Task: 1, Text: "another day"}); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Enter(job.Entry{Kind: job.EnterClose, Text: "nothing was done"}); err != nil {
		t.Fatal(err)
	}
	if err := s.SignRecord("doer", person(t, d, "ann"), []byte("{}")); err != nil {
		t.Error(err)
	}
}

func TestAddTaskSaysWhatFits(t *testing.T) {
	d := desk(t)
	s := atHold(t, d)
	if _, err := s.AddTask("nothing", wing.Brakes(), ""); err == nil || !strings.Contains(err.Error(), "holding") {
		t.Errorf("%v", err)
	}
	var bar *procedure.BarError
	if _, err := s.AddTask("holding", wing.Brakes(), ""); !errors.As(err, &bar) {
		t.Errorf("%v", err)
	}
}

func TestTheProfileOfTheWorkplaceIsTakenAndCanBeDescribedAnew(t *testing.T) {
	d := desk(t)
	b := described(t, metrology.NewBench(), "name", "barn")
	if err := d.SaveBench(b); err != nil {
		t.Fatal(err)
	}
	s, err := d.Start(New{Wing: "cloth"})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if s.Job().Bench.Name != "barn" || s.Job().Bench.Rule != metrology.RuleBudget {
		t.Errorf("the job measures on %+v", s.Job().Bench)
	}
	b = described(t, described(t, b, "name", "barn, new tape"), "tape_class", "I")
	if err := s.DescribeBench(b); err != nil {
		t.Fatal(err)
	}
	kept, err := d.Bench()
	if err != nil || kept.TapeClass != "I" || s.Job().Bench.Name != "barn, new tape" {
		t.Errorf("kept %+v, in force %+v, %v", kept, s.Job().Bench, err)
	}
}

func described(t *testing.T, b metrology.Bench, key, text string) metrology.Bench {
	t.Helper()
	b, err := metrology.Answer(b, key, text)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

const opening = `
linewright_procedure = 1
id = "opening"
edition = "1"
title.en = "Opening"
target = "link"
[[phase]]
id = "work"
title.en = "Work"
[[phase.card]]
id = "do"
action.en = "OPEN IT"
reason.en = "It has to be open."
[[phase.card.step]]
id = "opened"
kind = "do"
ask.en = "Open"
opens = true
`

// One link is open at a time on a wing, whatever the job.
func TestAnotherJobOnTheWingWaitsForTheOpenLink(t *testing.T) {
	d := desk(t)
	d.Procedures = append(d.Procedures, procedure.File{Name: "opening.toml", Data: []byte(opening)})
	s, err := d.Start(New{Wing: "cloth"})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if _, err := s.AddTask("opening", wing.LinkRef("C", wing.Left), ""); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Enter(job.Entry{Kind: job.EnterOn, Task: 1}); err != nil {
		t.Fatal(err)
	}
	if _, err := d.Start(New{Wing: "cloth"}); err == nil || !strings.Contains(err.Error(), "link C left of this wing is open in job 1") {
		t.Errorf("a second job: %v", err)
	}
}
