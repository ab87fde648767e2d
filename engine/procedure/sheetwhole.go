package procedure

import (
	"fmt"
	"slices"
	"strings"

	"example.org/linewright/engine/wing"
)

// inspected prints the table of what a step looks at: one row a thing, or
// blank rows where the wing is not known.
func (s *sheet) inspected(sl *Slot) {
	things := sl.Things()
	for _, ref := range things {
		s.add(rowAnswer, "", fmt.Sprintf("%s: sound %s   found %s", ref, blank, strings.Repeat("_", 30)))
	}
	if len(things) == 0 {
		for range 6 {
			s.add(rowAnswer, "", fmt.Sprintf("%s: sound %s   found %s", blank, blank, strings.Repeat("_", 30)))
		}
	}
	s.add(rowNote, "", "Write what is found by one of these words; what is not sure is not sound.")
	for _, r := range sl.rulesFor(things) {
		s.add(rowNote, "", fmt.Sprintf("%s: %s (%s).", r.Text.In(s.lang), r.Disposition, r.Reason.In(s.lang)))
	}
}

// rulesFor lists the rules that can be needed, each once; all where nothing is
// known of the things.
func (sl *Slot) rulesFor(things []wing.Ref) []*FindingRule {
	var out []*FindingRule
	table := sl.scope.proc.Findings
	for i := range table {
		if len(things) == 0 {
			out = append(out, &table[i])
		}
		for _, ref := range things {
			if slices.Contains(table[i].On, thingKind(sl.scope.whole.plan, ref)) {
				out = append(out, &table[i])
				break
			}
		}
	}
	return out
}

// lengths prints one row a path.
func (s *sheet) lengths(sl *Slot) {
	rows := 0
	if plan := s.u.plan; plan != nil && sl.Step.Of == OfRow {
		for _, p := range plan.Paths(wing.Left) {
			if p.Row == sl.Instance.Row {
				s.add(rowAnswer, "", fmt.Sprintf("%s: left %s mm   right %s mm", p.Point, blank, blank))
				rows++
			}
		}
	}
	for ; rows < 6; rows++ {
		s.add(rowAnswer, "", fmt.Sprintf("%s: left %s mm   right %s mm", blank, blank, blank))
	}
}
