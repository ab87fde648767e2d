package session

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/logbook"
	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/store"
	"example.org/linewright/engine/trim"
	"example.org/linewright/engine/wing"
)

// bookDesk is a desk with the procedures by which the logbook is tested.
func bookDesk(t testing.TB) Desk {
	t.Helper()
	folder, err := store.Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = folder.Close() })
	d := Desk{Store: folder, Who: "ann", Clock: func() time.Time { return time.Date(2026, 3, 1, 10, 0, 0, 0, time.UTC) }}
	plan := readFile(t, "../../procedures/sample/plan.toml")
	for _, id := range []string{"cloth", "other"} {
		if _, err := folder.AddWing(store.Wing{ID: id, Name: "Cloth " + id}, plan); err != nil {
			t.Fatal(err)
		}
	}
	for _, name := range []string{"survey.toml", "swap.toml", "measure.toml", "release.toml"} {
		d.Procedures = append(d.Procedures, procedure.File{Name: name, Data: readFile(t, "../logbook/testdata/"+name)})
	}
	return d
}

func readFile(t testing.TB, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func begin(t testing.TB, d Desk, wing, hours string) *Session {
	t.Helper()
	bench := metrology.DefaultBench()
	bench.Rule = metrology.RuleSimple
	s, err := d.Start(New{Wing: wing, Bench: bench, Hours: hours})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() })
	return s
}

func enter(t testing.TB, s *Session, en job.Entry) {
	t.Helper()
	if _, err := s.Enter(en); err != nil {
		t.Fatalf("%+v: %v", en, err)
	}
}

// find writes a finding on a line of row A on the left.
func find(t testing.TB, s *Session, code, rule string) (id string) {
	t.Helper()
	no, err := s.AddTask("survey", wing.Whole(), "")
	if err != nil {
		t.Fatal(err)
	}
	enter(t, s, job.Entry{Kind: job.EnterFinding, Task: no, Seen: &job.Seen{Thing: wing.LineRef(code, wing.Left), Rule: rule}})
	enter(t, s, job.Entry{Kind: job.EnterDrop, Task: no, Text: "the rest another day"})
	fs := s.Job().Findings()
	return fs[len(fs)-1].ID
}

// swapUpTo exchanges A1.1 left as far as some entries go.
func swapUpTo(t testing.TB, s *Session, entries int) {
	t.Helper()
	no, err := s.AddTask("swap", wing.LineRef("A1.1", wing.Left), "")
	if err != nil {
		t.Fatal(err)
	}
	l, _ := s.Job().Plan.Line("A1.1")
	for _, text := range []string{"batch 77", l.Length.String(), "", "4000 mm", "4001 mm", "", "", ""}[:entries] {
		kind := job.EnterAnswer
		if text == "" {
			kind = job.EnterOn
		}
		enter(t, s, job.Entry{Kind: kind, Task: no, Text: text})
	}
}

const allOfSwap, gateOff = 8, 7

func pagesOf(t testing.TB, d Desk) []logbook.Page {
	t.Helper()
	pages, err := d.Pages(nil)
	if err != nil {
		t.Fatal(err)
	}
	return pages
}

func TestANewJobTakesInWhatIsLeft(t *testing.T) {
	d := bookDesk(t)
	first := begin(t, d, "cloth", "100")
	open := find(t, first, "A1.1", "cut")
	later := find(t, first, "A1.2", "fluffy")
	enter(t, first, job.Entry{Kind: job.EnterDefer, Finding: later, Deferral: &job.Deferral{Hours: 100}, Text: "no part"})
	find(t, begin(t, d, "other", ""), "A2.1", "cut")
	d.Clock = func() time.Time { return time.Date(2026, 4, 1, 10, 0, 0, 0, time.UTC) }
	second := begin(t, d, "cloth", "104,5")
	start := second.Job().Start
	if start.Hours == nil || *start.Hours != 1045 {
		t.Errorf("hours: %v", start.Hours)
	}
	if len(start.Carried) != 2 || start.Carried[0].ID != open || start.Carried[1].ID != later || start.Carried[0].At != "2026-03-01T10:00:00Z" {
		t.Fatalf("carried: %+v", start.Carried)
	}
	if df := start.Carried[1].Deferred; df == nil || df.Job != 1 || df.Base == nil || *df.Base != 1000 {
		t.Errorf("deferred: %+v", df)
	}
	if third := begin(t, d, "cloth", ""); third.Job().Start.Hours != nil || len(third.Job().Start.Carried) != 2 {
		t.Errorf("third: %+v", third.Job().Start)
	}
	if _, err := d.Start(New{Wing: "cloth", Hours: "many"}); err == nil {
		t.Error("hours that are none were taken")
	}
}

