package tui

import (
	"io"
	"os"
	"strings"

	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"
)

// style is how things look. A state is always said by a word or a sign; what is
// set here only repeats it, so that without colour nothing is lost.
type style struct {
	strong lipgloss.Style // what is to be done
	calm   lipgloss.Style // where the person is: the phase, what is saved
	mark   lipgloss.Style // what is chosen
	alert  lipgloss.Style // caution, stop, not saved

	base string // the sequence that all text stands behind; empty: as the terminal has it
	tint string // of the cursor, #rrggbb; empty: as the terminal has it
}

// newStyle makes the style of a look for what a terminal can show.
func newStyle(look string, can termenv.Profile) style {
	c := palettes[look]
	if c.none {
		can = termenv.Ascii
	}
	r := lipgloss.NewRenderer(io.Discard)
	r.SetColorProfile(can)
	r.SetHasDarkBackground(true) // known, so that the terminal is not asked
	text := r.NewStyle()
	// Many terminals of 16 colours show a bold black as grey.
	bold := can != termenv.ANSI || c.ground != white
	s := style{strong: text.Bold(bold)}
	if c.turned || !bold {
		s.calm, s.mark, s.alert = text.Reverse(true), text.Reverse(true), text.Reverse(true)
	} else {
		s.calm = text.Foreground(c.calm)
		s.mark = text.Foreground(c.calm).Bold(true)
		s.alert = text.Foreground(c.alert).Bold(true)
	}
	s.base = opening(text.Foreground(c.text).Background(c.ground).Bold(c.bold && bold))
	if s.base != "" && can != termenv.ANSI {
		s.tint = c.text.TrueColor
	}
	return s
}

// opening is the sequence that a style begins with.
func opening(s lipgloss.Style) string {
	seq, _, found := strings.Cut(s.Render("x"), "x")
	if !found {
		return ""
	}
	return seq
}

// reset is what lipgloss ends each piece of text with.
const reset = "\x1b[0m"

// paint puts a screen of w × h into the colours of the look, to its edges.
func (s style) paint(seen sheet, w, h int) sheet {
	if s.base == "" {
		return seen
	}
	lines := make([]string, h)
	copy(lines, seen.lines)
	for i, l := range lines {
		l = pad(ansi.Truncate(l, w, ""), w)
		lines[i] = s.base + strings.ReplaceAll(l, reset, reset+s.base) + reset
	}
	return sheet{lines, seen.cursor}
}

// shows says what a terminal can show. It looks at the environment only; the
// terminal is not asked. Whether colour is wanted is said by the look.
func shows(out *os.File) termenv.Profile { return termenv.NewOutput(out).ColorProfile() }
