package wing

import (
	"math/bits"
	"slices"
)

// Doubt names what is wrong where no line fits all answers.
type Doubt struct {
	// Suspects are the fewest answers that have to be wrong for a line to fit:
	// of those that could be it, the ones that are hardest to observe.
	Suspects []Observation `json:"suspects"`
	// Left holds the lines that fit all other answers.
	Left []Ref `json:"left"`
	// Also holds the answers that could be wrong in their place.
	Also []Observation `json:"also,omitempty"`
}

// conflicts marks for each line the answers that rule it out, by their place in
// seen. Of more than 64 answers the first are taken: no wing has so many questions.
func (t *table) conflicts(seen []Observation) []uint64 {
	marks := make([]uint64, len(t.lines))
	for n, o := range seen[:min(len(seen), 64)] {
		rulesOut := t.test(o)
		for i := range marks {
			if rulesOut(int32(i)) {
				marks[i] |= 1 << n
			}
		}
	}
	return marks
}

// contradiction fills in the answers most likely wrong, and asks again for the
// hardest of them.
func (t *table) contradiction(q *Question, seen []Observation) {
	q.State, q.Doubt = FinderContradiction, &Doubt{}
	marks := t.conflicts(seen)
	fewest := 64
	for _, m := range marks {
		fewest = min(fewest, bits.OnesCount64(m))
	}
	lines := map[uint64][]int32{} // by the answers that rule them out
	var all, worst uint64
	for i, m := range marks {
		if bits.OnesCount64(m) != fewest {
			continue
		}
		lines[m] = append(lines[m], int32(i))
		all |= m
	}
	for m := range lines {
		if worst == 0 || likelier(m, worst, lines, seen) {
			worst = m
		}
	}
	q.Doubt.Suspects, q.Doubt.Left = pick(seen, worst), t.refs(lines[worst])
	q.Doubt.Also = pick(seen, all&^worst)
	if hardest := t.question(hardest(q.Doubt.Suspects)); hardest >= 0 {
		t.ask(q, hardest)
	}
}

// likelier says whether the answers a are rather wrong than b: harder to
// observe, else leaving more lines, else given later.
func likelier(a, b uint64, lines map[uint64][]int32, seen []Observation) bool {
	effortA, effortB := total(pick(seen, a)), total(pick(seen, b))
	switch {
	case effortA != effortB:
		return effortA > effortB
	case len(lines[a]) != len(lines[b]):
		return len(lines[a]) > len(lines[b])
	}
	return a > b
}

func pick(seen []Observation, mask uint64) []Observation {
	var picked []Observation
	for n, o := range seen {
		if mask&(1<<n) != 0 {
			picked = append(picked, o)
		}
	}
	return picked
}

func total(seen []Observation) float64 {
	sum := 0.0
	for _, o := range seen {
		sum += o.Feature.Effort()
	}
	return sum
}

// hardest gives the last of the answers that are hardest to observe.
func hardest(seen []Observation) Observation {
	var worst Observation
	for _, o := range seen {
		if o.Feature.Effort() >= worst.Feature.Effort() {
			worst = o
		}
	}
	return worst
}

// confirmed says whether an answer came after the search had ended and rules
// out other lines, so that it would have shown that the search went wrong.
func (t *table) confirmed(seen []Observation) bool {
	ended := 0
	for ended < len(seen) && len(t.fitting(seen[:ended])) > 1 {
		ended++
	}
	return slices.ContainsFunc(seen[ended:], func(o Observation) bool {
		return len(t.fitting([]Observation{o})) < len(t.lines)
	})
}

// nearlyBest is the share of the mistakes that the best confirming question
// would show at which another one is as good, if it is easier to observe.
const nearlyBest = 2.0 / 3

// confirm fills in the easiest question among those that would show most of the
// mistakes that may have led to the line found.
func (t *table) confirm(q *Question, seen []Observation, found int32) {
	worth := t.worth(seen, found)
	most := slices.Max(worth)
	if most == 0 {
		q.State = FinderFound
		return
	}
	best := -1
	for i, w := range worth {
		if w >= nearlyBest*most && (best < 0 || t.questions[i].effort < t.questions[best].effort) {
			best = i
		}
	}
	q.State = FinderConfirm
	t.ask(q, best)
}

// worth weighs for each question the mistakes that it would show, 0 for one
// already asked. What is seen at an end of the line where no answer comes from
// counts twice, as one miscount there does not repeat the other.
func (t *table) worth(seen []Observation, found int32) []float64 {
	used := map[string]bool{}
	for _, o := range seen {
		used[o.Feature.end()] = used[o.Feature.end()] || o.Value != ""
	}
	rivals, asked := t.rivals(seen, found), t.asked(seen)
	worth := make([]float64, len(t.questions))
	for i, ask := range t.questions {
		if asked&(1<<i) != 0 {
			continue
		}
		worth[i] = t.caught(i, found, rivals)
		if !used[ask.feature.end()] {
			worth[i] *= 2
		}
	}
	return worth
}

// rivals weighs the lines that one wrong answer would have hidden: an answer is
// the likelier wrong the harder it was to observe, and then any of the lines
// that it hides may be the true one. Where no single answer hides a line, all
// other lines weigh the same.
func (t *table) rivals(seen []Observation, found int32) []float64 {
	marks := t.conflicts(seen)
	hidden := map[uint64]float64{}
	for _, m := range marks {
		if bits.OnesCount64(m) == 1 {
			hidden[m]++
		}
	}
	weights := make([]float64, len(marks))
	for i, m := range marks {
		switch {
		case bits.OnesCount64(m) == 1:
			weights[i] = total(pick(seen, m)) / hidden[m]
		case len(hidden) == 0 && int32(i) != found:
			weights[i] = 1
		}
	}
	return weights
}

// caught adds up the weights of the lines that the true answer to a question
// would rule out if the line is the one found.
func (t *table) caught(question int, found int32, weights []float64) float64 {
	q := &t.questions[question]
	o := Observation{q.feature, q.instance, ""}
	switch {
	case q.of == nil && t.length[found] > 0:
		o.Value = t.length[found].String()
	case q.of != nil && q.of[found] != unknown:
		o.Value = q.values[q.of[found]]
	}
	rulesOut, sum := t.test(o), 0.0
	for line, weight := range weights {
		if weight > 0 && rulesOut(int32(line)) {
			sum += weight
		}
	}
	return sum
}

// end says from where a feature is seen: the riser, the canopy or itself.
func (f Feature) end() string {
	switch f {
	case FeatureBranch, FeaturePlaceOnLink, FeaturePlaceFromTip, FeatureJointsBelow, FeatureForkPlace:
		return "riser"
	case FeatureTabs, FeatureFirstTab, FeatureLastTab, FeatureCanopyRow, FeatureJointsAbove:
		return "canopy"
	}
	return string(f)
}
