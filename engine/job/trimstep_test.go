package job

import (
	"encoding/json"
	"reflect"
	"strings"
	"testing"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/trim"
	"example.org/linewright/engine/wing"
)

// Row C 4 mm short, read on a bench that does it for all: the report says what
// trim says of the same readings, in the state that was chosen.
func TestTheReportIsThatOfTheReadings(t *testing.T) {
	r := newTrimRig(t)
	off := map[string]int{"C1 left": -4, "C1 right": -4, "C2 left": -4, "C2 right": -4}
	r.upTo("report", off)
	e := r.must(r.typing(""))
	got := e.Trim
	if got.From != wing.FromLink || got.Trimmers != "closed" || got.SpeedSystem != "released" || len(got.Paths) != 30 || e.Move != nil {
		t.Errorf("from %q, trimmers %q, speed system %q, %d paths, move %v", got.From, got.Trimmers, got.SpeedSystem, len(got.Paths), e.Move)
	}
	var rows []trim.Row
	for _, ref := range trim.Refs(r.job.Plan, "") {
		text := r.reads(ref, off[ref.String()])
		mm, _ := quantity.ParseLength(text)
		rows = append(rows, trim.Row{PathRef: ref, Reading: metrology.Reading{Typed: text, Value: mm}})
	}
	paths, err := trim.Evaluate(r.job.Plan, wing.FromLink, rows, r.job.Bench)
	if err != nil {
		t.Fatal(err)
	}
	want, err := trim.NewReport(r.job.Plan, trim.Set{From: wing.FromLink, Trimmers: "closed", SpeedSystem: "released", Paths: paths}, trim.ChordOf(r.job.Plan))
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(*got, want) {
		t.Errorf("%+v\nwant %+v", *got, want)
	}
	c, _ := r.job.CardAt(1, "report")
	f := c.Fields[c.At]
	if f.Trim == nil || f.Answer != "30 of 30 paths inside; left against right 15 of 15 pairs" {
		t.Errorf("%q, report %v", f.Answer, f.Trim)
	}
}

// Each row counts on the bench on which it was read.
func TestARowKeepsItsBench(t *testing.T) {
	r := newTrimRig(t)
	r.upTo("row@B", nil)
	r.must(Entry{Kind: EnterBench, Bench: bench("III", metrology.PullHand, 15, 500)})
	r.upTo("report", nil)
	e := r.must(r.typing(""))
	var a, b float64
	for _, p := range e.Trim.Paths {
		switch p.String() {
		case "A1 left":
			a = p.UMM
		case "B1 left":
			b = p.UMM
		}
	}
	if a >= 2 || b <= 2 {
		t.Errorf("A1 left sure within %v mm on the good bench, B1 left within %v mm on the poor one", a, b)
	}
}

// C1.1 left became 6 mm longer: C1 and C2 left moved, their twins and the
// control did not.
func TestWhatTheWorkMoved(t *testing.T) {
	r := newTrimRig(t)
	r.upTo("", nil)
	r.work(wing.LineRef("C1.1", wing.Left))
	no := r.begin("after-test", wing.Whole())
	r.upTo("", map[string]int{"C1 left": 6, "C2 left": 6})
	c, _ := r.job.CardAt(no, "report")
	m := c.Fields[c.At].Move
	if m == nil {
		t.Fatalf("no move: %q", c.Fields[c.At].Answer)
	}
	moved := map[string]float64{}
	for _, p := range m.Paths {
		moved[p.String()+" "+string(p.Role)] = p.MovedMM
	}
	want := map[string]float64{"C1 left changed": 6, "C2 left changed": 6, "C1 right twin": 0, "C2 right twin": 0, "A1 left control": 0}
	if !reflect.DeepEqual(moved, want) || !m.Trusted || len(m.Lacking) != 0 {
		t.Errorf("%v, trusted %v, lacking %v", moved, m.Trusted, m.Lacking)
	}
	if len(m.After.Paths) != 0 || len(m.Before.Paths) != 0 || len(m.Before.Rows) == 0 {
		t.Errorf("after %d paths, before %d paths and %d rows", len(m.After.Paths), len(m.Before.Paths), len(m.Before.Rows))
	}
	now := c.Fields[c.At].Trim
	if len(now.Paths) != 30 || now.Rows[0].Row != "A" || now.Rows[0].Paths != 8 {
		t.Errorf("the report is not of the whole wing: %d paths, %+v", len(now.Paths), now.Rows[0])
	}
	// A third measuring is held against the wing as the first two have it.
	r.work(wing.LineRef("A1.2", wing.Right))
	no = r.begin("after-test", wing.Whole())
	r.upTo("", map[string]int{"C1 left": 6, "C2 left": 6})
	c, _ = r.job.CardAt(no, "report")
	if m = c.Fields[c.At].Move; !m.Trusted || len(m.Lacking) != 0 || len(m.Worked) != 2 {
		t.Errorf("%+v, lacking %v", m.Worked, m.Lacking)
	}
	for _, p := range m.Paths {
		if p.Proved {
			t.Errorf("%s moved by %v mm since", p.PathRef, p.MovedMM)
		}
	}
}

