//go:build unix

package tui

import (
	"testing"
	"time"

	"example.org/linewright/engine/session"
)

// A whole swap on a real terminal: each field is typed and read back from the
// screen before its Enter, from the first question to the closed job.
func TestAWholeSwapOnATerminal(t *testing.T) {
	t.Parallel() // it waits most of its time
	st := benchStore(t)
	x := onTerminal(t, st.Dir(), 80, 24).toTheLabel()
	for _, s := range []struct{ typed, seen, next string }{
		{"C1.2", "understood: C1.2", "Where is the part from?"},
		{"1", "> 1  the maker", "New line, loose"},
		{"4206", "understood: 4206", "1 is in and covered"},
		{"4207", "understood: 4207", "INSIDE"},
		{"", "INSIDE", "Codes on the link, centre first"},
		{"1 2 3", "understood: C1.1 C1.2 C1.3", "Turns until it came free"},
		{"5", "understood: 5", "Codes on the link now"},
		{"1 2 3", "understood: C1.1 C1.2 C1.3", "Turns until it was home"},
		{"5", "understood: 5", "Anything to note?"},
		{"", "Anything to note?", "Who looks?"},
		{"1", "> 1  bea", "Loops held by the hitch"},
		{"2", "understood: 2", "Against the other side"},
		{"1", "> 1  same way round", "I touched the joint"},
		{"1", "> 1  bea", "I exchanged C1.2"},
		{"1", "> 1  anna", "THE LIST IS COMPLETE"},
		{"8", "Close the job with a statement", "Your closing statement"},
		{"swapped", "> swapped", "close it for good"},
		{"1", "> 1  close it for good", "Job 1 is closed"},
	} {
		if s.typed != "" {
			x.types(s.typed)
		}
		x.waits(s.seen)
		x.patiently("\r", s.next)
	}
	x.waits("The job is closed").types("\x03")
	if code := x.ends(); code != 0 {
		t.Errorf("leaving gives status %d", code)
	}
	x.isAsBefore()
	j, _, err := session.Desk{Store: st, Clock: time.Now}.Look(1)
	if err != nil {
		t.Fatal(err)
	}
	if j.Closed == nil || j.Closed.Text != "swapped" || len(j.OpenItems()) > 0 {
		t.Errorf("closed: %v, open: %v", j.Closed, j.OpenItems())
	}
}
