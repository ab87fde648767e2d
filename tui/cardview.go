package tui

import (
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/tui/picture"
)

// readBefore stands for a caution that had no room on its card.
const readBefore = "read on the page before; ? shows it again."

func (p *cardPage) view(m *model, w, h int) sheet {
	if pages := p.intro(m); p.read < len(pages) {
		return m.introView(p.card, pages, p.read, p.keys(m), w, h)
	}
	c := p.foreseen()
	if len(p.intro(m)) > 0 {
		c.Caution = readBefore
	}
	q := part{
		ask: p.ask(), alert: p.told.what != "" || p.at().Why != nil || p.undecided() != nil,
		next: p.nextWords(), hold: c.Second, keys: p.keys(m),
	}
	q.up = p.listUp(m, w, h)
	at := placesFor(h).listing(q.up)
	var room int
	words := p.verdict()
	switch {
	case !c.Second:
	case at.next != at.stop:
		q.next += p.orNot()
	case len(words) == 0:
		words = p.ways(m, at, columnsFor(w).full)
	}
	q.verdict, room = shared(words, at, p.leastRows(), columnsFor(w).full)
	q.field, q.cursor = p.fieldLines(m, columnsFor(w).full, room)
	if c.Picture == picture.NameSides {
		q.cols = sidesColumns(w)
	}
	return m.drawCard(c, q, w, h)
}

// sidesColumns gives a table of both sides the columns that it needs.
func sidesColumns(w int) columns {
	c := columnsFor(w)
	if w < 76 {
		return c
	}
	c.picture = max(c.picture, 41)
	c.narrow = c.full - c.picture - 2
	return c
}

// foreseen is the card with the verdict on its scale that a bare Enter would
// write: it is seen before it is taken.
func (p *cardPage) foreseen() job.Card {
	c, f := p.card, p.at()
	if p.next == nil || p.next.Measurement == nil || f.Scale == nil {
		return c
	}
	s := *f.Scale
	s.Value, s.Judgement = p.next.Measurement, p.next.Judgement
	s.U, s.Deviation = s.Value.U, s.Value.Value-s.Expected
	if d := p.next.Difference; d != nil {
		s.U, s.Deviation = d.U, d.Value
	}
	f.Scale = &s
	c.Fields = slices.Clone(c.Fields)
	c.Fields[c.At] = f
	return c
}

// listUp is how many rows higher the question stands so that all answers are
// seen: as many as they need and the text above leaves free, but for one. A card
// with a picture keeps its places.
func (p *cardPage) listUp(m *model, w, h int) int {
	if !p.entry.listed() || p.entry.reason || p.card.Picture != "" {
		return 0
	}
	at, full := placesFor(h), columnsFor(w).full
	_, room := shared(p.verdict(), at, p.leastRows(), full)
	d := drawing{c: p.card, p: part{ask: p.ask()}, at: at}
	free := d.textRows(full) - 1 - len(wrap(p.card.Action, full)) - len(wrap(p.card.Detail, full)) - len(answered(p.card, full))
	return max(0, min(p.entry.list.height(m, full)-room, free))
}

// leastRows is how many rows the field cannot do without.
func (p *cardPage) leastRows() int {
	if p.entry.listed() && !p.entry.reason {
		return min(len(p.entry.list.items), 3)
	}
	if p.at().Scale != nil && !p.entry.draftTyped() {
		return 1 // the unit stands beside the field
	}
	return 2 // the field and how it is understood
}

// shared divides the rows of the entry between the field and what the bench has
// to say. Words that are cut say so; the key for the reason shows all of them.
func shared(words []string, at places, least, w int) (verdict []string, room int) {
	for _, t := range words {
		verdict = append(verdict, wrap(t, w)...)
	}
	all := at.verdict + 2 - at.field
	if most := all - least; len(verdict) > most {
		verdict = append(verdict[:most-1:most-1], "..  (? shows all of it)")
	}
	if len(verdict) == 0 {
		return nil, all
	}
	return verdict, all - max(2, len(verdict))
}

