package wing

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"example.org/linewright/engine/quantity"
)

// truth answers a question as a person would who holds the line.
func truth(t testing.TB, p *Plan, ref Ref, q Question) Observation {
	t.Helper()
	value, ok := p.Feature(ref, q.Feature, q.Instance)
	if !ok {
		value = ""
	}
	return Observation{q.Feature, q.Instance, value}
}

// remembering gives Next without reckoning the same question twice.
func remembering(f *Finder) func([]Observation) Question {
	memo := map[string]Question{}
	return func(seen []Observation) Question {
		key := said(seen)
		if _, done := memo[key]; !done {
			memo[key] = f.Next(seen)
		}
		return memo[key]
	}
}

// search plays a search to its end and gives the answers up to there.
func search(t testing.TB, next func([]Observation) Question, p *Plan, ref Ref) ([]Observation, Question) {
	t.Helper()
	var seen []Observation
	for range 40 {
		q := next(seen)
		if q.State != FinderSearch {
			return seen, q
		}
		if !slices.Contains(q.Left, ref) {
			t.Fatalf("%s was lost after %v", ref, seen)
		}
		seen = append(seen, truth(t, p, ref, q))
	}
	t.Fatalf("no end for %s: %v", ref, seen)
	return nil, Question{}
}

func TestFinderFindsEveryLineOfTheSample(t *testing.T) {
	p := sample(t)
	next := remembering(NewFinder(p, ""))
	for _, l := range p.Lines {
		for _, side := range Sides {
			ref := LineRef(l.Code, side)
			seen, q := search(t, next, p, ref)
			if q.State != FinderConfirm || !slices.Equal(q.Left, []Ref{ref}) {
				t.Fatalf("%s: %s, %v after %v", ref, q.State, q.Left, seen)
			}
			confirming := truth(t, p, ref, q)
			q = next(append(seen, confirming))
			if q.State != FinderFound || !slices.Equal(q.Left, []Ref{ref}) {
				t.Fatalf("%s: %s after %v", ref, q.State, append(seen, confirming))
			}
		}
	}
}

// units makes every question as hard as the next, so that effort counts questions.
func units(f *Finder) *Finder {
	for i := range f.table.questions {
		f.table.questions[i].effort = 1
	}
	return f
}

// mean gives the mean number and effort of the questions that find a line.
func mean(t testing.TB, p *Plan, count func(Ref) []Observation) (questions, effort float64) {
	t.Helper()
	for _, l := range p.Lines {
		seen := count(LineRef(l.Code, Left))
		questions += float64(len(seen))
		effort += total(seen)
	}
	n := float64(len(p.Lines))
	return questions / n, effort / n
}

// Asking in the fixed order row, tier, place, colour, until one line is left,
// needs more questions and more effort on the sample wing. Row, tier and place
// as seen from the canopy are the fixed order that needs the fewest.
func TestFinderAgainstTheFixedOrder(t *testing.T) {
	p := sample(t)
	f := NewFinder(p, Left)
	weighed, alike := remembering(f), remembering(units(NewFinder(p, Left)))
	for name, order := range map[string][]Feature{
		"canopy": {FeatureCanopyRow, FeatureJointsAbove, FeatureFirstTab, FeatureColour},
		"riser":  {FeatureBranch, FeatureJointsBelow, FeaturePlaceOnLink, FeatureForkPlace, FeatureColour},
	} {
		fixed := func(ref Ref) []Observation {
			var seen []Observation
			for _, feature := range order {
				first, last := 0, 0
				if feature == FeatureForkPlace {
					first, last = 1, 2
				}
				for instance := first; instance <= last && len(f.table.fitting(seen)) > 1; instance++ {
					seen = append(seen, truth(t, p, ref, Question{Feature: feature, Instance: instance}))
				}
			}
			return seen
		}
		fixedQuestions, fixedEffort := mean(t, p, fixed)
		questions, _ := mean(t, p, func(ref Ref) []Observation { seen, _ := search(t, alike, p, ref); return seen })
		_, effort := mean(t, p, func(ref Ref) []Observation { seen, _ := search(t, weighed, p, ref); return seen })
		t.Logf("%s: fixed order %.3f questions, effort %.2f; finder %.3f questions, effort %.2f", name, fixedQuestions, fixedEffort, questions, effort)
		if questions >= fixedQuestions || effort >= fixedEffort {
			t.Errorf("%s: the finder is no better", name)
		}
	}
}

