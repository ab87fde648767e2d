package reckon_test

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/reckon"
)

// printedTerm is a term as a person reads it off the printed budget.
type printedTerm struct {
	source, given         string
	u, sens, contribution float64
	dof                   float64 // 0: infinite
}

// budgets reads every budget of a Why back from its text, with nothing else to
// go by, and the numbers that stand behind dots, by their names.
func budgets(t *testing.T, why []string) (all [][]printedTerm, figures []map[string]string) {
	t.Helper()
	rule := strings.Repeat("-", reckon.Width)
	inTable := false
	var terms []printedTerm
	figures = []map[string]string{{}}
	for _, line := range why {
		switch {
		case line == rule && !inTable:
			inTable, terms = true, nil
		case line == rule:
			inTable = false
			all = append(all, terms)
		case inTable:
			terms = readTerm(t, terms, line)
		case strings.HasPrefix(line, "verdict ."), line == "first - second", line == "the second":
			figures = append(figures, map[string]string{})
		default:
			if name, number, ok := cutDots(line); ok {
				figures[len(figures)-1][name] = number
			}
		}
	}
	return all, figures
}

var dots = regexp.MustCompile(`^(.*?) \.+ (.*)$`)

func cutDots(line string) (name, number string, ok bool) {
	m := dots.FindStringSubmatch(line)
	if m == nil {
		return "", "", false
	}
	return m[1], strings.TrimSuffix(m[2], " mm"), true
}

