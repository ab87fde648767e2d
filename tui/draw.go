package tui

import (
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/x/ansi"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/tui/picture"
)

// part is what a page puts into the places of a card.
type part struct {
	lead    string                  // above the action in place of a caution, as "You are looking back."
	ask     string                  // the question, in one line or two
	field   []string                // from the field's row down
	cursor  *point                  // counted from the field's row
	verdict []string                // wrapped; what has no room is said to stand behind a key
	alert   bool                    // the verdict asks for attention
	next    string                  // what Enter does now
	up      int                     // rows by which the question stands higher: a long list of answers
	hold    bool                    // a chain lies across the card
	pic     func(w, h int) []string // in place of the picture that the card asks for
	cols    columns                 // where pic needs others than those of the screen
	without string                  // the last line of the field where pic has no room
	room    int                     // rows that the field has, with without
	signed  []string                // the part that is seen of what a hold signs, in place of detail and answers
	keys    []key.Binding
}

// drawCard lays a card out. It has three bands, one above the other: caution,
// action with detail, entry. The picture stands at the right beside those
// bands whose text fits in the narrower column, in the longest run of them.
func (m *model) drawCard(c job.Card, p part, w, h int) sheet {
	at, col := placesFor(h), columnsFor(w)
	if p.signed != nil {
		at = at.signing()
	}
	at = at.listing(p.up)
	if p.cols != (columns{}) {
		col = p.cols
	}
	lines := make([]string, h)
	lines[0] = m.header(c.Title+"  "+c.Target, w)
	lines[at.cord] = " " + m.cord(c.Cord, w-2*margin)
	d := drawing{m: m, c: c, p: p, at: at, cols: col, lines: lines}
	pic, top := d.picture()
	if len(pic) == 0 && p.without != "" {
		keep := min(len(p.field), p.room-1)
		d.p.field = append(p.field[:keep:keep], cell(p.without, col.full))
	}
	d.bands()
	for i, l := range pic {
		row := top + i
		lines[row] = pad(lines[row], 2+col.narrow+2) + l
	}
	d.below(w)
	s := sheet{lines: lines}
	if p.cursor != nil {
		s.cursor = &point{at.field + p.cursor.row, 2 + p.cursor.col}
	}
	return s
}

// drawing is one card while it is being laid out.
type drawing struct {
	m     *model
	c     job.Card
	p     part
	at    places
	cols  columns
	lines []string
	width [3]int // of the bands' text: narrow beside the picture
}

// The bands, by the row at which each begins.
func (d *drawing) starts() [4]int {
	return [4]int{d.at.caution, d.at.action, d.at.ask, d.at.verdict}
}

// picture looks for room beside the text and asks for the picture there. Where
// none fits, all bands have the full width.
func (d *drawing) picture() (pic []string, top int) {
	for i := range d.width {
		d.width[i] = d.cols.full
	}
	if d.p.pic == nil && d.c.Picture != "" {
		d.p.pic = func(w, h int) []string { return d.m.drawn(d.c, w, h) }
	}
	if d.cols.picture == 0 || d.p.pic == nil {
		return nil, 0
	}
	from, to := d.run()
	if from == to {
		return nil, 0
	}
	rows := d.starts()
	pic = d.p.pic(d.cols.picture, rows[to]-rows[from]-1)
	if len(pic) == 0 {
		return nil, 0
	}
	for i := from; i < to; i++ {
		d.width[i] = d.cols.narrow
	}
	top = rows[from]
	if from == 0 && to > 1 && len(pic) < rows[to]-rows[1] {
		top = rows[1] // level with the action
	}
	return pic, top
}

// run finds the most rows in neighbouring bands whose text fits narrow.
func (d *drawing) run() (from, to int) {
	rows, n := d.starts(), d.cols.narrow
	fits := [3]bool{
		len(d.caution(n)) <= d.at.action-d.at.caution,
		len(wrap(d.c.Action, n))+len(d.under(n)) <= d.textRows(n),
		len(wrap(d.p.ask, n)) <= 2 && widest(d.p.field) <= n,
	}
	best := 0
	for i := 0; i < 3; i++ {
		for k := i; k < 3 && fits[k]; k++ {
			if rows[k+1]-rows[i] > best {
				best, from, to = rows[k+1]-rows[i], i, k+1
			}
		}
	}
	return from, to
}

func widest(lines []string) int {
	w := 0
	for _, l := range lines {
		w = max(w, ansi.StringWidth(l))
	}
	return w
}

// textRows is how many rows the action has: a question of two lines takes one.
func (d *drawing) textRows(w int) int {
	return d.at.ask - d.at.action - (min(len(wrap(d.p.ask, w)), 2) - 1)
}

func (d *drawing) caution(w int) []string {
	if d.p.lead != "" {
		return wrap(d.p.lead, w)
	}
	return cautionLines(d.c, w)
}

func cautionLines(c job.Card, w int) []string {
	text := c.Caution
	if c.Second {
		text = strings.TrimSpace(secondWords(c) + " " + text)
	}
	if text == "" {
		return nil
	}
	label := "Caution: "
	if c.Caution == "" {
		label = ""
	}
	return wrap(label+text, w)
}

// secondWords gives the card to the second person.
func secondWords(c job.Card) string {
	if c.Looker == "" {
		return "For the second person. Doer, step back."
	}
	if c.Unheard {
		return "For the second person, " + c.Looker + ". Another? esc. Doer, step back."
	}
	return "For the second person, " + c.Looker + ". Doer, step back."
}

