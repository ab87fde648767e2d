package wing

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"example.org/linewright/engine/quantity"
)

// maxForks is the greatest number of joints whose places are asked for. No
// wing has so many storeys; a hostile plan may.
const maxForks = 8

// unknown is the value of a feature that the plan does not know.
const unknown = int32(-1)

// table holds what is to be seen of each line, so that no question has to walk
// the cascade. Lines are numbered from the shortest to the longest, so that any
// set in this order lies in the order of length.
type table struct {
	lines     []Ref
	order     []int32 // of a line in the plan, left before right
	length    []quantity.Length
	questions []ask
}

// ask is one question and its value for each line: a number into values.
type ask struct {
	feature  Feature
	instance int
	effort   float64
	values   []string
	of       []int32 // by line; nil for a length
}

func newTable(p *Plan, sides []Side) *table {
	t := &table{}
	for _, side := range sides {
		for _, l := range p.Lines {
			t.lines = append(t.lines, LineRef(l.Code, side))
		}
	}
	lengths := make([]quantity.Length, len(t.lines))
	byLength := make([]int32, len(t.lines))
	for i, ref := range t.lines {
		l, _ := p.LineAt(ref)
		lengths[i], byLength[i] = l.Length, int32(i)
	}
	slices.SortStableFunc(byLength, func(a, b int32) int { return cmp.Compare(lengths[a], lengths[b]) })
	refs := make([]Ref, len(t.lines))
	for n, i := range byLength {
		refs[n] = t.lines[i]
		t.length = append(t.length, lengths[i])
	}
	t.lines, t.order = refs, byLength
	forks := 0
	for _, l := range p.Lines {
		forks = max(forks, p.Joints(l.Code))
	}
	for _, f := range Features {
		first, last := 0, 0
		if f == FeatureForkPlace {
			first, last = 1, min(forks, maxForks)
		}
		for instance := first; instance <= last; instance++ {
			t.add(p, f, instance)
		}
	}
	return t
}

// add fills in one question. What both sides have in common is looked up once.
func (t *table) add(p *Plan, f Feature, instance int) {
	q := ask{feature: f, instance: instance, effort: f.Effort()}
	if f == FeatureLength {
		t.questions = append(t.questions, q)
		return
	}
	q.of = make([]int32, len(t.lines))
	known := map[string]int32{}
	twins := map[string]int32{}
	ownSide := f == FeatureSide || f == FeatureColour || f == FeatureSheath
	for i, ref := range t.lines {
		v, done := twins[ref.Code]
		if !done || ownSide {
			text, ok := p.Feature(ref, f, instance)
			v = q.number(known, text, ok)
			twins[ref.Code] = v
		}
		q.of[i] = v
	}
	t.questions = append(t.questions, q)
}

// number gives the number of a value; colours are the same in any case.
func (q *ask) number(known map[string]int32, text string, ok bool) int32 {
	if !ok {
		return unknown
	}
	if v, done := known[text]; done {
		return v
	}
	v := q.value(text)
	if v == unknown {
		v = int32(len(q.values))
		q.values = append(q.values, text)
	}
	known[text] = v
	return v
}

// value finds the number of a value, or unknown.
func (q *ask) value(text string) int32 {
	return int32(slices.IndexFunc(q.values, func(have string) bool {
		return have == text || q.feature == FeatureColour && strings.EqualFold(have, text)
	}))
}

// answers lists all values, numbers first and in their order.
func (q *ask) answers() []string {
	number := func(text string) int {
		if n, err := strconv.Atoi(text); err == nil {
			return n
		}
		return 1 << 30
	}
	return slices.SortedFunc(slices.Values(q.values), func(a, b string) int {
		return cmp.Or(cmp.Compare(number(a), number(b)), cmp.Compare(a, b))
	})
}

// question finds the question that an observation answers, or -1.
func (t *table) question(o Observation) int {
	return slices.IndexFunc(t.questions, func(q ask) bool { return sameQuestion(o, Observation{q.feature, q.instance, ""}) })
}

// asked marks the questions that were answered or left open.
func (t *table) asked(seen []Observation) uint64 {
	var mask uint64
	for _, o := range seen {
		if i := t.question(o); i >= 0 {
			mask |= 1 << i
		}
	}
	return mask
}

// test makes ready to compare lines with one observation: it says of a line
// whether the observation rules it out.
func (t *table) test(o Observation) func(line int32) bool {
	never := func(int32) bool { return false }
	i := t.question(o)
	if i < 0 || o.Value == "" {
		return never
	}
	q := &t.questions[i]
	if q.of == nil {
		seen, err := quantity.ParseLength(o.Value)
		if err != nil {
			return never
		}
		return func(line int32) bool {
			l := t.length[line]
			return l > 0 && (seen-l).Abs() > RoughLength(l)
		}
	}
	v := q.value(o.Value)
	return func(line int32) bool { return q.of[line] != unknown && q.of[line] != v }
}

// fitting lists the lines that no observation rules out.
func (t *table) fitting(seen []Observation) []int32 {
	out := make([]bool, len(t.lines))
	for _, o := range seen {
		rulesOut := t.test(o)
		for i := range out {
			out[i] = out[i] || rulesOut(int32(i))
		}
	}
	var left []int32
	for i := range out {
		if !out[i] {
			left = append(left, int32(i))
		}
	}
	return left
}

// refs names lines in the order of the plan, left before right.
func (t *table) refs(lines []int32) []Ref {
	sorted := slices.SortedFunc(slices.Values(lines), func(a, b int32) int { return cmp.Compare(t.order[a], t.order[b]) })
	refs := make([]Ref, len(sorted))
	for i, n := range sorted {
		refs[i] = t.lines[n]
	}
	return refs
}
