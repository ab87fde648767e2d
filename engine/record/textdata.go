package record

import (
	"fmt"
	"slices"
	"strings"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/quantity"
)

// data says with which data the work was done.
func (t *text) data() {
	t.head("Data used")
	p := t.c.Plan
	t.field("plan", "%s", planName(p))
	t.field("from", "%s", from(p.Source, p.SourceDate))
	t.field("SHA-256", "%s", p.SHA256)
	for _, q := range t.procedures() {
		t.b.WriteString("\n")
		t.field("procedure", "%s, edition %s: %s", q.ID, q.Edition, q.Title)
		t.field("from", "%s", orNotStated(q.Source))
		t.field("SHA-256", "%s", q.SHA256)
	}
	t.b.WriteString("\n")
	t.bench()
	t.rules()
}

func from(source, date string) string {
	if date == "" {
		return orNotStated(source)
	}
	return orNotStated(source) + ", " + date
}

// procedures lists each procedure once.
func (t *text) procedures() []Procedure {
	var all []Procedure
	for _, task := range t.c.Tasks {
		for _, p := range append([]Procedure{task.Procedure}, task.Includes...) {
			if !slices.Contains(all, p) {
				all = append(all, p)
			}
		}
	}
	return all
}

// bench says with what was measured: as described at the start, then each time
// anew.
func (t *text) bench() {
	t.profile(t.c.Bench)
	for _, anew := range t.c.Benches {
		t.b.WriteString("\n")
		t.line(2, "The bench was described anew by %s; in force from there on:", anew.by())
		t.profile(anew.Bench)
	}
}

// profile says how a bench was described; what nobody said is a fallback and
// is called one.
func (t *text) profile(b metrology.Bench) {
	if b.Default {
		t.field("bench", "%s, A FALLBACK", b.Name)
		t.field("", "%s", b.Note)
		return
	}
	label := "bench"
	for _, line := range b.Words() {
		t.field(label, "%s", line)
		label = ""
	}
}

// rules says in words how a verdict came about.
func (t *text) rules() {
	t.b.WriteString("\n")
	t.field("verdict", "Every measured value is sure within a stated length: the true value lies no further away, in about 95 cases of 100. "+
		"INSIDE: the deviation is not more than the limit less that length. OUTSIDE: it is more than the limit plus that length. "+
		"NOT PROVED: in between, the measurement cannot tell.")
	t.field("", "%s", t.c.Rule)
	t.field("sure within", "%s", strings.Join(t.evaluations(), "; "))
}

// evaluations lists the rules by which the measurements were evaluated.
func (t *text) evaluations() []string {
	var used names
	for _, task := range t.c.Tasks {
		for _, s := range task.Steps {
			if s.Measurement != nil {
				used.add(s.Measurement.Rule)
			}
		}
	}
	return used.list
}

// measured lists every measured value.
func (t *text) measured() {
	t.head("Measured values")
	t.mixed = len(t.evaluations()) > 1
	n := 0
	for _, task := range t.c.Tasks {
		for _, s := range task.Steps {
			if s.Kind == "measure" {
				n++
				t.value(n, task, s)
			}
		}
	}
	switch {
	case n == 0 && len(t.c.Lengths) > 0:
		t.line(2, "Nothing but the lengths of paths, see below.")
	case n == 0:
		t.line(2, "Nothing was measured.")
	}
}

func (t *text) value(n int, task Task, s Step) {
	if n > 1 {
		t.b.WriteString("\n")
	}
	t.item(n, "%s", t.named(task.No, s.Key))
	switch {
	case s.Measurement != nil:
		t.measurement(*s.Measurement)
	case s.State == "done":
		t.sub("value", "%s", s.Answer)
	case s.State == "void":
		t.sub("value", "none: the step was opened again and not done anew")
	default:
		t.sub("value", "none: the step was not finished")
	}
	t.against(s)
	for _, r := range s.Readings {
		t.sub("reading", "%s", r.text())
	}
	if s.Decision != "" {
		t.sub("decision", "taken all the same: %s", quoted(s.Decision))
	}
	if s.Entry != nil {
		t.sub("who, when", "%s", s.Entry.by())
	}
}