// fieldsBefore are the fields of a card before the one that is due that are answered.
func fieldsBefore(c job.Card) []job.Field {
	var out []job.Field
	for i, f := range c.Fields {
		if i < c.At && f.State == job.Ready {
			out = append(out, f)
		}
	}
	return out
}

// answered lists the fields of the card that are filled already, each on one line.
func answered(c job.Card, w int) []string {
	var out []string
	for _, f := range fieldsBefore(c) {
		value := "[ " + cell(f.Answer, w/2) + " ]"
		out = append(out, cell(asked(f), w-ansi.StringWidth(value)-1)+" "+value)
	}
	return out
}

// asked is the question of a field that is filled.
func asked(f job.Field) string {
	if f.Ask == "" {
		return "Done"
	}
	return plain(f.Ask)
}

// under is what stands under the action, before the answers of the card.
func (d *drawing) under(w int) []string {
	if d.p.signed != nil {
		return d.p.signed
	}
	return wrap(d.c.Detail, w)
}

// bands writes the text of the three bands.
func (d *drawing) bands() {
	d.put(d.at.caution, d.caution(d.width[0]), d.at.action-d.at.caution, d.m.look.alert.Render)
	d.text(d.width[1])
	ask := wrap(d.p.ask, d.width[2])
	if len(ask) > 2 {
		ask = []string{ask[0], cell(strings.Join(ask[1:], " "), d.width[2])}
	}
	d.put(d.at.ask+1-max(len(ask), 1), ask, 2, nil)
	d.put(d.at.field, d.p.field, d.at.next-d.at.field, nil)
	if d.at.next < 0 {
		d.put(d.at.field, d.p.field, d.at.foot-d.at.field, nil)
	}
}

// answers are the fields of the card that are filled, whole where they have room.
func (d *drawing) answers(w, rows int) []string {
	if d.p.signed != nil {
		return nil // among what is signed
	}
	var whole []string
	for _, f := range fieldsBefore(d.c) {
		whole = append(whole, answerLines(f, w)...)
	}
	if len(wrap(d.c.Action, w))+len(d.under(w))+len(whole) <= rows {
		return whole
	}
	return answered(d.c, w)
}

// text writes action, detail and answers. If it is too much the oldest answers
// go first, and their number is said, then the end of the detail, which is said; all of it stands behind
// the key for the reason.
func (d *drawing) text(w int) {
	rows := d.textRows(d.width[2]) // the question may be narrower than the text
	action, detail, done := wrap(d.c.Action, w), d.under(w), d.answers(w, rows)
	all := len(done)
	for len(action)+len(detail)+len(done) > rows && len(done) > 0 {
		done = done[1:]
	}
	if len(done) > 0 && len(done) < all {
		done[0] = fmt.Sprintf("%d earlier answers: ? shows them", all-len(done)+1)
	}
	if over := len(action) + len(detail) + len(done) - rows; over > 0 {
		keep := max(0, len(detail)-over)
		detail = append(detail[:max(0, keep-1):max(0, keep-1)], "..  (? shows all of it)")
	}
	d.put(d.at.action, action, rows, d.m.look.strong.Render)
	d.put(d.at.action+len(action), append(detail, done...), rows-len(action), nil)
}

func (d *drawing) put(row int, lines []string, most int, look func(...string) string) {
	for i := 0; i < len(lines) && i < most && row+i < len(d.lines); i++ {
		text := lines[i]
		if look != nil {
			text = look(text)
		}
		if text != "" {
			d.lines[row+i] = "  " + text
		}
	}
}

// below writes verdict, what Enter does, rule or chain, and the foot.
func (d *drawing) below(w int) {
	look := d.m.look.strong.Render
	if d.p.alert {
		look = d.m.look.alert.Render
	}
	verdict, next := d.p.verdict, cell(d.p.next, d.cols.full)
	if d.m.word != "" {
		word := d.m.look.alert.Render(cell(d.m.word, d.cols.full))
		if d.at.next < 0 || d.p.hold && d.at.next == d.at.stop {
			verdict = []string{word}
		}
		next = word
	}
	d.put(d.at.verdict+2-max(2, len(verdict)), verdict, len(verdict), look)
	d.lines[d.at.foot] = d.m.foot(d.p.keys, w)
	if d.at.next < 0 {
		return
	}
	d.lines[d.at.next] = "  " + next
	d.lines[d.at.rule] = d.m.rule(w)
	if d.p.hold {
		d.lines[d.at.stop] = "  " + d.m.look.alert.Render(cell(stopWords(d.c, d.cols.full), d.cols.full))
		d.lines[d.at.rule] = d.m.chain(w)
	}
}

// stopWords say what a hold holds back.
func stopWords(c job.Card, w int) string {
	who := "it is signed."
	if c.Second {
		who = "someone other than the doer signs."
	}
	if f, ok := due(c); ok && f.Role == procedure.Pilot {
		who = "the pilot signs."
	}
	if long := "STOP. Nothing behind this opens until " + who; len(long) <= w {
		return long
	}
	return "STOP until " + who
}

// drawn gives the picture of a card.
func (m *model) drawn(c job.Card, w, h int) []string {
	c.Fields = slices.Clone(c.Fields)
	for i, f := range c.Fields {
		if f.Scale != nil && f.Scale.Value != nil {
			s := *f.Scale
			s.Deviation, s.U = asPrinted(&s)
			c.Fields[i].Scale = &s
		}
	}
	return picture.Of(c, m.at.plan, w, h, m.opt.signs())
}

// asPrinted rounds as the words beside the picture do.
func asPrinted(s *job.Scale) (deviation, u quantity.Length) {
	if s.Judgement != nil {
		return s.Judgement.Printed()
	}
	return s.Deviation, roundUp(s.U)
}
