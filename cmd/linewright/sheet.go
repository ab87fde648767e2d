package main

import (
	"fmt"
	"regexp"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
)

// item is one step on the sheet.
type item struct {
	phase string
	card  string // items with the same one share a card
	key   string
	only  []string // conditions in words, the outermost first
	c     *procedure.Card
	s     *procedure.Step
	say   func(procedure.Text) string
}

// stepJSON is a step as --json prints it.
type stepJSON struct {
	Key    string `json:"key"`
	Phase  string `json:"phase"`
	Action string `json:"action"`
	Ask    string `json:"ask,omitempty"`
	Kind   string `json:"kind"`
}

func steps(items []item) []stepJSON {
	out := make([]stepJSON, len(items))
	for i, it := range items {
		out[i] = stepJSON{it.key, it.phase, it.say(it.c.Action), it.say(it.s.Ask), string(it.s.Kind)}
	}
	return out
}

const blank = "______"

var inBraces = regexp.MustCompile(`\{[^{}]*\}`)

// blankItems lists the steps of a procedure and of what it includes, with a
// blank for everything that plan and target would say.
func blankItems(p *procedure.Procedure) []item {
	say := func(t procedure.Text) string { return inBraces.ReplaceAllString(t.In("en"), blank) }
	return itemsOf(p, p.Parts(), "", nil, nil, say)
}

// itemsOf walks a procedure; given holds the params that an include binds.
func itemsOf(p *procedure.Procedure, parts []*procedure.Procedure, prefix string, given map[string]string, only []string, say func(procedure.Text) string) []item {
	var out []item
	for i := range p.Phases {
		ph := &p.Phases[i]
		if excluded(ph.When, given) {
			continue
		}
		outer := with(only, ph.Only)
		if ph.Include != "" {
			for _, part := range parts {
				if part.ID == ph.Include {
					out = append(out, itemsOf(part, parts, prefix+ph.ID+".", ph.With, outer, say)...)
				}
			}
			continue
		}
		for j := range ph.Cards {
			c := &ph.Cards[j]
			for k := range c.Steps {
				s := &c.Steps[k]
				if excluded(c.When, given) || excluded(s.When, given) {
					continue
				}
				out = append(out, item{
					phase: ph.Title.In("en") + each(ph.Each), card: prefix + ph.ID + "/" + c.ID, key: prefix + s.ID,
					only: with(outer, c.Only, s.Only), c: c, s: s, say: say,
				})
			}
		}
	}
	return out
}

// excluded reports whether a condition asks for the absence of a param that is
// given: such a part is for the procedure when it stands alone.
func excluded(when string, given map[string]string) bool {
	for name := range given {
		if strings.TrimSpace(when) == "!has("+name+")" {
			return true
		}
	}
	return false
}

func with(only []string, more ...procedure.Text) []string {
	out := only[:len(only):len(only)]
	for _, t := range more {
		if !t.Empty() {
			out = append(out, t.In("en"))
		}
	}
	return out
}

func each(e procedure.Each) string {
	switch e {
	case procedure.EachSide:
		return ", once for each side"
	case procedure.EachLine:
		return ", once for each line of the link"
	case procedure.EachNeighbour:
		return ", once for each other line of the link"
	case procedure.EachJoint, procedure.EachRefit:
		return ", once for each joint"
	}
	return ""
}

// nothing answers no step.
type nothing struct{}

func (nothing) Answer(string) (any, bool) { return nil, false }

// filledItems lists the steps as they are laid out over a target.
func filledItems(p *procedure.Procedure, plan *wing.Plan, target wing.Ref) ([]item, error) {
	u, err := procedure.Unfold(p, plan, target)
	if err != nil {
		return nil, err
	}
	offered := map[string]item{}
	for _, it := range blankItems(p) {
		offered[it.key] = it
	}
	var out []item
	for _, slot := range u.Slots {
		base, _, _ := strings.Cut(slot.Key, "@")
		it, ok := offered[base]
		if !ok {
			continue
		}
		it.key, it.card = slot.Key, slot.CardKey
		it.phase = u.Phases[slot.Phase].Title.In("en")
		if side := u.Phases[slot.Phase].Side; side != "" {
			it.phase += " " + string(side)
		}
		it.say = func(t procedure.Text) string {
			return strings.ReplaceAll(slot.Say(t, "en", nothing{}), "(not known)", blank)
		}
		out = append(out, it)
	}
	return out, nil
}

