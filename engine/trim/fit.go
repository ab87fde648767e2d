package trim

import (
	"cmp"
	"slices"
)

// group is the ends of a block with as many changes.
type group struct {
	changes int
	byCost  []int // indexes of ends, the cheapest first
	bySum   []int // the same by their first sum
}

// group orders the ends, so that those which fit can be found without looking
// at all of them.
func (w *walk) group() {
	for from := 0; from < len(w.sorted); {
		g := group{changes: w.ends[w.sorted[from]].changes}
		to := from
		for to < len(w.sorted) && w.ends[w.sorted[to]].changes == g.changes {
			to++
		}
		g.byCost, g.bySum = w.sorted[from:to], slices.Clone(w.sorted[from:to])
		slices.SortFunc(g.bySum, func(i, j int) int {
			return cmp.Or(cmp.Compare(w.ends[i].sums[0], w.ends[j].sums[0]), cmp.Compare(i, j))
		})
		w.groups = append(w.groups, g)
		from = to
	}
}

// firstFit finds the cheapest end of a block, of at most so many changes, that
// is inside against an end of row A's block; the first of equal ones.
func (s *search) firstFit(b int, w *walk, a *state, most int) (int, bool) {
	need := s.need(b, a)
	slots := 2 * len(s.blocks[b].rows)
	for i := range w.groups {
		if w.groups[i].changes > most {
			break
		}
		if end, ok := s.fitIn(&w.groups[i], w.ends, &need, slots); ok {
			return end, true
		}
	}
	return 0, false
}

func (s *search) fitIn(g *group, ends []state, need *[maxSlots]span, slots int) (int, bool) {
	from, to := 0, len(g.bySum)
	if slots > 0 {
		from = at(g, ends, need[0].low)
		to = max(from, at(g, ends, need[0].high+1))
	}
	// Where many fit, the cheapest that does is soon met in order of cost.
	if to-from > len(g.byCost)/8 {
		for _, i := range g.byCost {
			s.nodes++
			if ends[i].fits(need, slots) {
				return i, true
			}
		}
		return 0, false
	}
	best := -1
	for _, i := range g.bySum[from:to] {
		s.nodes++
		if ends[i].fits(need, slots) && (best < 0 || cmp.Or(ends[i].compare(ends[best].cost), cmp.Compare(i, best)) < 0) {
			best = i
		}
	}
	return best, best >= 0
}

// at gives where sums from a value on begin in bySum.
func at(g *group, ends []state, sum int64) int {
	at, _ := slices.BinarySearchFunc(g.bySum, sum, func(i int, sum int64) int { return cmp.Compare(ends[i].sums[0], sum) })
	return at
}

// need gives where the sums of a block have to lie for an end of row A's block.
func (s *search) need(b int, a *state) (need [maxSlots]span) {
	for slot := range need {
		need[slot] = span{-wide, wide}
	}
	if s.reference < 0 {
		return need
	}
	for _, r := range s.blocks[b].rows {
		for side := range 2 {
			if s.bound(r, side) {
				sum := a.sums[s.rows[s.reference].slot+side]
				need[s.rows[r].slot+side] = s.forRow(r, side, span{sum, sum})
			}
		}
	}
	return need
}

func (st *state) fits(need *[maxSlots]span, slots int) bool {
	for slot := range slots {
		if !need[slot].has(st.sums[slot]) {
			return false
		}
	}
	return true
}
