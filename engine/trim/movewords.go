package trim

import (
	"fmt"
	"strings"

	"example.org/linewright/engine/wing"
)

// Words says for a person what the work moved.
// Records print them: other words are another edition of the record.
func (m Move) Words() []string {
	names := make([]string, len(m.Worked))
	for i, w := range m.Worked {
		names[i] = w.String()
	}
	head := []string{"Worked on: " + strings.Join(names, ", ") + "."}
	if !m.Trusted {
		head = append(head, "What follows is not trusted: see the notes.")
	}
	out := parts(head, m.pathWords(RoleChanged, "Paths that changed"), m.pathWords(RoleTwin, "Their twins"),
		m.pathWords(RoleControl, "Control, untouched"), m.wholeWords())
	if len(m.Lacking) > 0 {
		out = parts(out, []string{"Still to measure: " + list(m.Lacking, len(m.Lacking)) + "."})
	}
	return parts(out, titled("Notes", m.Notes))
}

func (m Move) pathWords(role Role, title string) []string {
	var out []string
	for _, p := range m.Paths {
		if p.Role == role {
			out = append(out, p.words())
		}
	}
	return titled(title, out)
}

func (p PathMove) words() string {
	how := "no move proved"
	switch {
	case p.Proved && p.MovedMM > 0:
		how = tenths(p.MovedMM) + " mm longer"
	case p.Proved:
		how = tenths(p.MovedMM) + " mm shorter"
	}
	return fmt.Sprintf("%s: %s, sure within %s mm; was %s, is %s.", p.PathRef, how, tenthsUp(p.UMM), long(p.BeforeMM), long(p.AfterMM))
}

// wholeWords says how the rows, the incidence and the index moved.
func (m Move) wholeWords() []string {
	var out []string
	if a, b := m.Before.Offset, m.After.Offset; a != nil && b != nil {
		out = append(out, fmt.Sprintf("Common offset: was %s, is %s.", long(a.MeanMM), long(b.MeanMM)))
	}
	for _, now := range m.After.Rows {
		then, ok := m.Before.row(now.Row, now.Side)
		if ok && then.MeanMM != now.MeanMM {
			out = append(out, fmt.Sprintf("Row %s, %s: mean was %s, is %s.", now.Row, sideWord(now.Side), long(then.MeanMM), long(now.MeanMM)))
		}
	}
	for i, now := range m.After.Pitch {
		if i < len(m.Before.Pitch) && m.Before.Pitch[i].Side == now.Side && m.Before.Pitch[i].turn() != now.turn() {
			out = append(out, fmt.Sprintf("Incidence, %s: was %s, is %s.", sideWord(now.Side), m.Before.Pitch[i].turn(), now.turn()))
		}
	}
	if a, b := m.Before.Index, m.After.Index; a != nil && b != nil {
		out = append(out, fmt.Sprintf("Asymmetry index, left against right: was %s, is %s.", long(a.IndexMM), long(b.IndexMM)))
	}
	return titled("The wing as a whole, what was not measured again as it was", out)
}

// row finds the means of a row of a report.
func (r Report) row(row string, side wing.Side) (RowTrim, bool) {
	for _, t := range r.Rows {
		if t.Row == row && t.Side == side {
			return t, true
		}
	}
	return RowTrim{}, false
}
