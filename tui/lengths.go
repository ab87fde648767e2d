package tui

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/tui/picture"
)

// lengthsPage is a step that measures many paths. The field always has the
// focus: a number and Enter are a reading of the path that is due, so that an
// instrument can type them, and the next one is due. An empty Enter closes the
// row, and that only where nothing is due any more.
type lengthsPage struct {
	step
	text  editor
	typed *job.Event // what the reading that is typed would write
	sure  string     // it, as understood
	doubt string     // or why it is not
	sum   string     // what closing the row would say
	short told       // what keeps the row from being closed, but for what is due
}

func newLengthsPage(m *model, c job.Card) *lengthsPage {
	p := &lengthsPage{step: newStep(m, c)}
	p.text.set(m.drafts[p.draftKey()])
	if m.opt.Demo != nil && m.opt.Demo.Offer != nil && p.value() == "" {
		text, _ := m.opt.Demo.Offer(c)
		p.text.set(text)
	}
	p.foresee(m)
	return p
}

// table is the row with what was read; nil where the bench cannot evaluate it.
func (p *lengthsPage) table() *job.LengthsView { return p.at().Lengths }

func (p *lengthsPage) value() string { return strings.TrimSpace(p.text.String()) }

func (p *lengthsPage) draft() string { return p.value() }

func (p *lengthsPage) draftKey() string { return draftKey(p.card.Task, p.at().Key) }

func (p *lengthsPage) due() *job.LengthsCell {
	v := p.table()
	if v == nil || v.Due == nil {
		return nil
	}
	for _, r := range v.Rows {
		for _, c := range []*job.LengthsCell{r.Left, r.Right} {
			if c != nil && c.Due {
				return c
			}
		}
	}
	return nil
}

// foresee works out what the entry would mean. Nothing is written.
func (p *lengthsPage) foresee(m *model) {
	p.typed, p.sure, p.doubt, p.sum, p.short = nil, "", "", "", told{}
	if text := p.value(); text != "" {
		en := p.entry(job.EnterAnswer, text)
		e, err := m.session.Foresee(en)
		if err != nil {
			p.doubt, _ = explain(err)
			return
		}
		p.typed = &e
		p.sure, _ = m.session.Preview(en)
		return
	}
	v := p.table()
	switch {
	case v == nil:
		_, err := m.session.Foresee(p.entry(job.EnterOn, ""))
		p.short.what, p.short.do = explain(err)
	case v.Left == nil:
		p.sum, _ = m.session.Preview(p.entry(job.EnterOn, ""))
	case v.Due == nil || v.Left.Code == job.LengthsOdd:
		p.short.what, p.short.do = v.Left.Words()
	}
}

func (p *lengthsPage) key(m *model, k tea.KeyMsg) tea.Cmd {
	if cmd, ok := p.common(m, k, p.beside(m), len(p.text.text) == 0, p.keys(m), append(p.said(), p.facts()...)...); ok {
		return cmd
	}
	if key.Matches(k, keyOn) {
		return p.enter(m)
	}
	if p.text.key(k) {
		p.told = told{}
		m.drafts[p.draftKey()] = p.value()
		p.foresee(m)
	}
	return nil
}

func (p *lengthsPage) enter(m *model) tea.Cmd {
	en := p.entry(job.EnterAnswer, p.value())
	if en.Text == "" {
		en.Kind = job.EnterOn
	}
	return m.enter(en, p)
}

func (p *lengthsPage) keys(*model) []key.Binding { return stepKeys(len(p.text.text) == 0, keyOn) }

func (p *lengthsPage) view(m *model, w, h int) sheet {
	if pages := p.intro(m, p.beside(m)); p.turn < len(pages) {
		return m.introView(p.card, pages, p.turn, p.keys(m), w, h)
	}
	at, col := placesFor(h), tableColumns(w)
	q := part{ask: p.asked(), next: p.nextWords(), hold: p.card.Second, keys: p.keys(m), pic: p.pic(m), cols: col}
	q.alert = p.sum == ""
	said := p.said()
	if at.next < 0 && len(said) == 0 {
		said = []string{q.next}
	}
	var room int
	q.verdict, room = shared(said, at, 2, col.full)
	q.field, q.cursor = p.fieldLines(col, room)
	if p.table() != nil && room > 1 {
		q.without, q.room = "table left out here; ? shows it", room
	}
	return m.drawCard(p.seen(m, p.beside(m)), q, w, h)
}

// tableColumns gives the table the columns that it needs: both sides, and their
// difference where there is room.
func tableColumns(w int) columns {
	c := columnsFor(w)
	if c.picture == 0 {
		return c
	}
	need := 29
	if w >= 76 {
		need = 34
	}
	c.picture = max(c.picture, need)
	c.narrow = c.full - c.picture - 2
	return c
}

// beside reports whether the detail fits beside the table.
func (p *lengthsPage) beside(m *model) bool {
	col := tableColumns(m.w)
	d := drawing{c: p.card, p: part{ask: p.asked()}, at: placesFor(m.h)}
	return len(wrap(p.card.Action, col.narrow))+len(wrap(p.card.Detail, col.narrow)) <= d.textRows(col.narrow)
}

