package job

import (
	"slices"
	"strings"
	"testing"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/trim"
	"example.org/linewright/engine/wing"
)

// A1 of the small plan by hand: 5000 + 1450 from the link, with the riser of
// 500 left out; the brakes from the knot: 2000 + 4100.
func TestARowIsReadCentreOutLeftFirst(t *testing.T) {
	r := newTrimRig(t)
	r.upTo("row@A", nil)
	if got := r.field().Wanted; !strings.HasPrefix(got, "A1 left in mm (or cm") {
		t.Errorf("%q", got)
	}
	var order []string
	for v := r.view(); v.Due != nil; v = r.view() {
		order = append(order, v.Due.String())
		r.types(r.reads(*v.Due, 0))
	}
	want := "A1 left, A1 right, A2 left, A2 right, A3 left, A3 right, A4 left, A4 right"
	if got := strings.Join(order, ", "); got != want {
		t.Errorf("due %s\nwant %s", got, want)
	}
	if got := r.field().Wanted; got != "nothing more: an empty line closes it; or another path with its name, as C7 left 4208" {
		t.Errorf("%q", got)
	}
	v := r.view()
	if v.Read != 8 || v.Total != 8 || v.Left != nil || v.LimitOf != "invented for a test" || v.Limit != 10*quantity.Millimetre {
		t.Errorf("%+v", v)
	}
	if c := v.cell("A1 left"); c.Expected != 6450*quantity.Millimetre || c.Value != c.Expected || c.Verdict != metrology.Inside || c.Hidden {
		t.Errorf("A1 left: expected %s, read %s, %s", c.Expected, c.Value, c.Verdict)
	}
	e := r.must(r.typing(""))
	if e.Kind != Settled || len(e.Lengths) != 8 || e.Lengths[0].Expected != 6450*quantity.Millimetre || e.Lengths[0].LimitOf == "" {
		t.Errorf("%+v", e)
	}
	r.upTo("row@Br", nil)
	if c := r.view().cell("Br1 left"); c.Expected != 6100*quantity.Millimetre {
		t.Errorf("the brake begins at %s", c.Expected)
	}
}

func TestAPathCanBeNamed(t *testing.T) {
	r := newTrimRig(t)
	r.upTo("row@C", nil)
	for text, want := range map[string]string{
		"C3 right 6550": "C3 right", "C4R 6.5 m": "C4 right", "C1l 6650": "C1 left", "C2  left  6600,5": "C2 left",
	} {
		if e := r.must(r.typing(text)); e.Path.String() != want || e.Typed != text || e.BenchName != "test bench" {
			t.Errorf("%s: path %s, bench %q", text, e.Path, e.BenchName)
		}
	}
	if v := r.view(); v.Due.String() != "C1 right" || v.Read != 4 {
		t.Errorf("due %s, %d read", v.Due, v.Read)
	}
}

// 15 mm off is outside 10; it is asked again behind all others, with the first
// value covered, and shown once both agree.
func TestWhatIsOutOfBandIsReadAgainBlind(t *testing.T) {
	r := newTrimRig(t)
	r.upTo("row@A", nil)
	off := map[string]int{"A1 left": 15}
	r.types(r.reads(ref("A1 left"), 15))
	c := r.view().cell("A1 left")
	if !c.Again || !c.Hidden || c.Value != 0 || c.Readings != nil || c.Deviation != 0 || c.Verdict != "" || c.Out {
		t.Errorf("the first value is shown: %+v", *c)
	}
	if due := r.view().Due.String(); due != "A1 right" {
		t.Errorf("it is asked again at once: due %s", due)
	}
	for range 7 {
		r.types(r.reads(*r.view().Due, off[r.view().Due.String()]))
	}
	if v := r.view(); v.Due.String() != "A1 left" || v.Again != 1 || v.Left.Code != LengthsAgain {
		t.Errorf("due %s, %d again, %+v", v.Due, v.Again, v.Left)
	}
	if f := r.field(); strings.Contains(f.Answer, "6465") {
		t.Errorf("the answer says the covered value: %s", f.Answer)
	}
	r.types("6464")
	if c := r.view().cell("A1 left"); c.Hidden || !c.Out || c.Verdict != metrology.Outside || c.N != 2 || len(c.Readings) != 2 {
		t.Errorf("two that agree: %+v", *c)
	}
	e := r.must(r.typing(""))
	if e.Outcome != Taken || e.Lengths[0].Verdict != metrology.Outside || r.due() == "row@A" {
		t.Errorf("a row is not closed for what is outside: %+v", e)
	}
	if l := r.length("A1 left"); l.Inside() || l.N != 2 || l.Task != 1 || l.Key != "row@A" {
		t.Errorf("%+v", l)
	}
	if items := r.job.OpenItems(); len(items) != 2 || items[1].Text != "paths outside: A1 left" || items[1].Key != "row@A" {
		t.Errorf("the record would not say so: %+v", items)
	}
	blocked := r.job.Blocking(0, r.stamp().At)
	if !slices.ContainsFunc(blocked, func(it Item) bool { return strings.HasPrefix(it.Text, "path A1 left: 14.5 mm off, limit 10 mm") }) {
		t.Errorf("the wing is not kept on the ground: %+v", blocked)
	}
}

