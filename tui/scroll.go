package tui

import tea "github.com/charmbracelet/bubbletea"

// scroller shows lines that are more than there is room for, a part at a time.
type scroller struct {
	top  int
	rows int // of the last view, for paging
	all  int
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

// more reports whether the last view did not hold all lines.
func (s *scroller) more() bool { return s.all > s.rows }

// see gives the part of the lines that is seen in so many rows, and says on
// which side there is more.
func (s *scroller) see(lines []string, rows int) []string {
	s.all, s.rows = len(lines), max(rows, 0)
	s.top = min(s.top, max(0, s.all-s.rows))
	seen := append([]string{}, lines[s.top:min(s.top+s.rows, s.all)]...)
	if s.rows < 3 {
		return seen // a mark would hide what stands in its place for ever
	}
	if s.top > 0 {
		seen[0] = ".. more above"
	}
	if s.top+s.rows < s.all {
		seen[s.rows-1] = ".. more below: the arrows go there"
	}
	return seen
}
