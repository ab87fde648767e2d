package procedure

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// field prints one step: what is asked, what it is held against, the blank.
func (s *sheet) field(sl *Slot) {
	st := sl.Step
	ask := s.say(sl, st.Ask)
	if st.Kind == Sign {
		ask = s.say(sl, st.States)
	}
	s.add(rowField, s.no[sl.Key], ask)
	for _, g := range sl.whens {
		if g.of(st) {
			s.only(rowNote, sl, g)
		}
	}
	switch st.Kind {
	case Do:
		s.add(rowAnswer, "", "Done at "+blank)
	case Measure:
		s.measured(sl)
	case Choose, Check:
		s.options(sl)
	case Count:
		s.add(rowAnswer, "", blank+" "+unitOf(st.Quantity))
	case Order:
		s.add(rowAnswer, "", strings.TrimSpace(strings.Repeat(blank+"  ", s.lines())))
	case Sign:
		s.sign(sl)
	case Inspect:
		s.inspected(sl)
	case Lengths:
		s.lengths(sl)
	default:
		s.add(rowAnswer, "", strings.Repeat("_", 30))
	}
	if st.SameAs != "" {
		s.add(rowNote, "", "Answer first, then compare with "+s.named(sl, st.SameAs)+": it has to be the same, capital and small letters too.")
	}
	if !st.Else.Empty() {
		s.add(rowNote, "", "If wrong: "+s.say(sl, st.Else))
	}
}

// named refers to an earlier answer, or gives what the plan says. A let that
// chooses between answers refers to the one that stands on this sheet.
func (s *sheet) named(sl *Slot, name string) string {
	if r, ok := sl.scope.proc.resolve(name, sl.Instance.Each); ok && r.kind == nameLet {
		for _, n := range r.let.expr.reads() {
			if key, ok := sl.scope.keyOf(n, sl.Instance); ok && s.no[key] != "" {
				return "(no. " + s.no[key] + ")"
			}
		}
	}
	return sl.fillSheet(s, "{"+name+"}")
}

// lines is how many codes an order has.
func (s *sheet) lines() int {
	if n, ok := s.u.Facts["link.lines"].(float64); ok && n > 0 {
		return int(n)
	}
	return 6
}

func (s *sheet) measured(sl *Slot) {
	st := sl.Step
	unit := unitOf(st.Quantity)
	blanks := make([]string, max(1, st.Readings))
	for i := range blanks {
		blanks[i] = fmt.Sprintf("reading %d %s %s", i+1, blank, unit)
	}
	s.add(rowAnswer, "", strings.Join(blanks, "   "))
	if st.SpreadMM > 0 {
		s.add(rowNote, "", "Readings more than "+Print(st.SpreadMM)+" mm apart: one more.")
	}
	if st.expect != nil {
		s.add(rowNote, "", fmt.Sprintf("Expected: %s %s (%s).", s.value(sl, st.expect), unit, sl.fillSheet(s, st.Source)))
	}
	if st.Against != "" {
		s.add(rowNote, "", "Difference from "+s.named(sl, st.Against)+": "+blank+" "+unit+", plus is long.")
	}
	if st.limit != nil {
		s.add(rowNote, "", fmt.Sprintf("Limit: %s %s either way (%s).", s.value(sl, st.limit), unit, sl.fillSheet(s, st.LimitOf)))
	}
}

// value prints a number that rests on facts alone; any other is a blank.
func (s *sheet) value(sl *Slot, e *Expr) string {
	look := func(name string) (any, bool) {
		if beyond[name] {
			return sl.scope.unasked(name)
		}
		return sl.scope.factLook(name)
	}
	for _, n := range e.reads() {
		if _, known := look(n); !known {
			return blank
		}
	}
	v, err := e.eval(look)
	if err != nil {
		return blank
	}
	return Print(v)
}

func (s *sheet) options(sl *Slot) {
	var right []string
	for i, o := range sl.Offered(noAnswers{}) {
		text := s.say(sl, o.Text)
		if !o.Stop.Empty() {
			text += ". STOP: " + s.say(sl, o.Stop)
		}
		if !o.Open.Empty() {
			text += ". Stays open: " + s.say(sl, o.Open)
		}
		s.add(rowOption, strconv.Itoa(i+1), text)
		if o.Right {
			right = append(right, strconv.Itoa(i+1))
		}
	}
	answer := "Number " + blank
	if slices.ContainsFunc(sl.Step.Options, func(o Option) bool { return o.Reason }) {
		answer += "   in words " + strings.Repeat("_", 30)
	}
	s.add(rowAnswer, "", answer)
	if len(right) > 0 {
		s.add(rowNote, "", "Right: "+strings.Join(right, " or ")+".")
	}
}

func (s *sheet) sign(sl *Slot) {
	who := "Doer"
	switch sl.Step.Role {
	case Second:
		who = "Second person"
		s.add(rowNote, "", "STOP. Nothing behind this begins until someone other than the doer has signed.")
	case Pilot:
		who = "Pilot"
	}
	s.add(rowAnswer, "", who+", name "+strings.Repeat("_", 26)+"  date "+strings.Repeat("_", 12))
	s.add(rowAnswer, "", "Signature "+strings.Repeat("_", 40))
	if key, ok := sl.KeyOf(sl.Step.Covers); ok && sl.Step.Role == Second {
		s.add(rowNote, "", "Not agreed: write why; the work from no. "+s.no[key]+" on is done again.")
	}
}

// unitOf names the unit of a quantity as expressions count it.
func unitOf(quantity string) string {
	return map[string]string{"length": "mm", "force": "N", "torque": "N·m", "turns": "turns"}[quantity]
}
