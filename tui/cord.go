package tui

import (
	"strings"

	"github.com/charmbracelet/x/ansi"

	"example.org/linewright/engine/job"
)

// cord draws the phases as one cord in at most w columns: "=" behind, "-"
// ahead, "< >" here; a void phase and one with a hold carry the word. What is
// furthest from here is left out first, and ".." says so.
func (m *model) cord(phases []job.Phase, w int) string {
	here := 0
	marks := make([]string, len(phases))
	for i, p := range phases {
		marks[i] = phaseMark(p)
		if p.State == "here" {
			here = i
		}
	}
	if len(marks) == 0 {
		return ""
	}
	from, to := here, here+1
	for grown := true; grown; {
		grown = false
		if to < len(marks) && ansi.StringWidth(joined(phases, marks, from, to+1)) <= w {
			to, grown = to+1, true
		}
		if from > 0 && ansi.StringWidth(joined(phases, marks, from-1, to)) <= w {
			from, grown = from-1, true
		}
	}
	line := cell(joined(phases, marks, from, to), w)
	if i := strings.Index(line, "<"); i >= 0 {
		if k := strings.Index(line, ">"); k > i {
			return line[:i] + m.look.mark.Render(line[i:k+1]) + line[k+1:]
		}
	}
	return line
}

func phaseMark(p job.Phase) string {
	text := plain(p.Title)
	if p.Void {
		text += " void"
	}
	if p.Held {
		text += " HOLD"
	}
	if p.State == "here" {
		text = "<" + text + ">"
	}
	return text
}

// joined ties marks together; an end that is cut off is said.
func joined(phases []job.Phase, marks []string, from, to int) string {
	var b strings.Builder
	if from > 0 {
		b.WriteString("..==")
	}
	for i := from; i < to; i++ {
		b.WriteString(marks[i])
		if i == len(marks)-1 {
			break
		}
		if phases[i].State == "done" {
			b.WriteString("==")
		} else {
			b.WriteString("--")
		}
	}
	if to < len(marks) {
		b.WriteString("..")
	}
	return b.String()
}

// chain is the sign of a hold: links across the card.
func (m *model) chain(w int) string {
	return " " + m.look.alert.Render(strings.Repeat("(==)", max(0, (w-2*margin)/4)))
}
