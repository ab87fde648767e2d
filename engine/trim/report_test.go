package trim

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
	"pgregory.net/rapid"
)

// byRow gives each row its deviation.
func byRow(rows map[string]float64) func(*wing.Path) float64 {
	return func(p *wing.Path) float64 { return rows[p.Row] }
}

// By hand: A +2, B −1, C −6 on 8 paths each, so the offset is −5/3; C against
// A is −8. With U 1 mm of stated values a mean is not surer than one of them,
// and a difference of means has √(1² + 1²) = 1.414.
func TestRowsByHand(t *testing.T) {
	p := small(t)
	r := report(t, p, stated(t, p, milli, byRow(map[string]float64{"A": 2, "B": -1, "C": -6, "S": -20, "Br": 30})), Chord{})
	equal(t, "planned", r.Planned, 30)
	equal(t, "offset", r.Offset.MeanMM, -1.667)
	equal(t, "offset of", r.Offset.Paths, 24)
	equal(t, "offset, U", r.Offset.UMM, 1)
	equal(t, "lowest beyond it", r.Offset.LowMM, -4.333)
	equal(t, "highest beyond it", r.Offset.HighMM, 3.667)
	c, _ := r.row("C", "")
	equal(t, "C", c.MeanMM, -6)
	equal(t, "C, U", c.UMM, 1)
	equal(t, "C, paths", c.Paths, 8)
	equal(t, "C against A", c.Against.DeviationMM, -8)
	equal(t, "C against A, U", c.Against.UMM, 1.415)
	equal(t, "C against A, verdict", c.Against.Verdict, metrology.Inside)
	left, _ := r.row("C", wing.Left)
	equal(t, "C left, paths", left.Paths, 4)
	equal(t, "C left, of", left.Of, 4)
	a, _ := r.row("A", "")
	equal(t, "A against itself", a.Against, nil)
	for _, row := range []string{"S", "Br"} {
		apart, ok := r.row(row, "")
		if !ok || !apart.Apart || apart.Against != nil {
			t.Errorf("row %s is not apart: %+v", row, apart)
		}
	}
}

// The mean of unequal deviations, left and right apart: A1 to A4 left are
// 1 2 3 4, right 0 0 0 −2. Means 2.5, −0.5 and 1; A4 differs by 6, limit 8,
// U of the difference √2.
func TestSidesByHand(t *testing.T) {
	p := small(t)
	left := map[string]float64{"A1": 1, "A2": 2, "A3": 3, "A4": 4}
	right := map[string]float64{"A4": -2}
	r := report(t, p, stated(t, p, milli, func(path *wing.Path) float64 {
		if path.Side == wing.Left {
			return left[path.Point]
		}
		return right[path.Point]
	}), Chord{})
	for side, want := range map[wing.Side]float64{wing.Left: 2.5, wing.Right: -0.5, "": 1} {
		a, _ := r.row("A", side)
		equal(t, "A "+string(side), a.MeanMM, want)
	}
	sides := map[string]SidesTrim{}
	for _, s := range r.Sides {
		sides[s.Point] = s
	}
	equal(t, "points", len(sides), 15)
	a4 := sides["A4"]
	equal(t, "A4", a4.DeviationMM, 6)
	equal(t, "A4, U", a4.UMM, 1.415)
	equal(t, "A4, verdict", a4.Verdict, metrology.Inside)
	equal(t, "A4, sentence", a4.Sentence, "6 mm long, sure within 2 mm, limit 8: inside")
	equal(t, "A1", sides["A1"].DeviationMM, 1)
}

// Asymmetry by hand on rows A and B alone, both with spans .1 .35 .6 .85, sum
// 1.9 each. Differences 1 2 3 6 in A, 0 in B: 1·.1 + 2·.35 + 3·.6 + 6·.85 =
// 7.7; over 3.8 it is 2.026. With load 3 for A and 1 for B: 23.1 / 7.6 = 3.039.
func TestAsymmetryByHand(t *testing.T) {
	p := small(t)
	difference := map[string]float64{"A1": 1, "A2": 2, "A3": 3, "A4": 6, "S1": 100, "Br1": 50}
	set := stated(t, p, milli, func(path *wing.Path) float64 {
		switch {
		case path.Row == "C":
			return math.NaN()
		case path.Side == wing.Left:
			return difference[path.Point]
		}
		return 0
	})
	a := report(t, p, set, Chord{}).Index
	equal(t, "index", a.IndexMM, 2.026)
	equal(t, "pairs", a.Pairs, 8)
	equal(t, "of", a.Of, 12)
	equal(t, "weighted", a.Weighted, false)
	chord := Chord{Rows: []RowPlace{{"A", 0, 3}, {"B", 500 * milli, 1}}}
	a = report(t, p, set, chord).Index
	equal(t, "weighted index", a.IndexMM, 3.039)
	equal(t, "weighted", a.Weighted, true)
}

