package order

import (
	"encoding/csv"
	"flag"
	"os"
	"strings"
	"testing"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/wing"
)

var update = flag.Bool("update", false, "write golden files; read them before you commit them")

type pins []byte

func (p pins) Pinned(string) ([]byte, error) { return p, nil }

// listed is a job on the sample wing with some parts on its list.
func listed(t *testing.T, parts ...job.Part) *job.Job {
	t.Helper()
	plan, err := os.ReadFile("../../procedures/sample/plan.toml")
	if err != nil {
		t.Fatal(err)
	}
	j := job.New(pins(plan))
	st := job.Stamp{At: "2026-03-01T10:00:00Z", Who: "ann", Sitting: 1}
	sha := strings.Repeat("0", 64)
	if err := j.Apply(job.Begin(st, job.Start{Job: 7, WingID: "cloth", WingName: "Cloth", Serial: "0042", Plan: sha, Bench: metrology.DefaultBench()})); err != nil {
		t.Fatal(err)
	}
	for _, p := range parts {
		e, err := job.Decide(j, st, job.Entry{Kind: job.EnterPart, Part: &job.PartMove{Op: job.PartList, Part: &p}})
		if err == nil {
			err = j.Apply(e)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	return j
}

func some(t *testing.T) List {
	j := listed(t)
	line := j.PartFor(wing.LineRef("C1.2", wing.Left), `rubbed "through"; sheath open`)
	line.Price = "14.50 EUR"
	twin := j.PartFor(wing.LineRef("S1.1", wing.Right), "pair of S1.1 left")
	twin.Length, twin.LengthOf, twin.Price = 4448000, "copy of its twin, S1.1 left, as measured", "17,25 EUR"
	ring := job.Part{Thing: wing.Ref{Kind: wing.KindRetainer, Code: "C", Side: wing.Left}, Count: 2, Why: "=the link is opened", Price: "on request"}
	return Of(listed(t, line, twin, ring))
}

func TestText(t *testing.T) {
	got := some(t).Text()
	if *update {
		if err := os.WriteFile("testdata/order.txt", []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile("testdata/order.txt")
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// RFC 4180: CRLF, as many fields in each record, quotes doubled: what Go's own
// reader gives back.
func TestCSV(t *testing.T) {
	data := string(some(t).CSV())
	if strings.Count(data, "\r\n") != 4 || strings.Count(data, "\n") != 4 {
		t.Errorf("line ends of %q", data)
	}
	records, err := csv.NewReader(strings.NewReader(data)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	at := map[string]int{}
	for i, title := range records[0] {
		at[title] = i
	}
	for _, c := range []struct {
		row         int
		title, want string
	}{
		{1, "code", "C1.2"}, {1, "side", "left"}, {1, "serial", "0042"}, {1, "for", `rubbed "through"; sheath open`},
		{2, "length_mm", "4448"}, {2, "length_source", "copy of its twin, S1.1 left, as measured"},
		{3, "count", "2"}, {3, "for", " =the link is opened"}, {3, "length_mm", ""},
	} {
		if got := records[c.row][at[c.title]]; got != c.want {
			t.Errorf("row %d, %s: %q, want %q", c.row, c.title, got, c.want)
		}
	}
}

// By hand: 14.50 + 17.25 = 31.75; the two retainers have no price in numbers.
func TestSum(t *testing.T) {
	l := some(t)
	if len(l.Sums) != 1 || l.Sums[0] != (Sum{"EUR", "31.75"}) || l.Unpriced != 1 {
		t.Errorf("sums %v, unpriced %d", l.Sums, l.Unpriced)
	}
}

func TestWhatIsDroppedIsNotOrdered(t *testing.T) {
	j := listed(t, job.Part{Thing: wing.LinkRef("C", wing.Left), Count: 1})
	st := job.Stamp{At: "2026-03-01T10:00:00Z", Who: "ann", Sitting: 1}
	e, err := job.Decide(j, st, job.Entry{Kind: job.EnterPart, Part: &job.PartMove{Op: job.PartDrop, No: 1}, Text: "thread is sound"})
	if err == nil {
		err = j.Apply(e)
	}
	if err != nil {
		t.Fatal(err)
	}
	if l := Of(j); len(l.Items) != 0 || !strings.Contains(l.Text(), "Nothing is on the list.") {
		t.Errorf("%+v", l)
	}
}
