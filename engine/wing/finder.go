package wing

import (
	"fmt"
	"math"
	"slices"
)

// effort says how hard a feature is to observe with a wing on the ground, in
// units of a look at what is in the hand. It is also how easily it is seen
// wrong: a long count goes astray. Common practice, no source.
var effort = map[Feature]float64{
	FeatureColour: 1, FeatureSheath: 1, // in the hand
	FeatureSide: 1.5, FeatureCarries: 1.5, // a label on the riser; one joint away
	FeatureBranch: 2, FeatureJointsBelow: 2.5, FeatureLength: 3, // follow it down
	FeaturePlaceOnLink: 3, FeaturePlaceFromTip: 3, FeatureForkPlace: 4, // and count there
	FeatureCanopyRow: 4, FeatureJointsAbove: 4, FeatureTabs: 4, // follow it up
	FeatureFirstTab: 8, FeatureLastTab: 8, // and count along the cloth
}

// Effort says how hard a feature is to observe, 1 for a look at what is in the
// hand. It is 0 for what is no feature. Common practice, no source.
func (f Feature) Effort() float64 { return effort[f] }

// FinderState says where the search for a line stands.
type FinderState string

const (
	FinderSearch        FinderState = "search"        // the question narrows the lines still possible
	FinderConfirm       FinderState = "confirm"       // one line is left; the question would show that it is wrong
	FinderFound         FinderState = "found"         // one line is left and a question confirmed it, or none could
	FinderAlike         FinderState = "alike"         // no question is left that tells the lines apart
	FinderContradiction FinderState = "contradiction" // no line fits; the question is the answer to look at again
)

// Question is what to look at next, and what it is worth.
type Question struct {
	State    FinderState `json:"state"`
	Feature  Feature     `json:"feature,omitempty"` // empty where nothing is to be asked
	Instance int         `json:"instance,omitempty"`
	Answers  []string    `json:"answers,omitempty"` // all that the plan knows of; none for a length
	Effort   float64     `json:"effort,omitempty"`

	// Left holds the lines still possible. While confirming it must not be
	// shown to the person who answers.
	Left []Ref `json:"left"`

	// Questions from here to the end of the search, this one counted and the
	// confirming one not, if each is answered: on average over the lines left
	// and at worst. Exact says that no other order needs less effort; else
	// they are those of the best order found by looking ahead, which may be
	// bettered on the way; where a plan knows little, an estimate.
	Expected       float64 `json:"expected_questions"`
	Worst          int     `json:"worst_questions"`
	ExpectedEffort float64 `json:"expected_effort"`
	Exact          bool    `json:"exact"`

	// Bits is the information bound, log2 of the lines left: as many questions
	// would be needed if each had two answers. Bound is log2 of the lines over
	// log2 of the most answers that one question has.
	Bits  float64 `json:"information_bits"`
	Bound float64 `json:"least_questions"`

	Doubt     *Doubt        `json:"doubt,omitempty"`      // of a contradiction
	LookAgain []Observation `json:"look_again,omitempty"` // left unanswered, and would tell the lines apart
}

// Finder finds out which line one is from what is seen of it. It does not
// change and may be used again for another line.
type Finder struct {
	table *table
}

// NewFinder makes a finder for the lines of one side, or for those of both
// sides if side is empty.
func NewFinder(p *Plan, side Side) *Finder {
	sides := Sides
	if side.Other() != "" {
		sides = []Side{side}
	}
	return &Finder{newTable(p, sides)}
}

// Next gives the question that is expected to end the search with the least
// effort, for the answers so far in the order in which they were given. An
// empty value is "cannot tell": it rules nothing out and is not asked again. An
// answer given again takes the place of the earlier one. The same answers give
// the same question.
func (f *Finder) Next(seen []Observation) Question {
	t := f.table
	seen = lastAnswers(seen)
	left := t.fitting(seen)
	q := Question{Left: t.refs(left), Bits: math.Log2(float64(max(1, len(left))))}
	switch {
	case len(left) == 0:
		t.contradiction(&q, seen)
	case len(left) == 1 && t.confirmed(seen):
		q.State = FinderFound
	case len(left) == 1:
		t.confirm(&q, seen, left[0])
	default:
		t.search(&q, seen, left)
	}
	return q
}

// lastAnswers keeps the last answer to each question, in the order given.
func lastAnswers(seen []Observation) []Observation {
	var kept []Observation
	for i, o := range seen {
		again := slices.ContainsFunc(seen[i+1:], func(later Observation) bool { return sameQuestion(o, later) })
		if !again {
			kept = append(kept, o)
		}
	}
	return kept
}

func sameQuestion(a, b Observation) bool {
	return a.Feature == b.Feature && (a.Instance == b.Instance || a.Feature != FeatureForkPlace)
}

// search fills in the question that narrows the lines left.
func (t *table) search(q *Question, seen []Observation, left []int32) {
	s := newSolver(t)
	best := s.solve(left, t.asked(seen))
	if best.question < 0 {
		q.State = FinderAlike
		q.LookAgain = t.unanswered(seen, left)
		return
	}
	q.State = FinderSearch
	t.ask(q, best.question)
	q.Expected, q.Worst, q.ExpectedEffort, q.Exact = best.count, best.worst, best.cost, best.exact
	most := 2
	for i := range t.questions {
		most = max(most, s.distinct(i, left))
	}
	q.Bound = q.Bits / math.Log2(float64(most))
}

func (t *table) ask(q *Question, i int) {
	ask := t.questions[i]
	q.Feature, q.Instance, q.Answers, q.Effort = ask.feature, ask.instance, ask.answers(), ask.effort
}

// unanswered lists the answers "cannot tell" that would tell the lines apart.
func (t *table) unanswered(seen []Observation, left []int32) []Observation {
	s := newSolver(t)
	var again []Observation
	for _, o := range seen {
		if i := t.question(o); o.Value == "" && i >= 0 && s.distinct(i, left) > 1 {
			again = append(again, o)
		}
	}
	return again
}

// Steps says what the question is worth, term by term.
func (q Question) Steps() []Step {
	steps := []Step{{"lines still possible", fmt.Sprint(len(q.Left)), "the plan, against the answers so far"}}
	if q.State != FinderSearch {
		return steps
	}
	how := "the best order found by looking ahead"
	if q.Exact {
		how = "every order tried: none needs less effort"
	}
	return append(steps,
		Step{"information bound", showNumber(q.Bits, 2) + " bits", "log2 of the lines"},
		Step{"least questions", showNumber(q.Bound, 2), "bits / log2 of the most answers that one question has"},
		Step{"effort of this question", showNumber(q.Effort, 2), "1 is a look at what is in the hand; " + practice},
		Step{"expected questions", showNumber(q.Expected, 2), "mean over the lines, " + how},
		Step{"questions at worst", fmt.Sprint(q.Worst), "of the same order"},
		Step{"expected effort", showNumber(q.ExpectedEffort, 2), "of the same order"})
}