// Readings 6465 and 6450 lie further apart than these hands do; a third is
// read blind too; if that does not settle it the odd one is struck.
func TestReadingsThatDoNotAgree(t *testing.T) {
	r := newTrimRig(t)
	r.upTo("row@A", nil)
	r.types("6465")
	first := len(r.journal)
	for range 7 {
		r.types(r.reads(*r.view().Due, 0))
	}
	r.types("6450")
	if c := r.view().cell("A1 left"); !c.Hidden || !c.Due {
		t.Errorf("the third reading is not blind: %+v", *c)
	}
	r.types("6451")
	c := r.view().cell("A1 left")
	if c.Hidden || !c.Odd || len(c.Readings) != 3 {
		t.Errorf("nobody can choose the odd one: %+v", *c)
	}
	_, err := r.try("")
	if code(err) != LengthsOdd || !strings.Contains(err.Error(), "6465 mm") {
		t.Fatalf("%v", err)
	}
	r.must(Entry{Kind: EnterStrike, Line: first, Text: "the tape was slack"})
	if e := r.must(r.typing("")); e.Lengths[0].N != 2 || e.Lengths[0].Verdict != metrology.Inside {
		t.Errorf("%+v", e.Lengths[0])
	}
}

func TestAnImplausibleReadingDoesNotCount(t *testing.T) {
	r := newTrimRig(t)
	r.upTo("row@A", nil)
	e := r.must(r.typing("6651"))
	if e.Outcome != Open || e.Why.Code != Implausible || r.view().Due.String() != "A1 left" {
		t.Errorf("%+v, due %s", e.Why, r.view().Due)
	}
	if e := r.must(r.typing("6650")); e.Outcome != Taken {
		t.Errorf("200 mm off is refused: %+v", e.Why)
	}
}

func TestASheetIsTakenForTheRowThatIsDue(t *testing.T) {
	r := newTrimRig(t)
	r.upTo("row@A", nil)
	sheet := r.sheetOf(map[string]int{"A2 right": -30}, "A", "B")
	entry := Entry{Kind: EnterSheet, Task: 1, Sheet: sheet}
	if text, err := r.job.Understood(r.stamp(), entry); err != nil || text != "8 lengths of 8 paths" {
		t.Errorf("%q %v", text, err)
	}
	e := r.must(entry)
	line := len(r.journal)
	if e.Kind != Sheeted || len(e.Sheet) != 8 || e.Sheet[0].Value != 6450*quantity.Millimetre || e.BenchName == "" {
		t.Errorf("%+v", e)
	}
	if v := r.view(); v.Read != 8 || v.Due.String() != "A2 right" {
		t.Errorf("%d read, due %s", v.Read, v.Due)
	}
	r.must(Entry{Kind: EnterStrike, Line: line, Path: &trim.PathRef{Point: "A2", Side: wing.Right}, Text: "a slip of the pen"})
	r.must(Entry{Kind: EnterStrike, Line: line, Path: &trim.PathRef{Point: "A3", Side: wing.Left}, Text: "the line beside it"})
	if v := r.view(); v.Read != 6 || v.Due.String() != "A2 right" {
		t.Errorf("after two were struck: %d read, due %s", v.Read, v.Due)
	}
	r.must(Entry{Kind: EnterStrike, Line: line, Text: "another wing's sheet"})
	if v := r.view(); v.Read != 0 {
		t.Errorf("%d read after the whole sheet was struck", v.Read)
	}
	r.must(entry) // a sheet that was struck may come again
}