// introView is a page of caution and action before a card.
func (m *model) introView(c job.Card, pages [][]string, read int, keys []key.Binding, w, h int) sheet {
	body := append([]string{}, pages[read]...)
	for i, l := range body {
		if l != "" {
			body[i] = m.look.alert.Render(l)
		}
	}
	at := &point{row: bodyRows(h) - 1}
	for len(body) < at.row {
		body = append(body, "")
	}
	last := fmt.Sprintf("Read this first, page %d of %d. Enter goes on.", read+1, len(pages))
	if len(last) > bodyCols(w) {
		last = fmt.Sprintf("Read this first, %d of %d: enter.", read+1, len(pages))
	}
	return m.frame(c.Title+"  "+c.Target, append(body, last), at, keys, w, h)
}

// fieldLines draws the field that is due and what stands under it.
func (p *cardPage) fieldLines(m *model, w, rows int) ([]string, *point) {
	e := &p.entry
	switch {
	case e.reason:
		return p.textLines(m, w, rows, "because: ")
	case e.listed():
		return e.list.lines(m, w, rows)
	case p.at().Kind == procedure.Do:
		return []string{"[ enter, when it is done ]"}, &point{col: 2}
	}
	return p.textLines(m, w, rows, "")
}

// textLines draws a text field, the entry as understood, and the facts of a
// measurement.
func (p *cardPage) textLines(m *model, w, rows int, label string) ([]string, *point) {
	unit := p.unit()
	room := min(w-len(label)-6-len(unit), 60)
	if p.number() || p.at().Kind == procedure.Code {
		room = min(room, 14)
	}
	text, col := p.entry.text.line(max(room, 4))
	lines := []string{label + "[ " + text + " ]" + unit}
	under := p.hint()
	switch {
	case p.sure != "":
		under = p.echo()
	case p.doubt != "" && p.entry.draftTyped() && !p.repeats():
		under = "so far: " + p.doubt
	}
	facts := p.facts(m, w)
	switch whole := wrap(under, w); {
	case len(lines)+len(whole)+len(facts) <= rows:
		lines = append(lines, whole...)
	case under != p.at().Wanted:
		lines = append(lines, cell(under, w))
	}
	lines = append(lines, facts...)
	return lines[:min(len(lines), rows)], &point{col: len(label) + 2 + col}
}

// repeats reports whether an Enter was refused for the very fault that is said
// under the field while typing: it is said once.
func (p *cardPage) repeats() bool { return p.doubt != "" && p.told.what == p.doubt }

func (e *entry) draftTyped() bool { return len(e.text.text) > 0 }

// number reports whether the field holds a number.
func (p *cardPage) number() bool {
	return p.at().Kind == procedure.Measure || p.at().Kind == procedure.Count
}

// unit follows the field of a number: the unit of a bare one.
func (p *cardPage) unit() string {
	s := p.at().Scale
	if s == nil {
		return ""
	}
	return " " + s.Quantity.Unit()
}

// hint says under an empty field what it takes.
func (p *cardPage) hint() string {
	f := p.at()
	text := f.Wanted
	if p.entry.reason {
		return p.entry.list.items[p.entry.list.at].text
	}
	if f.State == job.Partial && f.Scale == nil && f.Answer != "" {
		text = "noted, it does not count: " + f.Answer
	}
	if f.State == job.Void && f.Old != "" {
		text = "void: " + f.Old + ". " + text
	}
	if f.Empty {
		text += "; enter alone: none"
	}
	if f.Stands && typedIn(f) {
		text += "; tab, e: it still holds"
	}
	return text
}

// facts lists the readings, and what they are held against, each on one line.
func (p *cardPage) facts(m *model, w int) []string {
	s := p.at().Scale
	if s == nil {
		return nil
	}
	var out []string
	for _, t := range append([]string{newestReadings(s, w)}, heldAgainst(s)...) {
		if t != "" {
			out = append(out, cell(t, w))
		}
	}
	if m.at.bench.Default && judges(s) {
		out = append(out, cell("bench: not described, wide values stand in; ? shows", w))
	}
	return out
}

// heldAgainst is what readings are held against, with the sources.
func heldAgainst(s *job.Scale) []string {
	var out []string
	if s.HasValue {
		out = append(out, fmt.Sprintf("%s %s: %s", s.Holds(), s.Expects(), s.Source))
	}
	if s.HasLimit {
		out = append(out, fmt.Sprintf("limit %s either way: %s", s.Limit, s.LimitOf))
	}
	return out
}

