package prompt

import (
	"errors"
	"fmt"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/wing"
)

// which finds out which line one is. Nothing is written. Where the steps find
// the line out it would bend their answers, and is refused.
func (w *walk) which(c job.Card, rest string) {
	if c.Hidden || w.s.Job().Covered(c.Task) {
		w.notTaken(c, ":which", errors.New("the steps here find the line out from what you see\n  answer them; what leads to another line is said"))
		return
	}
	side := wing.Side(rest)
	if rest != "" && side.Other() == "" {
		w.notTaken(c, rest, fmt.Errorf("%q is no side\n  write left or right, or nothing for both", rest))
		return
	}
	if ref, ok := w.findLine(c, side); ok {
		w.say("A task on it: :add PROCEDURE %s %s", ref.Code, ref.Side)
	}
}

// findLine asks until the line is found; false where it is not.
func (w *walk) findLine(c job.Card, side wing.Side) (wing.Ref, bool) {
	w.say(LineTalkRule)
	w.say(ReplyRule + " Nothing is written.")
	w.shown.field = "" // what is due is said again behind it
	talk := NewLineTalk(w.s.Job().Plan, side)
	for w.err == nil && !talk.Over() {
		say := func() {
			for _, l := range talk.Words() {
				w.say("%s", l)
			}
		}
		say()
		text, r := w.reply(c, say)
		switch {
		case r == BreakOff:
			w.brokenOff()
			return wing.Ref{}, false
		case r == GoBack && len(talk.Seen()) == 0:
			w.atFirst()
		case r == GoBack:
			talk.Back()
		default:
			if err := talk.Take(text); err != nil {
				w.notTaken(c, text, err)
			}
		}
	}
	if w.err != nil {
		return wing.Ref{}, false
	}
	for _, l := range talk.Result() {
		w.say("%s", l)
	}
	return talk.Found()
}