// form says how each kind of line is set: what stands before its first row, and
// before those that follow.
type form map[string][2]string

var (
	textForm = form{
		"title": {"", ""}, "lead": {"", ""}, "phase": {"\n== ", "   "}, "card": {"\n", "    "}, "caution": {"    CAUTION: ", "    "},
		"detail": {"    ", "    "}, "ask": {"    - ", "      "}, "option": {"        ", "           "}, "foot": {"\n", ""},
	}
	markdownForm = form{
		"title": {"# ", ""}, "lead": {"\n", ""}, "phase": {"\n## ", ""}, "card": {"\n### ", ""}, "caution": {"\n**Caution:** ", ""},
		"detail": {"\n", ""}, "ask": {"\n- ", "  "}, "option": {"  - ", "    "}, "foot": {"\n---\n\n", ""},
	}
)

const sheetWidth = 78

// sheet sets the items as a numbered sheet.
func sheet(p *procedure.Procedure, title string, items []item, f form) string {
	var b strings.Builder
	put := func(kind, text string) {
		if text == "" {
			return
		}
		first, next := f[kind][0], f[kind][1]
		room := sheetWidth - len(strings.TrimLeft(first, "\n"))
		rows := strings.ReplaceAll(ansi.Wordwrap(text, room, ""), "\n", "\n"+next)
		b.WriteString(first + rows + "\n")
	}
	put("title", title)
	put("lead", p.Purpose.In("en"))
	put("lead", "Procedure "+p.ID+", edition "+p.Edition+". Source: "+p.Source)
	put("lead", "Wing "+blank+blank+"   Serial "+blank+"   Date "+blank+"   Doer "+blank+blank)
	phase, card, number := "", "", 0
	for _, it := range items {
		if it.phase != phase {
			phase = it.phase
			put("phase", phase)
		}
		if it.card != card {
			card = it.card
			number++
			put("card", fmt.Sprintf("%d. %s%s", number, it.say(it.c.Action), again(it)))
			put("caution", it.say(it.c.Caution))
			put("detail", it.say(it.c.Detail))
		}
		put("ask", ask(it))
		for n, o := range it.s.Options {
			put("option", fmt.Sprintf("%d  %s%s", n+1, it.say(o.Text), after(it, o)))
		}
	}
	put("foot", "No sheet says that a wing is airworthy. The tag comes off by the pilot's own hand.")
	return b.String()
}

// again says how often a card of a sheet without target is done.
func again(it item) string {
	if strings.Contains(it.key, "@") {
		return ""
	}
	return each(it.c.Each)
}

// after says what an answer leads to.
func after(it item, o procedure.Option) string {
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

// ask is a step with the blank for its answer.
func ask(it item) string {
	text := it.say(it.s.Ask)
	if !strings.Contains(it.key, "@") {
		text += each(it.s.Each)
	}
	if n := len(it.only); n > 0 {
		text = "(only where: " + strings.Join(it.only, "; ") + ") " + text
	}
	line := blank + blank
	switch it.s.Kind {
	case procedure.Do:
		return text + "  done " + blank
	case procedure.Measure:
		for n := range max(it.s.Readings, 1) {
			text += fmt.Sprintf("  reading %d %s", n+1, blank)
		}
		return text + expectation(it)
	case procedure.Choose, procedure.Check:
		return text + "  answer " + blank
	case procedure.Order:
		return text + "  " + line + line + line
	case procedure.Sign:
		return it.say(it.s.States) + "  Name of the " + signerOf(it.s.Role) + " " + line + "  Signature " + line
	}
	return text + "  " + line
}

func signerOf(r procedure.Role) string {
	if r == procedure.Second {
		return "second person"
	}
	return "doer"
}

// expectation names what a reading is held against, where it can be said.
func expectation(it item) string {
	var out string
	if it.s.Source != "" {
		out += "  expected " + blank + ", source: " + it.say(procedure.Text{"en": it.s.Source})
	}
	if it.s.Limit != "" {
		out += "  limit " + blank + ", source: " + it.say(procedure.Text{"en": it.s.LimitOf})
	}
	return out
}
