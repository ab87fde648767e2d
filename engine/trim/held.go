package trim

// heldRow is a row that shares the block of row A, so that it can be held
// against it on the way. Once all units that touch either are behind, its sum
// matters no more and is dropped: more beginnings then come to the same.
type heldRow struct {
	own, a int // slots of the sums
	n, nA  int64
	room   int64 // of own·nA − a·n
	from   int   // units after which both sums stand
}

// held lists the rows of the block of row A that are held against it.
func (s *search) held(b *block) []heldRow {
	if s.reference < 0 || b != &s.blocks[0] {
		return nil
	}
	var all []heldRow
	for _, r := range b.rows {
		for side := range 2 {
			if !s.bound(r, side) {
				continue
			}
			n, nA := s.rows[r].paths[side], s.rows[s.reference].paths[side]
			all = append(all, heldRow{
				own: s.rows[r].slot + side, a: s.rows[s.reference].slot + side, n: n, nA: nA,
				room: s.rows[r].bound[side] * n * nA, from: max(s.last(b, r), s.last(b, s.reference)),
			})
		}
	}
	return all
}

// last gives how many units of the block it takes until a row is whole.
func (s *search) last(b *block, row int) int {
	last := 0
	for n, unit := range b.units {
		for _, paths := range s.units[unit].paths {
			for _, m := range paths {
				if m.row == row {
					last = n + 1
				}
			}
		}
	}
	return last
}

// hold says whether all held rows can still be inside after so many units, and
// drops the sums that have done their work.
func hold(held []heldRow, units int, st *state, rest *remainder) bool {
	for _, h := range held {
		if units > h.from {
			continue
		}
		own, a := st.sums[h.own], st.sums[h.a]
		low := (own+rest.sums[h.own].low)*h.nA - (a+rest.sums[h.a].high)*h.n
		high := (own+rest.sums[h.own].high)*h.nA - (a+rest.sums[h.a].low)*h.n
		if low > h.room || high < -h.room {
			return false
		}
	}
	for _, h := range held {
		if units == h.from {
			st.sums[h.own] = 0
		}
	}
	return true
}