// C4 has no span, so row C is spread evenly, .125 .375 .625 .875 (sum 2), and
// that is said. Only C4 differs, by 4: 3.5 / 5.8 over A, B and C.
func TestAsymmetryWithoutSpan(t *testing.T) {
	p := small(t)
	r := report(t, p, stated(t, p, milli, func(path *wing.Path) float64 {
		if path.Point == "C4" && path.Side == wing.Right {
			return -4
		}
		return 0
	}), Chord{})
	near(t, "index", r.Index.IndexMM, 4*0.875/5.8, 0.0005)
	equal(t, "even rows", strings.Join(r.Index.Even, " "), "C")
	if !strings.Contains(text(r.Missing), "the plan gives no span for all points of row C: taken as evenly spread (fallback)") {
		t.Errorf("not said: %s", text(r.Missing))
	}
}

func TestAgain(t *testing.T) {
	p := small(t)
	off := map[PathRef]float64{{"A1", wing.Left}: 15, {"B2", wing.Right}: 9.5, {"C3", wing.Left}: 6, {"C3", wing.Right}: -6}
	set := stated(t, p, milli, func(path *wing.Path) float64 { return off[PathRef{path.Point, path.Side}] })
	set.Paths[0].Disagree = true
	var got []string
	for _, a := range report(t, p, set, Chord{}).Again {
		got = append(got, a.String()+": "+strings.Join(a.Why, "; "))
	}
	golden(t, "again.txt", text(got))
}

// Readings that settle an open verdict are counted where repeats help.
func TestAgainSaysHowManyReadings(t *testing.T) {
	p := small(t)
	rows := typed(p, func(path *wing.Path) float64 {
		if path.Point == "A2" {
			return 8.3
		}
		return 0
	})
	paths, err := Evaluate(p, wing.FromRiser, rows, goodBench())
	if err != nil {
		t.Fatal(err)
	}
	r := report(t, p, Set{From: wing.FromRiser, Paths: paths}, Chord{})
	for _, path := range r.Paths {
		if path.Point == "A2" {
			equal(t, "verdict", path.Verdict, metrology.NotProved)
		}
	}
	equal(t, "again", len(r.Again), 2)
	equal(t, "why", r.Again[0].Why[0], "not proved against the plan: 6 readings in all would decide")
}

// The short way says no only where counting readings comes to none.
func TestHopelessIsNeverTooSure(t *testing.T) {
	hopes := 0
	rapid.Check(t, func(t *rapid.T) {
		m := drawMeasurement(t, drawBench(t))
		deviation := quantity.Length(rapid.Int64Range(-15e3, 15e3).Draw(t, "deviation"))
		_, decides := m.ReadingsToDecide(m.Value-deviation, 10*milli)
		if hopeless(&m, deviation, 10*milli) && decides {
			t.Fatalf("%s with U %s", deviation, m.U)
		}
		if !decides {
			hopes++
		}
	})
	if hopes == 0 {
		t.Error("every deviation was decided: nothing was tried")
	}
}

func TestMissing(t *testing.T) {
	p := small(t)
	set := stated(t, p, milli, func(path *wing.Path) float64 {
		if path.Row == "A" || path.Side == wing.Right {
			return math.NaN()
		}
		return 1
	})
	set.From, set.Trimmers, set.SpeedSystem = wing.FromLink, "", ""
	r := report(t, p, set, Chord{Rows: []RowPlace{{"B", 0, 0}, {"A", 0, 1}}})
	golden(t, "missing.txt", text(r.Missing))
}

