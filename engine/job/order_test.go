package job

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"example.org/linewright/engine/wing"
)

// linkProcedure reads the order of a link against the plan, and again against
// the first reading.
const linkProcedure = `
linewright_procedure = 1
id = "link-test"
edition = "1"
title.en = "Link"
purpose.en = "To test."
source = "invented for tests"
target = "link"
[[phase]]
id = "at"
title.en = "Link"
[[phase.card]]
id = "at"
action.en = "READ THE LINK"
reason.en = "Invented for tests."
[[phase.card.step]]
id = "found"
kind = "order"
ask.en = "Order"
same_as = "link.order"
else.en = "Compare with the other side."
[[phase.card.step]]
id = "again"
kind = "order"
ask.en = "Order again"
same_as = "found"
else.en = "Lay them again."
`

// atLink begins a task at a link: three lines hang on C, two on D.
func atLink(t *testing.T, name string) *rig {
	t.Helper()
	r := newRig(t)
	ref := wing.LinkRef(name, wing.Left)
	r.must(Entry{Kind: EnterAdd, Add: &Add{Procedure: "link-test", Edition: "1", SHA256: r.pins.pin([]byte(linkProcedure)), Target: ref}})
	return r
}

func order(text string, from SeenFrom) Entry {
	return Entry{Kind: EnterAnswer, Text: text, SeenFrom: from}
}

// A full mirror is not judged before it is said from which side it was seen:
// nothing is written, however it stands.
func TestAFullMirrorAsksFromWhichSide(t *testing.T) {
	for name, text := range map[string]string{"C": "3 2 1", "D": "2 1"} {
		r := atLink(t, name)
		for _, step := range []string{"found", "again"} {
			n := len(r.journal)
			for from, want := range map[SeenFrom]Code{"": OrderMirrored, "behind": OrderMirrored, SeenUnknown: OrderNoSide} {
				if _, err := r.enter(order(text, from)); code(err) != want || len(r.journal) != n {
					t.Errorf("%s, %s, seen from %q: %v, %d lines more", name, step, from, err, len(r.journal)-n)
				}
			}
			r.must(order(text, SeenOtherSide))
		}
		if r.due() != "" {
			t.Errorf("%s: %q is still due", name, r.due())
		}
	}
}

func TestSeenFromTheOtherSideIsTurnedRound(t *testing.T) {
	r := atLink(t, "C")
	e := r.must(order("3 2 1", SeenOtherSide))
	if e.Outcome != Taken || e.Why != nil || e.Typed != "3 2 1" || !slices.Equal(e.Codes, []string{"C1.1", "C1.2", "C1.3"}) {
		t.Errorf("%+v", e)
	}
	line := string(r.journal[len(r.journal)-1])
	for _, part := range []string{`"typed":"3 2 1"`, `"codes":["C1.1","C1.2","C1.3"]`, `"seen_from":"other side"`} {
		if !strings.Contains(line, part) {
			t.Errorf("%s is not in %s", part, line)
		}
	}
	back, err := Decode([]byte(line))
	if err != nil || !reflect.DeepEqual(back, e) {
		t.Errorf("%v: %+v", err, back)
	}
	card, _ := r.job.CardAt(1, "found")
	if want := "C1.1 C1.2 C1.3, turned round: seen from the other side"; card.Fields[0].Answer != want {
		t.Errorf("it says %q, want %q", card.Fields[0].Answer, want)
	}
	if e := r.must(order("1 2 3", "")); e.Outcome != Taken { // what follows is held against the order, not against what was typed
		t.Errorf("%+v", e.Why)
	}
}

// Seen as the step says it is a link put together the wrong way round: the step
// stays open, with every pair and the fewest lines that mend it.
func TestARealMirrorIsCrossedThroughout(t *testing.T) {
	for _, c := range []struct {
		link, text   string
		pairs, moves string
	}{
		{"C", "3 2 1", "C1.1 with C1.2, C1.1 with C1.3, C1.2 with C1.3", "C1.2, C1.3"},
		{"D", "2 1", "D1.1 with D1.2", "D1.2"},
	} {
		r := atLink(t, c.link)
		found := r.must(order(c.text, SeenAsAsked))
		r.must(order("1 2 3"[:2*len(strings.Fields(c.text))-1], ""))
		again := r.must(order(c.text, SeenAsAsked))
		for e, want := range map[*Event]Because{
			&found: {OrderOffPlan, []string{c.pairs, c.moves, "Compare with the other side."}},
			&again: {OrderCrossed, []string{c.pairs, c.moves, "Lay them again."}},
		} {
			if e.Outcome != Open || e.SeenFrom != SeenAsAsked || !reflect.DeepEqual(e.Why, &want) {
				t.Errorf("%s: %+v, want %+v", e.Key, e.Why, want)
			}
		}
		if r.due() != "again" {
			t.Errorf("%q is due", r.due())
		}
	}
}

// Other orders have no other side: what is said of it is not written.
func TestNoOtherOrderAsksForASide(t *testing.T) {
	r := atLink(t, "C")
	for text, want := range map[string]Code{"2 1 3": OrderOffPlan, "3 1 2": OrderOffPlan, "2 3 1": OrderOffPlan} {
		e := r.must(order(text, SeenOtherSide))
		if e.Why == nil || e.Why.Code != want || e.SeenFrom != "" {
			t.Errorf("%s: %+v", text, e)
		}
	}
	if e := r.must(order("1 2 3", SeenOtherSide)); e.Outcome != Taken || e.SeenFrom != "" {
		t.Errorf("%+v", e)
	}
}

// While an order is typed nothing is said about it, a mirror like any other.
func TestAMirrorThatIsTypedSaysNothingYet(t *testing.T) {
	r := atLink(t, "C")
	for from, want := range map[SeenFrom]string{
		"":            "C1.3 C1.2 C1.1",
		SeenAsAsked:   "C1.3 C1.2 C1.1, seen as the step says",
		SeenOtherSide: "C1.1 C1.2 C1.3, turned round: seen from the other side",
	} {
		en := order("3 2 1", from)
		en.Task = 1
		if got, err := r.job.Understood(r.stamp(), en); err != nil || got != want {
			t.Errorf("seen from %q: %q, %v", from, got, err)
		}
	}
}

// Journals from before the question have the mirror noted, with what to do.
func TestAMirrorOfAnOlderJournalStillReads(t *testing.T) {
	r := atLink(t, "C")
	line := `{"at":"2026-03-01T10:00:00Z","who":"ann","sitting":1,"kind":"answer","task":1,"key":"found","typed":"3 2 1",` +
		`"codes":["C1.3","C1.2","C1.1"],"outcome":"noted","why":{"code":"order_mirrored","args":["Compare with the other side."]}}`
	e, err := Decode([]byte(line))
	if err != nil {
		t.Fatal(err)
	}
	r.apply(e)
	card, _ := r.job.Card(1, 1)
	what, do := card.Fields[0].Why.Words()
	if card.Key != "found" || what != "The order is exactly the other way round." || !strings.HasSuffix(do, "Compare with the other side.") {
		t.Errorf("%s: %s / %s", card.Key, what, do)
	}
	if card.Fields[0].Answer != "C1.3 C1.2 C1.1" {
		t.Errorf("it says %q", card.Fields[0].Answer)
	}
}
