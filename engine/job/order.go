package job

import (
	"slices"
	"strings"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
)

// SeenFrom says from which side a link was seen when its order was read. It is
// asked for where the order is a full mirror of what it is held against.
type SeenFrom string

// The sides. The first two stand in journals.
const (
	SeenAsAsked   SeenFrom = "as asked"   // the first is nearest the centre: the lines lie so
	SeenOtherSide SeenFrom = "other side" // the first is nearest the tip: the order is turned round
	SeenUnknown   SeenFrom = "unknown"
)

// order decides the codes of all lines on a link, centre first.
func (d *decider) order(text string) error {
	codes, err := ReadCodes(text, d.lineCodes())
	if err != nil {
		return err
	}
	d.ev.Codes = codes
	if d.slot.Step.SameAs == "" {
		return nil
	}
	v, ok := d.slot.Value(d.slot.Step.SameAs, d.task)
	first, isList := v.([]string)
	if !ok || !isList {
		return refuse(Fault, d.slot.Key, d.slot.Step.SameAs)
	}
	check := wing.CheckOrder(first, codes)
	switch {
	case check.Right():
		return nil
	case check.Mirrored:
		return d.mirrored(check)
	}
	return d.crossed(check)
}

// mirrored decides an order that is exactly the other way round. Two lines that
// changed places are no exception: seen from the other side they look the same.
func (d *decider) mirrored(check wing.OrderCheck) error {
	if d.preview && d.en.SeenFrom == "" {
		return nil // while it is typed it says nothing yet about the order
	}
	switch d.en.SeenFrom {
	case SeenAsAsked:
		d.ev.SeenFrom = SeenAsAsked
		return d.crossed(check)
	case SeenOtherSide:
		d.ev.SeenFrom = SeenOtherSide
		slices.Reverse(d.ev.Codes)
		return nil
	case SeenUnknown:
		return refuse(OrderNoSide)
	}
	return refuse(OrderMirrored)
}

// crossed notes every crossed pair and the fewest lines that mend it.
func (d *decider) crossed(check wing.OrderCheck) error {
	if d.slot.Step.SameAs == planOrder { // as found: nothing was moved yet
		return d.noteElse(OrderOffPlan, pairs(check.Crossed), moves(check.Moves))
	}
	return d.noteElse(OrderCrossed, pairs(check.Crossed), moves(check.Moves))
}

// Misread is an order that was judged and is not right, beside the one that it
// has to be, both from the centre. Before an order is judged nothing is shown.
type Misread struct {
	Read   []string
	Right  []string
	ByPlan bool // the right one is known by the plan alone
}

// misread gives what was read last at an order that is still open.
func (t *Task) misread(s *procedure.Slot, a *Answer) *Misread {
	if a.State != Partial || a.Event == nil || a.Event.Why == nil || len(a.Event.Codes) == 0 {
		return nil
	}
	v, _ := s.Value(s.Step.SameAs, t)
	right, ok := v.([]string)
	if !ok {
		return nil
	}
	return &Misread{Read: a.Event.Codes, Right: right, ByPlan: s.Step.SameAs == planOrder}
}

// planOrder is the fact that holds the order of a link by the plan.
const planOrder = "link.order"

// moves says the fewest lines that have to be put elsewhere.
func moves(list []wing.OrderMove) string {
	codes := make([]string, len(list))
	for i, m := range list {
		codes[i] = m.Code
	}
	return strings.Join(codes, ", ")
}

func pairs(crossed [][2]string) string {
	all := make([]string, len(crossed))
	for i, p := range crossed {
		all[i] = p[0] + " with " + p[1]
	}
	return strings.Join(all, ", ")
}

// lineCodes lists the codes on the task's link, from the centre.
func (d *decider) lineCodes() []string {
	codes, _ := d.task.Unfolded.Facts["link.codes"].(string)
	return strings.Fields(codes)
}

// ReadCodes reads codes that must each stand once among those on the link. A
// code may be shortened to what follows its last dot where that tells it from
// all others. Case counts.
func ReadCodes(text string, all []string) ([]string, error) {
	words := strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' || r == ';' })
	var out []string
	for _, w := range words {
		code, err := readCode(w, all)
		if err != nil {
			return nil, err
		}
		if slices.Contains(out, code) {
			return nil, refuse(OrderTwice, code)
		}
		out = append(out, code)
	}
	if len(out) != len(all) {
		return nil, refuse(OrderIncomplete, len(out), len(all))
	}
	return out, nil
}

func readCode(word string, all []string) (string, error) {
	if slices.Contains(all, word) {
		return word, nil
	}
	var fits []string
	for _, c := range all {
		if c[strings.LastIndex(c, ".")+1:] == word {
			fits = append(fits, c)
		}
	}
	switch len(fits) {
	case 1:
		return fits[0], nil
	case 0:
		return "", refuse(CodeUnknown, word, strings.Join(sorted(all), ", "))
	}
	return "", refuse(CodeAmbiguous, word, strings.Join(fits, ", "))
}

// sorted hides the order in which codes hang: it would be the answer.
func sorted(codes []string) []string {
	out := slices.Clone(codes)
	slices.Sort(out)
	return out
}
