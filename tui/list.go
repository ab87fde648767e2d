package tui

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"
)

// item is one line of a list, or several.
type item struct {
	digit int // the number that chooses it, of one digit or more; negative: none
	text  string
	more  string // a second line
}

// list is something to choose from, with digits or arrows. Choosing marks; only
// Enter takes what is marked.
type list struct {
	items []item
	at    int    // negative: nothing is marked
	top   int    // first row that is seen
	typed string // the digits since the last other key: they make one number
	was   int    // what was marked before them
	apart bool   // a second line is drawn by the page, for the marked item only
}

// numbered makes items of texts, numbered from 1.
func numbered(texts []string) []item {
	items := make([]item, len(texts))
	for i, t := range texts {
		items[i] = item{digit: i + 1, text: t}
	}
	return items
}

// key takes a key that chooses; false if it is none.
func (l *list) key(k tea.KeyMsg, page int) bool {
	if typed := digits(k); len(typed) > 0 && l.numbered() {
		for _, d := range typed {
			l.typedOn(strconv.Itoa(d))
		}
		return true
	}
	if k.Type == tea.KeyBackspace && l.clear() {
		return true
	}
	by, ok := moved(k, page)
	if !ok || len(l.items) == 0 {
		return ok
	}
	if l.at < 0 {
		l.clear()
	}
	l.typed = ""
	if l.at < 0 && by < 0 {
		l.at = len(l.items)
	}
	l.at = min(max(l.at+by, 0), len(l.items)-1)
	return true
}

func (l *list) numbered() bool {
	return slices.ContainsFunc(l.items, func(it item) bool { return it.digit >= 0 })
}

// typedOn takes one digit more. Digits gather without a clock: hands may be slow.
func (l *list) typedOn(digit string) {
	const most = 12 // more says nothing more
	if l.typed == "" {
		l.was = l.at
	}
	if len(l.typed) < most {
		l.mark(l.typed + digit)
	}
}

// mark marks the item whose number the digits make. Where they make none,
// nothing is marked: a number that was meant for a field must not choose by its
// first digit, or its last.
func (l *list) mark(typed string) {
	l.typed, l.at = typed, -1
	for i, it := range l.items {
		if strconv.Itoa(it.digit) == typed {
			l.at = i
		}
	}
}

// odd reports whether the digits make a number that nothing here has or begins with.
func (l *list) odd() bool {
	return l.typed != "" && l.at < 0 && !slices.ContainsFunc(l.items, func(it item) bool {
		return strings.HasPrefix(strconv.Itoa(it.digit), l.typed)
	})
}

// gathered says what the digits have made so far, where several make a number.
func (l *list) gathered() string {
	switch {
	case l.odd():
		return l.typed + " is none of the numbers here: nothing is marked. Backspace clears."
	case l.typed == "" || l.digits() < 2:
		return ""
	case l.at < 0:
		return fmt.Sprintf("number %s..: type on; esc clears it", l.typed)
	}
	return fmt.Sprintf("number %s: enter takes it, esc clears it", l.typed)
}

// clear forgets what was typed and marks what was marked before; false if
// nothing was typed.
func (l *list) clear() bool {
	was := l.typed != ""
	if was {
		l.typed, l.at = "", l.was
	}
	return was
}

// digits is how many digits the longest number has.
func (l *list) digits() int {
	most := 1
	for _, it := range l.items {
		if it.digit >= 0 {
			most = max(most, len(strconv.Itoa(it.digit)))
		}
	}
	return most
}

// height is how many rows of w columns the whole list has.
func (l *list) height(m *model, w int) int {
	rows := 0
	for i, it := range l.items {
		rows += len(l.item(m, it, i == l.at, w))
	}
	return rows
}

// lines draws the list in at most h rows of w columns around what is marked.
// The second result is the place of the mark.
func (l *list) lines(m *model, w, h int) ([]string, *point) {
	rows, from, to := l.drawn(m, w)
	if len(rows) <= h {
		l.top = 0
		return rows, l.cursor(from)
	}
	return l.window(rows, from, to, h)
}

// drawn draws the whole list; from and to are the rows of the marked item.
func (l *list) drawn(m *model, w int) (rows []string, from, to int) {
	for i, it := range l.items {
		if i == l.at {
			from = len(rows)
		}
		rows = append(rows, l.item(m, it, i == l.at, w)...)
		if i == l.at {
			to = len(rows)
		}
	}
	return rows, from, to
}

// window cuts the rows to what is seen and says on which side there is more.
func (l *list) window(rows []string, from, to, h int) ([]string, *point) {
	if h < 3 {
		top := min(from, len(rows)-h)
		return rows[top : top+h], l.cursor(from - top)
	}
	l.top = min(l.top, len(rows)-h)
	if from < l.top+1 {
		l.top = max(0, from-1)
	}
	if to > l.top+h-1 {
		l.top = min(len(rows)-h, to-h+1)
	}
	seen := append([]string{}, rows[l.top:l.top+h]...)
	if l.top > 0 {
		seen[0] = "   .. more above"
	}
	if l.top+h < len(rows) {
		seen[h-1] = "   .. more below"
	}
	return seen, l.cursor(from - l.top)
}

func (l *list) cursor(row int) *point {
	if l.at < 0 {
		return &point{}
	}
	return &point{row: max(row, 0)}
}

func (l *list) item(m *model, it item, marked bool, w int) []string {
	label := "  "
	if marked {
		label = "> "
	}
	number := ""
	if it.digit >= 0 {
		number = strconv.Itoa(it.digit)
	}
	label += fmt.Sprintf("%*s  ", l.digits(), number)
	lines := hang(label, it.text, w)
	if it.more != "" && !l.apart {
		lines = append(lines, hang(strings.Repeat(" ", len(label)), it.more, w)...)
	}
	if marked {
		for i := range lines {
			lines[i] = m.look.mark.Render(strings.TrimRight(lines[i], " "))
		}
	}
	return lines
}
