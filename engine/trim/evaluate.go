package trim

import (
	"strings"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/wing"
)

// Row is one reading of one path, as typed or as a line of a sheet.
type Row struct {
	PathRef
	metrology.Reading
}

// Evaluate makes path readings of raw ones, on one bench: all readings of a
// path are one measurement. They come in the order in which a path is first
// named. The error is that of metrology.Evaluate, or a *wing.SumError for a
// path that the plan does not have.
func Evaluate(plan *wing.Plan, from wing.From, rows []Row, bench metrology.Bench) ([]PathReading, error) {
	readings := map[PathRef][]metrology.Reading{}
	var order []PathRef
	for _, r := range rows {
		if readings[r.PathRef] == nil {
			order = append(order, r.PathRef)
		}
		readings[r.PathRef] = append(readings[r.PathRef], r.Reading)
	}
	out := make([]PathReading, 0, len(order))
	for _, ref := range order {
		o, ok := Object(plan, ref, from)
		if !ok {
			return nil, refuse("there is no path "+ref.String(), "give a point of the plan, such as C7, and left or right")
		}
		m, err := metrology.Evaluate(o, readings[ref], bench)
		if err != nil {
			return nil, err
		}
		repeat, err := metrology.Repeats(readings[ref], bench)
		if err != nil {
			return nil, err
		}
		out = append(out, PathReading{PathRef: ref, Measurement: m, Disagree: !repeat.Agrees})
	}
	return out, nil
}

// Object says what is measured when a path is, so that its stretch and its
// expansion can be reckoned as far as the plan knows its lines; false where
// the plan does not have the path.
func Object(plan *wing.Plan, ref PathRef, from wing.From) (metrology.Object, bool) {
	p, ok := pathOf(plan, ref)
	if !ok {
		return metrology.Object{}, false
	}
	o := metrology.Object{State: metrology.StateInstalled, PlanPull: plan.Pull.Force}
	known := true
	for i, l := range p.Lines {
		if i == 0 {
			o.Material = strings.ToLower(l.Material)
		}
		o.Nominal += l.Length
		o.Chain = append(o.Chain, metrology.Segment{Length: l.Length, Strength: l.Strength})
		known = known && l.Length > 0
		if strings.ToLower(l.Material) != o.Material {
			o.Material = "" // mixed: how it expands is not known
		}
	}
	if from == wing.FromRiser {
		o.Nominal += p.Riser.Length
	}
	if !known {
		o.Nominal, o.Chain = 0, nil
	}
	if p.Stated > 0 {
		o.Nominal = p.Stated // near enough: it only says how long the tape is
	}
	return o, true
}
