package store

import (
	"bytes"
	"encoding/json"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.org/linewright/engine/journal"
)

func newJob(t testing.TB, s *Store) *JobDir {
	t.Helper()
	j, err := s.NewJob("Anna")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { j.Close() })
	return j
}

func openJob(t testing.TB, s *Store, no int) *JobDir {
	t.Helper()
	j, err := s.OpenJob(no, "Anna")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { j.Close() })
	return j
}

func add(t testing.TB, j *JobDir, event string) {
	t.Helper()
	if _, err := j.Log().Append(j.Log().Head(), json.RawMessage(event)); err != nil {
		t.Fatal(err)
	}
}

func closeJob(t testing.TB, j *JobDir) {
	t.Helper()
	if err := j.Close(); err != nil {
		t.Fatal(err)
	}
}

func TestJobFromFirstLineToReading(t *testing.T) {
	s := newStore(t)
	j := newJob(t, s)
	if j.No() != 1 {
		t.Errorf("the first job has number %d", j.No())
	}
	if nos, err := s.Jobs(); len(nos) != 0 || err != nil {
		t.Errorf("listed before its first line: %v, error %v", nos, err)
	}
	add(t, j, `{"kind":"start"}`)
	add(t, j, `{"kind":"note"}`)
	// Reading needs no lock, also while the job is open.
	lines, err := s.ReadJob(1)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(j.Log().Lines(), lines); diff != "" {
		t.Error(diff)
	}
	closeJob(t, j)
	if nos, err := s.Jobs(); !slices.Equal(nos, []int{1}) || err != nil {
		t.Errorf("listed %v, error %v", nos, err)
	}
	again := openJob(t, s, 1)
	if again.Log().Head() != lines[1].Head() || again.Recovery().Torn() {
		t.Errorf("opened again: head %+v, recovery %+v", again.Log().Head(), again.Recovery())
	}
}

func TestUnknownJob(t *testing.T) {
	s := newStore(t)
	for _, no := range []int{1, 0, -1, MaxJob + 1} {
		_, openErr := s.OpenJob(no, "Anna")
		_, readErr := s.ReadJob(no)
		for _, err := range []error{openErr, readErr} {
			checkRefusal(t, "unknown job", err)
			if !errors.Is(err, fs.ErrNotExist) {
				t.Errorf("job %d: error %v", no, err)
			}
		}
	}
	if entries, err := os.ReadDir(s.Dir()); err != nil || len(entries) != 1 {
		t.Errorf("asking created something: %v, error %v", entries, err)
	}
}

func TestJobNumbersFollowTheGreatest(t *testing.T) {
	s := newStore(t)
	for _, name := range []string{"0002", "9999", "10000", "00003", "12", "0000", "000123456", "abcd", "0007x"} {
		put(t, s, "jobs/"+name+"/journal.jsonl", "x")
	}
	put(t, s, "jobs/.DS_Store", "x")
	nos, err := s.Jobs()
	if diff := cmp.Diff([]int{2, 9999, 10000}, nos); diff != "" || err != nil {
		t.Errorf("%s error %v", diff, err)
	}
	if j := newJob(t, s); j.No() != 10001 {
		t.Errorf("the next job has number %d", j.No())
	}
}

