package prompt

import (
	"example.org/linewright/engine/job"
)

// AsksAgain reports whether a reading was refused because it lies far from what
// is expected: entered again with what was typed as Again, it is taken.
func AsksAgain(err error) bool {
	b := because(err)
	return b != nil && (b.Code == job.TypeAgain || b.Code == job.TypeAgainCovered)
}

// typedOnce is a reading that has to be typed again before it is taken.
type typedOnce struct {
	task      int
	key, text string
	why       *job.Because
	strict    bool // nobody is there who could have meant another value by the next line
}

// once keeps what was typed and says why it is asked for again.
func (w *walk) once(en job.Entry, err error) {
	w.typed = typedOnce{en.Task, en.Key, en.Text, because(err), w.strict()}
	w.words("", err)
}

// before gives what was typed once at the step of an entry. From a pipe it has
// to come again: another line was not written as the answer to this question.
func (w *walk) before(en job.Entry) string {
	o := w.typed
	if en.Kind != job.EnterAnswer || o.task != en.Task || o.key != en.Key {
		return ""
	}
	if o.strict && o.text != en.Text {
		w.err = &NotTaken{Typed: o.text, Step: o.key, Because: o.why}
	}
	return o.text
}
