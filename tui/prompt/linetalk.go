package prompt

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

// LineTalk finds out which line one is from what a person sees of it. It reads
// and prints nothing, so that a command and a walk put the same questions.
type LineTalk struct {
	plan      *wing.Plan
	finder    *wing.Finder
	seen      []wing.Observation
	first     wing.Question // before any answer
	now       wing.Question
	confirmed bool                          // the last answer was one that could have shown a mistake
	known     map[wing.Observation][]string // the answers to what was asked, by the question
}

// LineTalkRule says once how to answer.
const LineTalkRule = "Say what you see, not what you expect. A hyphen alone is: cannot tell."

// cannotTell is typed for an answer that nobody can give.
const cannotTell = "-"

// fewLines is up to how many lines are named one by one.
const fewLines = 8

// manyCounts is up to how many counts are named one by one.
const manyCounts = 4

// NewLineTalk begins; without a side the lines of both are searched.
func NewLineTalk(p *wing.Plan, side wing.Side) *LineTalk {
	t := &LineTalk{plan: p, finder: wing.NewFinder(p, side), known: map[wing.Observation][]string{}}
	t.first = t.finder.Next(nil)
	t.now = t.first
	return t
}

// Question is the one that is due. What it says is left must not be shown while
// it confirms.
func (t *LineTalk) Question() wing.Question { return t.now }

// First is the question before any answer: what was to be expected of the search.
func (t *LineTalk) First() wing.Question { return t.first }

// Seen lists the answers in their order.
func (t *LineTalk) Seen() []wing.Observation { return t.seen }

// Over reports whether nothing more is to be asked.
func (t *LineTalk) Over() bool { return t.now.Feature == "" }

// Found gives the line, once a look has confirmed it or none can.
func (t *LineTalk) Found() (wing.Ref, bool) {
	if t.now.State != wing.FinderFound {
		return wing.Ref{}, false
	}
	return t.now.Left[0], true
}

// Back takes the last answer back.
func (t *LineTalk) Back() {
	if n := len(t.seen); n > 0 {
		t.seen = slices.Clone(t.seen[:n-1])
		t.next()
		t.confirmed = false
	}
}

// Take takes the answer to the question that is due. The error says what is
// accepted, and nothing is taken then.
func (t *LineTalk) Take(text string) error {
	value, err := t.read(strings.TrimSpace(text))
	if err == nil {
		t.Give(value)
	}
	return err
}

// Give takes an answer as the plan writes it, one of Answers; "" is: cannot tell.
func (t *LineTalk) Give(value string) {
	t.confirmed = t.now.State != wing.FinderSearch && value != ""
	o := wing.Observation{Feature: t.now.Feature, Instance: t.now.Instance, Value: value}
	t.known[questionOf(o)] = t.now.Answers
	t.seen = append(slices.Clone(t.seen), o)
	t.next()
}

// TakeBack takes the answers to one question back, whenever they were given.
func (t *LineTalk) TakeBack(o wing.Observation) {
	t.seen = slices.DeleteFunc(slices.Clone(t.seen), func(s wing.Observation) bool { return questionOf(s) == questionOf(o) })
	t.confirmed = false
	t.next()
}

// Answers lists what can be answered to the question that is due, as the plan
// writes it, and reports whether it is a count. A length has none.
func (t *LineTalk) Answers() (list []string, counts bool) { return options(t.now) }

// next finds the question that is due. In a contradiction it is the first answer
// in doubt that nobody stands by yet: who was asked twice is not asked for ever.
func (t *LineTalk) next() {
	t.now = t.finder.Next(t.seen)
	if t.now.State != wing.FinderContradiction {
		return
	}
	first := wing.Observation{Feature: t.now.Feature, Instance: t.now.Instance}
	doubted := slices.Concat(t.now.Doubt.Suspects, t.now.Doubt.Also)
	open := func(o wing.Observation) bool { return !t.standsBy(o) }
	due := slices.IndexFunc(doubted, func(o wing.Observation) bool { return questionOf(o) == questionOf(first) && open(o) })
	if due < 0 {
		due = slices.IndexFunc(doubted, open)
	}
	if due < 0 {
		t.now.Feature, t.now.Answers = "", nil
		return
	}
	o := doubted[due]
	t.now.Feature, t.now.Instance, t.now.Answers = o.Feature, o.Instance, t.known[questionOf(o)]
}

// standsBy reports whether an answer was given twice running to its question.
func (t *LineTalk) standsBy(o wing.Observation) bool {
	var given []string
	for _, s := range t.seen {
		if questionOf(s) == questionOf(o) {
			given = append(given, s.Value)
		}
	}
	n := len(given)
	return n > 1 && given[n-1] == given[n-2]
}

// questionOf is an observation without its answer.
func questionOf(o wing.Observation) wing.Observation {
	o.Value = ""
	return o
}

func (t *LineTalk) read(text string) (string, error) {
	options, counts := options(t.now)
	switch {
	case text == "":
		return "", fmt.Errorf("an empty line is no answer\n  type a hyphen if you cannot tell")
	case text == cannotTell:
		return "", nil
	case isCommand(text):
		return "", fmt.Errorf("%q is no answer here\n  %s. A hyphen alone: cannot tell; :back takes the last answer back",
			text, answers(t.now))
	case t.now.Feature == wing.FeatureLength:
		l, err := quantity.ParseLength(text)
		return l.String(), Cured(err)
	}
	if n, err := strconv.Atoi(text); err == nil && !counts && n >= 1 && n <= len(options) {
		return options[n-1], nil
	}
	for _, o := range options {
		if o == text || t.now.Feature == wing.FeatureColour && strings.EqualFold(o, text) || o == wing.None && text == "0" {
			return o, nil
		}
	}
	return "", fmt.Errorf("no line of the plan shows %q there\n  look again; %s. Or a hyphen if you cannot tell", text, answers(t.now))
}

// options lists the answers that the plan knows of, counts by their size, and
// reports whether they are counts.
func options(q wing.Question) (list []string, counts bool) {
	number := func(text string) int {
		n, err := strconv.Atoi(text)
		if err != nil {
			return 0 // none
		}
		return n
	}
	counts = !slices.ContainsFunc(q.Answers, func(a string) bool {
		_, err := strconv.Atoi(a)
		return err != nil && a != wing.None
	})
	list = slices.Clone(q.Answers)
	slices.SortFunc(list, func(a, b string) int {
		if counts {
			return cmp.Compare(number(a), number(b))
		}
		return cmp.Compare(a, b)
	})
	return list, counts
}

// answers says in one line what can be answered.
func answers(q wing.Question) string {
	if q.Feature == wing.FeatureLength {
		return "wanted: a length in mm (or cm, m, in, ft if you type it)"
	}
	list, counts := options(q)
	for i, o := range list {
		switch {
		case !counts:
			list[i] = strconv.Itoa(i+1) + " " + o
		case o == wing.None:
			list[i] = "0"
		}
	}
	if n := len(list); counts && n > manyCounts && list[n-1] == strconv.Itoa(n) {
		return "wanted: a number from 1 to " + list[n-1]
	}
	return "answers: " + strings.Join(list, ", ")
}
