package job

import (
	"slices"
	"strings"
	"testing"
)

func TestNotAgreedDoesTheCoveredWorkAgain(t *testing.T) {
	r := withTask(t)
	r.to("free@C1.1")
	r.must(Entry{Kind: EnterDisagree, Text: "C1.3 runs under C1.2"})
	if r.due() != "first_order" {
		t.Errorf("due %s", r.due())
	}
	if a := r.job.Tasks[0].At("loose"); a.State != Ready {
		t.Errorf("what the hold does not cover is void: %q", a.State)
	}
}

func TestSignaturesAreBoundToWhatWasSeen(t *testing.T) {
	r := withTask(t)
	r.to("second_look")
	m, err := r.job.Hold(1, r.stamp(), "bea", "SHA256:bea")
	if err != nil {
		t.Fatal(err)
	}
	text := r.job.HoldText(1, "second_look", m)
	for _, want := range []string{"linewright hold 1\n", "states: C1.2 left was looked at.\n", "job: 7\n", "role: second\n", "key: SHA256:bea\n", "journal: line "} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in\n%s", want, text)
		}
	}
	r.must(Entry{Kind: EnterNote, Text: "a note in between"})
	if _, err := r.enter(Entry{Kind: EnterSign, Sign: &m}); code(err) != StaleSignature {
		t.Errorf("a stale signature: %v", err)
	}
}

// What one person answered another cannot sign for, also by taking over.
func TestAnotherLookerBeginsAnew(t *testing.T) {
	r := withTask(t)
	r.to("free@C1.3")
	e := r.must(Entry{Kind: EnterLook, Text: "cal"})
	if !slices.Equal(e.Voids, []string{"1/joint", "1/free@C1.1", "1/free@C1.2"}) || r.due() != "joint" {
		t.Errorf("voids %v, due %s", e.Voids, r.due())
	}
	if _, err := r.job.Hold(1, r.stamp(), "bea", "SHA256:bea"); err == nil {
		t.Error("the first person could sign for the second")
	}
}
