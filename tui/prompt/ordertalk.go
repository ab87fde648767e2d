package prompt

import (
	"fmt"
	"strconv"

	"example.org/linewright/engine/job"
)

// sides are the answers to the question from which side a link is seen.
var sides = []job.SeenFrom{job.SeenAsAsked, job.SeenOtherSide, job.SeenUnknown}

// AsksSide reports whether an order was refused because it is exactly the other
// way round: SideQuestion comes first, then the order is entered again.
func AsksSide(err error) bool {
	b := because(err)
	return b != nil && b.Code == job.OrderMirrored
}

// SideQuestion asks from which side a link is seen. It asks by the ends of the
// row: the gate may be at either.
func SideQuestion() TalkQuestion {
	return TalkQuestion{
		Ask: "Exactly the other way round. Look again: from which side do you see the link?",
		Options: []string{
			"as the step says, beginning nearest the centre",
			"from the other side, beginning nearest the tip",
			"I cannot tell",
		},
	}
}

// SideSeen takes the answer to SideQuestion, its number. The error says what is
// accepted.
func SideSeen(text string) (job.SeenFrom, error) {
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 || n > len(sides) {
		return "", fmt.Errorf("%q is none of the answers\n  type a number from 1 to %d", text, len(sides))
	}
	return sides[n-1], nil
}

// side asks from which side the link is seen, and enters the order again.
func (w *walk) side(c job.Card, en job.Entry) {
	w.shown.field = ""
	for w.err == nil {
		answer, r := w.asked(c, SideQuestion())
		if r != Answered { // the question before is that of the step
			w.brokenOff()
			return
		}
		from, err := SideSeen(answer)
		if err == nil {
			en.SeenFrom = from
			w.enter(c, en)
			return
		}
		w.notTaken(c, answer, err)
	}
}
