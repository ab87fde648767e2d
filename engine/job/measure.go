package job

import (
	"errors"
	"fmt"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
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
	d.ev.Kind, d.ev.Value, d.ev.BenchName = Read, &v, d.j.Bench.Name
	b, err := d.plausible(v.Float())
	if err != nil {
		return err
	}
	if b != nil {
		return d.noted(b)
	}
	if err := d.again(v); err != nil {
		return err
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
		code := Implausible
		if d.slot.Step.Kind == procedure.Count {
			code = Miscounted
		}
		return because(code, d.ev.Value, procedure.Print(low), procedure.Print(high)), nil
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
	need := max(d.slot.Step.Readings, 1)
	if len(rs) < need {
		return because(MoreReadings, len(rs), need)
	}
	if d.slot.Step.Reference {
		if err := metrology.Reference(raw(rs), d.j.Bench); err != nil {
			return because(NoReference, err)
		}
	}
	spread, limit, err := d.spread(rs)
	switch {
	case err != nil:
		return because(Fault, d.slot.Key, err)
	case spread <= limit || len(rs) < 2:
		return nil
	case len(rs) == 2:
		return because(SpreadWide, spread, limit)
	}
	return because(StrikeOdd, spread, limit, odd(rs).Value, odd(rs).Line)
}

// spread gives how far the readings lie apart and how far they may: as these
// hands usually repeat, where the bench says so, else as the procedure says.
func (d *decider) spread(rs []Reading) (spread, limit quantity.Length, err error) {
	if d.j.Bench.Rule == metrology.RuleBudget && d.isLength() {
		r, err := metrology.Repeats(raw(rs), d.j.Bench)
		return r.Spread, r.Allowed, err
	}
	if d.slot.Step.SpreadMM == 0 {
		return 0, 0, nil
	}
	limit, err = quantity.LengthFromMM(d.slot.Step.SpreadMM)
	return metrology.Spread(raw(rs)), limit, err
}

func (d *decider) isLength() bool {
	return quantity.Kind(d.slot.Step.Quantity) == quantity.KindLength
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
	if !d.isLength() {
		return nil, nil
	}
	m, err := metrology.Evaluate(d.j.object(d.task, d.slot), raw(rs), d.j.Bench)
	if err != nil {
		return nil, refuseValue(err)
	}
	return &m, nil
}

// object says what a measure step measures, as far as plan and procedure know.
// A distance on webbing has no line's strength.
func (j *Job) object(t *Task, slot *procedure.Slot) metrology.Object {
	o := metrology.Object{State: metrology.State(slot.Step.State), PlanPull: j.Plan.Pull.Force}
	if want, ok, err := slot.Expect(t); ok && err == nil {
		o.Nominal, _ = quantity.LengthFromMM(want)
	}
	if o.State == metrology.StatePlain || slot.Target.Kind != wing.KindLine {
		return o
	}
	if l, ok := j.Plan.LineAt(slot.Target); ok {
		o.Strength, o.Material = l.Strength, l.Material
		if o.Nominal == 0 {
			o.Nominal = l.Length
		}
	}
	return o
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
	judge, err := d.held(*m)
	if err != nil {
		return err
	}
	limitMM, ok, err := d.slot.Limit(d.task)
	if err != nil && !procedure.Absent(err) {
		return refuse(Fault, d.slot.Key, err)
	}
	if ok && judge != nil {
		if err := d.judge(*m, judge, limitMM); err != nil {
			return err
		}
	}
	if d.ev.Outcome == Open {
		return nil
	}
	return d.must(m.Value.MM())
}

// judging gives the verdict on what was measured against a limit.
type judging func(limit quantity.Length) (metrology.Judgement, error)

// held holds the measurement against what the step names: an expected value,
// or another measurement of the same kind. It gives nil where there is none.
func (d *decider) held(m metrology.Measurement) (judging, error) {
	step := d.slot.Step
	if step.Against != "" {
		other := d.against()
		if other == nil || other.Measurement == nil {
			return nil, refuse(CannotCompare, step.Against, "it is not measured")
		}
		diff, err := metrology.Compare(m, *other.Measurement)
		if err != nil {
			return nil, refuseValue(err)
		}
		d.ev.Difference = &diff
		d.ev.Expected = &Expected{Value: other.Measurement.Value, Source: "measured, entry " + fmt.Sprint(other.Line)}
		return diff.Judge, nil
	}
	want, ok, err := d.slot.Expect(d.task)
	if err != nil {
		return nil, refuse(Fault, d.slot.Key, err)
	}
	if !ok {
		return nil, nil
	}
	nominal, err := quantity.LengthFromMM(want)
	if err != nil {
		return nil, refuse(Fault, d.slot.Key, err)
	}
	d.ev.Expected = &Expected{Value: nominal, Source: d.slot.Fill(step.Source, d.task)}
	return func(limit quantity.Length) (metrology.Judgement, error) { return m.Judge(nominal, limit) }, nil
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

func (d *decider) judge(m metrology.Measurement, judge judging, limitMM float64) error {
	limit, err := quantity.LengthFromMM(limitMM)
	if err != nil {
		return refuse(Fault, d.slot.Key, err)
	}
	v, err := judge(limit)
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
		return d.notProved(m, v)
	}
	return nil
}

// notProved says what would bring a verdict: more readings, or none.
func (d *decider) notProved(m metrology.Measurement, v metrology.Judgement) error {
	if d.j.Bench.Rule != metrology.RuleBudget || d.ev.Difference != nil {
		return d.noted(because(NotProvedYet, v.Words()))
	}
	if n, ok := m.ReadingsToDecide(d.ev.Expected.Value, v.Limit); ok {
		return d.noted(because(NotProvedMore, v.Words(), n))
	}
	return d.noted(because(NotProvedNever, v.Words()))
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
