package wing

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"
)

func said(seen []Observation) string {
	var b strings.Builder
	for _, o := range seen {
		fmt.Fprintf(&b, "%s %d %s; ", o.Feature, o.Instance, o.Value)
	}
	return b.String()
}

// C1.2 with one answer wrong: no D line is blue, so colour or branch is wrong,
// and the riser is harder to be sure of than a colour in the hand.
func TestContradictionNamesTheLikelierAnswer(t *testing.T) {
	f := NewFinder(sample(t), Left)
	q := f.Next([]Observation{{FeatureColour, 0, "blue"}, {FeatureJointsBelow, 0, "0"}, {FeatureBranch, 0, "D"}, {FeatureSheath, 0, ""}})
	equal(t, "state", q.State, FinderContradiction)
	equal(t, "left", len(q.Left), 0)
	equal(t, "suspects", said(q.Doubt.Suspects), "branch 0 D; ")
	equal(t, "also", said(q.Doubt.Also), "colour 0 blue; ")
	equal(t, "lines without it", fmt.Sprint(q.Doubt.Left), "[C1.1 left C1.2 left C1.3 left]")
	equal(t, "asked again", q.Feature, FeatureBranch)
	again := f.Next([]Observation{{FeatureColour, 0, "blue"}, {FeatureJointsBelow, 0, "0"}, {FeatureBranch, 0, "D"}, {FeatureBranch, 0, "C"}})
	equal(t, "answered again", fmt.Sprint(string(again.State), " ", again.Left), "search [C1.1 left C1.2 left C1.3 left]")
}

// Two answers that no line can have together with a third are both named.
func TestContradictionOfTwoAnswers(t *testing.T) {
	f := NewFinder(sample(t), Left)
	q := f.Next([]Observation{{FeatureColour, 0, "green"}, {FeatureJointsBelow, 0, "7"}, {FeatureCarries, 0, "9"}})
	equal(t, "suspects", said(q.Doubt.Suspects), "joints_below 0 7; carries 0 9; ")
	equal(t, "also", said(q.Doubt.Also), "")
	equal(t, "lines", len(q.Doubt.Left), 14)
	equal(t, "asked again", q.Feature, FeatureJointsBelow)
	data, err := json.Marshal(q.Doubt.Suspects)
	equal(t, "json error", err, nil)
	equal(t, "json", string(data), `[{"feature":"joints_below","value":"7"},{"feature":"carries","value":"9"}]`)
}

// One wrong answer in a search that is else true: it is among those named, and
// without the suspects the true line, if it is the suspect, is left.
func TestContradictionHoldsTheWrongAnswer(t *testing.T) {
	p := sample(t)
	f := NewFinder(p, "")
	next := remembering(f)
	rnd := rand.New(rand.NewPCG(4, 4))
	named, found := 0, 0
	for range 400 {
		ref := LineRef(p.Lines[rnd.IntN(len(p.Lines))].Code, Sides[rnd.IntN(2)])
		seen, q := search(t, next, p, ref)
		seen = append(seen, truth(t, p, ref, q))
		wrong := rnd.IntN(len(seen))
		ask := f.table.questions[f.table.question(seen[wrong])]
		if len(ask.values) == 0 {
			continue
		}
		seen[wrong].Value = ask.values[rnd.IntN(len(ask.values))]
		q = f.Next(seen)
		if q.State != FinderContradiction {
			continue
		}
		named++
		if slices.Contains(q.Doubt.Suspects, seen[wrong]) {
			found++
			if len(q.Doubt.Suspects) == 1 && !slices.Contains(q.Doubt.Left, ref) {
				t.Fatalf("%s: lost after %s", ref, said(seen))
			}
		} else if len(q.Doubt.Suspects) == 1 && !slices.Contains(q.Doubt.Also, seen[wrong]) {
			t.Fatalf("%s: %s is not named: %s", ref, said(seen[wrong:wrong+1]), said(seen))
		}
	}
	if named < 150 || found*2 < named {
		t.Errorf("%d contradictions, the wrong answer first in %d", named, found)
	}
}