// From the link the riser is in neither the measured nor the expected length;
// a brake begins at the knot both times; what joints add is expected too.
func TestWhereTheTapeBegins(t *testing.T) {
	p := small(t)
	from := func(f wing.From, joint quantity.Length, point string) float64 {
		m, err := Stated(7000*milli, milli)
		if err != nil {
			t.Fatal(err)
		}
		set := Set{From: f, Joint: joint * milli, Paths: []PathReading{{PathRef: PathRef{point, wing.Left}, Measurement: m}}}
		return report(t, p, set, Chord{}).Paths[0].ExpectedMM
	}
	equal(t, "riser", from(wing.FromRiser, 0, "A1"), 500+5000+1450)
	equal(t, "link", from(wing.FromLink, 0, "A1"), 5000+1450)
	equal(t, "joint", from(wing.FromLink, 3, "A1"), 5000+1450+3)
	equal(t, "brake", from(wing.FromRiser, 0, "Br1"), 6100)
	equal(t, "brake", from(wing.FromLink, 0, "Br1"), 6100)
}

// The papers state A1 and A2 from the link, and C9, of which no line is known.
// A stated length comes before the sum of the lines, with the riser where the
// tape begins there; without a riser it serves from the link alone.
func TestStatedPathsComeFirst(t *testing.T) {
	p := planOf(t, "testdata/half.toml")
	for from, want := range map[wing.From]string{wing.FromLink: "A1 7006 true, A2 6990 true, C9 6800 true, ", wing.FromRiser: "A1 7506 true, "} {
		set := Set{From: from}
		for _, ref := range []PathRef{{"A1", wing.Left}, {"A2", wing.Left}, {"C9", wing.Left}} {
			m, err := Stated(7000*milli, milli)
			if err != nil {
				t.Fatal(err)
			}
			set.Paths = append(set.Paths, PathReading{PathRef: ref, Measurement: m})
		}
		got := ""
		for _, path := range report(t, p, set, Chord{}).Paths {
			got += fmt.Sprintf("%s %v %t, ", path.Point, path.ExpectedMM, path.Stated)
		}
		equal(t, string(from), got, want)
	}
	rows, err := ReadCSV(p, "sheet.csv", []byte("point,left,right\nC9,6801,6803\n"))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Evaluate(p, wing.FromLink, rows, goodBench()); err != nil {
		t.Fatal(err)
	}
}

// A line that the plan makes 10 mm longer on the left is no difference of the
// sides, and against the plan it is neither.
func TestExceptionIsNoDifference(t *testing.T) {
	data, err := os.ReadFile("testdata/small.toml")
	if err != nil {
		t.Fatal(err)
	}
	p, err := wing.ParsePlan(append(data, "[[exception]]\nside = 'left'\ncode = 'A2.1'\nlength_mm = 1460\n"...), "small.toml")
	if err != nil {
		t.Fatal(err)
	}
	r := report(t, p, stated(t, p, milli, func(*wing.Path) float64 { return 0 }), Chord{})
	equal(t, "expected left", r.Paths[0].ExpectedMM, 6960)
	equal(t, "expected right", r.Paths[1].ExpectedMM, 6950)
	equal(t, "A1", r.Sides[0].DeviationMM, 0)
}

