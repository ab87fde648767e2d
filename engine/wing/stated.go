package wing

import (
	"fmt"
	"slices"

	"example.org/linewright/engine/quantity"
)

// StatedPath is the length of a whole path as the papers state it, on both
// sides. It need not be the plain sum of riser and segments: joints and the
// loops on the link add and take. A brake path begins at the knot.
type StatedPath struct {
	Point  string
	Row    string
	Length quantity.Length
}

// From says where the stated lengths of paths begin.
type From string

const (
	FromLink  From = "link"  // at the inside of the link: the riser is not in them
	FromRiser From = "riser" // at the riser's loop for the carabiner
)

// Froms lists where a stated length can begin.
var Froms = []From{FromLink, FromRiser}

// MaxPaths is the largest number of stated paths that a plan may hold.
const MaxPaths = MaxLines

// maxPathMM is the longest path that can be, in mm.
const maxPathMM = 30000

// StatedPath gives the length that the papers state for the path to a point.
func (p *Plan) StatedPath(point string) (StatedPath, bool) {
	i, ok := p.stated[point]
	if !ok {
		return StatedPath{}, false
	}
	return p.Stated[i], true
}

// PathRows lists the rows that have paths to be measured: those of the lines,
// then those of which the papers state whole paths alone.
func (p *Plan) PathRows() []string {
	rows := p.Rows()
	for _, s := range p.Stated {
		if !slices.Contains(rows, s.Row) {
			rows = append(rows, s.Row)
		}
	}
	return rows
}

// stated reads the lengths of whole paths. They come after the lines, whose
// points they may name.
func (b *builder) stated(f *planFile) {
	if len(f.Lines) == 0 && (len(f.Paths) == 0 || !b.plan.Partial) {
		b.missing("line", "add a [[line]] for each line of one side")
	}
	if len(f.Paths) > MaxPaths {
		b.doc.Add(fmt.Sprintf("path[%d]", MaxPaths), fmt.Sprintf("the plan has %d paths", len(f.Paths)), fmt.Sprintf("at most %d are read; one table serves both sides", MaxPaths))
		return
	}
	if f.PathsFrom != "" || len(f.Paths) > 0 {
		b.plan.PathsFrom, _ = oneOf(b, "paths_from", f.PathsFrom, Froms)
	}
	tops := map[string]Line{}
	for _, l := range append(slices.Clone(b.plan.Loose), b.plan.Lines...) {
		tops[l.Point] = l
	}
	b.plan.stated = make(map[string]int, len(f.Paths))
	for i, t := range f.Paths {
		b.plan.Stated = append(b.plan.Stated, b.statedPath(fmt.Sprintf("path[%d]", i), t, tops))
		b.plan.stated[t.Point] = i
	}
}

// statedPath reads one path; tops are the lines by their point.
func (b *builder) statedPath(at string, t pathTable, tops map[string]Line) StatedPath {
	if b.name(at+".point", t.Point, "C7") {
		if pointNumber(t.Point) == 0 {
			b.doc.Add(at+".point", fmt.Sprintf("the point %s has no number", t.Point), "end it with its place from the centre in its row, such as C7")
		}
		b.unique("path", t.Point, at+".point", "state one length for each point")
	}
	if t.LengthMM == nil {
		b.missing(at+".length_mm", "give it in mm, or leave the path out")
	}
	return StatedPath{t.Point, b.rowOf(at, t, tops), b.length(at+".length_mm", t.LengthMM, minLineMM, maxPathMM)}
}

// rowOf gives the row of a path: that of its line, else as it is stated.
func (b *builder) rowOf(at string, t pathTable, tops map[string]Line) string {
	top, known := tops[t.Point]
	switch {
	case known && t.Row == "" && top.Row != "":
		return top.Row
	case known && top.Row != "" && t.Row != top.Row:
		b.doc.Add(at+".row", fmt.Sprintf("%s is of row %s, but its line %s is of row %s", t.Point, t.Row, top.Code, top.Row), "leave row out, or correct it")
	case !known && !b.plan.Partial && t.Point != "":
		b.doc.Add(at+".point", "no line has the point "+t.Point, "correct the point, or add its line; only a partial plan may lack it")
	default:
		b.name(at+".row", t.Row, "C")
	}
	return t.Row
}
