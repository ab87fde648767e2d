package picture

import (
	"example.org/linewright/engine/job"
	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

var (
	c12    = wing.LineRef("C1.2", wing.Left)
	before = job.Stack{Key: "opening.order_before", Codes: []string{"C1.1", "C1.2", "C1.3"}}
	after  = job.Stack{Key: "closure.order_after", Codes: []string{"C1.1", "C1.3", "C1.2"}}
)

// cards are the cards that the goldens show, by the name of their file.
var cards = map[string]job.Card{
	"fan_lower":       {Picture: NameFan, Ref: c12},
	"fan_lower_right": {Picture: NameFan, Ref: c12.Twin()},
	"fan_middle":      {Picture: NameFan, Ref: wing.LineRef("B2.6", wing.Left)},
	"fan_stabilo":     {Picture: NameFan, Ref: wing.LineRef("s2.1", wing.Right)},
	"fan_upper":       {Picture: NameFan, Ref: wing.LineRef("D3.8", wing.Left)},
	"fan_link":        {Picture: NameFan, Ref: wing.LinkRef("B", wing.Right)},
	"fan_brakes":      {Picture: NameFan, Ref: wing.Brakes()},
	"fan_hidden":      {Picture: NameFan, Ref: c12, Hidden: true},

	"stack_plan":    {Picture: NameStack, Ref: c12},
	"stack_before":  {Picture: NameStack, Ref: c12, Orders: []job.Stack{before}, Shown: gateAt("outer")},
	"stack_crossed": {Picture: NameStack, Ref: c12, Orders: []job.Stack{before, after}},
	"stack_pattern": {Picture: NameStack, Ref: wing.LinkRef("B", wing.Left), Orders: []job.Stack{{Key: "order_pattern", Codes: []string{"B1.1", "B1.2", "B1.3", "S1.1"}}}},
	"stack_misread": {Picture: NameStack, Ref: c12, Orders: []job.Stack{before}, Shown: gateAt("outer"), Fields: []job.Field{
		{Kind: procedure.Order, State: job.Partial, Misread: &job.Misread{Read: after.Codes, Right: before.Codes}}}},
	"stack_off_plan": {Picture: NameStack, Ref: c12, Fields: []job.Field{
		{Kind: procedure.Order, State: job.Partial, Misread: &job.Misread{Read: after.Codes, Right: before.Codes, ByPlan: true}}}},
	"stack_asked": {Picture: NameStack, Ref: c12, Orders: []job.Stack{before}, Fields: []job.Field{{Kind: procedure.Order}}},

	"scale_inside":   measured(long(2, 4), 4206, 4208),
	"scale_outside":  measured(long(12.4, 2), 4217, 4217.8),
	"scale_far":      measured(long(-36, 4), 4168, 4170),
	"scale_covered":  measured(covered(), 4206),
	"scale_no_limit": measured(plain(true, 4206.3, 2.2), 4206, 4206, 4207),
	"scale_bare":     measured(plain(false, 4206.3, 2.2), 4206, 4206, 4207),
	"scale_empty":    measured(job.Scale{Quantity: quantity.KindLength, HasValue: true, Expected: 4205 * quantity.Millimetre, HasLimit: true, Limit: 10 * quantity.Millimetre, Against: "twin_mm"}),

	"hitch_stages": {Picture: NameHitch, Ref: c12, Fields: []job.Field{{Kind: procedure.Do}}},
	"hitch_judge":  {Picture: NameHitch, Ref: c12, Second: true},
	"hitch_undo":   {Picture: NameHitch, Ref: c12, Fields: []job.Field{{Kind: procedure.Do}}, Shown: map[string]any{showUndo: true}},
	"hitch_tab":    {Picture: NameHitch, Ref: wing.LineRef("C3.5", wing.Left), Key: "exchange.joint_done@3", Fields: []job.Field{{Kind: procedure.Do}}},

	"knot_tie":    {Picture: NameKnot, Ref: wing.Brakes(), Fields: []job.Field{{Kind: procedure.Do}}, Shown: move(1, 2, 135, 300)},
	"knot_found":  {Picture: NameKnot, Ref: wing.Brakes(), Fields: []job.Field{{Kind: procedure.Do}}},
	"knot_shift":  {Picture: NameKnot, Ref: wing.Brakes(), Fields: []job.Field{{Kind: procedure.Measure}}},
	"knot_apart":  {Picture: NameKnot, Ref: wing.Brakes(), Fields: []job.Field{{Kind: procedure.Measure}}, Shown: map[string]any{showDistance: 135.0, showTail: 300.0}},
	"knot_toward": {Picture: NameKnot, Ref: wing.Brakes(), Fields: []job.Field{{Kind: procedure.Choose}}, Shown: move(1, 2, 135, 300)},

	"pulleys_unknown": {Picture: NamePulleys, Ref: wing.Brakes()},
	"pulleys_lower":   {Picture: NamePulleys, Ref: wing.Brakes(), Shown: places(1, 2)},
	"pulleys_higher":  {Picture: NamePulleys, Ref: wing.Brakes(), Shown: places(2, 1)},
	"pulleys_stay":    {Picture: NamePulleys, Ref: wing.Brakes(), Shown: places(1, 1)},

	"gate_plan":    {Picture: NameGate, Ref: c12},
	"gate_counted": {Picture: NameGate, Ref: c12, Fields: []job.Field{{Kind: procedure.Count, State: job.Ready, Answer: "4.5 turns"}}},
	"gate_past":    {Picture: NameGate, Ref: c12, Fields: []job.Field{{Kind: procedure.Count, State: job.Ready, Answer: "6 turns"}}},
	"gate_asked":   {Picture: NameGate, Ref: c12, Fields: []job.Field{{Kind: procedure.Count}}},
}

// gateAt is what a card shows of the end at which the gate is.
func gateAt(end string) map[string]any { return map[string]any{showGateEnd: end} }

// places is what a card shows of a pulley's move: places from the top.
func places(found, chosen float64) map[string]any {
	return map[string]any{showFound: found, showNew: chosen}
}

// move is what a card shows of a pulley's move, in mm.
func move(found, chosen, distance, tail float64) map[string]any {
	shown := places(found, chosen)
	shown[showDistance], shown[showTail] = distance, tail
	return shown
}

// long is a scale around 4205 mm with a limit of 10 mm.
func long(deviationMM, uMM float64) job.Scale {
	s := plain(true, 4205+deviationMM, uMM)
	s.Source, s.HasLimit, s.Limit = "sample plan, 3rd edition", true, 10*quantity.Millimetre
	s.Deviation = um(deviationMM)
	if j, err := metrology.Judge(s.Deviation, s.U, s.Limit); err == nil {
		s.Judgement = &j
	}
	return s
}

func plain(expected bool, valueMM, uMM float64) job.Scale {
	s := job.Scale{Quantity: quantity.KindLength, Need: 2, U: um(uMM), HasValue: expected}
	if expected {
		s.Expected, s.Nominal = 4205*quantity.Millimetre, 4205*quantity.Millimetre
		s.Deviation = um(valueMM) - s.Expected
	}
	s.Value = &metrology.Measurement{Value: um(valueMM), U: s.U}
	return s
}

func covered() job.Scale {
	s := long(0, 4)
	s.Covered, s.Value, s.Judgement = true, nil, nil
	return s
}

func um(mm float64) quantity.Length {
	l, _ := quantity.LengthFromMM(mm)
	return l
}

func measured(s job.Scale, readingsMM ...float64) job.Card {
	for _, mm := range readingsMM {
		s.Readings = append(s.Readings, job.Reading{Value: quantity.Value{Kind: quantity.KindLength, N: int64(um(mm))}, Outcome: job.Taken})
	}
	return job.Card{Picture: NameScale, Ref: c12, Fields: []job.Field{{Kind: procedure.Measure, Scale: &s}}}
}
