package reckon

import (
	"fmt"
	"strings"

	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

var pathSum = Sum{
	ID: "path", Title: "The length of a path",
	Purpose: "Adds up a riser, its segments, joints and loop, and says what a change of one segment moves.",
	Fields: []Field{
		{Name: "segment", Ask: "Segments from the riser up", Kind: KindReadings, Unit: "mm", Many: true, First: true, Optional: true, Fallback: "the plan's, up to the point that is named"},
		{Name: "riser", Ask: "Riser branch; 0 for a brake, whose path begins at the knot", Kind: KindLength, Unit: "mm", Optional: true, Fallback: "the plan's"},
		{Name: "joint", Ask: "What each joint adds, as measured on this wing; below zero where it takes", Kind: KindSigned, Unit: "mm", Optional: true, Fallback: "0 mm"},
		{Name: "loop", Ask: "By how much the loop on the link shortens", Kind: KindLength, Unit: "mm", Optional: true, Fallback: "0 mm"},
		{Name: "change", Ask: "Change of one segment; below zero where it gets shorter", Kind: KindSigned, Unit: "mm", Optional: true},
		{Name: "points_above", Ask: "Attachment points above that segment", Kind: KindCount, Optional: true},
		{Name: "points_of_row", Ask: "Attachment points of its row, on one side", Kind: KindCount, Optional: true},
		{Name: "point", Ask: "Attachment point of the plan, such as C7", Kind: KindText, Optional: true, Plan: true},
		{Name: "side", Ask: "Side as the pilot sits", Kind: KindChoice, Options: []string{string(wing.Left), string(wing.Right)}, Optional: true, Plan: true, Fallback: "left"},
		{Name: "code", Ask: "Code of the segment that changes", Kind: KindText, Optional: true, Plan: true},
	},
	do: reckonPath,
}

// pathJSON is a path as --json prints it.
type pathJSON struct {
	Sum    string `json:"sum"`
	Answer bool   `json:"answer"`
	wing.PathSum
	AfterMM *float64      `json:"total_after_mm,omitempty"`
	Change  *wing.Change  `json:"change,omitempty"`
	RowMove *wing.RowMove `json:"row_mean,omitempty"`
}

func reckonPath(r *reader) (Result, error) {
	sum, err := r.path()
	if r.err != nil || err != nil {
		return Result{}, first(r.err, err)
	}
	out := Result{Answer: true, Why: stepLines(sum.Steps())}
	out.Rows = append(out.Rows, Row{"path", mm(sum.TotalMM)}, Row{"riser", mm(sum.RiserMM) + " (" + sum.Source + ")"})
	for _, s := range sum.Segments {
		out.Rows = append(out.Rows, Row{s.Name, mm(s.LengthMM)})
	}
	out.Rows = append(out.Rows, Row{"joints", fmt.Sprintf("%d × %s (%s)", sum.Joints, mm(sum.JointMM), r.own("joint"))}, Row{"loop takes", mm(sum.LoopMM) + " (" + r.own("loop") + ")"})
	value := pathJSON{Sum: "path", Answer: true, PathSum: sum}
	if !r.has("change") {
		for _, name := range []string{"points_above", "points_of_row", "code"} {
			if r.has(name) {
				return Result{}, refuse("change", "give the change of the segment, such as -8 mm", "a value is missing beside %s", name)
			}
		}
		out.JSON = value
		return out, nil
	}
	if err := r.change(&out, &value); err != nil {
		return Result{}, err
	}
	out.JSON = value
	return out, r.err
}

// path adds up the numbers given, or those of the plan.
func (r *reader) path() (wing.PathSum, error) {
	joint, loop := r.signed("joint"), r.length("loop")
	own := r.ownSource()
	if r.has("point") {
		if r.has("segment") || r.has("riser") {
			return wing.PathSum{}, refuse("point", "leave one of them out", "the plan and numbers for the same path were given")
		}
		side := wing.Side(r.choice("side"))
		if side == "" {
			side = wing.Left
		}
		return r.env.Plan.PathSum(r.text("point"), side, joint, loop, own)
	}
	if !r.has("segment") || !r.has("riser") {
		return wing.PathSum{}, refuse("", "give the riser and its segments as numbers, or name a wing and a point", "no path is known")
	}
	terms := wing.PathTerms{Riser: r.length("riser"), Joint: joint, Loop: loop, OwnSource: own}
	for _, s := range r.readings("segment") {
		terms.Segments = append(terms.Segments, s.Value)
	}
	if r.err != nil {
		return wing.PathSum{}, r.err
	}
	return terms.Sum()
}

// own says who gave what the wing's joints or its loop make. Nobody measured
// what is left out, and it counts as nothing.
func (r *reader) own(name string) string {
	if r.has(name) {
		return asGiven
	}
	return "fallback: not measured, counted as 0"
}

func (r *reader) ownSource() string {
	joint, loop := r.own("joint"), r.own("loop")
	if joint == loop {
		return joint
	}
	return "joint: " + joint + "; loop: " + loop
}

// change says what a change of one segment moves.
func (r *reader) change(out *Result, value *pathJSON) error {
	by := r.signed("change")
	if r.err != nil {
		return r.err
	}
	after := value.TotalMM + by.MM()
	value.AfterMM = &after
	out.Rows = append(out.Rows, Row{"after", fmt.Sprintf("%s, as each attachment point above the segment moves by %s", mm(after), signed(by.MM())+" mm")})
	if r.has("code") {
		c, err := r.env.Plan.Change(r.text("code"), by)
		if err != nil {
			return err
		}
		value.Change = &c
		out.Why = append(out.Why, stepLines(c.Steps())...)
		out.Rows = append(out.Rows, Row{"points", fmt.Sprintf("%d above %s: %s", len(c.Points), c.Code, strings.Join(c.Points, " "))})
		for _, m := range c.Rows {
			out.Rows = append(out.Rows, moveRow(m))
		}
		for _, n := range c.Notes {
			out.Rows = append(out.Rows, Row{"note", n})
		}
		return nil
	}
	above, hasAbove := r.count("points_above")
	all, hasAll := r.count("points_of_row")
	switch {
	case !hasAbove && !hasAll:
		return nil
	case !hasAbove || !hasAll:
		return refuse("", "give both, or neither", "points_above and points_of_row belong together")
	}
	m, err := wing.MoveRow(by, above, all)
	if err != nil {
		return err
	}
	value.RowMove = &m
	out.Rows = append(out.Rows, moveRow(m))
	out.Why = append(out.Why, stepLines([]wing.Step{{
		Term:   "mean of the row, this side",
		Value:  fmt.Sprintf("%s × %d / %d = %s", by, above, all, mm(m.MeanMM)),
		Source: "change × points above / points of the row",
	}})...)
	return nil
}

func moveRow(m wing.RowMove) Row {
	return Row{strings.TrimSpace("row " + m.Row), fmt.Sprintf("its mean on this side moves by %s: %d of %d points", signed(m.MeanMM)+" mm", m.PointsAbove, m.PointsOfRow)}
}

// mm prints a number of millimetres that a sum of the wing gives.
func mm(x float64) string {
	l, err := quantity.LengthFromMM(x)
	if err != nil {
		return err.Error()
	}
	return l.String()
}

// first gives the first error of several.
func first(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
