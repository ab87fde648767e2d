package picture

import (
	"math"
	"slices"
	"strings"
	"testing"
	"unicode"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/trim"
	"example.org/linewright/engine/wing"
)

// page is a picture of a page of its own, and its words.
type page struct {
	lines, facts []string
}

// holds checks what holds for each picture, whatever it is given.
func (p page) holds(t *rapid.T, w, h int) {
	if len(p.lines) > max(h, 0) {
		t.Fatalf("%d lines in %d", len(p.lines), h)
	}
	if len(p.lines) > 0 && len(p.facts) == 0 {
		t.Fatalf("a picture without words:\n%s", strings.Join(p.lines, "\n"))
	}
	for _, line := range slices.Concat(p.lines, p.facts) {
		if strings.ContainsFunc(line, unicode.IsControl) || strings.ContainsRune(line, '\u202e') {
			t.Fatalf("control sign in %q", line)
		}
	}
	for _, line := range p.lines {
		if ansi.StringWidth(line) > w {
			t.Fatalf("%d columns in %d: %q", ansi.StringWidth(line), w, line)
		}
		if line != strings.TrimRight(line, " ") {
			t.Fatalf("blanks behind %q", line)
		}
	}
}

// pages draw each picture of what may come from anywhere.
var pages = map[string]func(t *rapid.T, plans []*wing.Plan, w, h int, signs Signs) page{
	"survey": func(t *rapid.T, plans []*wing.Plan, w, h int, signs Signs) page {
		plan := rapid.SampledFrom(plans).Draw(t, "plan")
		rows, marked := []string{"none"}, map[string]Mark{"none": InHand}
		if plan != nil {
			rows = append(rows, plan.Rows()...)
			for _, l := range plan.Lines {
				marked[l.Code] = Mark(rapid.SampledFrom([]int{0, 0, 0, 0, 1, 2, 32, 64, 97, 255}).Draw(t, "mark"))
			}
		}
		side := rapid.SampledFrom([]wing.Side{wing.Left, wing.Right, ""}).Draw(t, "side")
		row := rapid.SampledFrom(rows).Draw(t, "row")
		return page{FanRow(plan, side, row, marked, w, h, signs), RowFacts(plan, side, row, marked)}
	},
	"trim": func(t *rapid.T, _ []*wing.Plan, w, h int, signs Signs) page {
		r := drawReport(t)
		return page{Trim(r, w, h, signs), TrimFacts(r)}
	},
	"history": func(t *rapid.T, _ []*wing.Plan, w, h int, signs Signs) page {
		var points []LengthAt
		for range rapid.IntRange(0, 40).Draw(t, "points") {
			points = append(points, LengthAt{
				Label:     rapid.SampledFrom(hostile).Draw(t, "label"),
				Deviation: drawLength(t, "deviation"), U: drawLength(t, "u"), Limit: drawLength(t, "limit"),
				Fallback: rapid.Bool().Draw(t, "fallback"),
			})
		}
		return page{History(points, w, h, signs), HistoryFacts(points)}
	},
	"lengths": func(t *rapid.T, _ []*wing.Plan, w, h int, signs Signs) page {
		cell := func(name string) Cell {
			flags := rapid.SliceOfN(rapid.Bool(), 3, 3).Draw(t, name)
			return Cell{rapid.SampledFrom(hostile).Draw(t, name), flags[0], flags[1], flags[2]}
		}
		var rows []LengthRow
		for range rapid.IntRange(0, 30).Draw(t, "rows") {
			rows = append(rows, LengthRow{rapid.SampledFrom(hostile).Draw(t, "point"), cell("left"), cell("right"), cell("difference")})
		}
		return page{Lengths(rows, w, h, signs), LengthsFacts(rows)}
	},
}

func drawLength(t *rapid.T, name string) quantity.Length {
	return quantity.Length(rapid.OneOf(
		rapid.Int64Range(-20_000, 20_000),
		rapid.SampledFrom([]int64{0, 1, -1, math.MaxInt64, math.MinInt64, quantity.Max, -quantity.Max}),
	).Draw(t, name))
}

