package picture

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.org/linewright/engine/trim"
	"example.org/linewright/engine/wing"
)

// trimmed gives the report of a wing whose paths deviate as off says, in mm,
// each sure within uMM; NaN is a path that was not measured.
func trimmed(t testing.TB, plan *wing.Plan, uMM float64, off func(wing.Path) float64) trim.Report {
	t.Helper()
	set := trim.Set{From: wing.FromRiser}
	for _, side := range wing.Sides {
		for _, p := range plan.Paths(side) {
			d := off(p)
			if math.IsNaN(d) {
				continue
			}
			m, err := trim.Stated(p.Nominal+um(d), um(uMM))
			if err != nil {
				t.Fatal(err)
			}
			set.Paths = append(set.Paths, trim.PathReading{PathRef: trim.PathRef{Point: p.Point, Side: p.Side}, Measurement: m})
		}
	}
	r, err := trim.NewReport(plan, set, trim.Chord{})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// worn is a wing whose rear rows have shrunk, with some paths out of line.
func worn(p wing.Path) float64 {
	switch p.Point + " " + string(p.Side) {
	case "C7 left":
		return -24
	case "C6 left":
		return -17
	case "A3 right":
		return 14.2
	case "D8 right":
		return -62
	case "S4 left":
		return 13
	case "Br2 left":
		return 20
	case "B5 left":
		return math.NaN()
	}
	return map[string]float64{"A": 2, "B": -1, "C": -6, "D": -9, "Br": 3}[p.Row] + float64(numberOf(p.Point)%4) - 1.5
}

// nearly is a wing with one path out and one row not proved.
func nearly(p wing.Path) float64 {
	if p.Point == "B9" && p.Side == wing.Right {
		return 13.5
	}
	return map[string]float64{"D": -8.6}[p.Row]
}

func TestTrimGoldens(t *testing.T) {
	plan := sample(t)
	fallback := trimmed(t, plan, 1, func(p wing.Path) float64 { return 11.5 - float64(numberOf(p.Point)) })
	fallback.Limits.Path = trim.Limit{MM: 10, Source: trim.FallbackSource, Fallback: true}
	for name, report := range map[string]trim.Report{
		"trim_even":     trimmed(t, plan, 1, func(wing.Path) float64 { return 0.5 }),
		"trim_nearly":   trimmed(t, plan, 1.5, nearly),
		"trim_worn":     trimmed(t, plan, 1.5, worn),
		"trim_fallback": fallback,
		"trim_one_side": trimmed(t, plan, 1.5, func(p wing.Path) float64 {
			if p.Side == wing.Right || p.Row == "D" || p.Row == "S" {
				return math.NaN()
			}
			return worn(p)
		}),
	} {
		golden(t, name+".txt", sheets(func(w, h int, signs Signs) []string {
			return Trim(report, w, h, signs)
		}, TrimFacts(report)))
	}
}

// A path that is out sticks out in its own column, away from the middle by its
// span, up if it is long; all others lie on the band.
func TestTrimIsTrue(t *testing.T) {
	plan := sample(t)
	for _, side := range wing.Sides {
		for _, p := range plan.Paths(side) {
			for _, off := range []float64{13, -13} {
				report := trimmed(t, plan, 1, func(o wing.Path) float64 {
					if o.Point == p.Point && o.Side == side {
						return off
					}
					return 0
				})
				got := Trim(report, 76, 20, ASCII)
				y := slices.IndexFunc(got, func(l string) bool { return strings.HasPrefix(l, p.Row+" ") })
				middle := strings.Index(got[0], "|")
				x, away := middle+slotIn12(p), 1
				if side == wing.Left {
					x = middle - slotIn12(p)
				}
				if off > 0 {
					away = -1
				}
				equal(t, fmt.Sprint(p.Point, side, off, " on the band"), got[y][x], '+')
				stick := got[y+away][min(x, len(got[y+away])-1)]
				equal(t, fmt.Sprint(p.Point, side, off, " sticks out"), stick == '|', true)
				equal(t, fmt.Sprint(p.Point, side, off, " number"), strings.Contains(got[y+away], "13"), true)
				equal(t, fmt.Sprint(p.Point, side, off, " out"), joinsIn(got, middle+13), 1)
			}
		}
	}
}

// slotIn12 is where a path of the sample lies among twelve slots: by its span,
// only that twelve points fill all slots, and that the four stabilo points, all
// within half a slot of the tip, lie side by side there.
func slotIn12(p wing.Path) int {
	if p.Row == "S" {
		return 8 + numberOf(p.Point)
	}
	return max(numberOf(p.Point), int(math.Round(p.Lines[len(p.Lines)-1].Span*12)))
}

// Without spans in the report a row lies by its places, and the legend says so
// where other rows do not.
func TestTrimWithoutSpans(t *testing.T) {
	report := trimmed(t, sample(t), 1, func(wing.Path) float64 { return 0 })
	stabilo := func() string {
		for _, line := range Trim(report, 76, 20, ASCII) {
			if strings.HasPrefix(line, "S ") {
				return line[:28]
			}
		}
		return ""
	}
	const words = "rows without spans in the plan: evenly"
	said := func() bool { return strings.Contains(strings.Join(Trim(report, 76, 20, ASCII), " "), words) }
	equal(t, "by span", stabilo(), "S  ----        |        ----")
	equal(t, "by span, said", said(), false)
	for i := range report.Paths {
		if report.Paths[i].Row == "S" {
			report.Paths[i].Span = nil
		}
	}
	equal(t, "by place", stabilo(), "S               ------|-----")
	equal(t, "by place, said", said(), true)
	for i := range report.Paths {
		report.Paths[i].Span = nil
	}
	equal(t, "all by place, said", said(), false)
}

// Whatever the spans are, the ends of a row keep their order and none lies on
// another or past the tip.
func TestTrimSlots(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "places")
		of := n + rapid.IntRange(0, 6).Draw(t, "more")
		spans := rapid.SliceOfN(rapid.Float64Range(0, 1), n, n).Draw(t, "spans")
		if rapid.Bool().Draw(t, "rising") {
			slices.Sort(spans)
		}
		r := &endRow{ends: map[wing.Side][]*end{wing.Left: make([]*end, n), wing.Right: make([]*end, n)}}
		for i := range spans {
			if rapid.Bool().Draw(t, "measured") {
				r.ends[wing.Right][i] = &end{PathTrim: trim.PathTrim{Span: &spans[i]}}
			}
		}
		v := trimView{rows: []*endRow{r}, places: of, spans: spansOf([]*endRow{r})}
		if v.step = rapid.IntRange(0, 2).Draw(t, "step"); !v.spread(2*of*max(1, v.step) + 1) {
			t.Skip("a span twice")
		}
		for place := 1; place <= n; place++ {
			if r.slots[place] <= r.slots[place-1] || r.slots[place] > v.half {
				t.Fatalf("slots %v of %d", r.slots, v.half)
			}
		}
	})
}

