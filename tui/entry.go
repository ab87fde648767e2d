package tui

import (
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/procedure"
)

// entry is what a person is about to say in one field: text, or a choice, or a
// choice with words behind it. Nothing of it is written before an Enter.
type entry struct {
	field  job.Field
	text   editor
	list   list
	reason bool // the choice is made and words are wanted behind it
}

// standsDigit chooses that an old answer still holds.
const standsDigit = 0

func newEntry(f job.Field) entry {
	e := entry{field: f, list: list{at: -1}}
	if e.chooses() {
		e.list.items = numbered(f.Options)
	}
	if f.Kind == procedure.Do && f.Stands {
		e.list.items = []item{{digit: 1, text: "done again now"}}
	}
	if f.Stands && len(e.list.items) > 0 {
		e.list.items = append(e.list.items, item{digit: standsDigit, text: "as before, it still holds: " + f.Old})
	}
	return e
}

// chooses reports whether the field is answered by one of several options.
func (e *entry) chooses() bool {
	return e.field.Kind == procedure.Choose || e.field.Kind == procedure.Check
}

// listed reports whether the field shows a list to choose from.
func (e *entry) listed() bool { return len(e.list.items) > 0 }

// typing reports whether a text field has the focus.
func (e *entry) typing() bool {
	return e.reason || !e.listed() && e.field.Kind != procedure.Do && e.field.Kind != procedure.Sign
}

// prose reports whether what is typed are free words, in which any character
// may stand.
func (e *entry) prose() bool {
	switch e.field.Kind {
	case procedure.Note, procedure.Photo, procedure.Code:
		return e.typing()
	}
	return e.reason
}

// key takes a key that changes the entry; false if it does not.
func (e *entry) key(k tea.KeyMsg, page int) bool {
	if e.typing() {
		return e.text.key(k)
	}
	return e.listed() && e.list.key(k, page)
}

// idle says of a key that types something that it did nothing here, and what
// does: in haste a number goes into a list, or a word to a thing to be done.
func (e *entry) idle() string {
	if e.listed() {
		return chooseWords
	}
	return "Nothing is typed here: enter says that it is done."
}

// stands reports whether the old answer is chosen to hold.
func (e *entry) stands() bool {
	return e.listed() && e.list.at >= 0 && e.list.items[e.list.at].digit == standsDigit
}

// value is the entry as it would be typed in line mode; "" if there is none.
func (e *entry) value() string {
	if !e.listed() {
		return strings.TrimSpace(e.text.String())
	}
	if e.list.at < 0 || e.stands() {
		return ""
	}
	number := strconv.Itoa(e.list.at + 1)
	if e.reason {
		return strings.TrimSpace(number + " " + e.text.String())
	}
	return number
}

// fill puts a draft back: what value gave before, or what the demo offers.
func (e *entry) fill(text string) {
	if !e.listed() {
		e.text.set(text)
		return
	}
	number, words, more := strings.Cut(text, " ")
	n, err := strconv.Atoi(number)
	if err != nil || n < 1 || n > len(e.list.items) {
		return
	}
	e.list.at = n - 1
	if more {
		e.reason = true
		e.text.set(words)
	}
}

// kind is what an Enter would write.
func (e *entry) kind() job.EntryKind {
	switch {
	case e.stands():
		return job.EnterStands
	case e.value() == "":
		return job.EnterOn
	case e.field.Kind == procedure.Do:
		return job.EnterOn
	}
	return job.EnterAnswer
}
