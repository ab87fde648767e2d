package tui

import (
	"io"

	"github.com/charmbracelet/lipgloss"
)

// style is how things look. Foreground and background are the terminal's own.
// A state is always said by a word or a sign; bold and the two colours only
// repeat it, so that NO_COLOR loses nothing.
type style struct {
	strong lipgloss.Style // what is to be done
	calm   lipgloss.Style // where the person is: the phase, the mark of a choice
	alert  lipgloss.Style // caution, stop, not saved
}

// The two colours are of middle lightness: on black and on white their
// contrast is above 4.3.
const (
	teal  = lipgloss.Color("#00868b")
	ochre = lipgloss.Color("#b35c00")
)

// newStyle looks at the environment only; the terminal is not asked.
func newStyle(out io.Writer) style {
	r := lipgloss.NewRenderer(out)
	r.SetHasDarkBackground(true)
	return style{
		strong: r.NewStyle().Bold(true),
		calm:   r.NewStyle().Foreground(teal),
		alert:  r.NewStyle().Foreground(ochre).Bold(true),
	}
}
