package tui

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
	"example.org/linewright/tui/picture"
)

// least is how many rows the things need, so that a detail does not push them
// out.
func (p *surveyPage) least(w int) int {
	found := min(1, len(p.found()))
	if p.in().Of == procedure.OfLines {
		return leastFan + found
	}
	var g thingGrid
	return min(len(g.layOut(p.groups(), p.hand, columnsFor(w).full, 0)), leastGrid) + found
}

// leastGrid is how many rows of things that have no fan are seen at least.
const leastGrid = 6

// found lists what was found on the things of this step, the newest first.
func (p *surveyPage) found() []*job.Finding {
	var out []*job.Finding
	for _, t := range p.things() {
		out = append(out, t.Found...)
	}
	return out
}

func (p *surveyPage) keys(*model) []key.Binding {
	walk := named(keyWalk, "walk")
	return stepKeys(len(p.code.text) == 0, keyOn, walk)
}

func (p *surveyPage) view(m *model, w, h int) sheet {
	least := p.least(w)
	roomy := p.roomy(m, least)
	if pages := p.intro(m, roomy); p.turn < len(pages) {
		return m.introView(p.card, pages, p.turn, p.keys(m), w, h)
	}
	q := wide{least: least, part: part{ask: p.handWords(), next: p.nextWords(), hold: p.card.Second, keys: p.keys(m)}}
	q.body = func(w, h int) ([]string, *point) { return p.body(m, w, h) }
	label := p.label(columnsFor(w).full)
	text, col := p.code.line(surveyField)
	q.field, q.col = []string{label + "[ " + text + " ]"}, len(label)+2+col
	said := p.told.lines()
	if q.alert = len(said) > 0; !q.alert {
		said = []string{p.understood(columnsFor(w).full)}
	}
	if at := placesFor(h); !q.alert && (at.next < 0 || q.hold && at.next == at.stop) {
		said = p.nextBeside(said[0], columnsFor(w).full) // no row of its own
	}
	q.verdict, _ = shared(said, placesFor(h).signing(), 1, columnsFor(w).full)
	return m.drawWide(p.seen(m, roomy), q, w, h)
}

// label stands before the field, where both fit.
func (p *surveyPage) label(w int) string {
	if ask := p.question(); len(ask)+2+surveyField+4 <= w && ask != "" {
		return ask + "  "
	}
	return ""
}

// surveyField is how many columns the field has.
const surveyField = 14

// understood says how what stands in the field is taken, in two lines at most.
func (p *surveyPage) understood(w int) string {
	switch {
	case p.sure != "" && len(wrap("understood: "+p.sure, w)) > 2:
		return "understood: found on " + names(p.found()) + "; the rest touched, sound"
	case p.sure != "":
		return "understood: " + p.sure
	case p.doubt != "":
		return "so far: " + p.doubt
	case p.at().State == job.Void && p.at().Old != "":
		return "void: " + p.at().Old
	}
	return ""
}

// body is the fan of the row, or the things in groups, and under it what was
// found so far. A fan that leaves lines out for want of room would have them
// forgotten: the groups name all of them then.
func (p *surveyPage) body(m *model, w, h int) ([]string, *point) {
	found := p.foundLines(w, h)
	p.fan = false
	lines := p.in().Of == procedure.OfLines && len(p.things()) > 0
	if lines {
		here := p.thing().Ref.Code
		marks := maps.Clone(p.marks)
		if here != "" {
			marks[here] |= picture.InHand
		}
		fan := picture.FanRow(p.plan, p.in().Side, p.in().Row, marks, w, h-len(found), m.opt.signs())
		if p.fan = p.whole(fan); p.fan {
			return p.onFan(append(fan, found...), fan, here)
		}
	}
	if len(p.things()) == 0 {
		return append([]string{"Nothing is looked at here."}, found...), nil
	}
	if lines {
		found = append(found, cell("fan left out: a larger window has it", w))
	}
	rows := h - len(found)
	grid, at := p.grid.see(p.grid.layOut(p.groups(), p.hand, w, rows), p.hand, rows)
	if !p.walked {
		at = nil
	}
	return append(grid, found...), at
}

