package tui

import (
	"cmp"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// scroller shows lines that are more than there is room for, a part at a time.
type scroller struct {
	top  int
	rows int // of the last view, for paging
	all  int
	low  int    // lines from the first that were seen by now
	goes string // what goes on to what is below; "": the arrows
}

// readsOn goes to what is below where Enter stands for what is shown: nobody
// confirms what they have not seen.
const readsOn = "enter reads on"

// read reports whether all of it was seen by now, to its last line.
func (s *scroller) read() bool { return s.low >= s.all }

// on goes to the next part; false if the end was seen.
func (s *scroller) on() bool {
	if s.read() {
		return false
	}
	s.top = max(0, min(s.top+max(1, s.rows-2), s.all-s.rows))
	return true
}

// key takes a key that goes to another part; false if there is none there.
func (s *scroller) key(k tea.KeyMsg) bool {
	by, ok := moved(k, max(1, s.rows-2))
	to := min(max(0, s.top+by), max(0, s.all-s.rows))
	if !ok || to == s.top {
		return false
	}
	s.top = to
	return true
}

// byPages are the keys that page a text where the arrows up and down choose.
const byPages = "left, right go there"

// page takes a key that pages the text, where up and down choose from a list
// under it; false if there is nothing to page.
func (s *scroller) page(k tea.KeyMsg) bool {
	switch {
	case !s.more():
		return false
	case key.Matches(k, keyLeft, keyPgUp):
		return s.key(tea.KeyMsg{Type: tea.KeyPgUp})
	case key.Matches(k, keyRight, keyPgDown):
		return s.key(tea.KeyMsg{Type: tea.KeyPgDown})
	}
	return false
}

// more reports whether the last view did not hold all lines.
func (s *scroller) more() bool { return s.all > s.rows }

// see gives the part of the lines that is seen in so many rows, and says on
// which side there is more.
func (s *scroller) see(lines []string, rows int) []string {
	s.all, s.rows = len(lines), max(rows, 0)
	s.top = min(s.top, max(0, s.all-s.rows))
	end := min(s.top+s.rows, s.all)
	seen := append([]string{}, lines[s.top:end]...)
	if s.rows < 3 {
		s.low = max(s.low, end)
		return seen // a mark would hide what stands in its place for ever
	}
	if s.top > 0 {
		seen[0] = ".. more above"
	}
	if end < s.all {
		end--
		seen[s.rows-1] = ".. more below: " + cmp.Or(s.goes, "the arrows go there")
	}
	s.low = max(s.low, end)
	return seen
}