// judges reports whether a length is judged against a limit, so that the bench
// matters.
func judges(s *job.Scale) bool {
	return s != nil && s.HasLimit && s.Quantity == quantity.KindLength
}

// verdict is what the bench has to say to what was entered last, or to the
// readings that are in.
func (p *cardPage) verdict() []string {
	f := p.at()
	switch {
	case p.told.what != "":
		return p.told.lines()
	case p.next != nil && p.next.Judgement != nil:
		return []string{verdictWords(p.next.Judgement), todo(p.next.Why)}
	case f.Why != nil && f.Scale != nil && f.Scale.Judgement != nil:
		return []string{verdictWords(f.Scale.Judgement), todo(f.Why)}
	case p.next != nil && p.next.Why != nil:
		what, do := p.next.Why.Words()
		return []string{what, do}
	case p.next != nil && p.next.Difference != nil:
		return []string{differenceWords(p.next.Difference)}
	case p.next != nil && p.next.Measurement != nil:
		return []string{fmt.Sprintf("%s, sure within %s", p.next.Measurement.Value, roundUp(p.next.Measurement.U))}
	case f.Why != nil:
		what, do := f.Why.Words()
		return []string{what, p.notAgreed(do)}
	case p.short.what != "":
		return p.short.lines()
	}
	if f.LoopFit != nil {
		return f.LoopFit.Words()[:1] // the answers need the room; ? shows all of it
	}
	return p.undecided()
}

// undecided says before the first reading that this bench cannot decide the
// limit, or hardly. Once something is typed, what would help makes room for how that is
// understood.
func (p *cardPage) undecided() []string {
	s := p.at().Scale
	if s == nil || s.Outlook == nil || s.Outlook.Decides && !s.Outlook.Tight() || len(s.Readings) > 0 {
		return nil
	}
	words := s.Outlook.Words()
	if p.entry.draftTyped() {
		return words[:1]
	}
	return words
}

// verdictWords is the sentence of the verdict; its last word stands out.
func verdictWords(j *metrology.Judgement) string {
	v := string(j.Verdict)
	return strings.TrimSuffix(j.Words(), v) + strings.ToUpper(v)
}

// todo says what to do about a reason, if there is one.
func todo(b *job.Because) string {
	if b == nil {
		return ""
	}
	_, do := b.Words()
	return do
}

// nextWords say what Enter does now.
func (p *cardPage) nextWords() string {
	f := p.at()
	switch {
	case p.entry.stands():
		return "enter: the old answer still holds"
	case p.entry.reason:
		return "enter: write the answer with its reason"
	case p.back && f.Why != nil && f.Scale == nil && p.entry.value() == "":
		return "answer anew, or send it back: tab, p, enter"
	case p.entry.listed() && p.entry.list.at < 0 && p.bare:
		return nothingChosen
	case p.entry.listed() && p.entry.list.at < 0:
		return "a digit or the arrows choose, enter takes it"
	case p.entry.listed():
		return "enter: take the marked answer"
	case f.Kind == procedure.Do:
		return p.goOn("enter: it is done")
	case p.repeats():
		return "mend it, then enter; ctrl+u empties the field"
	case f.Scale != nil && p.entry.value() != "":
		return p.goOnTyped()
	case p.next != nil && p.next.Outcome == job.Taken:
		if p.next.Judgement == nil {
			return p.goOn("enter: take this value")
		}
		return p.goOn("enter: write the verdict down")
	case p.next != nil:
		return "enter: write the verdict down; the step stays open"
	case p.entry.value() != "":
		return "enter: write it down"
	case notProved(p.card):
		return "type another reading; tab: strike one, decide, lay down"
	case f.Scale != nil && (f.Scale.Judgement != nil || len(f.Scale.Readings) > 1 && p.short.what != ""):
		return "type another reading; tab: strike one, lay down"
	case f.Empty:
		return p.goOn("enter: none")
	}
	if p.unknown {
		return "type it, then enter; nobody described the bench: tab, 0"
	}
	return "type it, then enter"
}

// goOn adds where the work goes on, at the last field of a card.
func (p *cardPage) goOn(words string) string {
	if p.card.Next == "" || p.card.At < len(p.card.Fields)-1 {
		return words
	}
	return words + ", and go on to: " + p.card.Next
}