func TestReportIsPlainData(t *testing.T) {
	p := small(t)
	r := report(t, p, stated(t, p, milli, byRow(map[string]float64{"C": -12})), sampleChord())
	data, err := json.MarshalIndent(r, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	var back Report
	if err := json.Unmarshal(data, &back); err != nil {
		t.Fatal(err)
	}
	again, _ := json.MarshalIndent(back, "", " ")
	equal(t, "round trip", string(again), string(data))
	for _, key := range []string{`"deviation_mm": -12`, `"expanded_uncertainty_mm": 1`, `"verdict": "outside"`, `"nose_up_deg"`, `"index_mm"`, `"mean_mm"`} {
		if !strings.Contains(string(data), key) {
			t.Errorf("no %s in the JSON", key)
		}
	}
}

// worn is how a used wing looks: rear rows shorter, one line stretched.
func worn(p *wing.Path) float64 {
	d := map[string]float64{"A": -2, "B": -4, "C": -7, "D": -9, "S": -5, "Br": 4}[p.Row]
	number := 0.0
	for _, r := range p.Point {
		if r >= '0' && r <= '9' {
			number = number*10 + float64(r-'0')
		}
	}
	d += math.Round(2*math.Sin(number*1.7)*2) / 2
	if p.Side == wing.Left && (p.Point == "B5" || p.Point == "B6") {
		d += 14
	}
	return d
}

func TestWordsOfTheSampleWing(t *testing.T) {
	p := sample(t)
	paths, err := Evaluate(p, wing.FromRiser, typed(p, worn), goodBench())
	if err != nil {
		t.Fatal(err)
	}
	set := Set{From: wing.FromRiser, Trimmers: "closed", SpeedSystem: "off", Paths: paths}
	golden(t, "sample.txt", text(report(t, p, set, sampleChord()).Words()))
}

func TestReportRefuses(t *testing.T) {
	p := small(t)
	good, _ := Stated(7000*milli, milli)
	at := func(point string, side wing.Side, m metrology.Measurement) PathReading {
		return PathReading{PathRef: PathRef{point, side}, Measurement: m}
	}
	for want, set := range map[string]Set{
		`measured from "" cannot be`:                               {},
		"11 mm for one joint cannot be":                            {From: wing.FromLink, Joint: 11 * milli},
		`"\x1b[2J" has control characters in it`:                   {From: wing.FromLink, Trimmers: "\x1b[2J"},
		`there is no attachment point "a1" left`:                   {From: wing.FromLink, Paths: []PathReading{at("a1", wing.Left, good)}},
		`there is no attachment point "A1" middle`:                 {From: wing.FromLink, Paths: []PathReading{at("A1", "middle", good)}},
		"A1 left is there twice":                                   {From: wing.FromLink, Paths: []PathReading{at("A1", wing.Left, good), at("A1", wing.Left, good)}},
		"a measurement without its uncertainty cannot be compared": {From: wing.FromLink, Paths: []PathReading{at("A1", wing.Left, metrology.Measurement{})}},
		"there is no line Z left in the plan":                      {From: wing.FromLink, Segments: []SegmentReading{{wing.LineRef("Z", wing.Left), good}}},
		"A1.1 left is there twice":                                 {From: wing.FromLink, Segments: []SegmentReading{{wing.LineRef("A1.1", wing.Left), good}, {wing.LineRef("A1.1", wing.Left), good}}},
	} {
		_, err := NewReport(p, set, Chord{})
		equal(t, "refusal", what(t, err), want)
	}
	for want, chord := range map[string]Chord{
		"row A has two places along the chord":         {Rows: []RowPlace{{"A", 0, 0}, {"A", 1, 0}}},
		"row A cannot sit at 11000 mm along the chord": {Rows: []RowPlace{{"A", 11000 * milli, 0}}},
		"row A cannot carry a load of NaN":             {Rows: []RowPlace{{"A", 0, math.NaN()}}},
		"row A cannot carry a load of -1":              {Rows: []RowPlace{{"A", 0, -1}}},
		`"\u202e" has control characters in it`:        {Source: "\u202e"},
	} {
		_, err := NewReport(p, Set{From: wing.FromLink}, chord)
		equal(t, "refusal", what(t, err), want)
	}
	for _, value := range []quantity.Length{0, -milli, 101000 * milli} {
		if _, err := Stated(value, milli); err == nil {
			t.Errorf("%s was taken", value)
		}
	}
	if _, err := Stated(7000*milli, 0); err == nil {
		t.Error("a value without uncertainty was taken")
	}
}

// Inside is no where one path, one pair, one row or one repetition is not.
func TestInside(t *testing.T) {
	p := small(t)
	for name, c := range map[string]struct {
		deviation func(*wing.Path) float64
		want      bool
	}{
		"all":  {func(*wing.Path) float64 { return 2 }, true},
		"path": {func(path *wing.Path) float64 { return map[string]float64{"A1": 9.5}[path.Point] }, false},
		"sides": {func(path *wing.Path) float64 {
			if path.Point == "A1" && path.Side == wing.Left {
				return 8.5
			}
			return 0
		}, false},
		"rows": {byRow(map[string]float64{"A": 5, "C": -6}), false},
		"none": {func(*wing.Path) float64 { return math.NaN() }, false},
	} {
		equal(t, name, report(t, p, stated(t, p, milli, c.deviation), Chord{}).Inside(), c.want)
	}
	set := stated(t, p, milli, func(*wing.Path) float64 { return 0 })
	set.Paths[0].Disagree = true
	equal(t, "readings", report(t, p, set, Chord{}).Inside(), false)
}