// drawReport gives a report as no engine would make it.
func drawReport(t *rapid.T) trim.Report {
	text, number := rapid.SampledFrom(append(hostile, "C7", "C3", "C99999999999999999999", "7")), rapid.OneOf(
		rapid.Float64Range(-30, 30), rapid.SampledFrom([]float64{0, math.NaN(), math.Inf(1), math.Inf(-1), math.MaxFloat64, 1e-300}))
	side := rapid.SampledFrom([]wing.Side{wing.Left, wing.Right, ""})
	finding := func() trim.Finding {
		return trim.Finding{
			DeviationMM: number.Draw(t, "deviation"), UMM: number.Draw(t, "u"), LimitMM: number.Draw(t, "limit"),
			Verdict:  rapid.SampledFrom([]metrology.Verdict{metrology.Inside, metrology.Outside, metrology.NotProved, ""}).Draw(t, "verdict"),
			Sentence: text.Draw(t, "sentence"),
		}
	}
	rows := rapid.SliceOfN(text, 0, 4).Draw(t, "rows")
	r := trim.Report{Planned: rapid.IntRange(-1, 40).Draw(t, "planned")}
	r.Limits.Path = trim.Limit{MM: number.Draw(t, "limit"), Source: text.Draw(t, "source"), Fallback: rapid.Bool().Draw(t, "fallback")}
	for _, row := range rows {
		m := trim.RowTrim{Row: row, Side: side.Draw(t, "side"), MeanMM: number.Draw(t, "mean"), Of: rapid.SampledFrom([]int{0, 3, 8, -1, math.MaxInt}).Draw(t, "of"), Apart: rapid.Bool().Draw(t, "apart")}
		if rapid.Bool().Draw(t, "against") {
			f := finding()
			m.Against = &f
		}
		r.Rows = append(r.Rows, m)
	}
	for range rapid.IntRange(0, 20).Draw(t, "paths") {
		ref := trim.PathRef{Point: text.Draw(t, "point"), Side: side.Draw(t, "side")}
		r.Paths = append(r.Paths, trim.PathTrim{PathRef: ref, Row: rapid.SampledFrom(append(rows, "none")).Draw(t, "row"), Finding: finding()})
		if rapid.Bool().Draw(t, "again") {
			r.Again = append(r.Again, trim.Again{PathRef: ref})
		}
	}
	for range rapid.IntRange(0, 2).Draw(t, "sides") {
		r.Sides = append(r.Sides, trim.SidesTrim{Point: text.Draw(t, "point"), Finding: finding()})
	}
	return r
}

func TestNoPageLeavesItsRoom(t *testing.T) {
	all := plans(t)
	for name, draw := range pages {
		t.Run(name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				w, h := rapid.IntRange(-1, 150).Draw(t, "w"), rapid.IntRange(-1, 50).Draw(t, "h")
				draw(t, all, w, h, Signs(rapid.IntRange(0, 1).Draw(t, "signs"))).holds(t, w, h)
			})
		})
	}
}

// known draw the pictures of the goldens.
func known(t testing.TB) map[string]func(w, h int) []string {
	plan := sample(t)
	all := map[string]func(w, h int) []string{
		"survey":  func(w, h int) []string { return FanRow(plan, wing.Left, "C", looking(plan), w, h, ASCII) },
		"lengths": func(w, h int) []string { return Lengths(measuring(), w, h, ASCII) },
	}
	for name, off := range map[string]func(wing.Path) float64{"worn": worn, "nearly": nearly} {
		report := trimmed(t, plan, 1.5, off)
		all["trim "+name] = func(w, h int) []string { return Trim(report, w, h, ASCII) }
	}
	for name, points := range histories() {
		all[name] = func(w, h int) []string { return History(points, w, h, ASCII) }
	}
	return all
}

// More room never takes a page's picture away, and with ASCII signs it has no
// other.
func TestPagesKeepTheirPicture(t *testing.T) {
	for name, draw := range known(t) {
		for _, h := range []int{4, 6, 8, 10, 12, 20} {
			had := false
			for w := 1; w <= 120; w++ {
				got := draw(w, h)
				if had && len(got) == 0 {
					t.Fatalf("%s: a picture in %d columns, none in %d, %d lines", name, w-1, w, h)
				}
				had = len(got) > 0
				if text := strings.Join(got, ""); strings.ContainsFunc(text, func(r rune) bool { return r < 0x20 || r > 0x7e }) {
					t.Fatalf("%s at %d: %q", name, w, text)
				}
			}
		}
	}
}
