package record

import (
	"fmt"
	"strings"
	"time"

	"example.org/linewright/engine/source"
)

// pageWidth is the greatest width of record.txt in columns.
const pageWidth = 78

// labelWidth is the column at which the text of a field begins. Behind it a
// SHA-256 fits on one line.
const labelWidth = 14

// page is a text under way.
type page struct{ b strings.Builder }

// head begins a section.
func (p *page) head(title string) {
	p.b.WriteString("\n")
	p.line(0, "%s", strings.ToUpper(title))
	p.b.WriteString("\n")
}

// line writes wrapped text.
func (p *page) line(indent int, format string, args ...any) {
	p.hang(strings.Repeat(" ", indent), fmt.Sprintf(format, args...))
}

// field writes a label and its text in the column behind it; an empty text
// writes nothing.
func (p *page) field(label, format string, args ...any) {
	if text := fmt.Sprintf(format, args...); text != "" {
		p.hang(fmt.Sprintf("  %-*s", labelWidth-2, label), text)
	}
}

// item writes a numbered line.
func (p *page) item(n int, format string, args ...any) {
	p.hang(fmt.Sprintf("%3d  ", n), fmt.Sprintf(format, args...))
}

// sub writes a field below a numbered line.
func (p *page) sub(label, format string, args ...any) {
	if text := fmt.Sprintf(format, args...); text != "" {
		p.hang(fmt.Sprintf("     %-*s", labelWidth-2, label), text)
	}
}

// hang writes text behind a lead, and what does not fit below it.
func (p *page) hang(lead, text string) {
	lead = strings.ReplaceAll(source.Clean(lead), "\n", " ")
	for _, l := range wrap(text, pageWidth-width(lead)) {
		p.b.WriteString(strings.TrimRight(lead+l, " ") + "\n")
		lead = strings.Repeat(" ", width(lead))
	}
}

// String gives the text.
func (p *page) String() string { return p.b.String() }

// wrap breaks text into lines of at most most columns. Line ends and other
// signs that would steer a terminal, from wherever they came, do not pass.
func wrap(text string, most int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(source.Clean(text)) {
		for width(word) > most {
			if line != "" {
				lines, line = append(lines, line), ""
			}
			head := cut(word, most)
			lines, word = append(lines, head), word[len(head):]
		}
		switch {
		case line == "":
			line = word
		case width(line)+1+width(word) <= most:
			line += " " + word
		default:
			lines, line = append(lines, line), word
		}
	}
	if line != "" || len(lines) == 0 {
		lines = append(lines, line)
	}
	return lines
}

// cut gives the beginning of a word that fits, one sign at least.
func cut(word string, most int) string {
	used := 0
	for i, r := range word {
		used += runeWidth(r)
		if used > most && i > 0 {
			return word[:i]
		}
	}
	return word
}

// width counts columns. It calls some signs wider than a terminal shows them,
// never narrower, and does not hang on the tables of a library: the bytes of a
// record must be the same with every release.
func width(s string) int {
	n := 0
	for _, r := range s {
		n += runeWidth(r)
	}
	return n
}

func runeWidth(r rune) int {
	if r >= 0x1100 { // the first wide sign of Unicode
		return 2
	}
	return 1
}

// when gives a time of the journal as a person reads it, in the offset in
// which it was written. What is no time is given as it stands.
func when(at string) string {
	t, err := time.Parse(time.RFC3339, at)
	if err != nil {
		return at
	}
	return t.Format("2006-01-02 15:04 ") + offset(t)
}

func offset(t time.Time) string {
	if _, seconds := t.Zone(); seconds == 0 {
		return "UTC"
	}
	return t.Format("-07:00")
}

// day gives the date of a time of the journal.
func day(at string) string {
	t, err := time.Parse(time.RFC3339, at)
	if err != nil {
		return at
	}
	return t.Format(time.DateOnly)
}

// count writes a number with its noun: "1 value", "2 values".
func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// quoted puts somebody's words between quotation marks.
func quoted(text string) string { return `"` + strings.TrimSpace(text) + `"` }

// names keeps each name once, in the order of the first time.
type names struct {
	list []string
	seen map[string]bool
}

func (n *names) add(name string) {
	if n.seen[name] {
		return
	}
	if n.seen == nil {
		n.seen = map[string]bool{}
	}
	n.seen[name] = true
	n.list = append(n.list, name)
}
