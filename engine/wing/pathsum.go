package wing

import (
	"fmt"
	"math"
	"strings"

	"example.org/linewright/engine/quantity"
)

// The greatest that a joint and a loop can make (common practice, no source).
const (
	maxJoint = 10 * quantity.Millimetre
	maxLoop  = 100 * quantity.Millimetre
)

// PathTerms is what the length of a path is made of. What a joint and the loop
// on the link make is the wing's own: a maker's totals are not the plain sum
// of the segments.
type PathTerms struct {
	Riser     quantity.Length   // of the branch; 0 for a brake, whose path begins at the knot
	Segments  []quantity.Length // from the riser up
	Joint     quantity.Length   // what each joint between two segments adds, −10 to +10 mm
	Loop      quantity.Length   // by how much the loop on the link shortens, 0 to 100 mm
	Source    string            // of riser and segments; empty: as given
	OwnSource string            // of joint and loop; empty: as given
}

// PathSum is the length of a path: riser + segments + joints − loop.
type PathSum struct {
	Point     string     `json:"point,omitempty"`
	Side      Side       `json:"side,omitempty"`
	RiserMM   float64    `json:"riser_mm"`
	Segments  []PathPart `json:"segments"`
	Joints    int        `json:"joints"`
	JointMM   float64    `json:"joint_mm"`
	LoopMM    float64    `json:"loop_mm"`
	TotalMM   float64    `json:"total_mm"`
	Source    string     `json:"source"`
	OwnSource string     `json:"joint_and_loop_source"`
}

// PathPart is one segment of a path. Name is the line's code, or "segment 1".
type PathPart struct {
	Name     string  `json:"name"`
	LengthMM float64 `json:"length_mm"`
}

// Sum adds the terms up. The error is a *SumError.
func (t PathTerms) Sum() (PathSum, error) {
	if err := t.check(); err != nil {
		return PathSum{}, err
	}
	s := PathSum{
		RiserMM: t.Riser.MM(),
		Joints:  len(t.Segments) - 1, JointMM: t.Joint.MM(), LoopMM: t.Loop.MM(),
		Source: orGiven(t.Source), OwnSource: orGiven(t.OwnSource),
	}
	total := t.Riser + quantity.Length(s.Joints)*t.Joint - t.Loop
	for i, l := range t.Segments {
		s.Segments = append(s.Segments, PathPart{fmt.Sprintf("segment %d", i+1), l.MM()})
		total += l
	}
	s.TotalMM = total.MM()
	return s, nil
}

func (t PathTerms) check() error {
	if len(t.Segments) == 0 {
		return refuse("a path has one segment at least", "give the segments from the riser up")
	}
	if t.Riser != 0 && !lineLong(t.Riser) {
		return refuse(fmt.Sprintf("a riser of %s cannot be", t.Riser), fmt.Sprintf("give %d to %d mm, or 0 for a brake, whose path begins at the knot", minLineMM, maxLineMM))
	}
	for i, l := range t.Segments {
		if !lineLong(l) {
			return refuse(fmt.Sprintf("segment %d of %s cannot be", i+1, l), fmt.Sprintf("give %d to %d mm", minLineMM, maxLineMM))
		}
	}
	if t.Joint.Abs() > maxJoint {
		return refuse(fmt.Sprintf("%s for one joint cannot be", t.Joint), fmt.Sprintf("give -%s to %s", maxJoint, maxJoint))
	}
	if t.Loop < 0 || t.Loop > maxLoop {
		return refuse(fmt.Sprintf("a loop that takes %s cannot be", t.Loop), fmt.Sprintf("give 0 to %s; a loop only shortens", maxLoop))
	}
	return nil
}

func lineLong(l quantity.Length) bool {
	return l >= minLineMM*quantity.Millimetre && l <= maxLineMM*quantity.Millimetre
}

// PathSum adds up the path to an attachment point as the plan gives it. joint
// and loop are the wing's own, and ownSource says who measured them. The error
// is a *SumError, also where the plan lacks a length.
func (p *Plan) PathSum(point string, side Side, joint, loop quantity.Length, ownSource string) (PathSum, error) {
	path, ok := p.Path(point, side)
	if !ok {
		return PathSum{}, refuse(fmt.Sprintf("there is no attachment point %q %s", point, side), "give a point of the plan, such as C7, and left or right")
	}
	if path.Nominal == 0 {
		return PathSum{}, refuse(fmt.Sprintf("the plan lacks a length on the path to %s: %s", point, strings.Join(path.lacking(), ", ")), "complete the plan, or give riser and segments as numbers")
	}
	terms := PathTerms{Riser: path.Riser.Length, Joint: joint, Loop: loop, Source: p.Source.Text, OwnSource: ownSource}
	for _, l := range path.Lines {
		terms.Segments = append(terms.Segments, l.Length)
	}
	sum, err := terms.Sum()
	if err != nil {
		return PathSum{}, err
	}
	sum.Point, sum.Side = point, side
	for i, l := range path.Lines {
		sum.Segments[i].Name = l.Code
	}
	return sum, nil
}

