package trim

import (
	"fmt"
	"slices"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

// PathRef names a path: an attachment point of one side.
type PathRef struct {
	Point string    `json:"point"`
	Side  wing.Side `json:"side"`
}

// String gives "C7 left".
func (r PathRef) String() string { return r.Point + " " + string(r.Side) }

// Set is one measuring of a wing in one state. Trimmers and SpeedSystem say
// which, in words; empty: not stated. From says where the tape had its zero; a
// brake path begins at the knot whatever it says.
type Set struct {
	From        wing.From
	Trimmers    string
	SpeedSystem string
	// Joint is what each joint of this wing adds to the plain sum of its
	// segments, and JointSource who found it; 0: not known. It serves where the
	// papers do not state the length of the whole path.
	Joint       quantity.Length
	JointSource string

	Paths []PathReading
	// Segments make a path where all of its lines are given and it was not
	// measured whole.
	Segments []SegmentReading
}

// PathReading is one path, measured whole.
type PathReading struct {
	PathRef
	Measurement metrology.Measurement
	// Disagree says that its readings lie further apart than these hands
	// usually repeat.
	Disagree bool
}

// SegmentReading is one line of one side, loop to loop.
type SegmentReading struct {
	Line        wing.Ref
	Measurement metrology.Measurement
}

// StatedRule is the rule of a value that came with its uncertainty.
const StatedRule = "as stated, k = 2"

// Stated gives a path's length that somebody else measured and its expanded
// uncertainty (k = 2). What that rests on is not known, so it is taken to
// share nothing with others, and a mean of many is not surer than one of them.
func Stated(value, u quantity.Length) (metrology.Measurement, error) {
	if value <= 0 || value > metrology.MaxLength {
		return metrology.Measurement{}, &metrology.Error{Code: metrology.CodeReading, A: value.String()}
	}
	if u <= 0 || u > metrology.MaxLength {
		return metrology.Measurement{}, &metrology.Error{Code: metrology.CodeNoUncertainty}
	}
	standardMM := u.MM() / 2
	return metrology.Measurement{
		Value: value, U: u, Mean: value, N: 1, State: metrology.StateInstalled,
		Rule: StatedRule, StandardMM: standardMM, K: 2,
		Terms: []metrology.Term{{
			Source: sourceStated, Given: "U " + u.String() + ", k 2", Distribution: "normal",
			U: standardMM, Unit: "mm", Sens: 1, UMM: standardMM,
		}},
	}, nil
}

// path is a measured path of a set, beside what it should be.
type path struct {
	PathRef
	row      string
	main     bool
	span     float64
	expected quantity.Length
	m        metrology.Measurement
	composed bool // made of its segments
	stated   bool // the papers state what is expected
	disagree bool
}

func (p *path) deviation() quantity.Length { return p.m.Value - p.expected }

// reader lays what was measured beside the plan.
type reader struct {
	plan     *wing.Plan
	set      Set
	whole    map[PathRef]PathReading
	segments map[wing.Ref]metrology.Measurement

	paths   []path      // in the order of the plan, the left one first
	left    []wing.Path // of the plan
	planned int
	lacking []PathRef // paths that the plan gives no length for
	absent  []PathRef // paths that were not measured
}

func read(plan *wing.Plan, set Set) (*reader, error) {
	r := &reader{plan: plan, set: set, whole: map[PathRef]PathReading{}, segments: map[wing.Ref]metrology.Measurement{}}
	if !slices.Contains(wing.Froms, set.From) {
		return nil, refuse(fmt.Sprintf("measured from %q cannot be", set.From), `say "link" or "riser": where the tape had its zero`)
	}
	if set.Joint.Abs() > 10*quantity.Millimetre {
		return nil, refuse(fmt.Sprintf("%s for one joint cannot be", set.Joint), "give -10 to 10 mm")
	}
	for _, text := range []string{set.Trimmers, set.SpeedSystem, set.JointSource} {
		if err := printable(text); err != nil {
			return nil, err
		}
	}
	if err := r.collect(); err != nil {
		return nil, err
	}
	r.left = pathsOf(plan, wing.Left)
	right := pathsOf(plan, wing.Right)
	for i := range r.left {
		for _, p := range []*wing.Path{&r.left[i], &right[i]} {
			r.planned++
			if err := r.path(p); err != nil {
				return nil, err
			}
		}
	}
	return r, nil
}

// collect sorts the readings and refuses what the plan does not know.
func (r *reader) collect() error {
	for _, p := range r.set.Paths {
		if _, ok := pathOf(r.plan, p.PathRef); !ok {
			return refuse(fmt.Sprintf("there is no attachment point %q %s", p.Point, p.Side), "give a point of the plan, such as C7, and left or right")
		}
		if _, twice := r.whole[p.PathRef]; twice {
			return refuse(fmt.Sprintf("%s is there twice", p.PathRef), "give each path once, all its readings in one measurement")
		}
		if len(p.Measurement.Terms) == 0 {
			return &metrology.Error{Code: metrology.CodeNotEvaluated}
		}
		r.whole[p.PathRef] = p
	}
	for _, s := range r.set.Segments {
		if !r.plan.Has(s.Line) || s.Line.Kind != wing.KindLine {
			return refuse(fmt.Sprintf("there is no line %s in the plan", s.Line), "correct code and side; C1 and c1 are two codes")
		}
		if _, twice := r.segments[s.Line]; twice {
			return refuse(fmt.Sprintf("%s is there twice", s.Line), "give each line once, all its readings in one measurement")
		}
		if len(s.Measurement.Terms) == 0 {
			return &metrology.Error{Code: metrology.CodeNotEvaluated}
		}
		r.segments[s.Line] = s.Measurement
	}
	return nil
}

// path adds one path of the plan if it was measured.
func (r *reader) path(p *wing.Path) error {
	found := path{PathRef: PathRef{p.Point, p.Side}, row: p.Row, main: wing.MainRow(p.Row) && !onHandle(p), span: spanOf(p)}
	whole, measured := r.whole[found.PathRef]
	if !measured {
		m, ok, err := r.compose(p)
		if err != nil {
			return err
		}
		if !ok {
			r.absent = append(r.absent, found.PathRef)
			return nil
		}
		whole.Measurement, found.composed = m, true
	}
	found.m, found.disagree = whole.Measurement, whole.Disagree
	if !found.composed {
		found.expected, found.stated = r.stated(p)
	}
	if !found.stated {
		sum, known := r.sum(p, found.composed)
		if !known {
			r.lacking = append(r.lacking, found.PathRef)
			return nil
		}
		found.expected = sum
	}
	r.paths = append(r.paths, found)
	return nil
}

// stated is the length that the papers state for the stretch that was
// measured; false where they do not, or state it from another zero and the
// riser between is not known.
func (r *reader) stated(p *wing.Path) (quantity.Length, bool) {
	riser := p.Riser.Length
	switch {
	case p.Stated == 0:
		return 0, false
	case onHandle(p) || r.set.From == r.plan.PathsFrom:
		return p.Stated, true
	case r.set.From == wing.FromLink:
		riser = -riser
	}
	return p.Stated + riser, riser != 0
}

// sum is what the lines of the plan come to for the stretch that was measured.
// Segments were measured without their joints.
func (r *reader) sum(p *wing.Path, composed bool) (quantity.Length, bool) {
	sum := quantity.Length(0)
	for _, l := range p.Lines {
		if l.Length == 0 {
			return 0, false
		}
		sum += l.Length
	}
	if !composed {
		sum += quantity.Length(len(p.Lines)-1) * r.set.Joint
	}
	if len(p.Lines) == 0 {
		return 0, false
	}
	if r.set.From == wing.FromRiser && !onHandle(p) {
		if p.Riser.Length == 0 {
			return 0, false
		}
		sum += p.Riser.Length
	}
	return sum, true
}

// compose makes a path of its segments; false where one was not measured. The
// riser stands in with its length by the plan.
func (r *reader) compose(p *wing.Path) (metrology.Measurement, bool, error) {
	if len(r.segments) == 0 || len(p.Lines) == 0 {
		return metrology.Measurement{}, false, nil
	}
	parts := make([]metrology.Measurement, 0, len(p.Lines))
	for _, l := range p.Lines {
		m, ok := r.segments[wing.LineRef(l.Code, p.Side)]
		if !ok {
			return metrology.Measurement{}, false, nil
		}
		parts = append(parts, m)
	}
	sum, err := addUp(parts)
	if err != nil {
		return metrology.Measurement{}, false, err
	}
	if r.set.From == wing.FromRiser {
		sum.Value += p.Riser.Length
		sum.Mean += p.Riser.Length
	}
	return sum, true, nil
}
