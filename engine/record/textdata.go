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

func (t *text) bench() {
	b := t.c.Bench
	name := b.Name
	if b.Default {
		name += ", A FALLBACK"
	}
	t.field("bench", "%s", name)
	t.field("", "%s", b.Note)
	zero := "zero at a line"
	if b.Hook {
		zero = "zero at a hook or end face"
	}
	t.field("tape", "class %s, graduation %s, %s", b.TapeClass, b.Graduation, zero)
	how := ""
	if b.PullHow != "" {
		how = " by " + b.PullHow
	}
	t.field("pull", "%s%s", b.Pull, how)
}

// rules says in words how a verdict came about.
func (t *text) rules() {
	var used names
	for _, task := range t.c.Tasks {
		for _, s := range task.Steps {
			if s.Measurement != nil {
				used.add(s.Measurement.Rule)
			}
		}
	}
	t.b.WriteString("\n")
	t.field("verdict", "Every measured value is sure within a stated length: the true value lies no further away, in about 95 cases of 100. "+
		"INSIDE: the deviation is not more than the limit less that length. OUTSIDE: it is more than the limit plus that length. "+
		"NOT PROVED: in between, the measurement cannot tell.")
	t.field("rule", "%s", t.c.Rule)
	t.field("sure within", "%s", strings.Join(used.list, "; "))
}

// measured lists every measured value.
func (t *text) measured() {
	t.head("Measured values")
	n := 0
	for _, task := range t.c.Tasks {
		for _, s := range task.Steps {
			if s.Kind == "measure" {
				n++
				t.value(n, task, s)
			}
		}
	}
	if n == 0 {
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
		m := s.Measurement
		t.sub("value", "%s, sure within %s (k = %s, %s, %s)", m.Value, m.U, number(m.K), count(m.N, "reading"), m.State)
		for _, c := range m.Corrections {
			t.sub("corrected", "%s mm for %s: %s", number(c.AddedMM), c.Source, c.Detail)
		}
		if m.BenchDefault {
			t.sub("bench", "%s, a fallback", m.Bench)
		}
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
		t.sub("deviation", "%s, sure within %s", deviation(j.Deviation), j.U)
		verdict := strings.ToUpper(string(j.Verdict))
		if j.Verdict == metrology.NotProved {
			verdict += fmt.Sprintf("; the chance that it is inside is %s %%", number(tenth(100*j.Probability)))
		}
		t.sub("verdict", "%s", verdict)
	} else if d := s.Difference; d != nil {
		t.sub("deviation", "%s, sure within %s", deviation(d.Value), d.U)
		t.sub("verdict", "none: there is no limit here")
	}
}

// judged says a verdict on one line.
func judged(s Step) string {
	j := s.Judgement
	if j == nil {
		return s.Answer
	}
	return fmt.Sprintf("%s, sure within %s, limit %s: %s", deviation(j.Deviation), j.U, j.Limit, strings.ToUpper(string(j.Verdict)))
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
	said += fmt.Sprintf(", line %d", r.Line)
	switch {
	case r.Struck != "":
		said += "; STRUCK: " + quoted(r.Struck)
	case r.Why != nil:
		said += "; does not count: " + reason(r.Why)
	}
	return said
}
