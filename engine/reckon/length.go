package reckon

import (
	"fmt"
	"strings"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

var states = []string{string(metrology.StateLoose), string(metrology.StateInstalled), string(metrology.StatePlain)}

const (
	asGiven  = "as given"
	fallback = "fallback: common practice, no source"
)

// Limits where neither a person nor a plan gives one.
const (
	fallbackLineLimit = 10 * quantity.Millimetre
	fallbackTwinLimit = 5 * quantity.Millimetre
	fallbackSpread    = 3 * quantity.Millimetre // as in the shipped procedures
)

// objectFields say what is measured.
var objectFields = []Field{
	{Name: "limit", Ask: "Greatest deviation, either way", Kind: KindLength, Unit: "mm", Optional: true},
	{Name: "state", Ask: "How it was measured: loose off the wing, installed, or a plain distance without loops", Kind: KindChoice, Options: states, Optional: true},
	{Name: "strength", Ask: "Breaking strength of the line", Kind: KindForce, Unit: "N", Optional: true, Fallback: "not known, as for a line of 200 N"},
	{Name: "material", Ask: "Material of the line: aramid, UHMWPE or another", Kind: KindText, Optional: true, Fallback: "not known"},
	{Name: "plan_pull", Ask: "Pull at which the plan gives its lengths", Kind: KindForce, Unit: "N", Optional: true, Fallback: "50 N"},
	{Name: "spread", Ask: "How far readings of one thing may lie apart, under the simple rule only", Kind: KindLength, Unit: "mm", Optional: true, Fallback: "3 mm"},
	{Name: "line", Ask: "The line as C1.2@left: the plan then gives what is left out", Kind: KindText, Optional: true, Plan: true},
}

// withFallback sets what stands where a field is left out.
func withFallback(fields []Field, fallbacks map[string]string) []Field {
	out := make([]Field, len(fields))
	for i, f := range fields {
		if text, ok := fallbacks[f.Name]; ok {
			f.Fallback = text
		}
		out[i] = f
	}
	return out
}

var lengthSum = Sum{
	ID: "length", Title: "One length", Purpose: "Is a measured length inside its limit, and how sure is that?",
	Fields: append([]Field{
		{Name: "reading", Ask: "Readings of one thing, each measured from the start", Kind: KindReadings, Unit: "mm", Many: true, First: true},
		{Name: "nominal", Ask: "Length that is expected; without it the plan's, of the line that is named", Kind: KindLength, Unit: "mm", Optional: true},
	}, withFallback(objectFields, map[string]string{"limit": "10 mm", "state": "loose"})...),
	do: reckonLength,
}

// stated is a length with who gave it.
type stated struct {
	length quantity.Length
	source string
}

func (s stated) String() string { return fmt.Sprintf("%s (%s)", s.length, s.source) }

// measured is what is known of the thing that was measured.
type measured struct {
	object   metrology.Object
	assumed  bool // nobody said in which state it was measured
	expected stated
	limit    stated
}

// thing reads what was measured. What a person gives goes before the plan.
func (r *reader) thing(state metrology.State, limit wing.LimitName, fallbackLimit quantity.Length) measured {
	t := measured{limit: stated{fallbackLimit, fallback}}
	o := &t.object
	if o.State = metrology.State(r.choice("state")); o.State == "" {
		o.State, t.assumed = state, true
	}
	if r.has("line") {
		_, l := r.line("line")
		p := r.env.Plan
		o.Strength, o.Material, o.PlanPull = l.Strength, l.Material, p.Pull.Force
		t.expected = stated{l.Length, p.Source.Text}
		if own, ok := p.Limit(limit); ok {
			t.limit = stated{own.Length, own.Source}
		}
	}
	if r.has("limit") {
		t.limit = stated{r.length("limit"), asGiven}
	}
	if r.has("strength") {
		o.Strength = r.force("strength")
	}
	if r.has("material") {
		o.Material = r.text("material")
	}
	if r.has("plan_pull") {
		o.PlanPull = r.force("plan_pull")
	}
	return t
}

func reckonLength(r *reader) (Result, error) {
	t := r.thing(metrology.StateLoose, wing.LimitLine, fallbackLineLimit)
	if r.has("nominal") {
		t.expected = stated{r.length("nominal"), asGiven}
	}
	rs := r.readings("reading")
	if r.err != nil {
		return Result{}, r.err
	}
	if t.expected.length <= 0 {
		return Result{}, refuse("nominal", "give the length of the plan, or name a line whose length the plan has", "no expected length is known")
	}
	t.object.Nominal = t.expected.length
	m, allowed, err := r.measure("reading", t.object, rs)
	if err != nil {
		return Result{}, err
	}
	j, err := m.Judge(t.expected.length, t.limit.length)
	if err != nil {
		return Result{}, refusal("limit", err)
	}
	help := r.help(t, m, j)
	return Result{
		Rows:   append(lengthRows(t, m, j, rs, allowed), append(append(t.unknownRows(r.env.Bench), help.rows()...), benchRow(r.env.Bench), ruleRow(j))...),
		Why:    lengthWhy(t, m, j, rs, r.env.Bench),
		JSON:   lengthJSON(r.env.Bench, t, m, j, rs, allowed, help),
		Answer: j.Verdict == metrology.Inside,
	}, nil
}

// measure evaluates readings that agree. Of those that do not no mean is
// taken: a person measures again, or leaves the odd one out.
func (r *reader) measure(name string, o metrology.Object, rs []metrology.Reading) (m metrology.Measurement, allowed quantity.Length, err error) {
	if m, err = metrology.Evaluate(o, rs, r.env.Bench); err != nil {
		return m, 0, refusal("", err)
	}
	rep, err := metrology.Repeats(rs, r.env.Bench)
	if err != nil {
		return m, 0, refusal(name, err)
	}
	allowed = rep.Allowed
	if r.env.Bench.Rule != metrology.RuleBudget {
		if allowed = fallbackSpread; r.has("spread") {
			allowed = r.length("spread")
		}
	} else if r.has("spread") {
		return m, 0, refuse("spread", "leave it out: the bench's repeatability says how well readings agree", "it has no use on a bench that is described")
	}
	if len(rs) < 2 || m.Spread <= allowed {
		return m, allowed, r.err
	}
	cure := "measure a third time, from the start: no mean is taken of two that do not agree"
	if len(rs) > 2 {
		cure = "measure again, or leave out the odd one if you know what went wrong with it"
	}
	odd := ""
	if rep.Farthest >= 0 {
		odd = fmt.Sprintf("; reading %d, %s, lies farthest from the middle", rep.Farthest+1, rs[rep.Farthest].Value)
	}
	return m, 0, refuse(name, cure, "the readings lie %s apart, %s are allowed%s", m.Spread, allowed, odd)
}

func lengthRows(t measured, m metrology.Measurement, j metrology.Judgement, rs []metrology.Reading, allowed quantity.Length) []Row {
	rows := []Row{
		{"verdict", j.Words()},
		{"chance", j.Chance() + " that the true length is inside the limit"},
		{"deviation", signed(j.Deviation.MM()) + " mm, sure within " + j.U.String()},
	}
	rows = append(rows, measuredRows("", m, rs, allowed)...)
	return append(rows,
		Row{"expected", t.expected.String()},
		Row{"limit", t.limit.length.String() + " either way (" + t.limit.source + ")"})
}

// measuredRows says a measurement and its readings; name is put before.
func measuredRows(name string, m metrology.Measurement, rs []metrology.Reading, allowed quantity.Length) []Row {
	values := make([]string, len(rs))
	for i, r := range rs {
		values[i] = bare(r.Value)
	}
	readings := strings.Join(values, ", ") + " mm"
	if len(rs) > 1 {
		readings += fmt.Sprintf(": mean %s, %s apart, %s allowed", m.Mean, m.Spread, allowed)
	}
	rows := []Row{
		{strings.TrimSpace(name + " length"), fmt.Sprintf("%s, sure within %s, %s", m.Value, m.U, m.State)},
		{"readings", readings},
	}
	for _, c := range m.Corrections {
		rows = append(rows, Row{"corrected", signed(c.AddedMM) + " mm for " + c.Source + ": " + c.Detail})
	}
	return rows
}

func benchRow(b metrology.Bench) Row {
	return Row{"bench", strings.Join(nonEmpty(b.Name, b.Assumed()), "; ")}
}

func ruleRow(j metrology.Judgement) Row { return Row{"rule", j.Rule} }

// unknownRows says what is not known of the thing and costs certainty.
func (t measured) unknownRows(b metrology.Bench) []Row {
	var parts []string
	if t.assumed {
		parts = append(parts, "taken as "+string(t.object.State)+" (fallback)")
	}
	if b.Rule == metrology.RuleBudget && t.object.State != metrology.StatePlain {
		if t.object.Strength == 0 {
			parts = append(parts, "strength not known, so as of 200 N (fallback): give it, and the length is surer")
		}
		if t.object.Material == "" {
			parts = append(parts, "material not known (fallback)")
		}
	}
	if parts == nil {
		return nil
	}
	return []Row{{"line", strings.Join(parts, "; ")}}
}

func lengthWhy(t measured, m metrology.Measurement, j metrology.Judgement, rs []metrology.Reading, b metrology.Bench) []string {
	out := correctionLines(m)
	out = append(out, figure("expected", bare(t.expected.length)+" mm"), figure("deviation", bare(j.Deviation)+" mm"), "")
	out = append(out, ofMeasurement(m, rs, b).lines()...)
	return append(append(out, ""), judgeLines(j)...)
}

// judgeLines works the decision rule.
func judgeLines(j metrology.Judgement) []string {
	limit, u := bare(j.Limit), bare(j.U)
	out := []string{
		figure("|deviation|", bare(j.Deviation.Abs())+" mm"),
		figure("inside up to limit - U: "+limit+" - "+u, bare(j.Limit-j.U)+" mm"),
		figure("outside beyond limit + U: "+limit+" + "+u, bare(j.Limit+j.U)+" mm"),
		figure("verdict", string(j.Verdict)),
		figure("probability that the true value is inside the limit", j.Chance()),
	}
	return append(out, wrap("rule: "+j.Rule, Width)...)
}
