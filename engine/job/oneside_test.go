package job

import (
	"testing"

	"example.org/linewright/engine/wing"
)

const paired = `
linewright_procedure = 1
id = "paired"
edition = "1"
title.en = "Paired"
target = "brakes"
pair = true
[[phase]]
id = "move"
title.en = "Move"
each = "side"
[[phase.card]]
id = "undo"
action.en = "UNDO"
reason.en = "It has to come off."
[[phase.card.step]]
id = "undone"
kind = "do"
alters = true
ask.en = "Undone"
[[phase.card.step]]
id = "moved"
kind = "do"
alters = true
ask.en = "Moved"
`

// A side that is altered in part makes a wing as unlike as one that is not
// altered at all.
func TestOneSideUntilBothAreWholly(t *testing.T) {
	r := newRig(t)
	sha := r.pins.pin([]byte(paired))
	r.must(Entry{Kind: EnterAdd, Add: &Add{Procedure: "paired", Edition: "1", SHA256: sha, Target: wing.Brakes()}})
	for done, want := range []bool{false, true, true, true, false} {
		if got := r.job.Tasks[0].OneSide(); got != want {
			t.Errorf("after %d of 4 alterations: one side is %v, want %v", done, got, want)
		}
		if done < 4 {
			r.must(Entry{Kind: EnterOn})
		}
	}
}
