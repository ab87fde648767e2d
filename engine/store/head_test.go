package store

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.org/linewright/engine/journal"
)

// A job read from its end, read as a whole, and opened must be at the same place,
// whatever a crash left behind the last whole line.
func TestJobHeadAgreesWithTheJournal(t *testing.T) {
	s := newStore(t)
	j := newJob(t, s)
	if head, err := s.JobHead(1); head != journal.EmptyHead() || err != nil {
		t.Errorf("before the first line: %+v, error %v", head, err)
	}
	for n := range 40 {
		add(t, j, fmt.Sprintf(`{"no":%d,"text":"%s"}`, n, strings.Repeat("x", n*20)))
		if head, err := s.JobHead(1); head != j.Log().Head() || err != nil {
			t.Fatalf("after line %d: %+v, error %v, want %+v", n+1, head, err, j.Log().Head())
		}
	}
	closeJob(t, j)
	whole, err := os.ReadFile(s.path(journalPath(1)))
	if err != nil {
		t.Fatal(err)
	}
	for cut := len(whole) - 900; cut <= len(whole); cut += 25 {
		put(t, s, journalPath(1), string(whole[:cut])+"\x00\x00")
		head, err := s.JobHead(1)
		if err != nil {
			t.Fatal(err)
		}
		lines, err := s.ReadJob(1)
		if err != nil || lines[len(lines)-1].Head() != head {
			t.Errorf("cut at %d: %+v, read as a whole %d lines, error %v", cut, head, len(lines), err)
		}
		j := openJob(t, s, 1)
		if j.Log().Head() != head || !j.Recovery().Torn() {
			t.Errorf("cut at %d: %+v, opened %+v", cut, head, j.Log().Head())
		}
		closeJob(t, j)
	}
}

func TestHeadsOfAllJobs(t *testing.T) {
	s := newStore(t)
	if heads, err := s.JobHeads(); len(heads) != 0 || err != nil {
		t.Errorf("an empty store: %v, error %v", heads, err)
	}
	one := newJob(t, s)
	add(t, one, `{"kind":"start"}`)
	newJob(t, s) // nothing is written in it
	three := newJob(t, s)
	add(t, three, `{"kind":"start"}`)
	add(t, three, `{"kind":"note"}`)
	put(t, s, journalPath(4), "damaged\n")
	put(t, s, journalPath(5), "torn")
	put(t, s, "jobs/0006/lock", "")
	heads, err := s.JobHeads()
	if err != nil {
		t.Fatal(err)
	}
	nos, err := s.Jobs()
	if err != nil {
		t.Fatal(err)
	}
	var listed []int
	for _, h := range heads {
		listed = append(listed, h.No)
		head, err := s.JobHead(h.No)
		if head != h.Head || fmt.Sprint(err) != fmt.Sprint(h.Err) || (h.Err != nil) != (h.No == 4) {
			t.Errorf("%+v, one by one %+v, error %v", h, head, err)
		}
	}
	if diff := cmp.Diff(nos, listed); diff != "" {
		t.Error(diff)
	}
	if heads[1].Head != three.Log().Head() {
		t.Errorf("job 3: %+v", heads[1])
	}
}

func TestJobHeadRefuses(t *testing.T) {
	s := newStore(t)
	for _, no := range []int{0, 1, -1, MaxJob + 1} {
		_, err := s.JobHead(no)
		checkRefusal(t, "no such job", err)
		if !errors.Is(err, fs.ErrNotExist) {
			t.Errorf("job %d: error %v", no, err)
		}
	}
	put(t, s, journalPath(2), "{}\n")
	_, err := s.JobHead(2)
	checkRefusal(t, "damaged", err)
	var damage *journal.DamageError
	if !errors.As(err, &damage) || !strings.HasPrefix(err.Error(), s.path(journalPath(2))+": journal line 1 is damaged") {
		t.Errorf("damaged: error %v", err)
	}
	if err := os.MkdirAll(s.path(journalPath(3)), 0o755); err != nil {
		t.Fatal(err)
	}
	_, err = s.JobHead(3)
	checkRefusal(t, "a folder", err)
}

