package picture

import (
	"math"

	"example.org/linewright/engine/wing"
)

// spread gives each place of a row its slot, of as many as there are from the
// centre to the tip: by span where the plan has it, else the place itself.
func (r *endRow) spread(of int) {
	spans := r.spans()
	n := len(r.ends[wing.Left])
	r.slots = make([]int, n+1)
	beyond := of + 1
	for place := n; place >= 1; place-- {
		r.slots[place] = place
		if spans != nil {
			// No two in one slot, and one left for each that lies nearer to the centre.
			wanted := int(math.Round(spans[place] * float64(of)))
			r.slots[place] = max(place, min(wanted, beyond-1))
			beyond = r.slots[place]
		}
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
// far as the next place, so that a gap is a path that was not measured. Nothing
// of a row lies inward of its first place.
func (r *endRow) inward(place int) int {
	if place == 1 {
		return 1
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
