package tui

import (
	"example.org/linewright/engine/job"
)

// wide is a card that shows one large thing between the action and the entry: a
// fan, a list, a report. Everything else stands where it stands on other cards.
type wide struct {
	// body draws it in at most h lines of w columns; at is where the cursor is
	// wanted in it, nil where it stands in the field.
	body  func(w, h int) (lines []string, at *point)
	least int  // rows that it needs before the detail has any
	grows bool // what is long takes the free rows of a tall screen too
	col   int  // of the cursor in the field
	// onward says what Enter does, in place of next, where that depends on how
	// much of the body is seen.
	onward func() string
	part   // lead, ask, field (one line), verdict, next and keys count
}

// drawWide lays such a card out. The caution and the action are whole; the
// detail has what the body leaves.
func (m *model) drawWide(c job.Card, p wide, w, h int) sheet {
	at, col := placesFor(h).signing(), columnsFor(w)
	free := 0
	if p.grows {
		free = at.spare()
	}
	lines := make([]string, h)
	lines[0] = m.header(c.Title+"  "+c.Target, w)
	lines[at.cord] = " " + m.cord(c.Cord, w-2*margin)
	action := wrap(c.Action, col.full)
	top := at.action + len(action)
	rows := at.ask - top
	if n := len(wrap(c.Detail, col.full)); n > 0 && n+1+p.least <= rows+free {
		rows -= n + 1
	}
	body, mark := p.body(col.full, rows+free)
	at = at.lower(min(free, max(0, len(body)-rows)))
	d := drawing{m: m, c: c, p: p.part, at: at, cols: col, lines: lines}
	d.put(at.caution, d.caution(col.full), at.action-at.caution, m.look.alert.Render)
	d.put(at.action, action, len(action), m.look.strong.Render)
	detail := detailFor(c, col.full, at.ask-top-len(body))
	d.put(top, detail, len(detail), nil)
	top += len(detail)
	d.put(top, body, at.ask-top, nil)
	d.put(at.ask, []string{cell(p.ask, col.full)}, 1, nil)
	d.put(at.field, p.field, 1, nil)
	if p.onward != nil {
		d.p.next = p.onward()
	}
	d.below(w)
	s := sheet{lines: lines, cursor: &point{at.field, 2 + p.col}}
	if mark != nil && top+mark.row < at.ask {
		s.cursor = &point{top + mark.row, 2 + mark.col}
	}
	return s
}

// detailFor is the detail of a card in the rows that are left for it, with a
// free row behind it where there is one. What is cut says so.
func detailFor(c job.Card, w, rows int) []string {
	lines := wrap(c.Detail, w)
	switch {
	case rows <= 0 || len(lines) == 0:
		return nil
	case len(lines) < rows:
		return append(lines, "")
	case len(lines) > rows:
		return append(lines[:rows-1:rows-1], "..  (? shows all of it)")
	}
	return lines
}

// wideRows is how many rows a wide card has between its action and its entry.
func wideRows(c job.Card, w, h int) int {
	at := placesFor(h).signing()
	return at.ask - at.action - len(wrap(c.Action, columnsFor(w).full))
}

// leastWide is how many rows what is shown has at least.
const leastWide = 4

// wideIntro is what does not fit on a wide card and is read on pages of its own
// before: a caution is never cut, and the action leaves room for what is shown.
func wideIntro(c job.Card, w, h int) [][]string {
	at, col := placesFor(h).signing(), columnsFor(w)
	caution := cautionLines(c, col.full)
	if len(caution) <= at.action-at.caution && wideRows(c, w, h) >= leastWide {
		return nil
	}
	lines := append(append(caution, ""), wrap(c.Action, col.full)...)
	lines = append(append(lines, ""), wrap(c.Detail, col.full)...)
	var pages [][]string
	for rows := bodyRows(h) - 1; len(lines) > 0; {
		n := min(rows, len(lines))
		pages, lines = append(pages, lines[:n]), lines[n:]
	}
	return pages
}
