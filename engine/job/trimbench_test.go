package job

import (
	"fmt"
	"strings"
	"testing"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/wing"
)

// bigRig has a wing of 400 paths, in four rows of fifty points.
func bigRig(t testing.TB) *trimRig {
	t.Helper()
	var b strings.Builder
	b.WriteString("linewright_plan = 1\nname = 'Big Curtain'\nsize = 'L'\n[source]\ntext = 'invented'\ndate = '2026'\n")
	for _, row := range []string{"A", "B", "C", "D"} {
		fmt.Fprintf(&b, "[[riser]]\nbranch = '%s'\nlength_mm = 500\n[[link]]\nname = '%s'\nbranch = '%s'\nkind = 'soft'\n", row, row, row)
		for l := range 10 {
			fmt.Fprintf(&b, "[[line]]\ncode = '%s1.%d'\nrow = '%s'\ntier = 'lower'\non = 'link:%s'\npos = %d\nlength_mm = 5000\nsheathed = true\nmaterial = 'aramid'\nstrength_n = 1500\n", row, l, row, row, l+1)
			for i := range 5 {
				n := l*5 + i + 1
				fmt.Fprintf(&b, "[[line]]\ncode = '%s2.%d'\nrow = '%s'\ntier = 'upper'\non = '%s1.%d'\npos = %d\npoint = '%s%d'\nspan = %.3f\nlength_mm = 1500\nsheathed = true\nmaterial = 'aramid'\nstrength_n = 800\n",
					row, n, row, row, l, i+1, row, n, float64(n)/51)
			}
		}
	}
	r := newTrimRigOn(t, []byte(b.String()), Start{Bench: *bench("I", metrology.PullWeight, 1, 500)})
	return r
}

// all reads every path off by so many mm, a sheet a row, and makes the report.
func (r *trimRig) sheets(off int) {
	r.t.Helper()
	r.types("1", "1")
	for _, row := range []string{"A", "B", "C", "D"} {
		sheet := r.sheetOf(nil, row)
		for i := range sheet {
			sheet[i].Typed = r.reads(sheet[i].PathRef, off+i%3)
		}
		r.must(Entry{Kind: EnterSheet, Task: len(r.job.Tasks), Sheet: sheet})
		r.types("")
	}
	r.types("")
}

// A line of a journal holds at most 256 KiB: neither the report of a large
// wing nor what work moved on it may be more.
func TestALargeWingFitsTheJournal(t *testing.T) {
	r := bigRig(t)
	r.sheets(-3)
	r.types("plain")
	r.upTo("", nil)
	r.work(wing.LineRef("C1.1", wing.Left))
	r.begin("trim-test", wing.Whole())
	r.sheets(-2)
	if e := r.job.Events()[len(r.job.Events())-1]; e.Move == nil || len(e.Trim.Paths) != 400 {
		t.Fatalf("%d paths, move %v", len(e.Trim.Paths), e.Move)
	}
	for i, e := range r.job.Events() {
		raw, err := Encode(*e)
		if err != nil || len(raw) > 256<<10 {
			t.Errorf("line %d, %s: %d bytes %v", i+1, e.Kind, len(raw), err)
		}
		if len(raw) > 20<<10 {
			t.Logf("line %d, %s of %s: %d bytes", i+1, e.Kind, e.Key, len(raw))
		}
	}
}

// BenchmarkSettleRow closes a row of a hundred paths.
func BenchmarkSettleRow(b *testing.B) {
	r := bigRig(b)
	r.upTo("row@A", nil)
	r.must(Entry{Kind: EnterSheet, Task: 1, Sheet: r.sheetOf(nil, "A")})
	for b.Loop() {
		if _, err := Decide(r.job, r.stamp(), r.typing("")); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkReadPath previews one reading in a row of a hundred paths, as each
// key does.
func BenchmarkReadPath(b *testing.B) {
	r := bigRig(b)
	r.upTo("row@A", nil)
	r.must(Entry{Kind: EnterSheet, Task: 1, Sheet: r.sheetOf(nil, "A")[1:]})
	for b.Loop() {
		if _, err := r.job.Understood(r.stamp(), r.typing("6500")); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkLengthsCard is the card of a row of a hundred paths.
func BenchmarkLengthsCard(b *testing.B) {
	r := bigRig(b)
	r.upTo("row@A", nil)
	r.must(Entry{Kind: EnterSheet, Task: 1, Sheet: r.sheetOf(nil, "A")[1:]})
	for b.Loop() {
		if _, err := r.job.Card(1, 1); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkTrimStep makes the report of 400 paths.
func BenchmarkTrimStep(b *testing.B) {
	r := bigRig(b)
	r.sheets(0)
	r.must(Entry{Kind: EnterReopen, Task: 1, Key: "report", Text: "again"})
	for b.Loop() {
		if _, err := Decide(r.job, r.stamp(), r.typing("")); err != nil {
			b.Fatal(err)
		}
	}
}
