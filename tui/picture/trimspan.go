package picture

import (
	"math"
	"slices"

	"example.org/linewright/engine/wing"
)

// spread gives each end its slot, a column counted from the centre, in so many
// columns for both sides; false where they are too few.
func (v *trimView) spread(room int) bool {
	v.half = v.places * v.step
	if v.step == 0 {
		const most = 3 // columns for a place; more only pull a row apart
		v.half = min((room-1)/2, most*v.places)
		if len(v.spans) == 0 || v.half < max(len(v.spans), v.places) {
			return false
		}
	}
	for _, r := range v.rows {
		switch {
		case v.step == 0:
			r.moved = false
			r.inOrder(v.spans, v.places, v.half)
		default:
			r.inPlaces(v.places, v.step)
		}
	}
	return v.strip() <= room
}

// spansOf lists the spans of all rows that have them, each once, from the centre;
// none if a row has one twice, since its ends cannot lie in one column.
func spansOf(rows []*endRow) []float64 {
	var all []float64
	for _, r := range rows {
		spans := r.spans()
		if spans == nil {
			continue
		}
		spans = spans[1 : len(spans)-1]
		if len(slices.Compact(slices.Clone(spans))) < len(spans) {
			return nil
		}
		all = append(all, spans...)
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// inOrder puts a row where its spans lie among those of all rows: no two spans in
// one column, so that what lies nearer to the tip stands nearer to it in any row.
// Without spans it lies by its places, of as many as the longest row has.
func (r *endRow) inOrder(all []float64, of, half int) {
	spans := r.spans()
	n := len(r.ends[wing.Left])
	r.slots = make([]int, n+1)
	for place := 1; place <= n && spans == nil; place++ {
		r.slots[place] = place * half / of
	}
	beyond := half + 1
	for at, span := range slices.Backward(all) {
		beyond = max(at+1, min(int(math.Round(span*float64(half))), beyond-1))
		for place := 1; place <= n && spans != nil; place++ {
			if spans[place] == span {
				r.slots[place] = beyond
			}
		}
	}
}

// inPlaces puts a row into as many places as the longest one has, a step apart:
// by span where the plan has it, else by its own places.
func (r *endRow) inPlaces(of, step int) {
	spans := r.spans()
	n := len(r.ends[wing.Left])
	r.slots = make([]int, n+1)
	r.moved = false
	beyond := of + 1
	for place := n; place >= 1; place-- {
		at := place
		if spans != nil {
			// No two in one place, and one left for each that lies nearer to the centre.
			wanted := int(math.Round(spans[place] * float64(of)))
			at = max(place, min(wanted, beyond-1))
			r.moved = r.moved || at != wanted
			beyond = at
		}
		r.slots[place] = at * step
	}
}

// spans gives the span of each place; of one that was measured on neither side
// it lies evenly between its neighbours. Nil if a path that was measured has
// none, or if they do not rise from the centre to the tip.
func (r *endRow) spans() []float64 {
	n := len(r.ends[wing.Left])
	spans := make([]float64, n+2)
	spans[n+1] = 1
	last, known := 0, false
	between := func(next int) bool {
		for place := last + 1; place < next; place++ {
			spans[place] = spans[last] + (spans[next]-spans[last])*float64(place-last)/float64(next-last)
		}
		rises := spans[last] <= spans[next]
		last = next
		return rises
	}
	for place := 1; place <= n; place++ {
		for _, side := range wing.Sides {
			e := r.ends[side][place-1]
			if e == nil {
				continue
			}
			if e.Span == nil {
				return nil
			}
			spans[place], known = *e.Span, true
		}
		if r.measured(place) && !between(place) {
			return nil
		}
	}
	if !known || !between(n+1) {
		return nil
	}
	return spans
}

func (r *endRow) measured(place int) bool {
	return r.ends[wing.Left][place-1] != nil || r.ends[wing.Right][place-1] != nil
}

// inward gives the slots that the band goes from a place toward the centre: as
// far as the next place, so that a gap is a path that was not measured. Inward of
// the first place it goes to the centre, if that is no further.
func (r *endRow) inward(place, step int) int {
	switch {
	case place == 1 && len(r.slots) > 2 && r.slots[1] <= r.slots[2]-r.slots[1]+1:
		return r.slots[1] // it is the next one of the other side
	case place == 1:
		return max(1, step)
	}
	return r.slots[place] - r.slots[place-1]
}

// mixed reports whether some rows lie by span and others evenly.
func (v *trimView) mixed() bool {
	with, without := false, false
	for _, r := range v.rows {
		if r.spans() != nil {
			with = true
		} else {
			without = true
		}
	}
	return with && without
}
