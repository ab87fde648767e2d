package reckon

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"example.org/linewright/engine/wing"
)

var groups = []string{string(wing.Front), string(wing.Rear)}

var strengthSum = Sum{
	ID: "strength", Title: "The least strength of lines",
	Purpose: "How strong must each line be, and may a substitute be fitted?",
	Fields: []Field{
		{Name: "mass", Ask: "Greatest mass in flight", Kind: KindNumber, Unit: "kg", Optional: true, Fallback: "the plan's"},
		{Name: "front", Ask: "A and B lines of both sides without the stabilo, storey by storey from the pilot", Kind: KindCount, Optional: true, Many: true, Fallback: "the plan's"},
		{Name: "rear", Ask: "C, D and E lines likewise", Kind: KindCount, Optional: true, Many: true, Fallback: "none, or the plan's"},
		{Name: "substitute", Ask: "Breaking strength of a line that is to be fitted", Kind: KindForce, Unit: "N", Optional: true},
		{Name: "group", Ask: "Rows where it is to be fitted", Kind: KindChoice, Options: groups, Optional: true},
		{Name: "storey", Ask: "Storey where it is to be fitted, 1 on the link", Kind: KindCount, Optional: true},
		{Name: "line", Ask: "Line of the plan in whose place it goes, as C1.2@left", Kind: KindText, Optional: true, Plan: true},
	},
	do: reckonStrength,
}

// strengthJSON is a strength sum as --json prints it.
type strengthJSON struct {
	Sum    string `json:"sum"`
	Answer bool   `json:"answer"`
	wing.StrengthSum
	Substitute *substituteJSON `json:"substitute,omitempty"`
}

// substituteJSON is a line that is to be fitted.
type substituteJSON struct {
	StrengthN float64              `json:"strength_n"`
	Place     string               `json:"place"`
	Holds     bool                 `json:"holds"`
	Broken    []wing.StrengthBound `json:"broken,omitempty"`
}

func reckonStrength(r *reader) (Result, error) {
	sum, err := r.strength()
	if err != nil {
		return Result{}, err
	}
	value := strengthJSON{Sum: "strength", Answer: true, StrengthSum: sum}
	out := Result{Why: append(stepLines(sum.Steps()), noteLines(sum.Notes)...)}
	if r.has("substitute") {
		row, err := r.substitute(sum, &value)
		if err != nil {
			return Result{}, err
		}
		out.Rows = append(out.Rows, row)
	}
	out.Rows = append(out.Rows, strengthRows(sum)...)
	if weak := slices.ContainsFunc(sum.Storeys, func(s wing.StoreySum) bool { return !s.Holds }); weak {
		value.Answer = false
	}
	out.Answer, out.JSON = value.Answer, value
	return out, r.err
}

// strength counts as a person did, or as the plan has it.
func (r *reader) strength() (wing.StrengthSum, error) {
	if !r.has("mass") && !r.has("front") && !r.has("rear") && r.env.Plan != nil {
		return r.env.Plan.Strength()
	}
	if !r.has("mass") || !r.has("front") {
		return wing.StrengthSum{}, refuse("", "give mass and front, or name a wing whose plan has them", "the mass in flight and the lines counted are not known")
	}
	c := wing.StrengthCounts{MassKG: r.number("mass", "kg"), Front: r.counts("front"), Rear: r.counts("rear")}
	if r.err != nil {
		return wing.StrengthSum{}, r.err
	}
	return c.Sum()
}

// substitute judges a line that is to be fitted: by its place in the plan, or
// by group and storey.
func (r *reader) substitute(sum wing.StrengthSum, value *strengthJSON) (Row, error) {
	strength := r.force("substitute")
	place, err := "", error(nil)
	if r.has("line") {
		ref, _ := r.line("line")
		if r.err != nil {
			return Row{}, r.err
		}
		place, err = ref.String(), r.env.Plan.Substitute(ref, strength)
	} else {
		storey, ok := r.count("storey")
		group := wing.StrengthGroup(r.choice("group"))
		if r.err != nil {
			return Row{}, r.err
		}
		if !ok || group == "" {
			return Row{}, refuse("substitute", "give group and storey, or a line of the plan", "it is not known where the line is to be fitted")
		}
		place, err = fmt.Sprintf("%s, storey %d", group, storey), sum.CheckLine(group, storey, strength)
	}
	var weak *wing.WeakLine
	if err != nil && !errors.As(err, &weak) {
		return Row{}, err
	}
	value.Substitute = &substituteJSON{StrengthN: strength.N(), Place: place, Holds: weak == nil}
	if weak == nil {
		return Row{"substitute", fmt.Sprintf("%s is strong enough for %s", strength, place)}, nil
	}
	value.Answer, value.Substitute.Broken = false, weak.Broken
	no := refusal("", weak)
	return Row{"refused", no.What + "; " + no.Cure}, nil
}

// atLeast prints a least force to the tenth, rounded up: what is shown never
// asks less than the rule.
func atLeast(newtons float64) string { return fewDecimals(math.Ceil(newtons*10-1e-6)/10, 1) + " N" }

func strengthRows(s wing.StrengthSum) []Row {
	var rows []Row
	for _, l := range s.Levels {
		rows = append(rows, Row{fmt.Sprintf("%s storey %d", l.Group, l.Storey), fmt.Sprintf("%d lines, each at least %s: %s", l.Lines, atLeast(l.LeastN), l.Governs)})
	}
	rows = append(rows, Row{"each storey", fmt.Sprintf("together at least %s after bending (EN 926-1, read through a summary)", atLeast(s.LevelSumN))})
	for _, st := range s.Storeys {
		if !st.Holds {
			rows = append(rows, Row{"too weak", fmt.Sprintf("%s, storey %d: %s together, %s asked (%s)", st.Rows, st.Storey, newtons(st.HaveN), atLeast(st.NeedN), st.Rule)})
		}
	}
	if len(s.Storeys) > 0 && len(rows) == len(s.Levels)+1 {
		rows = append(rows, Row{"the plan", "all its storeys hold"})
	}
	for _, n := range s.Notes {
		rows = append(rows, Row{"note", n})
	}
	return append(rows, Row{"counted", s.Source})
}
