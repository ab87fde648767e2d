package wing

import "math"

// exactLines is the greatest number of lines for which the order of least
// expected effort is found by trying all orders.
const exactLines = 12

// finderBudget bounds the work of one question, in values looked at. Only a
// plan that leaves most features unknown comes near it.
const finderBudget = 8e6

// outcome is what a set of lines still costs to search, as a mean over its
// lines, each as likely as the next.
type outcome struct {
	cost     float64 // effort
	count    float64 // questions
	worst    int     // questions
	exact    bool    // no order costs less
	question int     // to ask now; -1: none tells the lines apart
	effort   float64 // of that question
}

// better compares by effort, then by the worst case, then by the effort of the
// question itself: what is easily seen comes first. What is equal but for
// rounding stays with the one that was there first.
func (o outcome) better(than outcome) bool {
	const rounding = 1e-9
	switch {
	case than.question < 0:
		return true
	case math.Abs(o.cost-than.cost) > rounding:
		return o.cost < than.cost
	case o.worst != than.worst:
		return o.worst < than.worst
	}
	return o.effort < than.effort
}

var searched = outcome{exact: true, question: -1}

type solver struct {
	*table
	memo   map[uint64]outcome // of the exact search: by lines and questions that still matter
	local  []int32            // the lines of the exact search
	ids    []int32            // scratch: value of each line of a set
	counts []int              // scratch: lines of a set by value
	budget int
}

func newSolver(t *table) *solver {
	return &solver{table: t, ids: make([]int32, len(t.lines)), budget: finderBudget}
}

// solve finds what to ask: exactly for a few lines, else by looking ahead.
func (s *solver) solve(lines []int32, asked uint64) outcome {
	if len(lines) <= exactLines {
		s.memo, s.local = map[uint64]outcome{}, lines
		if best := s.exactly(lines, asked); s.budget > 0 {
			return best
		}
		s.budget = finderBudget
	}
	return s.lookAhead(lines, asked)
}

// value writes the value of a question for each line of a set into ids, counted
// from 0, and gives their number. Lengths are put into classes that lie so far
// apart that an estimate cannot belong to two.
func (s *solver) value(question int, lines []int32) int {
	s.budget -= len(lines)
	q := &s.questions[question]
	if q.of != nil {
		for n, line := range lines {
			s.ids[n] = q.of[line]
		}
		return len(q.values)
	}
	class, reach := int32(-1), int64(-1)
	for n, line := range lines {
		l := s.length[line]
		if l == 0 {
			s.ids[n] = unknown
			continue
		}
		if rough := RoughLength(l); int64(l-rough) > reach {
			class++
		}
		reach = int64(l + RoughLength(l))
		s.ids[n] = class
	}
	return int(class + 1)
}

// distinct counts the values of a question among the lines of a set.
func (s *solver) distinct(question int, lines []int32) int {
	n := 0
	for _, c := range s.tally(question, lines) {
		if c > 0 {
			n++
		}
	}
	return n
}

// tally counts the lines of a set by value; those of unknown value not at all.
// The counts hold until the next call.
func (s *solver) tally(question int, lines []int32) []int {
	values := s.value(question, lines)
	if cap(s.counts) < values {
		s.counts = make([]int, values)
	}
	counts := s.counts[:values]
	clear(counts)
	for n := range lines {
		if id := s.ids[n]; id != unknown {
			counts[id]++
		}
	}
	return counts
}

// part is what is left of a set after one answer.
type part struct {
	lines  []int32
	weight float64 // chance of the answer
}

// split divides a set by a question. A line whose value the plan does not know
// stays in every part, and gives each answer as often as the known lines do.
// It is nil where the question cannot narrow the set.
func (s *solver) split(question int, lines []int32) []part {
	counts := s.tally(question, lines)
	known, distinct := 0, 0
	for _, c := range counts {
		known += c
		distinct += min(c, 1)
	}
	if distinct < 2 {
		return nil
	}
	open := len(lines) - known
	of := make([]int, len(counts)) // the part of a value
	parts := make([]part, 0, distinct)
	room := make([]int32, known+open*distinct)
	for id, c := range counts {
		if c == 0 {
			continue
		}
		of[id] = len(parts)
		parts = append(parts, part{room[: 0 : c+open], float64(c) / float64(known)})
		room = room[c+open:]
	}
	for n, line := range lines {
		if id := s.ids[n]; id != unknown {
			parts[of[id]].lines = append(parts[of[id]].lines, line)
			continue
		}
		for i := range parts {
			parts[i].lines = append(parts[i].lines, line)
		}
	}
	return parts
}

