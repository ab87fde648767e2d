package tui

import (
	"fmt"
	"slices"
	"strings"

	"example.org/linewright/engine/wing"
	"example.org/linewright/tui/picture"
	"example.org/linewright/tui/prompt"
)

// leastFan is how many rows and columns a fan has to have to be worth its room.
const (
	leastFanRows = 8
	leastFanCols = 30
)

func (p *whichPage) view(m *model, w, h int) sheet {
	cols, rows := bodyCols(w), bodyRows(h)
	pic := cols * 2 / 5
	if pic < leastFanCols {
		body, at := p.body(m, cols, rows)
		fan := p.fan(m, cols, rows-len(body)-1)
		if len(fan) > 0 {
			body = append(append(body, ""), fan...)
		}
		return m.frame("Which line is it?", body, &at, p.keys(m), w, h)
	}
	narrow := cols - pic - 2
	body, at := p.body(m, narrow, rows)
	for i, l := range p.fan(m, pic, rows) {
		if i >= len(body) {
			body = append(body, "")
		}
		body[i] = pad(body[i], narrow+2) + l
	}
	return m.frame("Which line is it?", body, &at, p.keys(m), w, h)
}

// body is question and answers in at most so many rows, with the place of the
// cursor.
func (p *whichPage) body(m *model, w, rows int) ([]string, point) {
	var body []string
	for _, t := range p.lead() {
		if t == "" {
			body = append(body, "")
		}
		body = append(body, wrap(t, w)...)
	}
	said := p.told.wrapped(w)
	if p.asksLength() {
		text, col := p.length.line(14)
		at := point{row: len(body), col: 2 + col}
		body = append(body, "[ "+text+" ] mm", "")
		body = append(body, wrap(fmt.Sprintf("a length in mm (or cm, m, in, ft if you type it); %d alone: cannot tell", cannotTellDigit), w)...)
		return append(body, said...), at
	}
	lines, mark := p.list.lines(m, w, max(3, rows-len(body)-len(said)))
	at := point{row: len(body) + mark.row}
	return append(append(body, lines...), said...), at
}

// lead is what stands above the answers: where the search stands, and the question.
func (p *whichPage) lead() []string {
	q := p.talk.Question()
	_, ask := prompt.FeatureWords(q.Feature, q.Instance)
	ask = strings.ReplaceAll(ask, ": 0.", ": none.") // the digit is taken here
	asked := fmt.Sprintf("%d. %s", len(p.talk.Seen())+1, ask)
	switch q.State {
	case wing.FinderSearch:
		lines := []string{p.left(q.Left), "", asked}
		if len(p.talk.Seen()) == 0 {
			return append([]string{"Say what you see, not what you expect."}, lines...)
		}
		return lines
	case wing.FinderConfirm:
		return []string{"One line is left. It is named when one more look, at something else, has confirmed it.", "", asked}
	case wing.FinderContradiction:
		return p.doubted()
	}
	return append(p.talk.Result(), "")
}

func (p *whichPage) left(refs []wing.Ref) string {
	words := prompt.LeftWords(refs)
	if slices.ContainsFunc(refs, func(r wing.Ref) bool { return r.Side != refs[0].Side }) {
		words += " Either side is possible; the " + string(refs[0].Side) + " one is drawn."
	}
	return words
}

// doubted names a contradiction. The answers themselves stand in the list.
func (p *whichPage) doubted() []string {
	if p.stood {
		return []string{"No line of the plan fits what you see, and you stand by all of it.",
			"Then this is not the wing of the plan there, or the hand went astray between two lines. Begin again from the riser; if it stays so, the plan is not this wing's.", ""}
	}
	wrong := "one answer is wrong"
	if len(p.talk.Question().Doubt.Suspects) > 1 {
		wrong = "several answers are wrong"
	}
	return []string{"No line of the plan fits all that was answered: " + wrong + ".",
		"Look at it again on the wing. Which one do you take back?", ""}
}

// fan draws what is left, if there is room for it.
func (p *whichPage) fan(m *model, w, rows int) []string {
	side, marked := p.possible()
	if side == "" || rows < leastFanRows {
		return nil
	}
	return picture.Fan(p.plan, side, marked, w, rows, m.opt.signs())
}