// A person who cannot tell is asked something else, and what was left open is
// named where it would have told the lines apart.
func TestCannotTell(t *testing.T) {
	p := sample(t)
	f := NewFinder(p, Left)
	ref := LineRef("C3.6", Left)
	var seen []Observation
	for q := f.Next(nil); q.State == FinderSearch; q = f.Next(seen) {
		if slices.ContainsFunc(seen, func(o Observation) bool { return o.Feature == q.Feature && o.Instance == q.Instance }) {
			t.Fatalf("%s is asked twice", q.Feature)
		}
		o := truth(t, p, ref, q)
		if q.Feature != FeatureColour && q.Feature != FeatureJointsBelow {
			o.Value = ""
		}
		seen = append(seen, o)
	}
	q := f.Next(seen)
	equal(t, "state", q.State, FinderAlike)
	equal(t, "feature", q.Feature, "")
	equal(t, "lines", len(q.Left), 12)
	var again []string
	for _, o := range q.LookAgain {
		again = append(again, string(o.Feature))
	}
	slices.Sort(again)
	equal(t, "look again", strings.Join(slices.Compact(again), " "), "first_tab fork_place last_tab place_from_tip place_on_link")
}

// A line of which one cannot tell anything more is found without confirmation.
func TestNothingLeftToConfirm(t *testing.T) {
	f := NewFinder(sample(t), Left)
	seen := []Observation{{FeatureCanopyRow, 0, "C"}, {FeatureFirstTab, 0, "5"}, {FeatureJointsAbove, 0, "2"}}
	confirming := f.Next(seen)
	equal(t, "confirm", confirming.State, FinderConfirm)
	equal(t, "from the other end", confirming.Feature.end(), "riser")
	for n := 0; confirming.State == FinderConfirm; n++ {
		if n > 20 {
			t.Fatal("no end")
		}
		seen = append(seen, Observation{confirming.Feature, confirming.Instance, ""})
		confirming = f.Next(seen)
	}
	equal(t, "state", confirming.State, FinderFound)
	equal(t, "line", fmt.Sprint(confirming.Left), "[C1.2 left]")
}

// The answer that makes one line of several does not confirm itself, nor does
// one that every line shares.
func TestWhatConfirms(t *testing.T) {
	f := NewFinder(sample(t), Left)
	seen := []Observation{{FeatureCanopyRow, 0, "C"}, {FeatureFirstTab, 0, "5"}, {FeatureJointsAbove, 0, "2"}}
	for _, c := range []struct {
		more Observation
		want FinderState
	}{
		{Observation{FeatureSide, 0, "left"}, FinderConfirm},
		{Observation{FeatureColour, 0, ""}, FinderConfirm},
		{Observation{FeatureLength, 0, "long"}, FinderConfirm},
		{Observation{FeatureColour, 0, "blue"}, FinderFound},
		{Observation{FeatureLength, 0, "4.2 m"}, FinderFound},
		{Observation{FeatureColour, 0, "red"}, FinderContradiction},
		{Observation{FeatureSide, 0, "right"}, FinderContradiction},
	} {
		equal(t, said([]Observation{c.more}), f.Next(append(slices.Clone(seen), c.more)).State, c.want)
	}
}

func TestFinderOfOneSide(t *testing.T) {
	p := sample(t)
	equal(t, "right", len(NewFinder(p, Right).Next(nil).Left), len(p.Lines))
	equal(t, "both", len(NewFinder(p, "").Next(nil).Left), 2*len(p.Lines))
	q := NewFinder(p, Right).Next(nil)
	if q.Feature == FeatureSide {
		t.Error("asks for a side that is known")
	}
	one := NewFinder(parse(t, chainOf(1)), Left).Next(nil)
	equal(t, "a line alone", one.State, FinderFound)
}

// The same answers give the same question, from the same finder or a new one.
func TestFinderIsDeterministic(t *testing.T) {
	p := sample(t)
	f := NewFinder(p, "")
	for _, seen := range [][]Observation{nil, {{FeatureColour, 0, "blue"}}, {{FeatureColour, 0, "blue"}, {FeatureBranch, 0, "D"}}} {
		want := f.Next(seen)
		for range 5 {
			if got := NewFinder(p, "").Next(seen); !reflect.DeepEqual(got, want) {
				t.Fatalf("%+v, then %+v", want, got)
			}
		}
	}
}

// A plan that knows little makes every answer leave most lines. The work stays
// bounded, and what is promised is then no longer called exact.
func TestFinderBudget(t *testing.T) {
	rnd := rand.New(rand.NewPCG(4, 5))
	lines := make([][]string, 1500)
	for i := range lines {
		for range 22 {
			value := ""
			if rnd.IntN(200) == 0 {
				value = fmt.Sprint(rnd.IntN(3))
			}
			lines[i] = append(lines[i], value)
		}
	}
	table := tableOf(lines)
	s := newSolver(table)
	o := s.solve(table.fitting(nil), 0)
	if o.exact || o.question < 0 || s.budget > 0 || s.budget < -finderBudget {
		t.Errorf("%+v, %d left of the budget", o, s.budget)
	}
}