// What is not proved may be taken by a person from anywhere, until it is
// measured anew; what is outside never.
func TestAPersonTakesAPathThatIsNotProved(t *testing.T) {
	r := newTrimRig(t)
	off := map[string]int{"A1 left": 10, "A1 right": 15}
	r.upTo("row@B", off)
	open, out := ref("A1 left"), ref("A1 right")
	if _, err := r.enter(Entry{Kind: EnterDecide, Path: &out, Text: "looks right"}); code(err) != NothingProved {
		t.Errorf("outside was taken: %v", err)
	}
	if _, err := r.enter(Entry{Kind: EnterDecide, Path: &open, Text: " "}); code(err) != ReasonMissing {
		t.Errorf("taken without a reason: %v", err)
	}
	entry := Entry{Kind: EnterDecide, Path: &open, Text: "agreed with the workshop"}
	if text, err := r.job.Understood(r.stamp(), entry); err != nil || text != "A1 left: taken by decision" {
		t.Errorf("%q %v", text, err)
	}
	e := r.must(entry)
	if e.Task != 1 || e.Key != "row@A" || r.due() != "row@B" {
		t.Errorf("%+v, due %s", e, r.due())
	}
	if l := r.length("A1 left"); !l.Inside() || l.Decided != "agreed with the workshop" {
		t.Errorf("%+v", l)
	}
	if _, err := r.enter(Entry{Kind: EnterDecide, Path: &open, Text: "again"}); code(err) != NothingProved {
		t.Errorf("decided twice: %v", err)
	}
	taken := func() bool {
		return slices.ContainsFunc(r.job.OpenItems(), func(it Item) bool { return strings.Contains(it.Text, "taken by decision: agreed") })
	}
	if !taken() {
		t.Errorf("the record would not say so: %+v", r.job.OpenItems())
	}
	r.must(Entry{Kind: EnterReopen, Key: "row@A", Text: "measured wet"})
	r.upTo("row@B", off)
	if l := r.length("A1 left"); l.Inside() || taken() {
		t.Errorf("an old decision stands for a new measuring: %+v", l)
	}
}

func TestOpeningARowAgainBringsTheLengthsOfBefore(t *testing.T) {
	r := newTrimRig(t)
	r.upTo("", nil)
	r.work(wing.LineRef("C1.1", wing.Left))
	no := r.begin("after-test", wing.Whole())
	r.upTo("report", map[string]int{"C1 left": 3})
	if l := r.length("C1 left"); l.Deviation != 3*quantity.Millimetre || l.Task != no || l.Role != trim.RoleChanged {
		t.Fatalf("%+v", l)
	}
	r.must(Entry{Kind: EnterReopen, Task: no, Key: "changed", Text: "the zero had moved"})
	if l := r.length("C1 left"); l.Deviation != 0 || l.Task != 1 {
		t.Errorf("%+v", l)
	}
	r.upTo("", map[string]int{"C1 left": 2})
	if l := r.length("C1 left"); l.Deviation != 2*quantity.Millimetre || l.Task != no {
		t.Errorf("%+v", l)
	}
}

// C1.1 left carries C1 and C2; both, their twins and the first untouched path.
func TestWhatWorkChangedIsMeasuredAgain(t *testing.T) {
	r := newTrimRig(t)
	r.upTo("", nil)
	r.begin("loop-change", wing.LineRef("A1.1", wing.Right)) // not begun
	unopened := r.begin("loop-change", wing.LineRef("B1.2", wing.Right))
	r.types("")
	r.must(Entry{Kind: EnterDrop, Task: unopened, Text: "wrong line, nothing was opened"})
	dropped := r.work(wing.LineRef("C1.1", wing.Left))
	r.must(Entry{Kind: EnterDrop, Task: dropped, Text: "done, and not to be kept"})
	r.begin("after-test", wing.Whole())
	r.upTo("changed", nil)
	var got []string
	for _, row := range r.view().Rows {
		for _, c := range []*LengthsCell{row.Left, row.Right} {
			if c != nil {
				got = append(got, c.String()+" "+string(c.Role))
			}
		}
	}
	want := "A1 left control, C1 left changed, C1 right twin, C2 left changed, C2 right twin"
	if strings.Join(got, ", ") != want {
		t.Errorf("%v\nwant %s", got, want)
	}
}

// A row is shown as it was judged, whatever the bench or the work since.
func TestAClosedRowStaysAsItWas(t *testing.T) {
	r := newTrimRig(t)
	r.upTo("row@B", map[string]int{"A1 left": 8})
	r.must(Entry{Kind: EnterBench, Bench: bench("III", metrology.PullHand, 15, 3000)})
	c, err := r.job.CardAt(1, "row@A")
	if err != nil {
		t.Fatal(err)
	}
	v := c.Fields[c.At].Lengths
	cell := v.cell("A1 left")
	if cell.Verdict != metrology.Inside || cell.Deviation != 8*quantity.Millimetre || v.Bench.TapeClass != "I" || v.Due != nil || v.Left != nil {
		t.Errorf("%+v on %s", *cell, v.Bench.TapeClass)
	}
}
