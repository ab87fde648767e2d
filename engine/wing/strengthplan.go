package wing

import (
	"fmt"
	"strings"

	"example.org/linewright/engine/quantity"
)

// StoreySum compares what the lines of one storey bear together by the plan,
// both sides, with one rule.
type StoreySum struct {
	Rows   string  `json:"rows"` // a StrengthGroup, or "all rows"
	Storey int     `json:"storey"`
	HaveN  float64 `json:"have_n"`
	NeedN  float64 `json:"need_n"`
	Above  bool    `json:"above"` // the sum has to be above it, not only at it
	Rule   string  `json:"rule"`
	Holds  bool    `json:"holds"`
}

const allRows = "all rows"

// groupOf gives the group of a row. Stabilo, brakes and rows of other names
// belong to none. A' and the like belong to their letter.
func groupOf(row string) (StrengthGroup, bool) {
	switch strings.TrimRight(row, "'") {
	case "A", "B":
		return Front, true
	case "C", "D", "E":
		return Rear, true
	}
	return "", false
}

// cut is one storey of a group: the lines that a cut through the fan meets
// there, so that a line without a fork counts in every storey it passes.
type cut struct {
	lines int            // of both sides
	have  quantity.Force // of both sides
}

// cuts counts the lines of each group storey by storey from the pilot, and
// names those whose strength the plan does not give.
func (p *Plan) cuts() (front, rear []cut, unknown []string) {
	joints, deepest := make([]int, len(p.Lines)), map[StrengthGroup]int{}
	for i, l := range p.Lines {
		joints[i] = p.Joints(l.Code)
		if group, ok := p.counted(l); ok {
			deepest[group] = max(deepest[group], joints[i]+1)
		}
	}
	all := map[StrengthGroup][]cut{Front: make([]cut, deepest[Front]), Rear: make([]cut, deepest[Rear])}
	for i, l := range p.Lines {
		group, ok := p.counted(l)
		if !ok {
			continue
		}
		last := joints[i]
		if l.Point != "" {
			last = deepest[group] - 1
		}
		strength, known := p.bothSides(l.Code)
		if !known {
			unknown = append(unknown, l.Code)
		}
		for storey := joints[i]; storey <= last; storey++ {
			all[group][storey].lines += len(Sides)
			all[group][storey].have += strength
		}
	}
	return all[Front], all[Rear], unknown
}

// counted says whether the sums count a line, and in which group.
func (p *Plan) counted(l Line) (StrengthGroup, bool) {
	group, ok := groupOf(l.Row)
	if foot, _ := p.Foot(l.Code); foot.Kind == OnHandle {
		return "", false
	}
	return group, ok
}

func (p *Plan) bothSides(code string) (sum quantity.Force, known bool) {
	known = true
	for _, side := range Sides {
		l, _ := p.LineAt(LineRef(code, side))
		sum += l.Strength
		known = known && l.Strength > 0
	}
	return sum, known
}

// Strength applies the rules to the lines of the plan, counted on both sides.
// Where all strengths are known it compares the sums. The error is a *SumError
// where the plan is partial or lacks the greatest mass.
func (p *Plan) Strength() (StrengthSum, error) {
	if p.Partial {
		return StrengthSum{}, refuse("only some lines are in this plan: they cannot be counted", "count the lines on the wing and give the numbers")
	}
	if p.GreatestMassKG == 0 {
		return StrengthSum{}, refuse("the plan has no greatest mass in flight", "give it from the wing's label, with the lines counted")
	}
	front, rear, unknown := p.cuts()
	sum, err := StrengthCounts{p.GreatestMassKG, counts(front), counts(rear), p.Source.Text}.Sum()
	if err != nil {
		return StrengthSum{}, err
	}
	if rows := p.notCounted(); len(rows) > 0 {
		sum.Notes = append(sum.Notes, "rows not counted: "+strings.Join(rows, ", "))
	}
	if len(unknown) > 0 {
		sum.Notes = append(sum.Notes, fmt.Sprintf("the sums cannot be compared: %d lines have no strength in the plan, the first is %s", len(unknown), unknown[0]))
		return sum, nil
	}
	sum.Storeys = append(groupSums(Front, front, sum.FrontKGF), groupSums(Rear, rear, sum.RearKGF)...)
	sum.Storeys = append(sum.Storeys, levelSums(front, rear, sum.LevelSumN)...)
	return sum, nil
}