// measurement says how a value was found: what was corrected, on which bench,
// and what its uncertainty is made of.
func (t *text) measurement(m metrology.Measurement) {
	t.sub("value", "%s, sure within %s (k = %s, %s, %s)", m.Value, sure(m.U), number(m.K), count(m.N, "reading"), m.State)
	for _, c := range m.Corrections {
		t.sub("corrected", "%s mm for %s: %s", number(c.AddedMM), c.Source, c.Detail)
	}
	name := m.Bench
	if m.BenchDefault {
		name += ", a fallback"
	}
	t.sub("bench", "%s", name)
	t.sub("budget", "%s", budget(m.Terms))
	if t.mixed {
		t.sub("rule", "%s", m.Rule)
	}
}

// against says what a value was held against and what came of it.
func (t *text) against(s Step) {
	if x := s.Expected; x != nil {
		label := "expected"
		if s.Difference != nil {
			label = "against"
		}
		t.sub(label, "%s; %s", x.Value, orNotStated(x.Source))
		if x.Limit > 0 {
			t.sub("limit", "%s either way; %s", x.Limit, orNotStated(x.LimitSource))
		}
	}
	if j := s.Judgement; j != nil {
		t.sub("deviation", "%s, sure within %s", deviation(j.Deviation), sureOf(j))
		t.difference(s.Difference)
		verdict := strings.ToUpper(string(j.Verdict))
		if j.Verdict == metrology.NotProved {
			verdict += fmt.Sprintf("; the chance that it is inside is %s %%", number(tenth(100*j.Probability)))
		}
		if s.Judged != nil {
			verdict += fmt.Sprintf("; entry %d", s.Judged.Line)
		}
		t.sub("verdict", "%s", verdict)
	} else if d := s.Difference; d != nil {
		t.sub("deviation", "%s, sure within %s", deviation(d.Value), sure(d.U))
		t.difference(d)
		t.sub("verdict", "none: there is no limit here")
	}
}

// difference says what the uncertainty between two measurements is made of:
// what they share is in it once.
func (t *text) difference(d *metrology.Difference) {
	if d != nil {
		t.sub("its budget", "%s", budget(d.Terms))
	}
}

// judged says a verdict on one line.
func judged(s Step) string {
	j := s.Judgement
	if j == nil {
		return s.Answer
	}
	return fmt.Sprintf("%s, sure within %s, limit %s: %s", deviation(j.Deviation), sureOf(j), j.Limit, strings.ToUpper(string(j.Verdict)))
}

// sure prints an uncertainty rounded up to the tenth of a millimetre; the exact
// one stands in record.json.
func sure(u quantity.Length) string { return roundedUp(u).String() }

func roundedUp(u quantity.Length) quantity.Length {
	const step = quantity.Millimetre / 10
	return (u + step - 1) / step * step
}

// sureOf does the same for a judgement, but prints all of it where a person who
// works the rule on the printed numbers would else come to another verdict.
func sureOf(j *metrology.Judgement) string {
	again, err := metrology.Judge(j.Deviation, roundedUp(j.U), j.Limit)
	if err != nil || again.Verdict != j.Verdict {
		return j.U.String()
	}
	return sure(j.U)
}

// budget sums up what an uncertainty is made of: each source, what was given
// for it, and its standard uncertainty in mm. How that came about stands in
// record.json.
func budget(terms []metrology.Term) string {
	all := make([]string, len(terms))
	for i, term := range terms {
		all[i] = term.Source
		if term.Given != "" {
			all[i] += " (" + term.Given + ")"
		}
		all[i] += " " + number(term.UMM)
	}
	return strings.Join(all, "; ") + "; standard uncertainties in mm"
}

func deviation(d quantity.Length) string {
	switch {
	case d == 0:
		return "none"
	case d < 0:
		return d.Abs().String() + " short"
	}
	return d.String() + " long"
}

// number prints a float with no more decimals than it has.
func number(x float64) string {
	return strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%.3f", x), "0"), ".")
}

// tenth rounds a percentage down: what is not sure is not made surer.
func tenth(x float64) float64 { return float64(int64(x*10)) / 10 }

// text says one reading: as typed where that says more than the value.
func (r Reading) text() string {
	said := r.Value.String()
	if r.Typed != "" && !strings.HasPrefix(said, strings.TrimSpace(r.Typed)) {
		said += ", typed " + quoted(r.Typed)
	}
	said += fmt.Sprintf(", entry %d", r.Line)
	if r.FarFrom != "" {
		said += "; typed twice, since it is far off: " + r.FarFrom
	}
	switch {
	case r.Struck != "":
		said += "; STRUCK: " + quoted(r.Struck)
	case r.Why != nil:
		said += "; does not count: " + reason(r.Why)
	}
	return said
}