func TestANewJobTakesTheLoopsOfItsWing(t *testing.T) {
	d := bookDesk(t)
	file := "linewright_loops = 1\nsource = \"ann, 2026-02-01\"\n[[loop]]\ncode = \"plain\"\nshortens_mm = 0\n[[loop]]\ncode = \"wrapped\"\nshortens_mm = 9.5\n"
	if err := d.Store.WriteWingLoops("cloth", []byte(file)); err != nil {
		t.Fatal(err)
	}
	want := &trim.LoopTable{Source: "ann, 2026-02-01", Loops: []trim.Loop{{Code: "plain"}, {Code: "wrapped", Shortens: 9500 * quantity.Micrometre}}}
	if diff := cmp.Diff(want, begin(t, d, "cloth", "").Job().Start.Loops); diff != "" {
		t.Error(diff)
	}
	if got := begin(t, d, "other", "").Job().Start.Loops; got != nil {
		t.Errorf("the other wing has loops: %+v", got)
	}
	if err := d.Store.WriteWingLoops("cloth", []byte("linewright_loops = 1\n")); err != nil {
		t.Fatal(err)
	}
	before, _ := d.Store.Jobs()
	_, err := d.Start(New{Wing: "cloth"})
	if after, _ := d.Store.Jobs(); err == nil || len(after) != len(before) || !strings.Contains(err.Error(), "loops.toml") {
		t.Errorf("a table with faults: %v, jobs %v", err, after)
	}
}

func TestOneLinkIsOpenAtATimeOnAWing(t *testing.T) {
	d := bookDesk(t)
	first := begin(t, d, "cloth", "")
	second := begin(t, d, "cloth", "")
	swapUpTo(t, first, gateOff)
	if _, err := second.AddTask("swap", wing.LineRef("A1.2", wing.Left), ""); err == nil || !strings.Contains(err.Error(), "open in job 1") {
		t.Errorf("a second link in another job: %v", err)
	}
	if _, err := d.Start(New{Wing: "cloth"}); err == nil {
		t.Error("a job was started on a wing with an open link")
	}
	begin(t, d, "other", "")
}

// The cache is a help and nothing else: without it, and with one that is not to
// be trusted, the pages are the same.
func TestPagesAreTheSameWithoutTheCache(t *testing.T) {
	d := bookDesk(t)
	s := begin(t, d, "cloth", "100")
	find(t, s, "A1.1", "cut")
	swapUpTo(t, s, allOfSwap)
	begin(t, d, "other", "")
	want := pagesOf(t, d)
	if len(want) != 2 || len(want[0].Fitted) != 1 || len(want[0].Findings) != 1 || want[1].Wing != "other" {
		t.Fatalf("pages: %+v", want)
	}
	file := filepath.Join(d.Store.Dir(), "cache", shelfOf(1))
	good := readFile(t, file)
	for name, change := range map[string]func() error{
		"as it was": func() error { return nil },
		"deleted":   func() error { return os.RemoveAll(filepath.Dir(file)) },
		"damaged":   func() error { return os.WriteFile(file, bytes.Replace(good, []byte("cut"), []byte("cat"), 1), 0o644) },
		"a folder":  func() error { return os.MkdirAll(filepath.Join(file, "x"), 0o755) },
		"of another": func() error {
			return d.Store.WriteCached(shelfOf(1), wrongPages(t, d, pagesHead{logbook.Edition, "another"}))
		},
		"of another edition": func() error {
			return d.Store.WriteCached(shelfOf(1), wrongPages(t, d, pagesHead{logbook.Edition - 1, thisProgram().Program}))
		},
		"no pages":    func() error { return d.Store.WriteCached(shelfOf(1), []byte("{}\n")) },
		"not of JSON": func() error { return d.Store.WriteCached(shelfOf(1), append(headLine(t, thisProgram()), "x\n"...)) },
	} {
		if err := os.RemoveAll(file); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, good, 0o644); err != nil {
			t.Fatal(err)
		}
		if name == "a folder" {
			if err := os.Remove(file); err != nil {
				t.Fatal(err)
			}
		}
		if err := change(); err != nil {
			t.Fatal(name, err)
		}
		if diff := cmp.Diff(want, pagesOf(t, d)); diff != "" {
			t.Errorf("%s:\n%s", name, diff)
		}
	}
}

