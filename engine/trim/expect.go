package trim

import (
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

// FromOf gives where the tape has its zero on a wing: where its papers begin
// the paths whose length they state, else at the inside of the link. A brake
// path begins at the knot in any case.
func FromOf(plan *wing.Plan) wing.From {
	if len(plan.Stated) > 0 {
		return plan.PathsFrom
	}
	return wing.FromLink
}

// Refs lists the paths of a row, or of the whole wing where row is empty, in
// the order of the plan, the left one of a point first.
func Refs(plan *wing.Plan, row string) []PathRef {
	var refs []PathRef
	for _, p := range pathsOf(plan, wing.Left) {
		if row != "" && p.Row != row {
			continue
		}
		for _, side := range wing.Sides {
			refs = append(refs, PathRef{p.Point, side})
		}
	}
	return refs
}

// Expected is what a path has to read by the plan.
type Expected struct {
	Length quantity.Length
	Stated bool // the papers state the whole; else it is the sum of the lines
}

// Expect says what a path has to read by the plan, with the tape's zero where
// from says; false where the plan does not give it.
func Expect(plan *wing.Plan, ref PathRef, from wing.From) (Expected, bool) {
	p, ok := pathOf(plan, ref)
	if !ok {
		return Expected{}, false
	}
	r := &reader{plan: plan, set: Set{From: from}}
	if length, ok := r.stated(&p); ok {
		return Expected{length, true}, true
	}
	length, ok := r.sum(&p, false)
	return Expected{length, false}, ok
}

// Has reports whether the plan has a path.
func Has(plan *wing.Plan, ref PathRef) bool {
	_, ok := pathOf(plan, ref)
	return ok
}