// lacking names what has no length on a path.
func (path Path) lacking() []string {
	var names []string
	if path.Riser.Branch != "" && path.Riser.Length == 0 {
		names = append(names, "riser "+path.Riser.Branch)
	}
	for _, l := range path.Lines {
		if l.Length == 0 {
			names = append(names, l.Code)
		}
	}
	return names
}

// Steps gives the sum term by term.
func (s PathSum) Steps() []Step {
	steps := []Step{{"riser", showMM(s.RiserMM), s.Source}}
	for _, part := range s.Segments {
		steps = append(steps, Step{part.Name, showMM(part.LengthMM), s.Source})
	}
	return append(steps,
		Step{"joints", fmt.Sprintf("%d × %s = %s", s.Joints, showMM(s.JointMM), showMM(float64(s.Joints)*s.JointMM)), s.OwnSource},
		Step{"taken by the loop", showMM(s.LoopMM), s.OwnSource},
		Step{"path", showMM(s.TotalMM), "riser + segments + joints - loop"})
}

// Change is what a change of one segment moves: every attachment point above
// it by the same amount, and the mean of each row that has points there.
type Change struct {
	Code     string    `json:"code"`
	ChangeMM float64   `json:"change_mm"` // positive: longer
	Points   []string  `json:"points"`    // above it, from the centre
	Rows     []RowMove `json:"rows,omitempty"`
	Notes    []string  `json:"notes,omitempty"`
}

// RowMove is how far the mean of one side of a row moves; the mean over both
// sides moves by half of it.
type RowMove struct {
	Row         string  `json:"row,omitempty"`
	ChangeMM    float64 `json:"change_mm"`
	PointsAbove int     `json:"points_above"`
	PointsOfRow int     `json:"points_of_row"`
	MeanMM      float64 `json:"mean_mm"`
}

// MoveRow gives the move of a row's mean by a change of one segment: change ×
// points above it / points of the row on its side. The error is a *SumError.
func MoveRow(change quantity.Length, pointsAbove, pointsOfRow int) (RowMove, error) {
	if change.Abs() > maxLineMM*quantity.Millimetre {
		return RowMove{}, refuse(fmt.Sprintf("a change of %s cannot be", change), fmt.Sprintf("give at most %d mm either way", maxLineMM))
	}
	if pointsAbove < 0 || pointsOfRow < 1 || pointsAbove > pointsOfRow {
		return RowMove{}, refuse(fmt.Sprintf("%d of %d points cannot be", pointsAbove, pointsOfRow), "count the attachment points above the segment, and all of its row on one side")
	}
	mean := quantity.Length(math.Round(float64(change) * float64(pointsAbove) / float64(pointsOfRow)))
	return RowMove{ChangeMM: change.MM(), PointsAbove: pointsAbove, PointsOfRow: pointsOfRow, MeanMM: mean.MM()}, nil
}

// Change says what a change of one line of one side moves. In a partial plan
// it holds the points that are known, and no row. The error is a *SumError.
func (p *Plan) Change(code string, change quantity.Length) (Change, error) {
	if _, ok := p.Line(code); !ok {
		return Change{}, refuse(fmt.Sprintf("there is no line %q in the plan", code), "correct the code; C1 and c1 are two codes")
	}
	c := Change{Code: code, ChangeMM: change.MM(), Points: p.Points(code)}
	if p.Partial {
		c.Notes = append(c.Notes, "only some lines are in this plan: the means of the rows cannot be reckoned")
		_, err := MoveRow(change, 0, 1)
		return c, err
	}
	above, all := map[string]int{}, map[string]int{}
	for point, i := range p.byPoint {
		row := p.Lines[i].Row
		all[row]++
		for _, own := range c.Points {
			if own == point {
				above[row]++
			}
		}
	}
	for _, row := range p.Rows() {
		if above[row] == 0 {
			continue
		}
		move, err := MoveRow(change, above[row], all[row])
		if err != nil {
			return Change{}, err
		}
		move.Row = row
		c.Rows = append(c.Rows, move)
	}
	return c, nil
}

// Steps says what moves, term by term.
func (c Change) Steps() []Step {
	steps := []Step{
		{"change of " + c.Code, showMM(c.ChangeMM), asGiven},
		{"points above it", fmt.Sprintf("%d: %s, each moves by %s", len(c.Points), strings.Join(c.Points, " "), showMM(c.ChangeMM)), "the plan"},
	}
	for _, m := range c.Rows {
		steps = append(steps, m.Steps()...)
	}
	return steps
}

// Steps gives the sum in one line.
func (m RowMove) Steps() []Step {
	return []Step{{
		strings.TrimSpace("mean of row "+m.Row) + ", this side",
		fmt.Sprintf("%s × %d / %d = %s", showMM(m.ChangeMM), m.PointsAbove, m.PointsOfRow, showMM(m.MeanMM)),
		"change × points above / points of the row",
	}}
}
