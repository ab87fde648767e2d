package session

import (
	"errors"
	"strings"
	"testing"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/seal"
)

// closedJob is a job that ann worked on, closed without a signature.
func closedJob(t *testing.T, d Desk) *Session {
	t.Helper()
	s := atHold(t, d)
	for _, en := range []job.Entry{{Kind: job.EnterDrop, Task: 1, Text: "another day"}, {Kind: job.EnterClose, Text: "nothing was done"}} {
		if _, err := s.Enter(en); err != nil {
			t.Fatal(err)
		}
	}
	return s
}

func refusedAs(t *testing.T, err error, want job.Code) {
	t.Helper()
	var r *job.Refusal
	if !errors.As(err, &r) || r.Code != want {
		t.Errorf("got %v, want it refused as %s", err, want)
	}
}

func TestOnePersonCannotCloseInBothRoles(t *testing.T) {
	d := desk(t)
	s := closedJob(t, d)
	text := []byte(`{"a":1}`)
	refusedAs(t, s.SignRecord("second", person(t, d, "ann"), text), job.SamePerson)
	for _, by := range []struct{ role, name string }{{"second", "bea"}, {"pilot", "ann"}, {"doer", "ann"}} {
		if err := s.SignRecord(by.role, person(t, d, by.name), text); err != nil {
			t.Errorf("%s as %s: %v", by.name, by.role, err)
		}
	}
}

func TestTwoKeysOfOnePersonAreNotTwoPeople(t *testing.T) {
	d := desk(t)
	s := closedJob(t, d)
	text := []byte(`{"a":1}`)
	if err := s.SignRecord("doer", person(t, d, "bea"), text); err != nil {
		t.Fatal(err)
	}
	// A line that gives a second key to bea under another name as well.
	private, public, err := seal.NewKey("zoe", nil)
	if err != nil {
		t.Fatal(err)
	}
	if err := d.Store.WriteSigner("zoe", private, public); err != nil {
		t.Fatal(err)
	}
	allowed, err := d.Store.AllowedSigners()
	if err != nil {
		t.Fatal(err)
	}
	allowed = append(allowed, "bea,zoe "+strings.TrimSpace(string(public))+"\n"...)
	if err := d.Store.WriteAllowedSigners(allowed); err != nil {
		t.Fatal(err)
	}
	refusedAs(t, s.SignRecord("second", person(t, d, "zoe"), text), job.SamePerson)
}

func TestTheHolderIsNamed(t *testing.T) {
	d := desk(t)
	s := atHold(t, d)
	if who, err := d.Holder(s.No()); err != nil || !strings.HasPrefix(who, "ann, process ") {
		t.Errorf("held by %q, %v; want ann", who, err)
	}
	no := s.No()
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if who, err := d.Holder(no); err != nil || who != "" {
		t.Errorf("held by %q, %v; want nobody", who, err)
	}
}

func TestWhoLookedMayCloseAsTheSecondPerson(t *testing.T) {
	d := desk(t)
	s := atHold(t, d)
	if _, err := s.Enter(job.Entry{Kind: job.EnterLook, Task: 1, Text: "bea"}); err != nil {
		t.Fatal(err)
	}
	if _, err := s.SignHold(1, person(t, d, "bea")); err != nil {
		t.Fatal(err)
	}
	if err := s.SetDoer(person(t, d, "ann")); err != nil {
		t.Fatal(err)
	}
	if _, err := s.SignHold(1, s.Doer()); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Enter(job.Entry{Kind: job.EnterClose, Text: "done"}); err != nil {
		t.Fatal(err)
	}
	text := []byte(`{"a":1}`)
	refusedAs(t, s.SignRecord("doer", person(t, d, "bea"), text), job.LookedAtIt)
	if err := s.SignRecord("second", person(t, d, "bea"), text); err != nil {
		t.Errorf("the second person cannot close as that: %v", err)
	}
}