// Many programs ask for a new job at once; each gets its own.
func TestNewJobUnderContention(t *testing.T) {
	dir := newStore(t).Dir()
	const programs, jobs = 6, 5
	var mu sync.Mutex
	var got []int
	var wg sync.WaitGroup
	for range programs {
		s := openStore(t, dir)
		wg.Go(func() {
			for range jobs {
				j, err := s.NewJob("Anna")
				if err != nil {
					t.Error(err)
					return
				}
				add(t, j, `{}`)
				mu.Lock()
				got = append(got, j.No())
				mu.Unlock()
				if err := j.Close(); err != nil {
					t.Error(err)
				}
			}
		})
	}
	wg.Wait()
	slices.Sort(got)
	var want []int
	for n := range programs * jobs {
		want = append(want, n+1)
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if nos, err := openStore(t, dir).Jobs(); !slices.Equal(nos, want) || err != nil {
		t.Errorf("listed %v, error %v", nos, err)
	}
}

func TestTornLineThroughOpenJob(t *testing.T) {
	s := newStore(t)
	j := newJob(t, s)
	add(t, j, `{"kind":"start"}`)
	whole := j.Log().Lines()
	closeJob(t, j)
	const torn = `{"n":2,"prev":"`
	put(t, s, "jobs/0001/journal.jsonl", string(journal.Join(whole))+torn)
	// A reader leaves the torn line out and the file alone.
	if lines, err := s.ReadJob(1); err != nil || len(lines) != 1 {
		t.Errorf("read %d lines, error %v", len(lines), err)
	}
	again := openJob(t, s, 1)
	want := journal.Recovery{Line: 2, Bytes: len(torn), TornFile: "jobs/0001/journal.torn-1"}
	if diff := cmp.Diff(want, again.Recovery()); diff != "" {
		t.Error(diff)
	}
	if kept, err := os.ReadFile(s.path(want.TornFile)); err != nil || string(kept) != torn {
		t.Errorf("kept %q, error %v", kept, err)
	}
	add(t, again, `{"kind":"note"}`)
	if lines, err := s.ReadJob(1); err != nil || len(lines) != 2 {
		t.Errorf("read %d lines, error %v", len(lines), err)
	}
}

func TestDamagedJobIsRefusedWithFileAndLine(t *testing.T) {
	s := newStore(t)
	j := newJob(t, s)
	for range 3 {
		add(t, j, `{"value":1}`)
	}
	closeJob(t, j)
	file := s.path("jobs/0001/journal.jsonl")
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	bad := bytes.Replace(data, []byte(`"value":1`), []byte(`"value":2`), 1)
	put(t, s, "jobs/0001/journal.jsonl", string(bad))
	_, openErr := s.OpenJob(1, "Anna")
	_, readErr := s.ReadJob(1)
	for _, err := range []error{openErr, readErr} {
		checkRefusal(t, "damaged", err)
		var damage *journal.DamageError
		if !errors.As(err, &damage) || damage.Line != 2 || !strings.HasPrefix(err.Error(), file+": journal line 2 is damaged") {
			t.Errorf("error %v", err)
		}
	}
	// The refusal has given the lock back.
	put(t, s, "jobs/0001/journal.jsonl", string(data))
	openJob(t, s, 1)
}

func TestPinned(t *testing.T) {
	s := newStore(t)
	j := newJob(t, s)
	sha, err := j.Pin(plan)
	if err != nil {
		t.Fatal(err)
	}
	// From sha256sum, see testdata/edition-1/wing.toml.
	if want := "d0d4762eb739169f15ea13428cc9eb3d5cc702171ff70d47f6c39672c25dc8a0"; sha != want {
		t.Errorf("SHA-256 %s", sha)
	}
	if again, err := j.Pin(plan); err != nil || again != sha {
		t.Errorf("pinned again: %s, error %v", again, err)
	}
	if data, err := j.Pinned(sha); err != nil || !bytes.Equal(data, plan) {
		t.Errorf("read %q, error %v", data, err)
	}
	put(t, s, "jobs/0001/pinned/"+sha+".toml", "changed")
	_, err = s.ReadPinned(1, sha)
	checkRefusal(t, "changed", err)
	_, err = s.ReadPinned(1, strings.Repeat("0", 64))
	checkRefusal(t, "absent", err)
	if _, err := j.Pin(plan); err != nil {
		t.Fatal(err)
	}
	if data, err := j.Pinned(sha); err != nil || !bytes.Equal(data, plan) {
		t.Errorf("mended: %q, error %v", data, err)
	}
	_, err = j.Pin(make([]byte, MaxText+1))
	checkRefusal(t, "too large", err)
}

func TestPhotos(t *testing.T) {
	s := newStore(t)
	j := newJob(t, s)
	dir := t.TempDir()
	for name, ext := range map[string]string{"a.jpg": ".jpg", "b.JPEG": ".jpg", "c d.Png": ".png", "e.heic": ".heic"} {
		file := filepath.Join(dir, name)
		if err := os.WriteFile(file, []byte(name), 0o644); err != nil {
			t.Fatal(err)
		}
		sha, kept, err := j.AddPhoto(file)
		if err != nil || kept != sha+ext || sha != hashOf([]byte(name)) {
			t.Errorf("%s: %s, %s, error %v", name, sha, kept, err)
		}
		if data, err := s.ReadPhoto(1, kept); err != nil || string(data) != name {
			t.Errorf("%s: read %q, error %v", name, data, err)
		}
	}
	big := filepath.Join(dir, "big.png")
	if err := os.WriteFile(big, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Truncate(big, MaxPhoto+1); err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(filepath.Join(dir, "folder.png"), 0o755); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"big.png", "folder.png", "absent.png", "no", "script.sh", "x\x1b[2J.txt", "x\x1b[2J.png"} {
		_, _, err := j.AddPhoto(filepath.Join(dir, name))
		checkRefusal(t, name, err)
	}
	if entries, err := os.ReadDir(s.path("jobs/0001/photos")); err != nil || len(entries) != 4 {
		t.Errorf("the job has %d photos, error %v", len(entries), err)
	}
}

func TestClosingSignatures(t *testing.T) {
	s := newStore(t)
	j := newJob(t, s)
	if sigs, err := j.Closing(); err != nil || len(sigs) != 0 {
		t.Errorf("before signing: %v, error %v", sigs, err)
	}
	for role, sig := range map[string]string{"doer": "one", "second-look": "two"} {
		if err := j.WriteClosing(role, []byte(sig)); err != nil {
			t.Fatal(err)
		}
	}
	if err := j.WriteClosing("doer", []byte("one")); err != nil {
		t.Errorf("the same signature again: %v", err)
	}
	err := j.WriteClosing("doer", []byte("other"))
	checkRefusal(t, "another signature", err)
	if !errors.Is(err, fs.ErrExist) {
		t.Errorf("another signature: error %v", err)
	}
	checkRefusal(t, "too large", j.WriteClosing("pilot", make([]byte, MaxSmall+1)))
	put(t, s, "jobs/0001/closing/README", "not ours")
	want := map[string][]byte{"doer": []byte("one"), "second-look": []byte("two")}
	got, err := s.ReadClosing(1)
	if diff := cmp.Diff(want, got); diff != "" || err != nil {
		t.Errorf("%s error %v", diff, err)
	}
}

func TestClosedJobTakesNothing(t *testing.T) {
	s := newStore(t)
	j := newJob(t, s)
	closeJob(t, j)
	closeJob(t, j)
	_, pinErr := j.Pin(plan)
	_, _, photoErr := j.AddPhoto("a.png")
	for what, err := range map[string]error{
		"pin": pinErr, "photo": photoErr, "signature": j.WriteClosing("doer", nil), "reopen": j.Reopen(),
	} {
		checkRefusal(t, what, err)
	}
	if _, err := j.Log().Append(j.Log().Head(), json.RawMessage(`{}`)); !errors.Is(err, journal.ErrClosed) {
		t.Errorf("append: error %v", err)
	}
	entries, err := os.ReadDir(s.path("jobs/0001"))
	if err != nil || len(entries) != 2 {
		t.Errorf("the folder holds %v, error %v", entries, err)
	}
}

func BenchmarkReadJobs(b *testing.B) {
	s := newStore(b)
	j := newJob(b, s)
	for range 200 {
		add(b, j, `{"kind":"measure","step":"1/part.new_length","typed":"4,208 m","value_um":4208000}`)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := s.ReadJob(1); err != nil {
			b.Fatal(err)
		}
	}
}