func headLine(t *testing.T, h pagesHead) []byte {
	t.Helper()
	data, err := json.Marshal(h)
	if err != nil {
		t.Fatal(err)
	}
	return append(data, '\n')
}

// wrongPages is a cache that says something else about the jobs as they are now.
func wrongPages(t *testing.T, d Desk, by pagesHead) []byte {
	t.Helper()
	heads, err := d.Store.JobHeads()
	if err != nil {
		t.Fatal(err)
	}
	out := headLine(t, by)
	for _, h := range heads {
		k, ok := keep(logbook.Page{Job: h.No, Wing: "wrong"}, h.Head.N, h.Head.Hash)
		about, err := json.Marshal(k)
		if err != nil || !ok {
			t.Fatal(err, ok)
		}
		out = append(append(append(append(out, about...), '\t'), k.page...), '\n')
	}
	return out
}

// The other tests of the cache would hold for one that is never read.
func TestTheCacheIsRead(t *testing.T) {
	d := bookDesk(t)
	begin(t, d, "cloth", "")
	pagesOf(t, d)
	if err := d.Store.WriteCached(shelfOf(1), wrongPages(t, d, thisProgram())); err != nil {
		t.Fatal(err)
	}
	if p := pagesOf(t, d); len(p) != 1 || p[0].Wing != "wrong" {
		t.Errorf("pages: %+v", p)
	}
}

func TestProgressIsOfWhatIsMadeAnew(t *testing.T) {
	d := bookDesk(t)
	first := begin(t, d, "cloth", "")
	begin(t, d, "cloth", "")
	pagesOf(t, d)
	var told [][2]int
	progress := func(done, of int) { told = append(told, [2]int{done, of}) }
	if _, err := d.Pages(progress); err != nil || told != nil {
		t.Errorf("nothing is made anew, told %v, %v", told, err)
	}
	find(t, first, "A1.1", "cut")
	if _, err := d.Pages(progress); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([][2]int{{0, 1}, {1, 1}}, told); diff != "" {
		t.Error(diff)
	}
}

func TestAJobThatCannotBeReadHidesNoOther(t *testing.T) {
	d := bookDesk(t)
	first := begin(t, d, "cloth", "")
	swapUpTo(t, first, 1)
	find(t, begin(t, d, "cloth", ""), "A1.2", "cut")
	begin(t, d, "cloth", "")
	pinned := filepath.Join(d.Store.Dir(), "jobs", "0001", "pinned")
	if err := os.Rename(pinned, pinned+"-away"); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(d.Store.Dir(), "jobs", "0003", "journal.jsonl"), []byte("{}\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.RemoveAll(filepath.Join(d.Store.Dir(), "cache")); err != nil {
		t.Fatal(err)
	}
	pages := pagesOf(t, d)
	if len(pages) != 3 || pages[0].Fault == "" || pages[0].Wing != "cloth" || pages[1].Fault != "" || pages[2].Fault == "" || pages[2].Wing != "" {
		t.Fatalf("pages: %+v", pages)
	}
	b, err := d.Book("cloth")
	if err != nil {
		t.Fatal(err)
	}
	if len(b.Unread) != 2 || !b.Unread[0].OfWing || b.Unread[1].OfWing || len(b.Open) != 1 || b.Name != "Cloth cloth" {
		t.Errorf("book: %+v", b)
	}
	if err := os.Rename(pinned+"-away", pinned); err != nil {
		t.Fatal(err)
	}
	if p := pagesOf(t, d)[0]; p.Fault != "" || len(p.Tasks) != 1 {
		t.Errorf("it can be read again: %+v", p)
	}
}
