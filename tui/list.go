package tui

import (
	"fmt"
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
	at    int  // negative: nothing is marked
	top   int  // first row that is seen
	typed int  // the number that digits have made so far; 0: none
	apart bool // a second line is drawn by the page, for the marked item only
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
	if typed := digits(k); len(typed) == 1 || len(typed) > 1 && len(typed) <= l.digits() {
		took := false
		for _, d := range typed {
			took = l.typedOn(10*l.typed+d) || l.typedOn(d)
		}
		return took
	}
	by, ok := moved(k, page)
	if !ok || len(l.items) == 0 {
		return ok
	}
	l.typed = 0
	if l.at < 0 && by < 0 {
		l.at = len(l.items)
	}
	l.at = min(max(l.at+by, 0), len(l.items)-1)
	return true
}

// typedOn takes the number that the digits make, if an item has it or one that
// begins with it. Digits gather without a clock: hands may be slow.
func (l *list) typedOn(n int) bool {
	number, begins := strconv.Itoa(n), false
	for i, it := range l.items {
		if it.digit == n {
			l.typed, l.at = n, i
			return true
		}
		begins = begins || it.digit > n && strings.HasPrefix(strconv.Itoa(it.digit), number)
	}
	if begins && n > 0 {
		l.typed, l.at = n, -1
		return true
	}
	l.typed = 0
	return false
}

// gathered says what the digits have made so far, where several make a number.
func (l *list) gathered() string {
	switch {
	case l.typed == 0 || l.digits() < 2:
		return ""
	case l.at < 0:
		return fmt.Sprintf("number %d..: type on; esc clears it", l.typed)
	}
	return fmt.Sprintf("number %d: enter takes it, esc clears it", l.typed)
}

// clear forgets what was typed and marks the first item; false if nothing was.
func (l *list) clear() bool {
	was := l.typed > 0
	if was {
		l.typed, l.at = 0, 0
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
	var rows []string
	from, to := 0, 0 // rows of the marked item
	for i, it := range l.items {
		if i == l.at {
			from = len(rows)
		}
		rows = append(rows, l.item(m, it, i == l.at, w)...)
		if i == l.at {
			to = len(rows)
		}
	}
	if len(rows) <= h {
		l.top = 0
		return rows, l.mark(from)
	}
	return l.window(rows, from, to, h)
}

// window cuts the rows to what is seen and says on which side there is more.
func (l *list) window(rows []string, from, to, h int) ([]string, *point) {
	if h < 3 {
		top := min(from, len(rows)-h)
		return rows[top : top+h], l.mark(from - top)
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
	return seen, l.mark(from - l.top)
}

func (l *list) mark(row int) *point {
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