func TestWhatIsCachedComesBack(t *testing.T) {
	s := newStore(t)
	if data, err := s.Cached("home"); data != nil || err != nil {
		t.Errorf("nothing kept: %q, error %v", data, err)
	}
	for _, want := range []string{"first, and rather long", "second", "two\nlines\n", ""} {
		if err := s.WriteCached("home", []byte(want)); err != nil {
			t.Fatal(err)
		}
		if data, err := s.Cached("home"); data == nil || string(data) != want || err != nil {
			t.Errorf("got %q, error %v, want %q", data, err, want)
		}
	}
	if data, err := s.Cached("wing-red"); data != nil || err != nil {
		t.Errorf("another name: %q, error %v", data, err)
	}
	checkNoTemps(t, s.path("cache"))
}

// A cache that is not whole is none: it may be believed as it is or not be there.
func TestADamagedCacheIsNone(t *testing.T) {
	s := newStore(t)
	if err := s.WriteCached("home", []byte("row one\nrow two\n")); err != nil {
		t.Fatal(err)
	}
	good, err := os.ReadFile(s.path("cache/home"))
	if err != nil {
		t.Fatal(err)
	}
	none := func(what string) {
		t.Helper()
		if data, err := s.Cached("home"); data != nil || err != nil {
			t.Errorf("%s: %q, error %v", what, data, err)
		}
	}
	for cut := range len(good) {
		put(t, s, "cache/home", string(good[:cut]))
		none(fmt.Sprint("cut at ", cut))
	}
	for i := range good {
		bad := []byte(string(good))
		bad[i] ^= 0x20
		put(t, s, "cache/home", string(bad))
		none(fmt.Sprint("changed at ", i))
	}
	if err := os.Remove(s.path("cache/home")); err != nil {
		t.Fatal(err)
	}
	none("deleted")
	if err := os.MkdirAll(s.path("cache/home/in"), 0o755); err != nil {
		t.Fatal(err)
	}
	none("a folder")
	secret := t.TempDir() + "/secret"
	if err := os.WriteFile(secret, good, 0o644); err != nil {
		t.Fatal(err)
	}
	symlink(t, s, "cache/home", secret)
	none("a link that leads out")
	checkRefusal(t, "too large", s.WriteCached("home", make([]byte, MaxCache+1)))
}

func TestLoopsOfAWing(t *testing.T) {
	s := newStore(t)
	const table = "linewright_loops = 1\nsource = \"measured\"\n"
	if err := s.WriteWingLoops("red", []byte(table)); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a wing that is not there: error %v", err)
	}
	if _, err := s.AddWing(Wing{ID: "red", Name: "Red"}, plan); err != nil {
		t.Fatal(err)
	}
	if data, err := s.WingLoops("red"); data != nil || err != nil {
		t.Errorf("none measured: %q, error %v", data, err)
	}
	if err := s.WriteWingLoops("red", []byte(table)); err != nil {
		t.Fatal(err)
	}
	if data, err := s.WingLoops("red"); string(data) != table || err != nil {
		t.Errorf("%q, error %v", data, err)
	}
	if data, err := os.ReadFile(s.WingLoopsPath("red")); string(data) != table || err != nil {
		t.Errorf("the path leads to %q, error %v", data, err)
	}
	if ids, err := s.Wings(); len(ids) != 1 || err != nil {
		t.Errorf("wings %v, error %v", ids, err)
	}
	checkRefusal(t, "too large", s.WriteWingLoops("red", make([]byte, MaxSmall+1)))
}

// A logbook and the list of jobs ask for every head of the store.
func BenchmarkHeadsOf2000Jobs(b *testing.B) {
	s := newStore(b)
	head := journal.EmptyHead()
	var lines []journal.Line
	for range 100 {
		line, err := journal.Encode(head, []byte(`{"kind":"reading","key":"swap.length","typed":"4,208 m","value":{"kind":1,"n":4208000},"text":"`+strings.Repeat("x", 300)+`"}`))
		if err != nil {
			b.Fatal(err)
		}
		lines, head = append(lines, line), line.Head()
	}
	text := string(journal.Join(lines))
	for no := 1; no <= 2000; no++ {
		put(b, s, journalPath(no), text)
	}
	b.ResetTimer()
	for b.Loop() {
		heads, err := s.JobHeads()
		if err != nil || len(heads) != 2000 || heads[1999].Head != head {
			b.Fatal(len(heads), err)
		}
	}
}
