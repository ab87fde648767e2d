package procedure

import (
	"fmt"
	"slices"
	"strings"

	"example.org/linewright/engine/wing"
)

// lookedAt lists the kinds of things of each look, in the order of a hand.
var lookedAt = map[string][]string{
	OfCloth: {string(wing.KindCloth), string(wing.KindTab)},
	OfLines: {onSheathed, onBare},
	OfFittings: {
		string(wing.KindRiser), onScrew, onSoft, string(wing.KindRetainer),
		string(wing.KindPulley), string(wing.KindHandle), string(wing.KindKnot), string(wing.KindParking),
	},
}

// inspected prints the table of what a step looks at: one row a thing, or
// blank rows where the wing is not known. The words for what is found stand at
// the first look of its kind only.
func (s *sheet) inspected(sl *Slot) {
	names := make([]string, 6)
	for i := range names {
		names[i] = blank
	}
	if things := sl.Things(); len(things) > 0 {
		names = names[:0]
		for _, ref := range things {
			names = append(names, ref.String())
		}
	}
	kind := rowAnswer
	for _, name := range names {
		s.add(kind, "", fmt.Sprintf("%s: sound %s found %s", name, blank, strings.Repeat("_", 30)))
		kind = rowNote
	}
	switch first := s.firstLook(sl); {
	case lookedAt[sl.Step.Of] == nil:
		s.add(rowNote, "", "Write what is found in the words above.")
	case first != sl:
		s.add(rowNote, "", "Write what is found in the words of no. "+s.no[first.Key]+".")
	default:
		s.add(rowNote, "", "Write what is found in one of these words, with its place. What is not sure is not sound.")
		s.words(sl)
	}
}

// firstLook is the first slot that looks at the same with the same words.
func (s *sheet) firstLook(sl *Slot) *Slot {
	i := slices.IndexFunc(s.u.Slots, func(o *Slot) bool { return o.Step.Of == sl.Step.Of && o.scope.proc == sl.scope.proc })
	return s.u.Slots[i]
}

// words prints the rules of a look, those together that are for the same kinds
// of things.
func (s *sheet) words(sl *Slot) {
	kinds, table := s.kinds(sl), sl.scope.proc.Findings
	byKinds := map[string][]*FindingRule{}
	var heads []string
	for i := range table {
		var on []string
		for _, kind := range kinds {
			if slices.Contains(table[i].On, kind) {
				on = append(on, kind)
			}
		}
		if len(on) == 0 {
			continue
		}
		head := strings.Join(on, ", ")
		if byKinds[head] == nil {
			heads = append(heads, head)
		}
		byKinds[head] = append(byKinds[head], &table[i])
	}
	for _, head := range heads {
		s.add(rowAnswer, "", Capital(head)+":")
		for _, r := range byKinds[head] {
			s.add(rowNote, "", fmt.Sprintf("%s: %s. %s", r.Text.In(s.lang), strings.ToUpper(string(r.Disposition)), r.Reason.In(s.lang)))
		}
	}
}

// kinds lists the kinds of things of a look that the wing has; all where it is
// not known.
func (s *sheet) kinds(sl *Slot) []string {
	all := lookedAt[sl.Step.Of]
	if s.u.plan == nil {
		return all
	}
	has := map[string]bool{}
	for _, o := range s.u.Slots {
		if o.Step.Of == sl.Step.Of {
			for _, ref := range o.Things() {
				has[thingKind(s.u.plan, ref)] = true
			}
		}
	}
	return slices.DeleteFunc(slices.Clone(all), func(kind string) bool { return !has[kind] })
}

// lengths prints one row a path, or blank ones where the wing or the work on it
// is not known.
func (s *sheet) lengths(sl *Slot) {
	points := slices.Repeat([]string{blank}, 6)
	if s.u.plan != nil && sl.Step.Of == OfRow {
		points = points[:0]
		for _, p := range s.u.plan.Paths(wing.Left) {
			if p.Row == sl.Instance.Row {
				points = append(points, p.Point)
			}
		}
	}
	kind := rowAnswer
	for _, point := range points {
		s.add(kind, "", fmt.Sprintf("%s: left %s mm   right %s mm", point, blank, blank))
		kind = rowNote
	}
	if sl.Step.Of == OfChanged {
		s.add(rowNote, "", "Write down each path that the work changed, with its twin on the other side, and one that nobody touched.")
	}
}