// whole reports whether a fan shows every line that is looked at: by its code, or
// in a small one by its end, behind what the codes of its tier begin with.
func (p *surveyPage) whole(fan []string) bool {
	drawn := map[string]bool{}
	for _, l := range fan {
		begin := ""
		for i, word := range strings.Fields(l) {
			word = strings.TrimRight(strings.TrimLeft(word, "["), "!*=~?/]")
			if i == 0 && strings.HasSuffix(word, ".") {
				begin = word
			}
			drawn[word], drawn[begin+word] = true, true
		}
	}
	return !slices.ContainsFunc(p.things(), func(t job.Thing) bool { return !drawn[t.Ref.Code] })
}

// onFan puts the cursor on the line in hand while the arrows walk: who hears the
// screen hears its code.
func (p *surveyPage) onFan(lines, fan []string, here string) ([]string, *point) {
	x, y, ok := picture.Where(fan, here)
	if !ok || !p.walked {
		return lines, nil
	}
	return lines, &point{row: y, col: x}
}

// foundLines lists what was found so far in as many lines as are free above
// the least that the things need, one at least.
func (p *surveyPage) foundLines(w, h int) []string {
	all := p.found()
	if len(all) == 0 {
		return nil
	}
	most := max(1, h-p.rows(w))
	var lines []string
	for i, f := range all {
		switch left := all[i:]; {
		case len(left) == 1 || len(lines) < most-1:
			lines = append(lines, cell("found: "+p.foundWords(f), w))
		default:
			return append(lines, cell(fmt.Sprintf("found %d: %s   tab, f: all of it", len(left), names(left)), w))
		}
	}
	return lines
}

// rows is how many rows the things have.
func (p *surveyPage) rows(w int) int {
	if p.in().Of == procedure.OfLines {
		return leastFan
	}
	var g thingGrid
	return len(g.layOut(p.groups(), p.hand, w, 0))
}

// foundWords say a finding with what is asked for most in front: where it is and
// what becomes of it are not cut off.
func (p *surveyPage) foundWords(f *job.Finding) string {
	text := f.Thing.String()
	if f.Thing.Side == p.in().Side {
		text = strings.TrimSuffix(text, " "+string(f.Thing.Side))
	}
	if f.Place != nil {
		text += " at " + f.Place.String()
	}
	text += ", " + f.Becomes() + ": " + f.Text
	if f.Note != "" {
		text += " (" + f.Note + ")"
	}
	return text
}

// names lists the things of findings.
func names(all []*job.Finding) string {
	words := make([]string, len(all))
	for i, f := range all {
		words[i] = strings.TrimSuffix(f.Thing.String(), " "+string(f.Thing.Side))
	}
	return strings.Join(words, ", ")
}

// handWords say where the walk stands.
func (p *surveyPage) handWords() string {
	t := p.thing()
	if t.Ref == (wing.Ref{}) {
		return ""
	}
	l, ok := p.plan.LineAt(t.Ref)
	if n := len(t.Found); n > 0 && !ok && len(p.found()) > 1 {
		return p.foundWords(t.Found[n-1]) // its line may be among those without room
	}
	if !ok {
		bare := strings.TrimSuffix(t.Ref.String(), " "+string(t.Ref.Side))
		if _, _, name := p.grouped(t.Ref); name == bare && p.in().Of != procedure.OfKin {
			return "" // it stands so in the list already
		}
		return t.Ref.String()
	}
	return fmt.Sprintf("%s: %s tier, %s, place %d from the centre", t.Ref, l.Tier, anchorWords(l.On), l.Pos)
}

// nextBeside gives how the entry is understood and, where two rows hold both,
// what Enter does.
func (p *surveyPage) nextBeside(understood string, w int) []string {
	switch next := p.nextWords(); {
	case understood == "":
		return []string{next}
	case len(wrap(understood, w)) < 2:
		return []string{understood, cell(next, w)}
	}
	return []string{understood}
}

// nextWords say what Enter does now.
func (p *surveyPage) nextWords() string {
	switch text := p.typed(); {
	case text == allRest && p.sure != "":
		next := "enter: I touched all the rest, it is sound"
		if p.card.Next != "" && p.card.At == len(p.card.Fields)-1 {
			next += "; then: " + p.card.Next
		}
		return next
	case p.sure != "":
		return "enter: say what was found on " + p.sure
	case text == "" && p.walked:
		return "enter: what is on " + p.thing().Ref.String() + "?   1, enter: the rest sound"
	case text == "":
		return "1: all the rest touched, sound   damage: arrows or code"
	}
	return "type a code as it is shown, or 1 for all the rest"
}
