package trim

import (
	"cmp"
	"math"
	"slices"
)

// The search is exact. It goes block by block, since blocks touch only through
// the means of row A, and line by line within a block. Two beginnings of a
// block that come to the same sums of the rows have the same ends before them,
// so only the better one is followed; a beginning that already needs more
// changes than are left is cut off. A deviation has to lie in a window, and the
// smallest spread is the narrowest window that still has a choice with the
// fewest changes.

// search counts its nodes and stops at the limit.
type search struct {
	*problem
	limit int
	nodes int
	spent bool // the limit was hit: what was found is not proved
	keep  int  // how many beginnings to follow at most; 0: all
}

// solution is an option for each unit.
type solution struct {
	pick []int
	cost
	low  int64
	high int64
}

// cost is what is kept small: first the changes, then the total.
type cost struct {
	changes int
	total   int64
}

func (c cost) plus(d cost) cost { return cost{c.changes + d.changes, c.total + d.total} }

func (c cost) compare(d cost) int {
	return cmp.Or(cmp.Compare(c.changes, d.changes), cmp.Compare(c.total, d.total))
}

// window is where deviations have to lie.
type window struct{ low, high int64 }

var open = window{math.MinInt64, math.MaxInt64}

// beam is how many beginnings are followed at most where a proof was beyond the
// node limit.
const beam = 64

// best finds the best choice. Where the limit comes before any was found, only
// the most promising beginnings are followed, to have one without a proof; how
// many nodes that takes is bounded by itself.
func (s *search) best() (solution, Outcome) {
	best, found := s.fewest()
	if found {
		return s.least(s.narrowest(best)), Found
	}
	if !s.spent {
		return solution{}, Impossible
	}
	quick := &search{problem: s.problem, limit: math.MaxInt, keep: beam}
	best, found = quick.fewest()
	s.nodes += quick.nodes
	if !found {
		return solution{}, Undecided
	}
	return best, Found
}

// fewest finds a choice with the fewest changes. The budget of changes grows
// step by step, because a small one cuts off nearly all.
func (s *search) fewest() (solution, bool) {
	least, most := 0, 0
	for i := range s.units {
		low, high := math.MaxInt, 0
		for _, o := range s.units[i].options {
			low, high = min(low, o.changes), max(high, o.changes)
		}
		least, most = least+low, most+high
	}
	for more := 0; !s.spent; more = max(1, 2*more) {
		budget := min(least+more, most)
		if found, ok := s.solve(open, budget, false); ok {
			return found, true
		}
		if budget == most {
			break
		}
	}
	return solution{}, false
}

// narrowest finds the smallest spread with as few changes: for each least
// deviation that can be, the window is drawn in until no choice is left.
func (s *search) narrowest(best solution) solution {
	for _, low := range s.lows() {
		for !s.spent && best.high > best.low {
			found, ok := s.solve(window{low, low + (best.high - best.low) - 1}, best.changes, true)
			if !ok {
				break
			}
			best = found
		}
	}
	return best
}

// least finds the least total in all windows of that spread. Of equal ones the
// first in the order of the units and their options is taken.
func (s *search) least(best solution) solution {
	spread, first := best.high-best.low, true
	for _, low := range s.lows() {
		found, ok := s.solve(window{low, low + spread}, best.changes, false)
		if !ok {
			continue
		}
		if first || cmp.Or(cmp.Compare(found.total, best.total), slices.Compare(found.pick, best.pick)) < 0 {
			best, first = found, false
		}
	}
	return best
}

