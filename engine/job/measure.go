package job

import (
	"errors"
	"fmt"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/quantity"
)

// reading decides one raw value of a measure step. It never judges against
// the limit: that is Settle, an entry of its own, so that an instrument's
// Enter cannot confirm a verdict.
func (d *decider) reading(text string) error {
	step := d.slot.Step
	v, err := quantity.Parse(quantity.Kind(step.Quantity), text)
	if err != nil {
		return refuseValue(err)
	}
	d.ev.Kind, d.ev.Value = Read, &v
	b, err := d.plausible(v.Float())
	if err != nil {
		return err
	}
	if b != nil {
		return d.noted(b)
	}
	if step.Limit == "" && step.Against == "" {
		return d.plain(v)
	}
	return nil
}

// plain closes a step that has nothing to be judged against, once its
// readings are enough and agree.
func (d *decider) plain(v quantity.Value) error {
	readings := append(d.task.counting(d.slot.Key), Reading{Value: v})
	if b := d.enough(readings); b != nil {
		return nil // written as a reading; the step waits for more
	}
	m, err := d.evaluate(readings)
	if err != nil {
		return err
	}
	d.ev.Kind, d.ev.Measurement = Settled, m
	return d.must(mean(readings))
}

// plausible names what is wrong with a value outside the range that makes
// sense at all. It is written and asked again; it does not count.
func (d *decider) plausible(value float64) (*Because, error) {
	low, hasLow, err := d.slot.Low(d.task)
	if err != nil && !procedure.Absent(err) {
		return nil, refuse(Fault, d.slot.Key, err)
	}
	high, hasHigh, err := d.slot.High(d.task)
	if err != nil && !procedure.Absent(err) {
		return nil, refuse(Fault, d.slot.Key, err)
	}
	if hasLow && value < low || hasHigh && value > high {
		return because(Implausible, d.ev.Value, procedure.Print(low), procedure.Print(high)), nil
	}
	return nil, nil
}

// counting lists the readings that count: plausible and not struck.
func (t *Task) counting(key string) []Reading {
	if a := t.answers[key]; a != nil && a.State == Partial {
		return a.counting()
	}
	return nil
}

func (a *Answer) counting() []Reading {
	var out []Reading
	for _, r := range a.Readings {
		if r.Outcome == Taken && r.Struck == "" {
			out = append(out, r)
		}
	}
	return out
}

// enough says what is still missing before readings may be evaluated. Two
// that differ by more than the stated spread call for a third, never for a
// silent mean; from three on, the odd one has to be struck with a reason.
func (d *decider) enough(rs []Reading) *Because {
	step := d.slot.Step
	need := max(step.Readings, 1)
	if len(rs) < need {
		return because(MoreReadings, len(rs), need)
	}
	if step.SpreadMM == 0 || len(rs) < 2 {
		return nil
	}
	limit, err := quantity.LengthFromMM(step.SpreadMM)
	spread := metrology.Spread(raw(rs))
	switch {
	case err != nil:
		return because(Fault, d.slot.Key, err)
	case spread <= limit:
		return nil
	case len(rs) == 2:
		return because(SpreadWide, spread, limit)
	}
	return because(StrikeOdd, spread, limit, odd(rs).Value, odd(rs).Line)
}

// odd gives the reading furthest from the middle one.
func odd(rs []Reading) Reading {
	mid := median(rs)
	worst := rs[0]
	for _, r := range rs {
		if (quantity.Length(r.Value.N) - mid).Abs() > (quantity.Length(worst.Value.N) - mid).Abs() {
			worst = r
		}
	}
	return worst
}

func median(rs []Reading) quantity.Length {
	sortedRs := raw(rs)
	for i := 1; i < len(sortedRs); i++ {
		for k := i; k > 0 && sortedRs[k].Value < sortedRs[k-1].Value; k-- {
			sortedRs[k], sortedRs[k-1] = sortedRs[k-1], sortedRs[k]
		}
	}
	return sortedRs[len(sortedRs)/2].Value
}

func raw(rs []Reading) []metrology.Reading {
	out := make([]metrology.Reading, len(rs))
	for i, r := range rs {
		out[i] = metrology.Reading{Typed: r.Typed, Value: quantity.Length(r.Value.N)}
	}
	return out
}

func mean(rs []Reading) float64 {
	sum := 0.0
	for _, r := range rs {
		sum += r.Value.Float()
	}
	return sum / float64(len(rs))
}

// evaluate turns readings of a length into a measurement; other quantities
// have none.
func (d *decider) evaluate(rs []Reading) (*metrology.Measurement, error) {
	if quantity.Kind(d.slot.Step.Quantity) != quantity.KindLength {
		return nil, nil
	}
	object := metrology.Object{State: metrology.State(d.slot.Step.State)}
	if want, ok, err := d.slot.Expect(d.task); ok && err == nil {
		object.Nominal, _ = quantity.LengthFromMM(want)
	}
	if n, ok := d.task.Unfolded.Facts["line.strength_n"].(float64); ok {
		object.Strength, _ = quantity.ForceFromN(n)
	}
	m, err := metrology.Evaluate(object, raw(rs), d.j.Start.Bench)
	if err != nil {
		return nil, refuseValue(err)
	}
	return &m, nil
}