func (p *Plan) notCounted() []string {
	var rows []string
	for _, row := range p.Rows() {
		if _, ok := groupOf(row); !ok {
			rows = append(rows, row)
		}
	}
	return rows
}

func counts(cuts []cut) []int {
	var n []int
	for _, c := range cuts {
		n = append(n, c.lines)
	}
	return n
}

// groupSums compares each storey of a group with the association rule, and
// each storey beyond the first with the main lines below it.
func groupSums(group StrengthGroup, cuts []cut, leastKGF float64) []StoreySum {
	var sums []StoreySum
	for i, c := range cuts {
		sums = append(sums, storeySum(string(group), i+1, c.have, leastKGF*kgfN, true, sourceAssociation))
		if i > 0 {
			sums = append(sums, storeySum(string(group), i+1, c.have, cuts[0].have.N(), true, "the main lines below; "+sourceAssociation))
		}
	}
	return sums
}

// levelSums compares each level of the whole cascade with EN 926-1. A group
// that has fewer storeys counts with its last one.
func levelSums(front, rear []cut, leastN float64) []StoreySum {
	var sums []StoreySum
	for i := range max(len(front), len(rear)) {
		have := at(front, i).have + at(rear, i).have
		sums = append(sums, storeySum(allRows, i+1, have, leastN, false, sourceEN))
	}
	return sums
}

func at(cuts []cut, i int) cut {
	if len(cuts) == 0 {
		return cut{}
	}
	return cuts[min(i, len(cuts)-1)]
}

func storeySum(rows string, storey int, have quantity.Force, needN float64, above bool, rule string) StoreySum {
	b := StrengthBound{LeastN: needN, Above: above}
	return StoreySum{rows, storey, have.N(), needN, above, rule, b.holds(have)}
}

// Substitute refuses a line that is weaker than the plan's line in its place,
// or than a rule asks there, with a *WeakLine. Rules that the plan is too poor
// for are left out; a line of the plan that has no strength is judged by the
// rules alone. Stabilo and brakes are in no sum: only the plan's own strength
// and what EN 926-1 asks of any line hold for them.
func (p *Plan) Substitute(ref Ref, strength quantity.Force) error {
	l, ok := p.LineAt(ref)
	if !ok {
		return refuse(fmt.Sprintf("there is no line %q in the plan", ref.String()), "correct the code; C1 and c1 are two codes")
	}
	var bounds []StrengthBound
	if l.Strength > 0 {
		bounds = append(bounds, StrengthBound{"the line of the plan", l.Strength.N(), false, p.Source.Text})
	}
	return weak(ref.String(), strength, append(bounds, p.ruleBounds(l)...))
}

func (p *Plan) ruleBounds(l Line) []StrengthBound {
	storey := p.Joints(l.Code) + 1
	if group, counted := p.counted(l); counted {
		if sum, err := p.Strength(); err == nil {
			level := sum.level(group, storey)
			level.Upper = l.Tier == Upper
			return level.bounds()
		}
	}
	foot, _ := p.Foot(l.Code)
	return []StrengthBound{lineFloor(storey == 1 && foot.Kind != OnHandle)}
}

func (s StrengthSum) level(group StrengthGroup, storey int) StrengthLevel {
	for _, l := range s.Levels {
		if l.Group == group && l.Storey == storey {
			return l
		}
	}
	return StrengthLevel{}
}

func (s StoreySum) step() Step {
	word, verdict := "at least", "holds"
	if s.Above {
		word = "above"
	}
	if !s.Holds {
		verdict = "too weak"
	}
	return Step{
		fmt.Sprintf("%s storey %d, all strengths", s.Rows, s.Storey),
		fmt.Sprintf("%s N, %s %s: %s", showNumber(s.HaveN, 1), word, showLeast(s.NeedN), verdict),
		s.Rule,
	}
}
