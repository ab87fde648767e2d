package metrology

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"

	"example.org/linewright/engine/quantity"
)

func TestBenchInWords(t *testing.T) {
	golden(t, "words.txt", strings.Join([]string{
		"== new", strings.Join(NewBench().Words(), "\n"), NewBench().Assumed(),
		"== full", strings.Join(fullBench(t).Words(), "\n"), fullBench(t).Assumed(),
		"== default", strings.Join(DefaultBench().Words(), "\n"), DefaultBench().Assumed(), "",
	}, "\n"))
	if got := goodBench().Assumed(); got != "" {
		t.Errorf("all was described, yet %q", got)
	}
}

func TestQuestionsAsTheyAreAsked(t *testing.T) {
	var all strings.Builder
	for _, q := range Questions(fullBench(t)) {
		all.WriteString(q.Key + " (" + string(q.Kind) + ")\n  " + q.Ask + "\n")
		if q.How != "" {
			all.WriteString("  " + q.How + "\n")
		}
		for _, o := range q.Options {
			all.WriteString("    " + o.Value + ": " + o.Text + "\n")
		}
		all.WriteString("  now " + q.Now + ", empty takes " + q.Fallback + "\n")
	}
	golden(t, "questions.txt", all.String())
	for _, it := range profile {
		for _, text := range []string{it.ask, it.how} {
			if utf8.RuneCountInString(text) > 76 {
				t.Errorf("%s: too wide for a line of a narrow terminal: %q", it.key, text)
			}
		}
	}
}

func TestOutlookInWords(t *testing.T) {
	for _, c := range []struct {
		bench Bench
		limit quantity.Length
		want  []string
	}{
		{goodBench(), 10000, []string{"Sure within 1.6 mm if readings repeat as the bench says; limit 10."}},
		{badBench(), 5000, []string{
			"Sure within 5.2 mm if readings repeat as the bench says; limit 5: not enough.",
			"What would help most: ten readings (4.2 mm, enough), a tape of class I (4.3 mm, enough), five readings (4.3 mm, enough).",
		}},
		{badBench(), 6000, []string{
			"Sure within 5.2 mm if readings repeat as the bench says; limit 6, only 0.8 left.",
			"What would help most: ten readings (4.2 mm), a tape of class I (4.3 mm), five readings (4.3 mm).",
		}},
		{badBench(), 2000, []string{
			"Sure within 5.2 mm if readings repeat as the bench says; limit 2: not enough.",
			"No single change is enough. What would help most: ten readings (4.2 mm), a tape of class I (4.3 mm), five readings (4.3 mm).",
		}},
	} {
		out, err := Foresee(goodObject(), 1, c.bench, c.limit)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(c.want, out.Words()); diff != "" {
			t.Errorf("(-want +got)\n%s", diff)
		}
	}
	tight := Outlook{U: 4950, Limit: 5000, Decides: true}
	if diff := cmp.Diff([]string{"Sure within 5 mm if readings repeat as the bench says; limit 5, only 0 left.", "No change that is known here would help: more will be not proved than need be."}, tight.Words()); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	bare := Outlook{U: 5200, Limit: 5000}
	if diff := cmp.Diff([]string{"Sure within 5.2 mm if readings repeat as the bench says; limit 5: not enough.", "No change that is known here would help: a person decides."}, bare.Words()); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

// Where a fallback acts, the number says so: in the budget, in the
// corrections, and under the simple rule.
func TestFallbacksAreNamedWhereTheyAct(t *testing.T) {
	b := answered(t, NewBench(), "name", "barn", "air_c", "10", "tape_lies", "pulled", "tape_run.pull_n", "30", "tape_run.pull_error_n", "5", "tape_run.section_mm2", "2.6")
	o := Object{State: StateLoose, Strength: 1500 * quantity.Newton, PlanPull: 60 * quantity.Newton}
	m := evaluate(t, o, b, 4205000)
	want := map[string]string{
		"tape class II":             "±1.3 mm (fallback)",
		"graduation at the zero":    "step 1 mm (fallback)",
		"graduation at the reading": "step 1 mm (fallback)",
		"pull, hand":                "±15 N (fallback)",
		"stretch of the line":       "±0.015 strain at break",
		"pull times stretch":        "±15 N (fallback) times ±0.015",
		"temperature":               "±5 °C (fallback)",
		"expansion of the line":     "±8.5e-06 per °C (fallback)",
		"pull on the tape":          "±5 N",
		"repeatability":             "1 mm, n 1 (fallback)",
	}
	got := map[string]string{}
	for _, term := range m.Terms {
		got[term.Source] = term.Given
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	var details []string
	for _, c := range m.Corrections {
		details = append(details, c.Detail)
	}
	if diff := cmp.Diff([]string{
		"pulled at 50 N (fallback), the plan asks for 60 N; 0.1261 mm for each newton",
		"10 °C against 20 °C, tape 1.16e-05 (fallback) and line -9.5e-06 (fallback) for each °C",
		"tape pulled at 30 N, true at 50 N (fallback)",
	}, details); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	if got, want := termOf(m, "temperature").SensFrom, "4205 mm · (1.16e-05 (fallback) - -9.5e-06 (fallback))"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got, want := termOf(m, "pull on the tape").SensFrom, "0.008087 (fallback) by stretch"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	b.Rule = RuleSimple
	if got := evaluate(t, o, b, 4205000).Terms[0].Given; got != "±1.3 mm (fallback)" {
		t.Errorf("simple rule: %q", got)
	}
	weak := evaluate(t, Object{State: StateLoose}, NewBench(), 4205000)
	if got, want := termOf(weak, "pull, hand").SensFrom, "4205 mm / 200 N (fallback) · 0.045"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}
