package procedure

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// Format is the form of a printed sheet.
type Format string

// The forms.
const (
	Plain    Format = "text"     // at most 78 columns
	Markdown Format = "markdown" // CommonMark
)

// rowKind says how a row of a sheet looks.
type rowKind int

const (
	rowTitle rowKind = iota
	rowPhase
	rowCaution
	rowCard
	rowText // of a card, or of the head
	rowStop
	rowField
	rowNote // of a field
	rowOption
	rowAnswer
)

// row is one paragraph of a sheet; mark is its number.
type row struct {
	kind rowKind
	mark string
	text string
}

// width is the widest line of a plain sheet, so that it prints on any paper.
const width = 78

func (s *sheet) render(f Format) string {
	var b strings.Builder
	line := plainRow
	if f == Markdown {
		line = markdownRow
	}
	for i, r := range s.rows {
		after := rowTitle
		if i > 0 {
			after = s.rows[i-1].kind
		}
		b.WriteString(line(r, after))
	}
	return b.String()
}

// plainRow prints a row; a blank line stands before what begins a new thing.
func plainRow(r row, after rowKind) string {
	switch r.kind {
	case rowTitle:
		return wrap(r.text, "", "") + strings.Repeat("=", min(width, utf8.RuneCountInString(r.text))) + "\n"
	case rowPhase:
		return "\n\n" + wrap(r.text, "--- ", "    ")
	case rowCaution:
		return "\n" + wrap(r.text, "    CAUTION  ", "             ")
	case rowCard:
		gap := "\n"
		if after == rowCaution {
			gap = ""
		}
		return gap + wrap(r.text, fmt.Sprintf("%3s ", r.mark), "    ")
	case rowField:
		return "\n" + wrap(r.text, fmt.Sprintf("    %-5s ", r.mark), "          ")
	case rowOption:
		return wrap(r.text, fmt.Sprintf("          %s  ", r.mark), "             ")
	case rowAnswer:
		return "\n" + wrap(r.text, "          ", "          ")
	case rowNote:
		return wrap(r.text, "          ", "          ")
	case rowStop:
		return "\n" + wrap(r.text, "    ", "    ")
	}
	return wrap(r.text, "    ", "    ")
}

// wrap breaks a text between words; first and rest are what lines begin with.
func wrap(text, first, rest string) string {
	var b strings.Builder
	line, empty := first, true
	for word := range strings.FieldsSeq(text) {
		if !empty && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > width {
			b.WriteString(strings.TrimRight(line, " ") + "\n")
			line, empty = rest, true
		}
		if !empty {
			line += " "
		}
		line, empty = line+word, false
	}
	return b.String() + strings.TrimRight(line, " ") + "\n"
}

// escape keeps the signs of a text from being read as Markdown.
var escape = strings.NewReplacer(`\`, `\\`, "_", `\_`, "*", `\*`, "<", `\<`, "#", `\#`, "[", `\[`, "`", "\\`", "|", `\|`)

func markdownRow(r row, _ rowKind) string {
	text := escape.Replace(strings.Join(strings.Fields(r.text), " "))
	switch r.kind {
	case rowTitle:
		return "# " + text + "\n"
	case rowPhase:
		return "\n## " + text + "\n"
	case rowCaution:
		return "\n> **Caution.** " + text + "\n"
	case rowCard:
		return "\n### " + r.mark + " " + text + "\n"
	case rowField:
		return "\n**" + r.mark + "** " + text + "\n"
	case rowOption:
		return "\n" + r.mark + ". " + text + "\n"
	}
	return "\n" + text + "\n"
}