// Where there is room, what lies nearer to the tip stands nearer to it, in
// whatever row: the stabilo outside of all others.
func TestTrimHasOneOrderAlongTheSpan(t *testing.T) {
	report := trimmed(t, sample(t), 1, func(wing.Path) float64 { return 0 })
	from, to := map[string]int{}, map[string]int{}
	for _, line := range Trim(report, 110, 30, ASCII) {
		if middle := strings.Index(line, "|"); middle > 0 {
			name, left := line[:2], line[2:middle]
			from[strings.TrimSpace(name)] = strings.Index(left, "-")
			to[strings.TrimSpace(name)] = strings.LastIndex(left, "-")
		}
	}
	equal(t, "A and B", from["A"], from["B"])
	if from["S"] != 1 || to["S"] >= from["A"] || from["A"] >= from["Br"] || from["Br"] >= from["D"] {
		t.Errorf("from %v to %v", from, to)
	}
}

// joinsIn counts where something leaves the band, up to a column.
func joinsIn(lines []string, end int) int {
	n := 0
	for _, l := range lines[1:] {
		if len(l) > 0 && l[0] >= 'A' && l[0] <= 'Z' {
			n += strings.Count(l[:min(end, len(l))], "+")
		}
	}
	return n
}

// A row whose sides cancel out is not called inside: the side that proves worse
// is named.
func TestTrimNamesTheWorseSide(t *testing.T) {
	report := trimmed(t, sample(t), 1, func(p wing.Path) float64 {
		switch {
		case p.Row != "C":
			return 0
		case p.Side == wing.Left:
			return -13
		}
		return 13
	})
	got := strings.Join(Trim(report, 76, 30, ASCII), "\n")
	if want := "   0   -13    +13   -13  outside, left\n"; !strings.Contains(got, want) {
		t.Errorf("no %q in\n%s", want, got)
	}
	facts := strings.Join(TrimFacts(report), "\n")
	for _, want := range []string{"Row C against A: exact, sure within 2 mm, limit 10: inside.", "Row C against A, left: 13 mm short, sure within 2 mm, limit 10: outside."} {
		if !strings.Contains(facts, want) {
			t.Errorf("no %q in\n%s", want, facts)
		}
	}
}

func TestNoTrimOfNothing(t *testing.T) {
	for _, none := range [][]string{Trim(trim.Report{}, 80, 20, ASCII), TrimFacts(trim.Report{})} {
		if none != nil {
			t.Errorf("%q", none)
		}
	}
}

func BenchmarkTrim(b *testing.B) {
	report := trimmed(b, sample(b), 1.5, worn)
	for b.Loop() {
		Trim(report, 76, 12, Richer)
	}
}