// after adds up what comes after each answer to a question.
func (s *solver) after(question int, parts []part, then func([]int32) outcome) outcome {
	effort := s.questions[question].effort
	total := outcome{cost: effort, count: 1, exact: true, question: question, effort: effort}
	worst := 0
	for _, p := range parts {
		o := then(p.lines)
		total.cost += p.weight * o.cost
		total.count += p.weight * o.count
		worst = max(worst, o.worst)
		total.exact = total.exact && o.exact
	}
	total.worst = 1 + worst
	return total
}

// exactly tries every order of questions; sets that come up again are not
// searched again.
func (s *solver) exactly(lines []int32, asked uint64) outcome {
	if len(lines) < 2 || s.budget <= 0 {
		return searched
	}
	key := s.key(lines)
	parts := make([][]part, len(s.questions))
	for i := range s.questions {
		if parts[i] = s.split(i, lines); parts[i] != nil {
			key |= asked & (1 << i) << exactLines
		}
	}
	if o, done := s.memo[key]; done {
		return o
	}
	best := searched
	for i, p := range parts {
		if p == nil || asked&(1<<i) != 0 {
			continue
		}
		if o := s.after(i, p, func(rest []int32) outcome { return s.exactly(rest, asked|1<<i) }); o.better(best) {
			best = o
		}
	}
	s.memo[key] = best
	return best
}

// key marks the lines of a set among those of the exact search.
func (s *solver) key(lines []int32) uint64 {
	var key uint64
	n := 0
	for i, line := range s.local {
		if n < len(lines) && lines[n] == line {
			key |= 1 << i
			n++
		}
	}
	return key
}

// lookAhead tries every question and follows each answer to its end with the
// question that tells most for its effort. Asking so from the start is not
// always best; one step ahead of it is never worse.
func (s *solver) lookAhead(lines []int32, asked uint64) outcome {
	best := searched
	for i := range s.questions {
		if asked&(1<<i) != 0 {
			continue
		}
		parts := s.split(i, lines)
		if parts == nil {
			continue
		}
		if o := s.after(i, parts, func(rest []int32) outcome { return s.greedily(rest, asked|1<<i) }); o.better(best) {
			best = o
		}
	}
	best.exact = false
	return best
}

// greedily asks at each step what tells most for its effort. Out of budget it
// takes one question with two answers for each bit.
func (s *solver) greedily(lines []int32, asked uint64) outcome {
	if len(lines) < 2 {
		return searched
	}
	if s.budget <= 0 {
		bits := math.Log2(float64(len(lines)))
		return outcome{cost: bits, count: bits, worst: int(math.Ceil(bits)), question: -1}
	}
	question, most := -1, 0.0
	for i := range s.questions {
		if asked&(1<<i) != 0 {
			continue
		}
		if worth := s.bits(i, lines) / s.questions[i].effort; worth > most+1e-12 {
			question, most = i, worth
		}
	}
	if question < 0 {
		return searched
	}
	return s.after(question, s.split(question, lines), func(rest []int32) outcome { return s.greedily(rest, asked|1<<question) })
}

// bits is how much a question is expected to tell: log2 of the lines before
// less that of those after it.
func (s *solver) bits(question int, lines []int32) float64 {
	counts := s.tally(question, lines)
	known := 0
	for _, c := range counts {
		known += c
	}
	open := len(lines) - known
	left := 0.0
	for _, c := range counts {
		if c > 0 {
			left += float64(c) / float64(known) * math.Log2(float64(c+open))
		}
	}
	if known == 0 {
		return 0
	}
	return math.Log2(float64(len(lines))) - left
}
