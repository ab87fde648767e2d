package reckon

import (
	"strings"
	"unicode/utf8"

	"example.org/linewright/engine/wing"
)

// Width is how many columns a line of Why and of Lines has at most.
const Width = 78

// nameWidth is the room for the name of a row.
const nameWidth = 15

// Lines gives the rows as text, each name once, its text wrapped beside it.
func (r Result) Lines() []string {
	var out []string
	for _, row := range r.Rows {
		name := row.Name
		for _, part := range wrap(row.Text, Width-nameWidth) {
			out = append(out, strings.TrimRight(pad(name, nameWidth)+part, " "))
			name = ""
		}
	}
	return out
}

// wrap breaks a text at blanks so that no line is wider than the width, unless
// one word is.
func wrap(text string, width int) []string {
	var out []string
	line := ""
	for _, word := range glued(strings.Fields(text)) {
		if line != "" && columns(line)+1+columns(word) > width {
			out = append(out, line)
			line = ""
		}
		for columns(word) > width {
			head := string([]rune(word)[:width])
			out = append(out, head)
			word = word[len(head):]
		}
		if line != "" {
			line += " "
		}
		line += word
	}
	return append(out, line)
}

// Fold breaks lines that are wider than Width; what follows stands two columns
// further in than the line began. Others stay as they are, with their blanks.
func Fold(lines []string) []string {
	var out []string
	for _, line := range lines {
		if columns(line) <= Width {
			out = append(out, line)
			continue
		}
		text := strings.TrimLeft(line, " ")
		lead := line[:len(line)-len(text)]
		for i, part := range wrap(text, Width-len(lead)-2) {
			if i == 1 {
				lead += "  "
			}
			out = append(out, strings.TrimRight(lead+part, " "))
		}
	}
	return out
}

// glued keeps a number and its unit on one line.
func glued(words []string) []string {
	var out []string
	for _, w := range words {
		switch n := len(out); strings.TrimRight(w, ",.;:)") {
		case "mm", "N", "°C", "%", "kg", "kgf":
			if n > 0 {
				out[n-1] += " " + w
				continue
			}
		}
		out = append(out, w)
	}
	return out
}

// indented wraps a text below a heading.
func indented(text string) []string {
	lines := wrap(text, Width-2)
	for i := range lines {
		lines[i] = "  " + lines[i]
	}
	return lines
}

// pad fills a text up to the width, with a blank behind it at least.
func pad(text string, width int) string {
	return text + strings.Repeat(" ", max(1, width-columns(text)))
}

func columns(text string) int { return utf8.RuneCountInString(text) }

// stepLines prints the terms of a sum of the wing, each with its source.
func stepLines(steps []wing.Step) []string {
	var out []string
	for _, s := range steps {
		out = append(out, wrap(s.Term+" = "+s.Value, Width)...)
		out = append(out, indented(s.Source)...)
	}
	return out
}
