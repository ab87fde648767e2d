package job

import (
	"fmt"
	"strings"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
)

// PictureSides is the picture of a card that has a table and names no other.
const PictureSides = "sides"

// SidesRow is one value of both sides, beside each other, in words without the
// unit: lengths are in mm. What is not read yet is "".
type SidesRow struct {
	Name              string
	Plain             bool // a number without a unit
	Left, Right, Diff string
	Plan, Least       string
	Limit             string // how far left and right may lie apart, or either from Plan
	LeastOf, LimitOf  string // who gives them, where it is not the wing's papers
}

// seesSides gives a card its table.
func (c *Card) seesSides(rows []SidesRow) {
	if c.Sides = rows; len(rows) > 0 && c.Picture == "" {
		c.Picture = PictureSides
	}
}

// sides gives the table of a card, without the rows of which nothing is read.
func (t *Task) sides(slot *procedure.Slot) []SidesRow {
	var out []SidesRow
	for _, r := range slot.TableSeen(t) {
		if len(r.Sides) == 0 {
			continue
		}
		row := SidesRow{Name: r.Name.In("en"), Plain: r.Plain, Plan: printed(r.Plan), Least: printed(r.Least), Limit: printed(r.Limit)}
		row.LeastOf, row.LimitOf = assumed(r.LeastOf), assumed(r.LimitOf)
		left, hasLeft := r.Sides[wing.Left]
		right, hasRight := r.Sides[wing.Right]
		if hasLeft {
			row.Left = procedure.Print(left)
		}
		if hasRight {
			row.Right = procedure.Print(right)
		}
		if hasLeft && hasRight && !r.Plain {
			row.Diff = procedure.Print(left - right)
		}
		out = append(out, row)
	}
	return out
}

// assumed gives the source of a number that the wing's papers do not give.
func assumed(source string) string {
	if !strings.HasPrefix(source, "fallback") {
		return ""
	}
	return source
}

func printed(v *float64) string {
	if v == nil {
		return ""
	}
	return procedure.Print(*v)
}

// Words says a row in one sentence: "Tail found: left 41 mm, right 40 mm, left
// less right 1 mm; at least 50 mm."
func (r SidesRow) Words() string {
	unit := " mm"
	if r.Plain {
		unit = ""
	}
	said := func(name, value string) string {
		if value == "" {
			return name + " not read yet"
		}
		return name + " " + value + unit
	}
	parts := []string{said("left", r.Left), said("right", r.Right)}
	if r.Diff != "" {
		parts = append(parts, said("left less right", r.Diff))
	}
	text := fmt.Sprintf("%s: %s", procedure.Capital(r.Name), strings.Join(parts, ", "))
	for _, held := range [][3]string{{"plan", r.Plan}, {"at least", r.Least, r.LeastOf}, {"limit", r.Limit, r.LimitOf}} {
		if held[1] != "" {
			text += "; " + held[0] + " " + held[1] + unit
		}
		if held[2] != "" {
			text += " (" + held[2] + ")"
		}
	}
	return text + "."
}
