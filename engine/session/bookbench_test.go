package session

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/journal"
	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/trim"
	"example.org/linewright/engine/wing"
)

// manyJobs lays out so many jobs of one wing, each with its own number and day:
// two things were found, a line was exchanged, and in every tenth all paths were
// measured.
func manyJobs(t testing.TB, d Desk, count int) {
	t.Helper()
	workedOn(t, begin(t, d, "cloth", "100"))
	measured := begin(t, d, "cloth", "100")
	workedOn(t, measured)
	measureAll(t, measured)
	jobs := filepath.Join(d.Store.Dir(), "jobs")
	for no := 3; no <= count; no++ {
		from := 1
		if no%10 == 0 {
			from = 2
		}
		lines, err := d.Store.ReadJob(from)
		if err != nil {
			t.Fatal(err)
		}
		folder := filepath.Join(jobs, fmt.Sprintf("%04d", no))
		if err := os.CopyFS(filepath.Join(folder, "pinned"), os.DirFS(filepath.Join(jobs, fmt.Sprintf("%04d", from), "pinned"))); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(folder, "journal.jsonl"), renumbered(t, lines, from, no), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

func workedOn(t testing.TB, s *Session) {
	t.Helper()
	find(t, s, "A1.1", "cut")
	id := find(t, s, "A1.2", "fluffy")
	enter(t, s, job.Entry{Kind: job.EnterDefer, Finding: id, Deferral: &job.Deferral{Until: "2030-01-01"}, Text: "no part"})
	swapUpTo(t, s, allOfSwap)
}

// measureAll writes the rows of the wing as they are closed when every path was
// read: how they are read is tested where it is decided.
func measureAll(t testing.TB, s *Session) {
	t.Helper()
	no, err := s.AddTask("measure", wing.Whole(), "")
	if err != nil {
		t.Fatal(err)
	}
	j := s.Job()
	for _, slot := range j.Tasks[no-1].Unfolded.Slots {
		e := job.Event{At: s.stamp().At, Who: "ann", Sitting: 1, Kind: job.Settled, Task: no, Key: slot.Key, Outcome: job.Taken}
		for _, side := range wing.Sides {
			for _, p := range j.Plan.Paths(side) {
				if p.Row != slot.Instance.Row {
					continue
				}
				e.Lengths = append(e.Lengths, job.PathLength{
					PathRef: trim.PathRef{Point: p.Point, Side: side}, Value: 7_000_000, U: 2000, N: 1,
					Expected: 6_998_000, Deviation: 2000, Limit: 10_000, LimitOf: "sample plan, invented", Verdict: metrology.Inside,
				})
			}
		}
		if err := s.write(e); err != nil {
			t.Fatal(err)
		}
	}
}

// renumbered is a journal as another job would have written it, later.
func renumbered(t testing.TB, lines []journal.Line, from, no int) []byte {
	t.Helper()
	day := time.Date(2020, 1, 1, 10, 0, 0, 0, time.UTC).AddDate(0, 0, no).Format(time.RFC3339)
	head := journal.EmptyHead()
	var out bytes.Buffer
	for _, l := range lines {
		e, err := job.Decode(l.Event)
		if err != nil {
			t.Fatal(err)
		}
		e.At = day
		if e.Start != nil {
			e.Start.Job = no
			e.Start.Carried = nil
		}
		if e.Finding != "" {
			e.Finding = strings.Replace(e.Finding, fmt.Sprintf("%d/", from), fmt.Sprintf("%d/", no), 1)
		}
		body, err := job.Encode(e)
		if err != nil {
			t.Fatal(err)
		}
		next, err := journal.Encode(head, json.RawMessage(body))
		if err != nil {
			t.Fatal(err)
		}
		head = next.Head()
		out.Write(next.Raw)
		out.WriteByte('\n')
	}
	return out.Bytes()
}

// BenchmarkBook opens the logbook of a wing with 2 000 jobs: the pages are kept,
// as after the first time.
func BenchmarkBook(b *testing.B) {
	d := bookDesk(b)
	manyJobs(b, d, 2000)
	begun := time.Now()
	pages := pagesOf(b, d)
	b.Logf("the first time, without a cache: %s", time.Since(begun).Round(time.Millisecond))
	if len(pages) != 2000 {
		b.Fatalf("%d pages", len(pages))
	}
	for _, p := range pages[8:10] {
		data, err := json.Marshal(p)
		if err != nil {
			b.Fatal(err)
		}
		b.Logf("page of job %d: %d bytes, %d entries with lengths", p.Job, len(data), len(p.Measured))
	}
	b.Run("from the cache", func(b *testing.B) {
		for b.Loop() {
			book, err := d.Book("cloth")
			if err != nil || len(book.Jobs) != 2000 {
				b.Fatalf("%d jobs, %v", len(book.Jobs), err)
			}
		}
	})
}