// What is promised is kept: by an exact search to the last digit, by a look
// ahead at most.
func TestFinderKeepsWhatItPromises(t *testing.T) {
	p := sample(t)
	f := NewFinder(p, Left)
	for _, start := range [][]Observation{
		nil,
		{{FeatureBranch, 0, "B"}},
		{{FeatureBranch, 0, "D"}, {FeatureJointsBelow, 0, "2"}},
		{{FeatureColour, 0, "Orange"}},
	} {
		next := remembering(f)
		first := next(start)
		var count, effort float64
		worst := 0
		for _, ref := range first.Left {
			seen := slices.Clone(start)
			for q := first; q.State == FinderSearch; q = next(seen) {
				seen = append(seen, truth(t, p, ref, q))
			}
			count += float64(len(seen) - len(start))
			effort += total(seen[len(start):])
			worst = max(worst, len(seen)-len(start))
		}
		n := float64(len(first.Left))
		if first.Exact {
			near(t, "questions", count/n, first.Expected, 1e-9)
			near(t, "effort", effort/n, first.ExpectedEffort, 1e-9)
			equal(t, "worst", worst, first.Worst)
		} else if effort/n > first.ExpectedEffort+1e-9 {
			t.Errorf("%v: effort %v, promised %v", start, effort/n, first.ExpectedEffort)
		}
		if first.Expected < first.Bound-1e-9 {
			t.Errorf("%v: %v questions are below the bound %v", start, first.Expected, first.Bound)
		}
		near(t, "bits", first.Bits, math.Log2(n), 1e-12)
	}
}

// bruteForce tries every order of questions on a set of lines, each a list of
// values, "" where not known: the least expected number of questions.
func bruteForce(lines [][]string, asked map[int]bool) float64 {
	if len(lines) < 2 {
		return 0
	}
	best := math.Inf(1)
	for q := range lines[0] {
		parts, known := map[string]int{}, 0.0
		for _, l := range lines {
			if l[q] != "" {
				parts[l[q]]++
				known++
			}
		}
		if asked[q] || len(parts) < 2 {
			continue
		}
		asked[q] = true
		sum := 1.0
		for value, n := range parts {
			var rest [][]string
			for _, l := range lines {
				if l[q] == value || l[q] == "" {
					rest = append(rest, l)
				}
			}
			sum += float64(n) / known * bruteForce(rest, asked)
		}
		asked[q] = false
		best = min(best, sum)
	}
	if math.IsInf(best, 1) {
		return 0
	}
	return best
}

// tableOf makes a table of lines that are only lists of values.
func tableOf(lines [][]string) *table {
	t := &table{}
	for i := range lines {
		t.lines, t.order, t.length = append(t.lines, LineRef(fmt.Sprint("L", i), Left)), append(t.order, int32(i)), append(t.length, 0)
	}
	for q := range lines[0] {
		a := ask{feature: Feature(fmt.Sprint("q", q)), effort: 1}
		known := map[string]int32{}
		for _, l := range lines {
			a.of = append(a.of, a.number(known, l[q], l[q] != ""))
		}
		t.questions = append(t.questions, a)
	}
	return t
}

// Expected questions against brute force, at one unit of effort each: random
// tables of 2 to 10 lines, every tenth value not known in half of them.
func TestFinderIsExactOnRandomTables(t *testing.T) {
	rnd := rand.New(rand.NewPCG(4, 1))
	for trial := range 600 {
		n, questions, answers := 2+rnd.IntN(9), 1+rnd.IntN(5), 2+rnd.IntN(3)
		lines := make([][]string, n)
		for i := range lines {
			for range questions {
				value := fmt.Sprint(rnd.IntN(answers))
				if trial%2 == 1 && rnd.IntN(10) == 0 {
					value = ""
				}
				lines[i] = append(lines[i], value)
			}
		}
		table := tableOf(lines)
		got := newSolver(table).solve(table.fitting(nil), 0)
		want := bruteForce(lines, map[int]bool{})
		if !got.exact || math.Abs(got.count-want) > 1e-9 || math.Abs(got.cost-want) > 1e-9 {
			t.Fatalf("trial %d, %v: %+v, want %v", trial, lines, got, want)
		}
	}
}