func TestWhatIsNotAlikeIsNotCompared(t *testing.T) {
	r := newTrimRig(t)
	r.upTo("", nil)
	r.begin("trim-test", wing.Whole())
	r.upTo("report", nil)
	if e := r.must(r.typing("")); e.Move != nil || e.Text != "not compared with task 1: nothing was worked on since" {
		t.Errorf("%q", e.Text)
	}
	r.upTo("", nil)
	r.work(wing.LineRef("C1.1", wing.Left))
	r.begin("after-test", wing.Whole())
	r.types("2")
	r.upTo("report", nil)
	e := r.must(r.typing(""))
	if e.Move != nil || e.Text != `not compared with task 2: trimmers were "closed", speed system "released" there` || e.Trim.Trimmers != "open" {
		t.Errorf("%q, trimmers %q", e.Text, e.Trim.Trimmers)
	}
}

// The same journal gives the same job, and each line comes back as it was.
func TestAMeasuringReplays(t *testing.T) {
	r := newTrimRig(t)
	r.upTo("row@B", map[string]int{"A1 left": 10})
	path := ref("A1 left")
	r.must(Entry{Kind: EnterDecide, Path: &path, Text: "agreed"})
	r.must(Entry{Kind: EnterSheet, Task: 1, Sheet: r.sheetOf(nil, "B")})
	r.must(Entry{Kind: EnterStrike, Line: len(r.journal), Path: &trim.PathRef{Point: "B1", Side: wing.Left}, Text: "slipped"})
	r.upTo("", nil)
	r.work(wing.LineRef("C1.1", wing.Left))
	r.begin("after-test", wing.Whole())
	r.upTo("", nil)
	again := New(r.pins)
	for i, e := range r.job.Events() {
		raw, err := Encode(*e)
		if err != nil {
			t.Fatal(err)
		}
		back, err := Decode(raw)
		if err != nil || !reflect.DeepEqual(back, *e) {
			t.Fatalf("line %d: %v\n%s", i+1, err, raw)
		}
		if err := again.Apply(back); err != nil {
			t.Fatal(err)
		}
	}
	for task := range r.job.Tasks {
		for _, s := range r.job.Tasks[task].Unfolded.Slots {
			a, errA := r.job.CardAt(task+1, s.Key)
			b, errB := again.CardAt(task+1, s.Key)
			if errA != nil || errB != nil || !reflect.DeepEqual(a, b) {
				t.Errorf("task %d, %s: the cards differ %v %v", task+1, s.Key, errA, errB)
			}
		}
	}
	if !reflect.DeepEqual(r.job.PathLengths(), again.PathLengths()) || len(again.PathLengths()) != 30 {
		t.Errorf("the lengths differ")
	}
}

// A journal that somebody else wrote cannot bring paths that the plan lacks,
// nor readings where none are taken.
func TestApplyRefusesPathsThatAreNotThere(t *testing.T) {
	for name, raw := range map[string]string{
		"a reading":          `{"kind":"reading","task":1,"key":"row@A","value":{"kind":"length","n":6450000},"path":{"point":"Z9","side":"left"},"outcome":"taken"}`,
		"a sheet":            `{"kind":"sheet","task":1,"key":"row@A","sheet":[{"point":"A1","side":"up","typed":"1","value_um":1}],"outcome":"taken"}`,
		"lengths":            `{"kind":"settle","task":1,"key":"row@A","lengths":[{"point":"\u001b[2J","side":"left"}],"outcome":"taken"}`,
		"a decision":         `{"kind":"decide","path":{"point":"Z9","side":"left"},"line":3,"reason":"x"}`,
		"a nameless reading": `{"kind":"reading","task":1,"key":"row@A","value":{"kind":"length","n":6450000},"outcome":"taken"}`,
		"a path elsewhere":   `{"kind":"reading","task":1,"key":"trimmers","value":{"kind":"length","n":6450000},"path":{"point":"A1","side":"left"},"outcome":"taken"}`,
		"a sheet elsewhere":  `{"kind":"sheet","task":1,"key":"trimmers","sheet":[{"point":"A1","side":"left","typed":"1","value_um":1}],"outcome":"taken"}`,
		"an empty sheet":     `{"kind":"sheet","task":1,"key":"row@A","outcome":"taken"}`,
	} {
		r := newTrimRig(t)
		var e Event
		if err := json.Unmarshal([]byte(raw), &e); err != nil {
			t.Fatal(err)
		}
		if err := r.job.Apply(e); err == nil || strings.Contains(err.Error(), "\x1b") {
			t.Errorf("%s was applied: %v", name, err)
		}
	}
}