// lows lists every least deviation that a choice can leave.
func (s *search) lows() []int64 {
	var all []int64
	for i := range s.units {
		for _, o := range s.units[i].options {
			all = append(all, o.low)
		}
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// solve finds the choice within a window with the fewest changes, not more than
// the budget, and then the least total; with anyone, whatever comes first.
func (s *search) solve(w window, budget int, anyone bool) (solution, bool) {
	allowed, least, ok := s.within(w)
	if !ok || s.spent {
		return solution{}, false
	}
	all := 0
	for _, l := range least {
		all += l
	}
	if all > budget {
		return solution{}, false
	}
	walks := make([]*walk, len(s.blocks))
	for b := range s.blocks {
		own := &s.blocks[b]
		ofBlock := 0
		for _, u := range own.units {
			ofBlock += least[u]
		}
		walks[b] = s.walk(own, allowed, least, budget-all+ofBlock, s.reach(b, allowed, walks[0]))
		if s.spent || len(walks[b].ends) == 0 {
			return solution{}, false
		}
		walks[b].sort()
		walks[b].group()
	}
	return s.join(walks, budget, anyone)
}

// within lists the options of each unit that lie in the window, and the fewest
// changes among them; false where a unit has none.
func (s *search) within(w window) (allowed [][]int, least []int, ok bool) {
	allowed, least = make([][]int, len(s.units)), make([]int, len(s.units))
	for i := range s.units {
		least[i] = math.MaxInt
		for n := range s.units[i].options {
			o := &s.units[i].options[n]
			if o.low >= w.low && o.high <= w.high {
				allowed[i] = append(allowed[i], n)
				least[i] = min(least[i], o.changes)
			}
		}
		if allowed[i] == nil {
			return nil, nil, false
		}
	}
	return allowed, least, true
}

// join puts the ends of the blocks together: the best one of row A's block for
// which each other block has an end that fits.
func (s *search) join(walks []*walk, budget int, anyone bool) (solution, bool) {
	var best solution
	var bestEnds []int
	var rest cost // that no choice of the other blocks can undercut
	for _, w := range walks[1:] {
		rest = rest.plus(w.ends[w.sorted[0]].cost)
	}
	for _, n := range walks[0].sorted {
		a := &walks[0].ends[n]
		least := a.cost.plus(rest)
		if least.changes > budget || bestEnds != nil && least.compare(best.cost) > 0 {
			break
		}
		ends, total, ok := s.fitting(walks, n, budget-least.changes)
		if s.spent {
			return solution{}, false
		}
		if !ok {
			continue
		}
		if bestEnds == nil || cmp.Or(total.compare(best.cost), cmp.Compare(n, bestEnds[0])) < 0 {
			best.cost, bestEnds = total, ends
		}
		if anyone {
			break
		}
	}
	if bestEnds == nil {
		return solution{}, false
	}
	s.trace(&best, walks, bestEnds)
	return best, true
}

// fitting finds the best end of each other block for one end of row A's block.
// spare is how many changes may be made beyond the fewest of each block.
func (s *search) fitting(walks []*walk, n, spare int) (ends []int, total cost, ok bool) {
	a := &walks[0].ends[n]
	ends, total = []int{n}, a.cost
	for b, w := range walks[1:] {
		if s.spent = s.spent || s.nodes > s.limit; s.spent {
			return nil, cost{}, false
		}
		least := w.ends[w.sorted[0]].changes
		end, ok := s.firstFit(b+1, w, a, least+spare)
		if !ok {
			return nil, cost{}, false
		}
		ends = append(ends, end)
		spare -= w.ends[end].changes - least
		total = total.plus(w.ends[end].cost)
	}
	return ends, total, true
}

// trace reads the options of each unit back from the ends.
func (s *search) trace(sol *solution, walks []*walk, ends []int) {
	sol.pick = make([]int, len(s.units))
	sol.low, sol.high = math.MaxInt64, math.MinInt64
	for b, w := range walks {
		at := int32(ends[b])
		for n := len(w.layers) - 1; n > 0; n-- {
			st := &w.layers[n][at]
			unit := s.blocks[b].units[n-1]
			o := &s.units[unit].options[st.option]
			sol.pick[unit] = int(st.option)
			sol.low, sol.high = min(sol.low, o.low), max(sol.high, o.high)
			at = st.parent
		}
	}
}
