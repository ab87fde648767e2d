package picture

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
)

// looked says that somebody looked at a line and gave an answer.
const looked = Touched | Finding | Damaged | Done

// toLook is said of a line that nobody looked at.
const toLook = "still to look at"

// FanRow is Fan with one row in the foreground, for looking at line after
// line: other rows stand beside it without codes where there is room, and what
// of each row was looked at is counted. The cursor of the walk is the line
// marked InHand; its row comes first. It is nil where the plan has no such row.
func FanRow(plan *wing.Plan, side wing.Side, row string, marked map[string]Mark, w, h int, signs Signs) []string {
	v := newView(plan, side, marked, w, signs)
	if v == nil || h <= 0 {
		return nil
	}
	nodes := v.f.ofRow(row)
	if len(nodes) == 0 {
		return nil
	}
	v.survey, v.first = true, nodes[0].row
	if code := v.only(); code != "" {
		v.first = v.f.byCode[code].row
	}
	return v.draw(h)
}

// tally counts what was looked at: of all rows, or where that needs more than
// a line, of the one in the foreground.
func (v *view) tally() []string {
	parts := []string{"looked at:"}
	for _, row := range v.plan.Rows() {
		seen, all, open := v.count(row)
		text := fmt.Sprintf("%s %d/%d%s", clean(row), seen, all, open)
		if row == v.f.rows[v.first].name {
			text = "[" + text + "]"
		}
		parts = append(parts, text)
	}
	if long := foldParts(parts, "  ", v.w); len(long) == 1 && widest(long) <= v.w {
		return long
	}
	return fold(v.own(), v.w)
}

// own counts what was looked at of the row in the foreground.
func (v *view) own() string {
	seen, all, open := v.count(v.f.rows[v.first].name)
	return fmt.Sprintf("looked at: %d of %d%s", seen, all, open)
}

// counted puts that count behind the head where the tally has no line of its own.
func (v *view) counted(head []string) []string {
	if !v.survey || len(head) == 0 {
		return head
	}
	out := slices.Clone(head)
	last := &out[len(out)-1]
	if with := *last + "   " + v.own(); columns(with) <= v.w {
		*last = with
	}
	return out
}

// count gives how many lines of a row were looked at, how many it has, and the
// gravest sign of what was found on them.
func (v *view) count(row string) (seen, all int, open string) {
	found := Mark(0)
	for _, ref := range v.plan.LineThings(row, v.side) {
		m := v.marked[ref.Code]
		all++
		if m&looked != 0 {
			seen++
		}
		found |= m & (Damaged | Finding)
	}
	return seen, all, signOf(found)
}

// RowFacts says in words what FanRow shows: the lines of the row in the order
// of the walk, tier by tier from the centre, with their marks; how many were
// looked at; and where the line in hand hangs.
func RowFacts(plan *wing.Plan, side wing.Side, row string, marked map[string]Mark) []string {
	if plan == nil || side.Other() == "" {
		return nil
	}
	f := forestOf(plan)
	nodes := f.ofRow(row)
	if len(nodes) == 0 {
		return nil
	}
	out := []string{fmt.Sprintf("Row %s of the %s side, each tier from the centre.", clean(row), side)}
	for _, tier := range wing.Tiers {
		if runs := markRuns(nodes, tier, marked); len(runs) > 0 {
			out = append(out, procedure.Capital(string(tier))+": "+strings.Join(runs, "; ")+".")
		}
	}
	seen, inHand := 0, []string(nil)
	for _, n := range nodes {
		m := marked[n.line.Code]
		if m&looked != 0 {
			seen++
		}
		if m&InHand != 0 {
			inHand = append(inHand, f.lineFact(plan, n, side))
		}
	}
	out = append(out, fmt.Sprintf("Looked at: %d of %d.", seen, len(nodes)))
	return append(out, inHand...)
}

// markRuns names the lines of a tier, those side by side with the same marks
// together.
func markRuns(nodes []*node, tier wing.Tier, marked map[string]Mark) []string {
	var runs []string
	last := ""
	for _, n := range nodes {
		if n.line.Tier != tier {
			continue
		}
		switch words := markWords(marked[n.line.Code]); {
		case last != words:
			runs = append(runs, n.code+words)
			last = words
		default:
			at := len(runs) - 1
			runs[at] = strings.TrimSuffix(runs[at], words) + ", " + n.code + words
		}
	}
	return runs
}

// markWords says behind a code what is marked of it.
func markWords(m Mark) string {
	var words []string
	for _, s := range markSigns {
		if m&s.mark != 0 {
			words = append(words, s.word)
		}
	}
	if m&looked == 0 {
		words = append(words, toLook)
	}
	return " (" + strings.Join(words, ", ") + ")"
}

// Where finds the line in hand in a drawn fan: the column and the line of text
// in which its code begins, or what a table of the row leaves of it, for the
// terminal's own cursor.
func Where(lines []string, code string) (x, y int, ok bool) {
	code = clean(code)
	for _, text := range []string{code, code[strings.LastIndex(code, ".")+1:]} {
		label := regexp.MustCompile(regexp.QuoteMeta("["+text) + "[" + regexp.QuoteMeta(allSigns) + "]*]")
		for y := len(lines) - 1; y >= 0; y-- {
			if at := label.FindStringIndex(lines[y]); at != nil {
				return columns(lines[y][:at[0]]) + 1, y, true
			}
		}
	}
	return 0, 0, false
}
