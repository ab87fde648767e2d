package job

import (
	"errors"
	"testing"

	"example.org/linewright/engine/wing"
)

const pairOfLines = `
linewright_procedure = 1
id = "pair"
edition = "1"
title.en = "Pair"
target = "line"
pair = true
[[phase]]
id = "open"
include = "gate"
[[phase]]
id = "twin_open"
include = "gate"
twin = true
`

const gateOf = `
linewright_procedure = 1
id = "gate"
edition = "1"
title.en = "Gate"
target = "link"
[[phase]]
id = "work"
title.en = "Work"
[[phase.card]]
id = "work"
action.en = "LINK {link.name} {SIDE}"
reason.en = "So."
[[phase.card.step]]
id = "off"
kind = "do"
opens = true
ask.en = "Gate off"
[[phase.card.step]]
id = "home"
kind = "do"
closes = true
ask.en = "Gate home"
[[phase.card.step]]
id = "looked"
kind = "check"
ask.en = "Looked at"
else.en = "Again."
option = [{ id = "good", right = true, text.en = "good" }, { id = "bad", text.en = "bad" }]
`

// onPair adds the procedure on S1.1 right: the right side comes first.
func onPair(t *testing.T) *rig {
	t.Helper()
	r := newRig(t)
	sha, part := r.pins.pin([]byte(pairOfLines)), r.pins.pin([]byte(gateOf))
	r.must(Entry{Kind: EnterAdd, Add: &Add{Procedure: "pair", Edition: "1", SHA256: sha, Parts: []string{part}, Target: wing.LineRef("S1.1", wing.Right)}})
	return r
}

func (r *rig) on(n int) {
	r.t.Helper()
	for range n {
		r.must(Entry{Kind: EnterOn})
	}
}

func TestTheOpenLinkOfAPairIsThatOfItsSide(t *testing.T) {
	r := onPair(t)
	for _, want := range []string{"", "link B right", "", "", "link B left", ""} {
		_, link := r.job.LinkOpen()
		if link.String() != want {
			t.Errorf("at %s %q is open, want %q", r.due(), link, want)
		}
		c, err := r.job.Card(1, 1)
		if err != nil {
			t.Fatal(err)
		}
		side := map[bool]wing.Side{false: wing.Right, true: wing.Left}[len(c.Key) > 4 && c.Key[:4] == "twin"]
		if c.Ref.Side != side || c.Target != "S1.1 "+string(side) {
			t.Errorf("%s: the card is about %s (%s)", c.Key, c.Target, c.Ref)
		}
		if r.due() == "open.looked" {
			r.must(Entry{Kind: EnterAnswer, Text: "1"})
			continue
		}
		r.on(1)
		if r.due() == "twin_open.looked" {
			break
		}
	}
	if _, link := r.job.LinkOpen(); link != (wing.Ref{}) {
		t.Errorf("%s is open at the end", link)
	}
}

func TestTheFirstSideIsNotOpenedAgainWhileTheSecondIsOpen(t *testing.T) {
	r := onPair(t)
	r.on(2)
	r.must(Entry{Kind: EnterAnswer, Text: "1"})
	r.on(1)
	_, err := r.enter(Entry{Kind: EnterReopen, Key: "open.off", Text: "loop"})
	var refusal *Refusal
	if !errors.As(err, &refusal) || refusal.Code != LinkOpen || refusal.Args[1] != "link B left" {
		t.Fatalf("%v, want that link B left is open", err)
	}
	r.on(1)
	r.must(Entry{Kind: EnterReopen, Key: "open.off", Text: "loop"})
	r.on(1)
	if _, link := r.job.LinkOpen(); link != wing.LinkRef("B", wing.Right) {
		t.Errorf("%s is open", link)
	}
	r.on(1)
	r.must(Entry{Kind: EnterAnswer, Text: "1"})
	r.on(2)
	if _, link := r.job.LinkOpen(); link != (wing.Ref{}) || r.due() != "twin_open.looked" {
		t.Errorf("%s is open at %s", link, r.due())
	}
}

// A check on the twin's link rests on what the pair did there.
func TestAPairTouchesTheLinksOfBothSides(t *testing.T) {
	r := onPair(t)
	r.must(Entry{Kind: EnterAdd, Add: &Add{Procedure: "gate", Edition: "1", SHA256: r.pins.pin([]byte(gateOf)), Target: wing.LinkRef("B", wing.Left)}})
	r.must(Entry{Kind: EnterOn, Task: 2})
	r.must(Entry{Kind: EnterOn, Task: 2})
	r.must(Entry{Kind: EnterAnswer, Task: 2, Text: "1"})
	r.on(1)
	voids := r.job.Voids(1, "open.off")
	if len(voids) != 2 || voids[1] != "2/looked" {
		t.Errorf("re-opened: %v", voids)
	}
}
