package main

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"example.org/linewright/engine/procedure"
)

// kindOfLine is what a line of a sheet is.
type kindOfLine int

const (
	titleLine kindOfLine = iota
	leadLine
	phaseLine
	cardLine
	cautionLine
	detailLine
	askLine
	optionLine
	blankLine
	footLine
)

// form says how each kind of line is set.
type form map[kindOfLine]setting

// setting is what stands before the first row of a line and before those that
// follow; unbroken lines have one row.
type setting struct {
	first, next string
	unbroken    bool
}

var (
	textForm = form{
		titleLine: {}, leadLine: {}, phaseLine: {first: "\n== ", next: "   "}, cardLine: {first: "\n", next: "    "},
		cautionLine: {first: "    CAUTION: ", next: "    "}, detailLine: {first: "    ", next: "    "},
		askLine: {first: "    - ", next: "      "}, optionLine: {first: "        ", next: "           "},
		blankLine: {first: "      ", next: "      "}, footLine: {first: "\n"},
	}
	markdownForm = form{
		titleLine: {first: "# ", unbroken: true}, leadLine: {first: "\n"},
		phaseLine: {first: "\n## ", unbroken: true}, cardLine: {first: "\n### ", unbroken: true},
		cautionLine: {first: "\n**Caution:** "}, detailLine: {first: "\n"},
		askLine: {first: "\n- ", next: "  "}, optionLine: {first: "  - ", next: "    "},
		blankLine: {first: "\n  ", next: "  "}, footLine: {first: "\n---\n\n"},
	}
)

// sheetWidth is the width in columns that fits a printed page.
const sheetWidth = 78

func (f form) set(k kindOfLine, text string) string {
	if text == "" {
		return ""
	}
	s := f[k]
	if !s.unbroken {
		text = ansi.Wordwrap(text, sheetWidth-len(strings.TrimLeft(s.first, "\n")), "")
	}
	return s.first + strings.ReplaceAll(text, "\n", "\n"+s.next) + "\n"
}

// sheet sets the items as a numbered sheet.
func sheet(p *procedure.Procedure, title string, items []item, f form) string {
	var b strings.Builder
	put := func(k kindOfLine, text string) { b.WriteString(f.set(k, text)) }
	put(titleLine, title)
	put(leadLine, p.Purpose.In("en"))
	put(leadLine, "Procedure "+p.ID+", edition "+p.Edition+". Source: "+p.Source)
	put(leadLine, "Wing "+blank+blank+"   Serial "+blank+"   Date "+blank+"   Doer "+blank+blank)
	phase, card, number := "", "", 0
	for _, it := range items {
		if it.phase.key+it.phase.title != phase {
			phase = it.phase.key + it.phase.title
			put(phaseLine, onlyWhere(it.phase.only)+it.phase.title)
		}
		if it.card.key != card {
			card = it.card.key
			number++
			put(cardLine, fmt.Sprintf("%d. %s%s", number, onlyWhere(it.card.only), it.card.title))
			if it.c.By == procedure.Second {
				put(detailLine, "For the second person.")
			}
			put(cautionLine, it.say(it.c.Caution))
			put(detailLine, it.say(it.c.Detail))
		}
		put(askLine, ask(it))
		for n, o := range it.options() {
			put(optionLine, fmt.Sprintf("%d  %s%s", n+1, it.say(o.Text), after(it, o)))
		}
		for _, line := range blanks(it) {
			put(blankLine, line)
		}
	}
	put(footLine, "This sheet does not say that the wing is airworthy. Only the pilot takes the tag off.")
	return b.String()
}

func onlyWhere(condition string) string {
	if condition == "" {
		return ""
	}
	return "(only where: " + condition + ") "
}

// after says what an answer leads to.
func after(it item, o *procedure.Option) string {
	switch {
	case !o.Stop.Empty():
		return "  -> STOP. " + it.say(o.Stop)
	case !o.Open.Empty():
		return "  -> stays open"
	case it.s.Kind == procedure.Check && !o.Right:
		return "  -> not right yet"
	}
	return ""
}

// ask is what a step asks for, with its condition.
func ask(it item) string {
	text := it.say(it.s.Ask)
	if it.s.Kind == procedure.Sign {
		text = it.say(it.s.States)
	}
	if it.slot == nil {
		text += each(it.s.Each)
	}
	if it.s.Kind == procedure.Do {
		text += "  done " + blank
	}
	return onlyWhere(it.only) + text
}

// blanks are the lines to write the answer of a step on.
func blanks(it item) []string {
	line := blank + blank + blank + blank
	switch it.s.Kind {
	case procedure.Do:
		return nil
	case procedure.Measure:
		var readings []string
		for n := range max(it.s.Readings, 1) {
			readings = append(readings, fmt.Sprintf("reading %d %s", n+1, blank))
		}
		return append([]string{strings.Join(readings, "  ")}, expectation(it)...)
	case procedure.Choose, procedure.Check:
		return []string{"answer " + blank}
	case procedure.Sign:
		name := "Name of the doer "
		if it.s.Role == procedure.Second {
			name = "Name of the second person "
		}
		return []string{name + blank + blank, "Signature " + line}
	}
	return []string{line}
}

// expectation names what a reading is held against, where it can be said.
func expectation(it item) []string {
	var out []string
	if it.s.Expect != "" {
		out = append(out, "expected "+it.number((*procedure.Slot).Expect)+", source: "+it.say(procedure.Text{"en": it.s.Source}))
	}
	if it.s.Limit != "" {
		out = append(out, "limit "+it.number((*procedure.Slot).Limit)+" either way, source: "+it.say(procedure.Text{"en": it.s.LimitOf}))
	}
	return out
}
