package procedure

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// numbers gives the rules of a table without numbers their places in it.
func (p *Procedure) numbers() {
	if slices.ContainsFunc(p.Findings, func(r FindingRule) bool { return r.Number != 0 }) {
		return
	}
	for i := range p.Findings {
		p.Findings[i].Number = i + 1
	}
}

// numbered checks that a number says one thing of each kind of thing.
func (c *checker) numbered(at int) {
	r, key := &c.p.Findings[at], fmt.Sprintf("finding[%d].number", at)
	if r.Number < 1 || r.Number > mostNumber {
		c.add(key, fmt.Sprintf("%d chooses no finding", r.Number), fmt.Sprintf("write a number from 1 to %d at each finding, or at none", mostNumber))
		return
	}
	for i := range c.p.Findings[:at] {
		o := &c.p.Findings[i]
		if o.Number == r.Number && slices.ContainsFunc(r.On, func(on string) bool { return slices.Contains(o.On, on) }) {
			c.add(key, fmt.Sprintf("%d chooses %q too, on the same kind of thing", r.Number, o.ID), "give one of the two another number")
		}
	}
}

// mostNumber is the highest number of a finding: two digits.
const mostNumber = 99

// RuleNamed finds what a person chose among the rules of a thing: by its number
// or its id.
func RuleNamed(rules []*FindingRule, text string) (*FindingRule, bool) {
	n, err := strconv.Atoi(text)
	i := slices.IndexFunc(rules, func(r *FindingRule) bool { return r.ID == text || err == nil && r.Number == n })
	if i < 0 {
		return nil, false
	}
	return rules[i], true
}

// RuleNumbers lists the numbers that choose rules, those that follow one another
// together: "1 to 4, 10, 12".
func RuleNumbers(rules []*FindingRule) string {
	var runs []string
	for from := 0; from < len(rules); {
		to := from
		for to+1 < len(rules) && rules[to+1].Number == rules[to].Number+1 {
			to++
		}
		first, last := strconv.Itoa(rules[from].Number), strconv.Itoa(rules[to].Number)
		switch to - from {
		case 0:
			runs = append(runs, first)
		case 1:
			runs = append(runs, first, last)
		default:
			runs = append(runs, first+" to "+last)
		}
		from = to + 1
	}
	return strings.Join(runs, ", ")
}
