package trim

import (
	"cmp"
	"math"
	"slices"
)

// walk is a search through the units of one block. layers[n] holds what the
// first n units can come to; within a layer the order is that of the tie-break.
type walk struct {
	layers [][]state
	ends   []state // the last layer
	sorted []int   // indexes of ends, the cheapest first
	groups []group // the same by changes
}

// state is a beginning of a block: options for its first units.
type state struct {
	sums [maxSlots]int64 // of the rows of the block, left and right
	cost
	parent int32 // in the layer before
	option int32
}

// span is a range of sums that serves.
type span struct{ low, high int64 }

// wide stands for no bound, far from where sums would overflow.
const wide = 1 << 60

// walk goes through a block within a budget of changes.
func (s *search) walk(b *block, allowed [][]int, least []int, budget int, reach [maxSlots]span) *walk {
	w := &walk{layers: make([][]state, 1, len(b.units)+1)}
	w.layers[0] = []state{{}}
	rest := s.rest(b, allowed, least)
	held := s.held(b)
	seen := map[[maxSlots]int64]int32{}
	for n, unit := range b.units {
		clear(seen)
		var next []state
		for parent, from := range w.layers[n] {
			for _, option := range allowed[unit] {
				s.nodes++
				st := from.with(&s.units[unit].options[option], parent, option)
				if st.changes+rest[n+1].changes > budget || !rest[n+1].reaches(&st, &reach) || !hold(held, n+1, &st, &rest[n+1]) {
					continue
				}
				next = keepBetter(next, seen, st)
			}
			if s.nodes > s.limit {
				s.spent = true
				return w
			}
		}
		w.layers = append(w.layers, s.trim(next))
	}
	w.ends = w.layers[len(b.units)]
	return w
}

func (st state) with(o *option, parent, index int) state {
	for i := range st.sums {
		st.sums[i] += o.sums[i]
	}
	st.changes += o.changes
	st.total += o.total
	st.parent, st.option = int32(parent), int32(index)
	return st
}

// dead marks a state that a better one with the same sums has replaced.
const dead = -1

// keepBetter adds a state unless one with the same sums costs no more. The
// better one goes to the end, so that the order stays that of the tie-break.
func keepBetter(next []state, seen map[[maxSlots]int64]int32, st state) []state {
	if at, ok := seen[st.sums]; ok {
		if st.compare(next[at].cost) >= 0 {
			return next
		}
		next[at].option = dead
	}
	seen[st.sums] = int32(len(next))
	return append(next, st)
}

// trim clears away what was replaced and, where only a few beginnings are to
// be followed, all but the cheapest.
func (s *search) trim(layer []state) []state {
	layer = slices.DeleteFunc(layer, func(st state) bool { return st.option == dead })
	if s.keep == 0 || len(layer) <= s.keep {
		return layer
	}
	w := walk{ends: layer}
	w.sort()
	kept := slices.Clone(w.sorted[:s.keep])
	slices.Sort(kept)
	few := make([]state, 0, s.keep)
	for _, i := range kept {
		few = append(few, layer[i])
	}
	return few
}

func (w *walk) sort() {
	w.sorted = make([]int, len(w.ends))
	for i := range w.sorted {
		w.sorted[i] = i
	}
	slices.SortFunc(w.sorted, func(i, j int) int { return cmp.Or(w.ends[i].compare(w.ends[j].cost), cmp.Compare(i, j)) })
}

// remainder is what the units still to come can add.
type remainder struct {
	changes int // at least
	sums    [maxSlots]span
}

// rest gives the remainder from each unit of the block on.
func (s *search) rest(b *block, allowed [][]int, least []int) []remainder {
	rest := make([]remainder, len(b.units)+1)
	for n := len(b.units) - 1; n >= 0; n-- {
		unit := b.units[n]
		rest[n] = rest[n+1]
		rest[n].changes += least[unit]
		for slot := range maxSlots {
			low, high := int64(math.MaxInt64), int64(math.MinInt64)
			for _, o := range allowed[unit] {
				sum := s.units[unit].options[o].sums[slot]
				low, high = min(low, sum), max(high, sum)
			}
			rest[n].sums[slot].low += low
			rest[n].sums[slot].high += high
		}
	}
	return rest
}

// reaches says whether the sums can still come to where they have to.
func (r *remainder) reaches(st *state, reach *[maxSlots]span) bool {
	for slot := range maxSlots {
		if st.sums[slot]+r.sums[slot].high < reach[slot].low || st.sums[slot]+r.sums[slot].low > reach[slot].high {
			return false
		}
	}
	return true
}

// reach says where the sums of a block have to come to so that each row can be
// inside against row A: for A's own block from what the others can come to,
// for the others from what A's block has come to.
func (s *search) reach(b int, allowed [][]int, root *walk) (reach [maxSlots]span) {
	for slot := range reach {
		reach[slot] = span{-wide, wide}
	}
	if s.reference < 0 {
		return reach
	}
	for r := range s.rows {
		for side := range 2 {
			if s.rows[r].block == 0 || !s.bound(r, side) {
				continue
			}
			a := s.rows[s.reference].slot + side
			own := s.rows[r].slot + side
			switch {
			case b == 0:
				all := s.rest(&s.blocks[s.rows[r].block], allowed, make([]int, len(s.units)))[0].sums[own]
				reach[a] = reach[a].and(s.forA(r, side, all))
			case b == s.rows[r].block:
				reach[own] = s.forRow(r, side, root.span(a))
			}
		}
	}
	return reach
}

func (x span) and(y span) span { return span{max(x.low, y.low), min(x.high, y.high)} }

// span gives the range of a sum over the ends that are left.
func (w *walk) span(slot int) span {
	all := span{math.MaxInt64, math.MinInt64}
	for _, i := range w.sorted {
		all.low, all.high = min(all.low, w.ends[i].sums[slot]), max(all.high, w.ends[i].sums[slot])
	}
	return all
}

// bound says whether a row is held against row A on a side.
func (s *search) bound(r, side int) bool {
	return r != s.reference && s.rows[r].bound[side] != math.MaxInt64 && s.rows[r].paths[side] > 0 && s.rows[s.reference].paths[side] > 0
}

// forRow gives the sums of a row that are inside for sums of row A:
// |sum/n − sumA/nA| ≤ bound, in whole numbers.
func (s *search) forRow(r, side int, ofA span) span {
	n, nA := s.rows[r].paths[side], s.rows[s.reference].paths[side]
	room := s.rows[r].bound[side] * n * nA
	return span{ceilDiv(ofA.low*n-room, nA), floorDiv(ofA.high*n+room, nA)}
}

// forA gives the sums of row A that are inside for sums of a row.
func (s *search) forA(r, side int, ofRow span) span {
	n, nA := s.rows[r].paths[side], s.rows[s.reference].paths[side]
	room := s.rows[r].bound[side] * n * nA
	return span{ceilDiv(ofRow.low*nA-room, n), floorDiv(ofRow.high*nA+room, n)}
}

func floorDiv(a, b int64) int64 {
	q := a / b
	if a%b != 0 && a < 0 {
		q--
	}
	return q
}

func ceilDiv(a, b int64) int64 { return -floorDiv(-a, b) }

func (x span) has(sum int64) bool { return sum >= x.low && sum <= x.high }