func readTerm(t *testing.T, terms []printedTerm, line string) []printedTerm {
	t.Helper()
	if !strings.HasPrefix(line, " ") {
		return append(terms, printedTerm{source: line})
	}
	last := &terms[len(terms)-1]
	if text, ok := strings.CutPrefix(line, "  degrees of freedom: "); ok {
		last.dof = number(t, text)
		return terms
	}
	runes := []rune(line)
	columns := strings.Fields(string(runes[min(len(runes), 41):]))
	if last.contribution == 0 && last.u == 0 && last.sens == 0 {
		if len(columns) == 3 {
			last.u, last.sens, last.contribution = number(t, columns[0]), number(t, columns[1]), number(t, columns[2])
			runes = runes[:41]
		}
		last.given = strings.TrimSpace(last.given + " " + strings.TrimSpace(string(runes)))
	}
	return terms
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// uOf works u out from what is given, as JCGM 100:2008 has it: 4.3.7 for
// limits, F.2.2.1 for a step, 4.2.3 for a mean; two limits that multiply have
// the product of their u.
func uOf(t *testing.T, given string) (u float64, ok bool) {
	t.Helper()
	for _, form := range []struct {
		form string
		u    func(n []float64) float64
	}{
		{`^step ([0-9.]+) mm.*rectangular /√12$`, func(n []float64) float64 { return n[0] / math.Sqrt(12) }},
		{`^±([0-9.e-]+) .*times ±([0-9.]+), two rectangular /3$`, func(n []float64) float64 { return n[0] * n[1] / 3 }},
		{`^±([0-9.e-]+) .*rectangular /√3$`, func(n []float64) float64 { return n[0] / math.Sqrt(3) }},
		{`^U ([0-9.]+) mm, k 2, normal /2$`, func(n []float64) float64 { return n[0] / 2 }},
		{`^([0-9.]+) mm, n [0-9]+.*of the mean /√([0-9]+)$`, func(n []float64) float64 { return n[0] / math.Sqrt(n[1]) }},
		{`^shared, ([0-9.e-]+) - ([0-9.e-]+) mm, counts once$`, func(n []float64) float64 { return math.Abs(n[0] - n[1]) }},
		{`^of both, ([0-9.]+) and ([0-9.]+) mm, √\(sum of squares\)$`, func(n []float64) float64 { return math.Hypot(n[0], n[1]) }},
	} {
		m := regexp.MustCompile(form.form).FindStringSubmatch(given)
		if m == nil {
			continue
		}
		var n []float64
		for _, text := range m[1:] {
			n = append(n, number(t, text))
		}
		return form.u(n), true
	}
	return 0, false
}

// followed works a printed budget by hand, from the columns to U, and compares
// each number on the way with the printed one.
func followed(t *testing.T, terms []printedTerm, figures map[string]string) {
	t.Helper()
	near := func(what string, got, want, share float64) {
		t.Helper()
		if math.Abs(got-want) > share*math.Abs(want)+1e-12 {
			t.Errorf("%s: %v by hand, %v printed", what, got, want)
		}
	}
	var squares, quartic float64
	for _, term := range terms {
		u, ok := uOf(t, term.given)
		if !ok {
			t.Errorf("%s cannot be followed from %q", term.source, term.given)
			continue
		}
		// Four digits are given, and shared terms nearly cancel in seven.
		share := 1e-3
		if strings.HasPrefix(term.given, "shared") && u > 0 {
			share = 1.5e-7 / u
		}
		near(term.source+", u", u, term.u, share)
		near(term.source+", share", math.Abs(term.u*term.sens), term.contribution, 1e-5)
		squares += term.contribution * term.contribution
		if term.dof > 0 {
			quartic += math.Pow(term.contribution, 4) / term.dof
		}
	}
	u := math.Sqrt(squares)
	near("combined", u, number(t, figures["u = √(sum of the squares)"]), 1e-5)
	k := 2.0 // 95.45 % of a normal distribution
	if quartic > 0 {
		whole := math.Floor(squares * squares / quartic)
		_, cut, _ := strings.Cut(figures["ν = u⁴ / Σ(uᵢ⁴ / νᵢ), cut to a whole"], ", so ")
		share := 0.0
		if whole > 1e4 { // six digits do not hold its last one, nor does k
			share = 1e-4
		}
		near("degrees of freedom", whole, number(t, cut), share)
		// JCGM 100:2008, G.4.1, and table B.1 of NIST TN 1297 at 95.45 %.
		k = distuv.StudentsT{Sigma: 1, Nu: whole}.Quantile(0.5 + math.Erf(math.Sqrt2)/2)
		near("k", k, number(t, figures["k of Student's t at 95.45 %"]), 1e-5)
	}
	if got := fmt.Sprint(math.Ceil(k*u*1000) / 1000); got != figures["U = k · u, rounded up"] {
		t.Errorf("U: %s by hand, %s printed", got, figures["U = k · u, rounded up"])
	}
}

func TestBudgetsAreFollowedByHand(t *testing.T) {
	calibrated := described(t, "name", "laboratory", "tape_class", "calibrated", "calibration.error_mm_per_m", "0.12", "calibration.u_mm", "0.3", "calibration.date", "2026-03-01",
		"tape_lies", "hangs", "tape_run.pull_n", "20", "tape_run.pull_error_n", "5", "tape_run.weight_n_per_m", "0.13", "tape_run.section_mm2", "2.6",
		"pull_how", "spring balance", "balance_check.known_n", "50", "balance_check.shown_n", "52", "balance_check.date", "2026-03-02")
	for _, c := range []struct {
		name    string
		bench   metrology.Bench
		sum     string
		budgets int
		pairs   []string
	}{
		{"good bench", goodBench(t), "length", 1, []string{"reading=4207 4208", "nominal=4205", "strength=1500", "material=uhmwpe"}},
		{"bad bench", badBench(t), "length", 1, []string{"reading=4208", "nominal=4205", "strength=1500"}},
		{"nothing known", metrology.NewBench(), "length", 1, []string{"reading=4208 4207 4206", "nominal=4205"}},
		{"calibrated, hanging tape", calibrated, "length", 1, []string{"reading=4208 4207.5", "nominal=4205", "strength=900", "material=aramid"}},
		{"simple rule", simple(), "length", 1, []string{"reading=4208", "nominal=4205"}},
		{"pair", goodBench(t), "pair", 3, []string{"first=4207 4207.5", "second=4209", "strength=1500", "material=uhmwpe"}},
		{"pair on a bad bench", badBench(t), "pair", 3, []string{"first=3207", "second=4209", "strength=1500"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := do(t, c.sum, reckon.Env{Bench: c.bench}, c.pairs...)
			all, figures := budgets(t, r.Why)
			if len(all) != c.budgets || len(figures) < c.budgets {
				t.Fatalf("%d budgets, %d sets of figures", len(all), len(figures))
			}
			for i, terms := range all {
				followed(t, terms, figures[i])
			}
		})
	}
}

// The corrections lead from the mean of the readings to the length, and that
// to the deviation.
func TestCorrectionsAreFollowedByHand(t *testing.T) {
	r := do(t, "length", reckon.Env{Bench: badBench(t)}, "reading=4208", "nominal=4205", "strength=1500")
	_, figures := budgets(t, r.Why)
	f := figures[0]
	// By hand: 20 N too little at 4208·0.045/1500 mm a newton; 12 °C too cold
	// for steel at 11.6e-6 and a fibre that is not known at -9.5e-6.
	pull, heat := 20*4208*0.045/1500, -12*4208*(11.6e-6+9.5e-6)
	if math.Abs(number(t, f["corrected for pull"])-pull) > 1e-6 || math.Abs(number(t, f["corrected for temperature"])-heat) > 1e-6 {
		t.Errorf("%v, by hand %v and %v", f, pull, heat)
	}
	length := math.Round((4208+pull+heat)*1000) / 1000
	if got := number(t, f["length"]); got != length {
		t.Errorf("length %v, by hand %v", got, length)
	}
	if got := number(t, f["deviation"]); math.Abs(got-(length-4205)) > 1e-9 {
		t.Errorf("deviation %v", got)
	}
}

// The whole budget of two readings on the good bench, worked on paper:
//
//	tape class I    (0.1 + 0.1·5)/√3 = 0.346410
//	graduation      1/√12 = 0.288675, twice
//	pull            0.5/√3 · 4207.5·0.045/1500 = 0.036438
//	pull × stretch  0.5/√3 · 0.015/√3 · 4207.5/1500 = 0.007012
//	temperature     1/√3 · 4207.5·(11.6 + 12)·1e-6 = 0.057329
//	expansion       6e-6/√3 · 4207.5·4 = 0.058301
//	repeatability   √((9·0.5² + 1·0.5)/10)/√2 = 0.370810, 10 degrees of freedom
//
// u = 0.657441, ν = 98.8 cut to 98, t = 2.0260, U = 1.3320 mm.
func TestGoodBenchOnPaper(t *testing.T) {
	r := do(t, "length", reckon.Env{Bench: goodBench(t)}, "reading=4207 4208", "nominal=4205", "strength=1500", "material=uhmwpe")
	all, figures := budgets(t, r.Why)
	var got []float64
	for _, term := range all[0] {
		got = append(got, term.contribution)
	}
	want := []float64{0.346410, 0.288675, 0.288675, 0.036438, 0.0070125, 0.057329, 0.058301, 0.370810}
	if !slices.EqualFunc(got, want, func(a, b float64) bool { return math.Abs(a-b) < 1e-6 }) {
		t.Errorf("%v, on paper %v", got, want)
	}
	if u := figures[0]["U = k · u, rounded up"]; u != "1.332" {
		t.Errorf("U %s, on paper 1.332", u)
	}
}

// simple is the default bench by the simple rule.
func simple() metrology.Bench {
	b := metrology.DefaultBench()
	b.Rule = metrology.RuleSimple
	return b
}
