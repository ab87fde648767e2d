package trim

import (
	"fmt"
	"slices"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/wing"
)

// Role says what a path is to the work that was done.
type Role string

const (
	RoleChanged Role = "changed" // it runs through a line that was worked on
	RoleTwin    Role = "twin"    // the same path of the other side
	RoleControl Role = "control" // untouched: it has to read as before
)

// Remeasure says what has to be measured again after work.
type Remeasure struct {
	Changed []PathRef `json:"changed"`
	Twins   []PathRef `json:"twins"`             // of the changed ones, where not changed themselves
	Control *PathRef  `json:"control,omitempty"` // one untouched path; none where the work touched all
}

// Repeat lists what has to be measured after work on lines, links or brakes:
// the paths that changed, their twins, and one control path that nobody
// touched, which shows whether the bench measures as before. The control is
// the first untouched path of the plan, left before right, on a link where one
// is left.
func Repeat(plan *wing.Plan, worked []wing.Ref) (Remeasure, error) {
	roles, err := rolesOf(plan, worked)
	if err != nil {
		return Remeasure{}, err
	}
	r := Remeasure{Changed: []PathRef{}, Twins: []PathRef{}}
	handle := true
	for _, p := range bothSides(plan) {
		ref := PathRef{p.Point, p.Side}
		switch roles[ref] {
		case RoleChanged:
			r.Changed = append(r.Changed, ref)
		case RoleTwin:
			r.Twins = append(r.Twins, ref)
		case RoleControl:
			if r.Control == nil || handle && !onHandle(&p) {
				r.Control, handle = &ref, onHandle(&p)
			}
		}
	}
	return r, nil
}

// rolesOf gives the role of every path of the plan.
func rolesOf(plan *wing.Plan, worked []wing.Ref) (map[PathRef]Role, error) {
	if len(worked) == 0 {
		return nil, refuse("nothing is named that was worked on", "name the lines, links or brakes")
	}
	for _, w := range worked {
		if !plan.Has(w) {
			return nil, refuse(fmt.Sprintf("there is no %s in the plan", w), "correct code and side; C1 and c1 are two codes")
		}
	}
	roles := map[PathRef]Role{}
	for _, p := range bothSides(plan) {
		own := PathRef{p.Point, p.Side}
		twin := PathRef{p.Point, p.Side.Other()}
		if slices.ContainsFunc(worked, func(w wing.Ref) bool { return runsThrough(&p, w) }) {
			roles[own] = RoleChanged
			if roles[twin] != RoleChanged {
				roles[twin] = RoleTwin
			}
		} else if roles[own] == "" {
			roles[own] = RoleControl
		}
	}
	return roles, nil
}

// runsThrough says whether work on a thing can have moved a path.
func runsThrough(p *wing.Path, w wing.Ref) bool {
	switch w.Kind {
	case wing.KindBrakes:
		return onHandle(p)
	case wing.KindLink:
		return w.Side == p.Side && len(p.Lines) > 0 && p.Lines[0].On == wing.Anchor{Kind: wing.OnLink, Name: w.Code}
	}
	return w.Side == p.Side && slices.ContainsFunc(p.Lines, func(l wing.Line) bool { return l.Code == w.Code })
}

// Move is what the work moved.
type Move struct {
	Worked []wing.Ref `json:"worked"`
	Paths  []PathMove `json:"paths"` // measured before and after
	// Before and After are the trim of the whole wing; what was not measured
	// again stands in After as it was.
	Before Report `json:"before"`
	After  Report `json:"after"`
	// Lacking is still to be measured: changed paths, twins, a control.
	Lacking []PathRef `json:"lacking"`
	// Trusted is false where the control moved, or there is none: then the
	// bench moved, or may have, and the other moves prove nothing.
	Trusted bool     `json:"trusted"`
	Notes   []string `json:"notes"`
}

// PathMove is one path after minus before.
type PathMove struct {
	PathRef
	Role     Role    `json:"role"`
	BeforeMM float64 `json:"before_deviation_mm"`
	AfterMM  float64 `json:"after_deviation_mm"`
	MovedMM  float64 `json:"moved_mm"` // positive: longer
	UMM      float64 `json:"expanded_uncertainty_mm"`
	Proved   bool    `json:"moved"` // by more than the uncertainty
}

