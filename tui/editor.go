package tui

import (
	"sort"
	"strings"
	"unicode"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"example.org/linewright/engine/source"
)

// maxDraft bounds what a paste can put into a field, in characters. It is
// above what an entry may have, so that the refusal is still seen.
const maxDraft = 5000

// editor is the text that is being typed in a field. Its cursor is the
// terminal's own.
type editor struct {
	text   []rune
	at     int
	masked bool // shows stars: a pass phrase
}

func (e *editor) set(text string) { e.text, e.at = []rune(text), len([]rune(text)) }

func (e *editor) String() string { return string(e.text) }

// wipe overwrites the text, for pass phrases.
func (e *editor) wipe() {
	clear(e.text)
	e.text, e.at = nil, 0
}

// key takes a key that edits; false if it is none of them.
func (e *editor) key(k tea.KeyMsg) bool {
	switch k.Type {
	case tea.KeyRunes, tea.KeySpace:
		if k.Alt {
			return false
		}
		e.insert(k.Runes)
	case tea.KeyLeft:
		e.at = max(0, e.at-1)
	case tea.KeyRight:
		e.at = min(len(e.text), e.at+1)
	case tea.KeyHome:
		e.at = 0
	case tea.KeyEnd:
		e.at = len(e.text)
	case tea.KeyBackspace:
		if e.at > 0 {
			e.text = append(e.text[:e.at-1:e.at-1], e.text[e.at:]...)
			e.at--
		}
	case tea.KeyDelete:
		if e.at < len(e.text) {
			e.text = append(e.text[:e.at:e.at], e.text[e.at+1:]...)
		}
	case tea.KeyCtrlU:
		e.text, e.at = nil, 0
	default:
		return false
	}
	return true
}

// insert puts typed or pasted characters at the cursor. Line ends of a paste
// become blanks: a paste never goes on by itself.
func (e *editor) insert(rs []rune) {
	var in []rune
	for _, r := range rs {
		switch {
		case unicode.IsSpace(r):
			in = append(in, ' ')
		case !source.Hidden(r):
			in = append(in, r)
		}
	}
	if len(rs) > 1 {
		in = []rune(strings.TrimRight(string(in), " "))
	}
	in = in[:min(len(in), max(0, maxDraft-len(e.text)))]
	e.text = append(e.text[:e.at:e.at], append(in, e.text[e.at:]...)...)
	e.at += len(in)
}

// shown is the text as it stands on the screen.
func (e *editor) shown() []rune {
	if e.masked {
		return []rune(strings.Repeat("*", len(e.text)))
	}
	return e.text
}

// line shows the part of the text around the cursor in w columns, filled up,
// and the column of the cursor in it.
func (e *editor) line(w int) (string, int) {
	text := e.shown()
	from := sort.Search(e.at, func(i int) bool { return ansi.StringWidth(string(text[i:e.at])) <= max(w-1, 0) })
	col := ansi.StringWidth(string(text[from:e.at]))
	return pad(ansi.Truncate(string(text[from:]), max(w, 0), ""), w), col
}

// block shows the whole text broken into lines of at most w columns, between
// words where there are any, and the place of the cursor in them.
func (e *editor) block(w int) ([]string, point) {
	text := e.shown()
	var lines []string
	var at point
	for from := 0; from < len(text) || len(lines) == 0; {
		to := lineEnd(text, from, w-1)
		if e.at >= from {
			at = point{len(lines), ansi.StringWidth(string(text[from:min(e.at, to)]))}
		}
		lines = append(lines, string(text[from:to]))
		from = to
	}
	return lines, at
}

// lineEnd is where a line of w columns ends that begins at from. The blank that
// it is broken at stays with it and may stand out by one column.
func lineEnd(text []rune, from, w int) int {
	end, col := 0, 0
	for i := from; i < len(text); i++ {
		if col += ansi.StringWidth(string(text[i])); col > w && i > from && text[i] != ' ' {
			if end > from {
				return end
			}
			return i
		}
		if text[i] == ' ' {
			end = i + 1
			if col > w {
				return end
			}
		}
	}
	return len(text)
}
