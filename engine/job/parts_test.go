package job

import (
	"slices"
	"strings"
	"testing"

	"example.org/linewright/engine/wing"
)

func list(thing string) Entry {
	ref, err := wing.ParseRef(thing)
	if err != nil {
		panic(err)
	}
	return Entry{Kind: EnterPart, Part: &PartMove{Op: PartList, Part: &Part{Thing: ref, Count: 1}}}
}

func move(op PartOp, no int, text string) Entry {
	return Entry{Kind: EnterPart, Part: &PartMove{Op: op, No: no, Text: text}, Text: text}
}

// all enters some entries that must succeed and then the last.
func all(ens ...Entry) func(*rig) (Event, error) {
	return func(r *rig) (Event, error) {
		for _, en := range ens[:len(ens)-1] {
			r.must(en)
		}
		return r.enter(ens[len(ens)-1])
	}
}

func init() {
	long := list("line:C1.2@left")
	long.Part.Part.Length = 4205000
	attempts = append(attempts, []attempt{
		{"label", entry(list("line:Z9@left")), "a part for a line that is not there", PartNoThing},
		{"label", all(list("line:C1.2@left"), list("line:C1.2@left")), "the same part again", PartTwice},
		{"label", entry(long), "a part with a length of nobody", PartLength},
		{"label", func(r *rig) (Event, error) {
			far := list("line:C1.2@left")
			far.Part.Part.Length, far.Part.Part.LengthOf = 4420000, "copy of its twin"
			return r.enter(far)
		}, "a part with the length of another line", PartFar},
		{"label", entry(move(PartDrop, 9, "no")), "drop part 9", PartUnknown},
		{"label", all(list("line:C1.2@left"), move(PartOrder, 0, "")), "order what was not read back", PartUnread},
		{"label", entry(move(PartOrder, 0, "")), "order nothing", PartNone},
		{"label", all(list("line:C1.2@left"), move(PartRead, 1, "c1.2")), "read back c1.2", CodeCovered},
		{"label", all(list("line:C1.2@left"), move(PartRead, 1, "C1.3")), "read back C1.3", CodeCovered},
		{"label", all(list("line:C1.2@left"), move(PartReturn, 1, "short")), "send back what was not ordered", PartIs},
		{"label", all(list("line:C1.2@left"), move(PartRead, 1, "C1.2"), move(PartOrder, 0, ""), move(PartTaken, 1, "looks right")), "receive a line by a word", PartByTask},
		{"label", all(list("line:C1.2@left"), move("lose", 1, "")), "lose a part", PartOpUnknown},
		{"turns_closed", entry(Entry{Kind: EnterLayDown, Text: "wind"}), "lay down with the link open", SafeFirst},
		{"turns_closed", entry(Entry{Kind: EnterLayDown, Text: "wind", Safe: []string{"1", "1", "1", "1"}}), "lay down with one line on the rod", NotSafe},
		{"label", entry(Entry{Kind: EnterHandOn}), "hand the job on to nobody", NobodyNamed},
		{"label", entry(Entry{Kind: EnterTakeOver}), "take over what was not handed on", NotHanded},
		{"label", all(Entry{Kind: EnterHandOn, To: "cal"}, Entry{Kind: EnterNote, Text: "x"}), "a note after the job was handed on", HandedAway},
	}...)
}

// A part goes from the list to the hand, and back on the list if it is wrong.
func TestAPartGoesItsWay(t *testing.T) {
	r := withTask(t)
	state := func() PartState { return r.job.PartState(r.job.Parts()[0]) }
	r.must(list("retainer:C@left"))
	for _, step := range []struct {
		en   Entry
		want PartState
	}{
		{move(PartRead, 1, "C"), ReadBack},
		{move(PartOrder, 0, ""), Ordered},
		{move(PartReturn, 1, "cracked"), Listed},
		{move(PartRead, 1, "C"), ReadBack},
		{move(PartOrder, 0, ""), Ordered},
		{move(PartTaken, 1, "new, soft, fits"), AtHand},
	} {
		r.must(step.en)
		if got := state(); got != step.want {
			t.Fatalf("after %s: %s, want %s", step.en.Part.Op, got, step.want)
		}
	}
	l := r.job.Parts()[0]
	if l.Order != 2 || !slices.Equal(l.Returned, []string{"cracked"}) {
		t.Errorf("order %d, returned %v; want the second order, returned once", l.Order, l.Returned)
	}
	if r.job.Have(l.Thing) != true {
		t.Error("it is not at hand")
	}
}

func TestAJobIsHandedOnInASafeState(t *testing.T) {
	r := withTask(t)
	r.to("turns_closed")
	if _, err := r.enter(Entry{Kind: EnterHandOn, To: "cal"}); code(err) != SafeFirst {
		t.Fatalf("handed on with the link open: %v", err)
	}
	e := r.must(Entry{Kind: EnterHandOn, To: "cal", Text: "third joint is next", Safe: []string{"1", "3", "1", "1"}})
	if len(e.Safe) != 4 || !strings.Contains(e.Safe[1], "3") || r.job.HandedTo() != "cal" {
		t.Errorf("written %v, handed to %q", e.Safe, r.job.HandedTo())
	}
	r.who, r.sitting = "cal", 2
	r.must(Entry{Kind: EnterTakeOver})
	if r.job.HandedTo() != "" {
		t.Error("still handed on")
	}
	if c, err := r.job.Card(1, 2); err != nil || c.Confirm == nil {
		t.Errorf("the last step is not asked to be looked at first: %+v %v", c.Confirm, err)
	}
}

func TestNothingOpenNeedsNoSafeState(t *testing.T) {
	r := withTask(t)
	if q := r.job.SafeState(1); len(q) != 0 {
		t.Errorf("asked %v", q)
	}
}
