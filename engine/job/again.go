package job

import (
	"fmt"
	"math"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/quantity"
)

// near is what a reading should lie near.
type near struct {
	value  float64 // in the step's unit
	within float64 // how far off is still near; 0: as far says
	where  string  // who has it; "" where it may not be told here
}

// again asks once more for a reading that lies far from what is expected: a
// slip of the comma is a number like any other. What is typed again is taken,
// and the journal keeps that it was; anything else takes its place.
func (d *decider) again(v quantity.Value) error {
	if d.preview {
		return nil // while it is typed it is far from everything
	}
	n, ok := d.nearest(v.Float())
	if !ok || !d.far(n, v.Float()) {
		return nil
	}
	if before, err := quantity.Parse(v.Kind, d.en.Again); d.en.Again != "" && err == nil && before == v {
		d.ev.FarFrom = n.where
		if n.where == "" {
			d.ev.FarFrom = "what was to be expected"
		}
		return nil
	}
	if n.where == "" {
		return refuse(TypeAgainCovered, v)
	}
	return refuse(TypeAgain, v, n.where)
}

// nearest finds what a reading should lie near: what the procedure names, else
// what it is held against, what is expected, the plan's length of the line, or
// the reading before it. What a covered look must not show is not told.
func (d *decider) nearest(value float64) (near, bool) {
	n, ok := d.known(value)
	if d.slot.Hidden || d.slot.Card.By == procedure.Second {
		n.where = ""
	}
	return n, ok
}

func (d *decider) known(value float64) (near, bool) {
	step := d.slot.Step
	if is, within, where, ok := d.slot.Near(d.task, value); ok {
		return near{is, within, where}, true
	}
	if a := d.against(); step.Against != "" && a != nil && a.Measurement != nil {
		v := a.Measurement.Value
		return near{value: v.MM(), where: fmt.Sprintf("entry %d has %s", a.Line, v)}, true
	}
	if want, ok, err := d.slot.Expect(d.task); ok && err == nil {
		return near{value: want, where: fmt.Sprintf("%s %s is expected", procedure.Print(want), quantity.Kind(step.Quantity).Unit())}, true
	}
	if o := d.j.object(d.task, d.slot); d.isLength() && o.Nominal > 0 {
		return near{value: o.Nominal.MM(), where: fmt.Sprintf("the plan has %s", o.Nominal)}, true
	}
	if rs := d.task.counting(d.slot.Key); len(rs) > 0 {
		n := near{value: rs[0].Value.Float(), where: fmt.Sprintf("the reading before has %s", rs[0].Value)}
		if step.Blind {
			n.where = ""
		}
		return n, true
	}
	return near{}, false
}

// How far off is far, where the procedure does not say: common practice, no
// source. A used line lies some 10 mm off, a brake main some 100 mm after its
// knot was moved. What belongs to no line (tail, free play, distance) may
// really be twice or half of what it is elsewhere, but a slip of the comma
// makes it ten times or a tenth.
const (
	farLine  = 100.0 // mm
	farLeast = 20.0  // mm: less is never far
	farShare = 0.25  // of a short line
)

// slip is halfway between the number that is meant and the one that a slip of
// the comma makes of it.
var slip = math.Sqrt(10)

func (d *decider) far(n near, value float64) bool {
	off := math.Abs(value - n.value)
	state := metrology.State(d.slot.Step.State)
	switch {
	case n.within > 0:
		return off > n.within
	case d.isLength() && off <= farLeast:
		return false
	case d.isLength() && state != metrology.StatePlain:
		return off > max(farLeast, min(farLine, farShare*n.value))
	}
	return n.value > 0 && (value*slip < n.value || value > n.value*slip)
}