// settle evaluates and judges the readings of the current step. Inside closes
// it; outside and not proved are written and leave it open.
func (d *decider) settle(a *Answer) error {
	if a.Judgement != nil && a.Event.Why != nil {
		return &Refusal{a.Event.Why} // judged already; Enter changes nothing
	}
	rs := a.counting()
	if b := d.enough(rs); b != nil {
		return &Refusal{b}
	}
	m, err := d.evaluate(rs)
	if err != nil {
		return err
	}
	d.ev.Kind, d.ev.Outcome, d.ev.Measurement = Settled, Taken, m
	if m == nil {
		return d.must(mean(rs))
	}
	deviation, u, err := d.deviation(*m)
	if err != nil {
		return err
	}
	limitMM, ok, err := d.slot.Limit(d.task)
	if err != nil && !procedure.Absent(err) {
		return refuse(Fault, d.slot.Key, err)
	}
	if ok {
		if err := d.judge(deviation, u, limitMM); err != nil {
			return err
		}
	}
	if d.ev.Outcome == Open {
		return nil
	}
	return d.must(m.Value.MM())
}

// deviation is the measurement against what the step names: an expected
// value, or another measurement of the same kind.
func (d *decider) deviation(m metrology.Measurement) (dev, u quantity.Length, err error) {
	step := d.slot.Step
	if step.Against != "" {
		other := d.against()
		if other == nil || other.Measurement == nil {
			return 0, 0, refuse(CannotCompare, step.Against, "it is not measured")
		}
		diff, err := metrology.Compare(m, *other.Measurement)
		if err != nil {
			return 0, 0, refuseValue(err)
		}
		d.ev.Difference = &diff
		d.ev.Expected = &Expected{Value: other.Measurement.Value, Source: "measured: line " + fmt.Sprint(other.Line)}
		return diff.Value, diff.U, nil
	}
	want, ok, err := d.slot.Expect(d.task)
	if err != nil {
		return 0, 0, refuse(Fault, d.slot.Key, err)
	}
	if !ok {
		return 0, m.U, nil
	}
	nominal, err := quantity.LengthFromMM(want)
	if err != nil {
		return 0, 0, refuse(Fault, d.slot.Key, err)
	}
	d.ev.Expected = &Expected{Value: nominal, Source: d.slot.Fill(step.Source, d.task)}
	return m.Value - nominal, m.U, nil
}

// against finds the measurement that the step is held against.
func (d *decider) against() *Answer {
	key, ok := d.slot.KeyOf(d.slot.Step.Against)
	if !ok {
		return nil
	}
	if a := d.task.answers[key]; a != nil && a.State == Ready {
		return a
	}
	return nil
}

func (d *decider) judge(deviation, u quantity.Length, limitMM float64) error {
	limit, err := quantity.LengthFromMM(limitMM)
	if err != nil {
		return refuse(Fault, d.slot.Key, err)
	}
	v, err := metrology.Judge(deviation, u, limit)
	if err != nil {
		return refuse(Fault, d.slot.Key, err)
	}
	d.ev.Judgement = &v
	if d.ev.Expected != nil {
		d.ev.Expected.Limit, d.ev.Expected.Rule = limit, d.slot.Fill(d.slot.Step.LimitOf, d.task)
	}
	switch v.Verdict {
	case metrology.Outside:
		return d.noteElse(OutsideLimit, v.Words())
	case metrology.NotProved:
		return d.noteElse(NotProvedYet, v.Words())
	}
	return nil
}

// judgeByPerson takes a value that is not proved, on a person's decision and
// reason. What is outside is never taken that way.
func (d *decider) judgeByPerson() error {
	a := d.task.answers[d.slot.Key]
	if a == nil || a.State != Partial || a.Judgement == nil || a.Judgement.Verdict != metrology.NotProved {
		return refuse(NothingProved)
	}
	if err := d.withReason(Decided); err != nil {
		return err
	}
	d.ev.Outcome, d.ev.Measurement, d.ev.Difference, d.ev.Judgement = Taken, a.Measurement, a.Difference, a.Judgement
	d.ev.Expected = a.Event.Expected
	return nil
}

// refuseValue turns an error of quantity or metrology into a refusal.
func refuseValue(err error) error {
	var cured interface {
		error
		Cure() string
	}
	if errors.As(err, &cured) {
		return refuse(BadValue, cured.Error(), cured.Cure())
	}
	return refuse(BadValue, err.Error(), "")
}
