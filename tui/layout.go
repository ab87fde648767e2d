package tui

import (
	"strings"

	"github.com/charmbracelet/x/ansi"

	"example.org/linewright/engine/source"
)

// Everything that is shown passes through cell or wrap: text from files and
// from the keyboard reaches the terminal without control characters.

// cell makes text one line of at most w columns; what does not fit is cut and
// says so.
func cell(text string, w int) string {
	return ansi.Truncate(plain(text), max(w, 0), "..")
}

// plain makes text fit for one line of the terminal.
func plain(text string) string {
	return strings.ReplaceAll(source.Clean(text), "\n", " ")
}

// wrap breaks text into lines of at most w columns, at blanks where it can.
func wrap(text string, w int) []string {
	if text == "" || w <= 0 {
		return nil
	}
	var out []string
	for _, paragraph := range strings.Split(source.Clean(text), "\n") {
		line := ""
		for _, word := range strings.Fields(paragraph) {
			if line != "" && ansi.StringWidth(line)+1+ansi.StringWidth(word) <= w {
				line += " " + word
				continue
			}
			if line != "" {
				out = append(out, line)
			}
			parts := strings.Split(ansi.Hardwrap(word, w, false), "\n")
			out = append(out, parts[:len(parts)-1]...)
			line = parts[len(parts)-1]
		}
		out = append(out, line)
	}
	return out
}

// wrapKeep is wrap for a text that begins further in.
func wrapKeep(text string, w int) []string {
	in := len(text) - len(strings.TrimLeft(text, " "))
	return indent(wrap(text, w-in), in)
}

// hang wraps text behind a label; lines after the first stand under the text.
func hang(label, text string, w int) []string {
	in := ansi.StringWidth(label)
	lines := wrap(text, w-in)
	for i := range lines {
		if i == 0 {
			lines[i] = label + lines[i]
			continue
		}
		lines[i] = strings.Repeat(" ", in) + lines[i]
	}
	return lines
}

// pad fills a line up to w columns.
func pad(line string, w int) string {
	return line + strings.Repeat(" ", max(0, w-ansi.StringWidth(line)))
}

// indent moves lines to the right.
func indent(lines []string, by int) []string {
	out := make([]string, len(lines))
	for i, l := range lines {
		if l != "" {
			out[i] = strings.Repeat(" ", by) + l
		}
	}
	return out
}

// sheet is one picture of the whole screen and the place of the cursor.
type sheet struct {
	lines  []string
	cursor *point
}

// fit brings a sheet to exactly h lines of at most w columns each. The
// renderer would else drop the top lines of what is too tall.
func (s sheet) fit(w, h int, tint string) string {
	if w <= 0 || h <= 0 {
		return ""
	}
	lines := make([]string, h)
	copy(lines, s.lines)
	for i := range lines {
		lines[i] = ansi.Truncate(lines[i], w, "")
	}
	at := s.cursor
	if at != nil && (at.row >= h || at.col >= w) {
		at = nil
	}
	return strings.Join(lines, "\n") + wish(at, tint)
}