// The same on random sets of 2 to 10 lines of the sample wing. Lengths are put
// into classes anew here, as far apart as two estimates can reach.
func TestFinderIsExactOnSetsOfTheSample(t *testing.T) {
	p := sample(t)
	f := units(NewFinder(p, ""))
	rnd := rand.New(rand.NewPCG(4, 2))
	for range 300 {
		set := rnd.Perm(len(f.table.lines))[:2+rnd.IntN(9)]
		slices.Sort(set)
		var lines []int32
		for _, i := range set {
			lines = append(lines, int32(i))
		}
		got := newSolver(f.table).solve(lines, 0)
		want := bruteSample(p, f.table.refs(lines), map[string]float64{})
		if !got.exact || math.Abs(got.cost-want) > 1e-9 {
			t.Fatalf("%v: %+v, want %v", f.table.refs(lines), got, want)
		}
	}
}

func bruteSample(p *Plan, set []Ref, memo map[string]float64) float64 {
	key := fmt.Sprint(set)
	if v, done := memo[key]; done || len(set) < 2 {
		return v
	}
	best := math.Inf(1)
	for _, feature := range Features {
		for instance := range 3 {
			parts := map[string][]Ref{}
			for _, ref := range set {
				value, ok := p.Feature(ref, feature, instance)
				if feature == FeatureLength {
					value, ok = lengthClass(p, ref, set), true
				}
				if ok {
					parts[value] = append(parts[value], ref)
				}
			}
			if len(parts) < 2 {
				continue
			}
			sum := 1.0
			for _, rest := range parts {
				sum += float64(len(rest)) / float64(len(set)) * bruteSample(p, rest, memo)
			}
			best = min(best, sum)
		}
	}
	memo[key] = best
	return best
}

// lengthClass names the class of a line by its shortest member: two lines are of
// one class if an estimate, or a chain of estimates, may mean both.
func lengthClass(p *Plan, ref Ref, set []Ref) string {
	class := map[Ref]bool{ref: true}
	for grown := true; grown; {
		grown = false
		for _, a := range set {
			for _, b := range set {
				la, _ := p.LineAt(a)
				lb, _ := p.LineAt(b)
				if class[a] && !class[b] && (la.Length-lb.Length).Abs() <= RoughLength(la.Length)+RoughLength(lb.Length) {
					class[b], grown = true, true
				}
			}
		}
	}
	least := quantity.Length(math.MaxInt64)
	for r := range class {
		l, _ := p.LineAt(r)
		least = min(least, l.Length)
	}
	return least.String()
}

func TestQuestionExplainsItself(t *testing.T) {
	f := NewFinder(sample(t), Left)
	ahead, exact := f.Next(nil), f.Next([]Observation{{FeatureColour, 0, "orange"}})
	golden(t, "testdata/sums/question.txt", lines(ahead.Steps())+"\n"+lines(exact.Steps()))
	data, err := json.Marshal(f.Next([]Observation{{FeatureColour, 0, "orange"}, {FeatureJointsBelow, 0, "1"}}))
	equal(t, "json error", err, nil)
	equal(t, "json", string(data), `{"state":"search","feature":"carries","answers":["0","2","3"],"effort":1.5,"left":["line:S2.1@left","line:s2.1@left"],"expected_questions":1,"worst_questions":1,"expected_effort":1.5,"exact":true,"information_bits":1,"least_questions":1}`)
}

// The finder leaves what Matching leaves, whatever is answered.
func TestFinderLeavesWhatMatches(t *testing.T) {
	for _, p := range []*Plan{sample(t), parse(t, small(t)), partial(t)} {
		f := NewFinder(p, "")
		rnd := rand.New(rand.NewPCG(4, 3))
		for range 300 {
			var seen []Observation
			for range rnd.IntN(4) {
				q := f.table.questions[rnd.IntN(len(f.table.questions))]
				o := Observation{q.feature, q.instance, "2"}
				switch {
				case q.feature == FeatureLength:
					o.Value = fmt.Sprint(rnd.IntN(6000))
				case len(q.values) > 0 && rnd.IntN(5) > 0:
					o.Value = q.values[rnd.IntN(len(q.values))]
				}
				if q.feature == FeatureColour {
					o.Value = strings.ToUpper(o.Value)
				}
				seen = append(seen, o)
			}
			if got, want := f.table.refs(f.table.fitting(seen)), p.Matching(seen); !slices.Equal(got, want) {
				t.Fatalf("%v: %v, want %v", seen, got, want)
			}
		}
	}
}
