package prompt

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"example.org/linewright/engine/job"
)

// Reply is what one line asks for where questions are put in turn.
type Reply int

// The replies.
const (
	Answered Reply = iota
	Explain        // say once more what is asked, and what is accepted
	GoBack         // to the question before; every other answer is kept
	BreakOff       // nothing is written
)

// ReplyRule says once what can be typed besides an answer.
const ReplyRule = "A question mark explains the question, :back goes to the one before, a colon alone breaks off."

// ReplyOf reads a line as a reply. A command that has no meaning between two
// questions is refused, so that a slip does not cost the answers before it.
func ReplyOf(line string) (Reply, error) {
	text := strings.TrimSpace(line)
	switch {
	case text == "?":
		return Explain, nil
	case text == sign:
		return BreakOff, nil
	case !isCommand(text):
		return Answered, nil
	}
	for word, r := range map[string]Reply{":help": Explain, ":back": GoBack, ":quit": BreakOff} {
		if strings.HasPrefix(word, text) {
			return r, nil
		}
	}
	return Answered, fmt.Errorf("%q cannot be done between two questions; your answers are kept\n  %s", text, ReplyRule)
}

// reply reads a line where questions are put in turn. What explains is done
// here, and the question stays due. The end of the input breaks off.
func (w *walk) reply(c job.Card, explain func()) (string, Reply) {
	for w.err == nil {
		line, err := w.line()
		switch {
		case errors.Is(err, io.EOF):
			return "", BreakOff
		case err != nil:
			w.err = err
			return "", BreakOff
		}
		text := strings.TrimSpace(line)
		r, err := ReplyOf(text)
		switch {
		case err != nil:
			w.notTaken(c, text, err)
		case r == Explain:
			clear(w.said)
			explain()
			w.say(ReplyRule)
		default:
			return text, r
		}
	}
	return "", BreakOff
}

// brokenOff says that nothing came of the questions.
func (w *walk) brokenOff() { w.say("Broken off. Nothing was written.") }

// atFirst says that there is no question to go back to.
func (w *walk) atFirst() { w.say("This is the first question.") }

// yes asks for the word yes; anything else leaves all as it is.
func (w *walk) yes(c job.Card, ask string) bool {
	say := func() { w.say("%s Type yes; anything else leaves it as it is.", ask) }
	say()
	text, r := w.reply(c, say)
	if w.err != nil {
		return false
	}
	if r != Answered || !strings.EqualFold(text, "yes") {
		w.say("Left as it is.")
		return false
	}
	return true
}