// Compare says what work on lines, links or brakes moved. after holds what was
// measured since; before the whole set of then. Both have to be of one state:
// the same zero, trimmers and speed system.
func Compare(plan *wing.Plan, before, after Set, chord Chord, worked []wing.Ref) (Move, error) {
	if err := sameState(before, after); err != nil {
		return Move{}, err
	}
	roles, err := rolesOf(plan, worked)
	if err != nil {
		return Move{}, err
	}
	m := Move{Worked: worked, Paths: []PathMove{}, Lacking: []PathRef{}, Notes: []string{}}
	old, err := read(plan, before)
	if err != nil {
		return Move{}, err
	}
	late, err := read(plan, after)
	if err != nil {
		return Move{}, err
	}
	m.paths(old, late, roles)
	m.lacking(plan, late, worked)
	m.trust()
	if m.Before, err = NewReport(plan, before, chord); err != nil {
		return Move{}, err
	}
	m.After, err = NewReport(plan, merge(before, after, late.paths), chord)
	return m, err
}

func sameState(before, after Set) error {
	for _, s := range []struct{ what, before, after string }{
		{"the zero of the tape", string(before.From), string(after.From)},
		{"the trimmers", before.Trimmers, after.Trimmers},
		{"the speed system", before.SpeedSystem, after.SpeedSystem},
	} {
		if s.before != s.after {
			return refuse(fmt.Sprintf("not alike: %s was %q before and is %q after", s.what, s.before, s.after), "measure both the same way, and state it in the same words")
		}
	}
	if before.Joint != after.Joint {
		return refuse("not alike: a joint was given another length before than after", "give what a joint adds once for the wing")
	}
	return nil
}

// merge puts what was measured later in the place of what was measured before.
func merge(before, after Set, late []path) Set {
	all := before
	again := make(map[PathRef]bool, len(late))
	for i := range late {
		again[late[i].PathRef] = true
	}
	all.Paths = slices.Clone(after.Paths)
	for _, p := range before.Paths {
		if !again[p.PathRef] {
			all.Paths = append(all.Paths, p)
		}
	}
	all.Segments = slices.Clone(after.Segments)
	for _, s := range before.Segments {
		if !slices.ContainsFunc(after.Segments, func(l SegmentReading) bool { return l.Line == s.Line }) {
			all.Segments = append(all.Segments, s)
		}
	}
	return all
}

// paths compares what was measured before and after.
func (m *Move) paths(old, late *reader, roles map[PathRef]Role) {
	first := make(map[PathRef]*path, len(old.paths))
	for i := range old.paths {
		first[old.paths[i].PathRef] = &old.paths[i]
	}
	for i := range late.paths {
		now := &late.paths[i]
		then, ok := first[now.PathRef]
		if !ok {
			m.Notes = append(m.Notes, now.String()+" was not measured before the work: what it moved is not known")
			continue
		}
		d, err := metrology.Compare(now.m, then.m)
		if err != nil {
			m.Notes = append(m.Notes, now.String()+" before and after are not compared: "+err.Error())
			continue
		}
		moved := d.Value - (now.expected - then.expected)
		m.Paths = append(m.Paths, PathMove{
			PathRef: now.PathRef, Role: roles[now.PathRef],
			BeforeMM: then.deviation().MM(), AfterMM: now.deviation().MM(),
			MovedMM: moved.MM(), UMM: d.U.MM(), Proved: moved.Abs() > d.U,
		})
	}
}

// lacking lists what Repeat asks for and after does not hold.
func (m *Move) lacking(plan *wing.Plan, late *reader, worked []wing.Ref) {
	measured := map[PathRef]bool{}
	for i := range late.paths {
		measured[late.paths[i].PathRef] = true
	}
	need, _ := Repeat(plan, worked) // rolesOf has taken these already
	for _, ref := range slices.Concat(need.Changed, need.Twins) {
		if !measured[ref] {
			m.Lacking = append(m.Lacking, ref)
		}
	}
	if need.Control != nil && !slices.ContainsFunc(m.Paths, func(p PathMove) bool { return p.Role == RoleControl }) {
		m.Lacking = append(m.Lacking, *need.Control)
	}
}

// oneInByChance: of so many untouched paths one passes for moved by chance
// alone, beyond two standard deviations of a normal distribution.
const oneInByChance = 22

// trust judges by the controls whether the bench measured as before.
func (m *Move) trust() {
	controls, moved := 0, []PathRef{}
	for _, p := range m.Paths {
		if p.Role != RoleControl {
			continue
		}
		controls++
		if p.Proved {
			moved = append(moved, p.PathRef)
		}
	}
	m.Trusted = controls > 0 && len(moved) <= controls/oneInByChance
	switch {
	case controls == 0:
		m.Notes = append(m.Notes, "no untouched path was measured before and after: whether the bench moved is not known")
	case !m.Trusted:
		m.Notes = append(m.Notes, "untouched, yet not as before: "+list(moved, mostNamed)+". The bench moved, or something else did: measure these again before anything is believed")
	case len(moved) > 0:
		m.Notes = append(m.Notes, fmt.Sprintf("untouched, yet not as before: %s; one in %d does so by chance", list(moved, mostNamed), oneInByChance))
	}
}
