package job

import (
	"fmt"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/trim"
	"example.org/linewright/engine/wing"
)

// LengthsView is a lengths step for a front end: a row a point, from the
// centre, with a cell for each side.
type LengthsView struct {
	Of      string    // procedure.OfRow, or OfChanged: what the work changed
	Row     string    // of OfRow
	From    wing.From // where the tape has its zero; a brake path begins at the knot
	Rows    []LengthsRow
	Limit   quantity.Length // either way, of each path
	LimitOf string          // its source, which says where it is a fallback
	Source  string          // of what is expected
	Bench   metrology.Bench // what is measured with, or was when the row was closed
	Due     *trim.PathRef   // the path that a bare number is for; nil: none is due
	Read    int             // paths with a reading
	Total   int             // paths
	Again   int             // paths to be read again
	Left    *Because        // what keeps the row from being closed; nil: Enter closes it
}

// LengthsRow is a point of the wing.
type LengthsRow struct {
	Point       string
	Left, Right *LengthsCell // nil: not measured here
}

// LengthsCell is a path with what was read. While it has to be read again its
// value stays covered: Hidden is true and all that would tell it is empty.
type LengthsCell struct {
	trim.PathRef
	Role      trim.Role       // after work: why it is measured
	Expected  quantity.Length // 0: the plan does not say
	Stated    bool            // the papers state it; else it is the sum of the lines
	N         int             // readings that count
	Readings  []Reading       // those that count
	Value     quantity.Length // the mean of the readings, as read; 0: none
	Deviation quantity.Length // corrected, against Expected
	U         quantity.Length
	Verdict   metrology.Verdict // "": not read, or nothing is expected
	Decided   string            // a person's reason for taking what is not proved
	Due       bool              // a bare number is for this one
	Again     bool              // to be read again
	Hidden    bool              // blind: to be read again without sight of the first value
	Odd       bool              // three readings or more do not agree: one has to be struck
	Out       bool              // outside, or not proved and not taken by a person
}

// lengthsView gives the view of a lengths step; nil where the bench cannot
// evaluate what was read.
func (j *Job) lengthsView(t *Task, s *procedure.Slot) *LengthsView {
	m, err := j.measuring(t, s)
	if err != nil {
		return nil
	}
	limit, _ := quantity.LengthFromMM(m.limit.MM)
	v := &LengthsView{
		Of: s.Step.Of, Row: s.Instance.Row, From: m.from, Limit: limit, LimitOf: m.limit.Source,
		Source: j.Plan.Source.Text, Bench: m.bench, Total: len(m.paths),
	}
	var due *measured
	if a := t.answers[s.Key]; a == nil || a.State != Ready {
		due, v.Left = m.due(), m.unfinished()
	}
	if due != nil {
		v.Due = &due.PathRef
	}
	for i := range m.paths {
		p := &m.paths[i]
		if n := len(v.Rows); n == 0 || v.Rows[n-1].Point != p.Point {
			v.Rows = append(v.Rows, LengthsRow{Point: p.Point})
		}
		cell := p.cell()
		cell.Due = p == due
		row := &v.Rows[len(v.Rows)-1]
		if p.Side == wing.Left {
			row.Left = cell
		} else {
			row.Right = cell
		}
		if cell.N > 0 {
			v.Read++
		}
		if cell.Again {
			v.Again++
		}
	}
	return v
}

// wanted says what an entry looks like: for which path a bare number is.
func (v *LengthsView) wanted() string {
	const named = "another path with its name, as C7 left 4208"
	switch {
	case v == nil:
		return named
	case v.Due == nil:
		return "nothing more: an empty line closes it; or " + named
	}
	return fmt.Sprintf("%s in %s; or %s", v.Due, unitOf(string(quantity.KindLength)), named)
}

// cell shows a path. What has to be read again is covered until a person has
// to choose which reading to strike.
func (p *measured) cell() *LengthsCell {
	c := &LengthsCell{PathRef: p.PathRef, Role: p.role, Expected: p.expected.Length, Stated: p.expected.Stated, N: len(p.readings)}
	c.Again, c.Odd = p.again(), p.odd()
	if c.Again && !c.Odd {
		c.Hidden = true
		return c
	}
	l := p.length
	c.Readings, c.Value = p.readings, p.m.Mean
	c.Deviation, c.U, c.Verdict, c.Decided = l.Deviation, l.U, l.Verdict, l.Decided
	c.Out = l.Verdict != "" && !l.Inside()
	return c
}

// measuredWords says in a line how far a lengths step is, or what it gave.
func (t *Task) measuredWords(s *procedure.Slot, a *Answer) string {
	if a.Event.Kind != Settled {
		read := map[trim.PathRef]bool{}
		for _, r := range a.counting() {
			if r.Path != nil {
				read[*r.Path] = true
			}
		}
		return fmt.Sprintf("%d of %s read", len(read), count(len(t.paths(s)), "path"))
	}
	byVerdict := map[metrology.Verdict][]trim.PathRef{}
	for _, l := range a.Event.Lengths {
		byVerdict[l.Verdict] = append(byVerdict[l.Verdict], l.PathRef)
	}
	text := count(len(a.Event.Lengths), "path") + " measured"
	if words := verdictWords(byVerdict); words != "" {
		text += "; " + words
	}
	return text
}

// readWords says what an entry of readings would write, or a decision on a path.
func (e *Event) readWords() string {
	if e.Kind == Sheeted {
		paths := map[trim.PathRef]bool{}
		for _, r := range e.Sheet {
			paths[r.PathRef] = true
		}
		return count(len(e.Sheet), "length") + " of " + count(len(paths), "path")
	}
	switch {
	case e.Value == nil:
		return e.Path.String() + ": taken by decision"
	case e.Path != nil:
		return e.Path.String() + ": " + e.Value.String()
	}
	return e.Value.String()
}