// pic draws the table of the row.
func (p *lengthsPage) pic(m *model) func(w, h int) []string {
	rows := lengthRows(p.table())
	return func(w, h int) []string { return picture.Lengths(rows, w, h, m.opt.signs()) }
}

// lengthRows gives the row as the table has it. What is read again blind has no
// number.
func lengthRows(v *job.LengthsView) []picture.LengthRow {
	if v == nil {
		return nil
	}
	var out []picture.LengthRow
	for _, r := range v.Rows {
		row := picture.LengthRow{Point: r.Point, Left: lengthCell(r.Left), Right: lengthCell(r.Right)}
		if row.Left.Text != "" && row.Right.Text != "" {
			row.Difference.Text = tenths(r.Left.Value - r.Right.Value)
		}
		out = append(out, row)
	}
	return out
}

func lengthCell(c *job.LengthsCell) picture.Cell {
	switch {
	case c == nil:
		return picture.Cell{}
	case c.Hidden:
		return picture.Cell{Due: c.Due, Again: true}
	case c.N == 0:
		return picture.Cell{Due: c.Due}
	}
	return picture.Cell{Text: tenths(c.Value), Due: c.Due, Out: c.Out || c.Odd}
}

// tenths gives a length in mm with at most one decimal, without its unit.
func tenths(l quantity.Length) string {
	return strconv.FormatFloat(math.Round(l.MM()*10)/10, 'f', -1, 64)
}

// asked is the question, with the path that is due.
func (p *lengthsPage) asked() string {
	text := p.question()
	if c := p.due(); c != nil {
		text += ": now " + c.PathRef.String()
		if c.Hidden {
			text += " once more, blind"
		}
	}
	return text
}

// fieldLines draws the field and under it how the entry is understood, and what
// the paths are held against.
func (p *lengthsPage) fieldLines(col columns, rows int) ([]string, *point) {
	text, at := p.text.line(18)
	lines := []string{"[ " + text + " ] mm"}
	switch {
	case p.sure != "":
		lines = append(lines, wrap(p.echo(), col.narrow)...)
	case p.doubt != "":
		lines = append(lines, wrap("so far: "+p.doubt, col.narrow)...)
	}
	facts := p.facts()
	if v := p.table(); v != nil && v.Bench.Default {
		facts[len(facts)-1] = "bench: not described, wide values stand in; ? shows"
	}
	for _, t := range facts {
		lines = append(lines, cell(t, col.narrow))
	}
	return lines[:min(len(lines), rows)], &point{col: 2 + at}
}

// echo says how the reading would be understood, and what is known against it.
func (p *lengthsPage) echo() string {
	text := "understood: " + p.sure
	if b := p.typed.Why; b != nil && b.Code == job.Implausible && len(b.Args) > 2 {
		text += fmt.Sprintf(", not between %s and %s: it will not count", b.Args[1], b.Args[2])
	}
	return text
}

// facts say how far the row is, and what its paths are held against.
func (p *lengthsPage) facts() []string {
	v := p.table()
	if v == nil {
		return nil
	}
	var out []string
	if c := p.due(); c != nil && c.Expected > 0 {
		out = append(out, fmt.Sprintf("plan %s: %s", c.Expected, v.Source))
	}
	if v.Limit > 0 {
		out = append(out, fmt.Sprintf("limit %s either way: %s", v.Limit, v.LimitOf))
	}
	text := fmt.Sprintf("%d of %d read", v.Read, v.Total)
	if v.Again > 0 {
		text += fmt.Sprintf(", %d to be read again", v.Again)
	}
	out = append(out, text)
	if v.Bench.Default {
		out = append(out, "bench: "+v.Bench.Note+"; tab, then 0, describes it")
	}
	return out
}

// said is what the bench has to say to the last Enter, or to the row.
func (p *lengthsPage) said() []string {
	switch {
	case p.told.what != "":
		return p.told.lines()
	case p.short.what != "":
		return []string{p.short.what, p.short.do}
	case p.sum != "":
		return []string{p.sum}
	case p.at().Why != nil && p.at().State == job.Partial && p.value() == "":
		what, do := p.at().Why.Words()
		return []string{what, do}
	}
	return nil
}

// nextWords say what Enter does now.
func (p *lengthsPage) nextWords() string {
	c := p.due()
	switch {
	case p.value() != "" && p.typed != nil:
		return "enter: write this reading down"
	case p.value() != "":
		return "a number for the path that is due, or its name first: A7 right 6450"
	case p.sum != "":
		next := "enter: close the row"
		if p.table().Of != procedure.OfRow {
			next = "enter: close the list"
		}
		if p.card.Next != "" && p.card.At == len(p.card.Fields)-1 {
			next += ", and go on to: " + p.card.Next
		}
		return next
	case c != nil && p.short.what != "":
		return "tab, 2: strike the odd one   or read " + c.PathRef.String() + " again"
	case c != nil:
		return "type what " + c.PathRef.String() + " reads, then enter   tab, c: from a sheet"
	}
	return "tab, 2 strikes a reading   tab, 6 lays the task down"
}

// pathWords names a reading by its path, with its value unless it is to be read
// again without sight of it.
func pathWords(v *job.LengthsView, e job.Event) string {
	if c := cellOf(v, *e.Path); c != nil && c.Hidden {
		return e.Path.String() + ", covered"
	}
	return e.Path.String() + ", " + e.Value.String()
}
