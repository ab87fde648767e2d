package store

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.org/linewright/engine/journal"
)

func takeJob(t testing.TB, s *Store, p *Packed) Taken {
	t.Helper()
	taken, err := s.TakeJob(p, Take{Holder: "Bea"})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { taken.Job.Close() })
	return taken
}

// checkTaken says that job no of a store is the packed one, whole.
func checkTaken(t testing.TB, s *Store, no int, what Packing) {
	t.Helper()
	lines, err := s.ReadJob(no)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(what.Lines, lines); diff != "" {
		t.Error(diff)
	}
	for _, sha := range what.Pinned {
		if _, err := s.ReadPinned(no, sha); err != nil {
			t.Error(err)
		}
	}
	for _, name := range what.Photos {
		if _, err := s.ReadPhoto(no, name); err != nil {
			t.Error(err)
		}
	}
	closing, err := s.ReadClosing(no)
	if err != nil || string(closing["doer"]) != "signature" || len(closing) != 1 {
		t.Errorf("closing signatures %q, error %v", closing, err)
	}
	w, err := s.Wing("red")
	if err != nil {
		t.Fatal(err)
	}
	if data, err := s.PlanBytes(w); string(data) != string(plan) || err != nil || *w.HoursAtStart != 112.5 || w.Serial != "S-1" {
		t.Errorf("wing %+v, plan %q, error %v", w, data, err)
	}
	if loops, err := s.WingLoops("red"); string(loops) != "loops" || err != nil {
		t.Errorf("loops %q, error %v", loops, err)
	}
}

func TestAJobOnAnotherMachine(t *testing.T) {
	a, what := away(t)
	data := pack(t, a, 1, what)
	b := newStore(t)
	taken := takeJob(t, b, unpack(t, data))
	if taken.Job.No() != 1 || taken.Lines != 3 || taken.Home || !taken.NewWing {
		t.Errorf("%+v, number %d", taken, taken.Job.No())
	}
	checkTaken(t, b, 1, what)
	// It is open and held: the next line goes on with the chain.
	add(t, taken.Job, `{"kind":"next"}`)
	var locked *LockedError
	if _, err := openStore(t, b.Dir()).OpenJob(1, "Carl"); !errors.As(err, &locked) || !strings.HasPrefix(locked.Holder, "Bea") {
		t.Errorf("not held: %v", err)
	}
	closeJob(t, taken.Job)
	if lines, err := b.ReadJob(1); err != nil || len(lines) != 4 || lines[3].Prev != what.Lines[2].Hash {
		t.Errorf("%d lines, error %v", len(lines), err)
	}
	what.Lines, _ = b.ReadJob(1)
	again := pack(t, b, 1, what)
	home := takeJob(t, a, unpack(t, again))
	if home.Job.No() != 1 || home.Lines != 1 || !home.Home || home.NewWing {
		t.Errorf("home: %+v", home)
	}
	checkTaken(t, a, 1, what)
	closeJob(t, home.Job)
	if !slices.Equal(again, pack(t, a, 1, what)) {
		t.Error("the job packed at home is not the one that came")
	}
	checkNoTemps(t, b.path("jobs/0001"))
}

func TestTheNumberOfATakenJob(t *testing.T) {
	a, what := away(t)
	for _, c := range []struct {
		claims int
		folder string // of a job that is there already
		want   int
	}{
		{1, "", 1},
		{7, "", 7},
		{7, "0003", 7},
		{7, "0009", 7},
		{7, "0007", 8},
		{MaxJob, "0001", MaxJob},
		{MaxJob, "999999", 1},
		{1, "999999", 1},
		{0, "0004", 5},
		{-3, "", 1},
		{MaxJob + 1, "0004", 5},
	} {
		what.Job = c.claims
		b := newStore(t)
		if c.folder != "" {
			put(t, b, "jobs/"+c.folder+"/lock", "")
		}
		taken := takeJob(t, b, unpack(t, pack(t, a, 1, what)))
		if taken.Job.No() != c.want {
			t.Errorf("claims %d beside %s: has %d, want %d", c.claims, c.folder, taken.Job.No(), c.want)
		}
		checkTaken(t, b, c.want, what)
	}
}

// A job from elsewhere that has the greatest number must not end a store.
func TestNewJobsBehindTheGreatestNumber(t *testing.T) {
	s := newStore(t)
	put(t, s, "jobs/999999/lock", "")
	put(t, s, "jobs/0002/lock", "")
	for _, want := range []int{1, 3, 4} {
		j := newJob(t, s)
		if j.No() != want {
			t.Errorf("number %d, want %d", j.No(), want)
		}
	}
}

func TestTheWingOfATakenJob(t *testing.T) {
	a, what := away(t)
	data := pack(t, a, 1, what)
	for name, c := range map[string]struct {
		wing  Wing
		plan  string
		same  bool
		words string // of the refusal; none: it is joined
	}{
		"the same":               {Wing{ID: "red", Name: "My red", Serial: "S-1", HoursAtStart: hours(112.5)}, string(plan), false, ""},
		"the same, and said so":  {Wing{ID: "red", Name: "My red", Serial: "S-1", HoursAtStart: hours(112.5)}, string(plan), true, ""},
		"another serial":         {Wing{ID: "red", Name: "Red", Serial: "S-2"}, string(plan), false, `wing red here has the serial number "S-2", the wing of the packed job "S-1"`},
		"another serial, said":   {Wing{ID: "red", Name: "Red", Serial: "S-2"}, string(plan), true, "serial number"},
		"none here":              {Wing{ID: "red", Name: "Red"}, string(plan), true, "serial number"},
		"another plan":           {Wing{ID: "red", Name: "Red", Serial: "S-1"}, "other", false, "another plan"},
		"another plan, and said": {Wing{ID: "red", Name: "Red", Serial: "S-1"}, "other", true, "another plan"},
		"another wing":           {Wing{ID: "blue", Name: "Blue", Serial: "S-1"}, string(plan), false, ""},
	} {
		b := newStore(t)
		if _, err := b.AddWing(c.wing, []byte(c.plan)); err != nil {
			t.Fatal(err)
		}
		taken, err := b.TakeJob(unpack(t, data), Take{Holder: "Bea", SameWing: c.same})
		if c.words == "" {
			if err != nil {
				t.Errorf("%s: %v", name, err)
				continue
			}
			if taken.NewWing != (c.wing.ID != "red") {
				t.Errorf("%s: %+v", name, taken)
			}
			checkTaken(t, b, 1, what)
			closeJob(t, taken.Job)
			continue
		}
		checkRefusal(t, name, err)
		if err != nil && !strings.Contains(err.Error(), c.words) {
			t.Errorf("%s: %v", name, err)
		}
		if nos, err := b.JobFolders(); len(nos) != 0 || err != nil {
			t.Errorf("%s: jobs %v, error %v", name, nos, err)
		}
	}
}

func TestAWingWithoutSerialNumberIsAsked(t *testing.T) {
	a := newStore(t)
	if _, err := a.AddWing(Wing{ID: "red", Name: "Red"}, plan); err != nil {
		t.Fatal(err)
	}
	j := newJob(t, a)
	add(t, j, `{}`)
	p := unpack(t, pack(t, a, 1, Packing{Job: 1, Wing: "red", Lines: j.Log().Lines()}))
	b := newStore(t)
	if _, err := b.AddWing(Wing{ID: "red", Name: "Red"}, plan); err != nil {
		t.Fatal(err)
	}
	_, err := b.TakeJob(p, Take{})
	checkRefusal(t, "not said", err)
	taken, err := b.TakeJob(p, Take{SameWing: true})
	if err != nil {
		t.Fatal(err)
	}
	closeJob(t, taken.Job)
	// A loop table that was measured here stays.
	if err := b.WriteWingLoops("red", []byte("ours")); err != nil {
		t.Fatal(err)
	}
	if err := a.WriteWingLoops("red", []byte("theirs")); err != nil {
		t.Fatal(err)
	}
	p = unpack(t, pack(t, a, 1, Packing{Job: 1, Wing: "red", Lines: j.Log().Lines()}))
	closeJob(t, takeJob(t, b, p).Job) // at home nothing is asked
	if loops, err := b.WingLoops("red"); string(loops) != "ours" || err != nil {
		t.Errorf("loops %q, error %v", loops, err)
	}
}

// grown is the packing of a job with more lines than it has.
func grown(t testing.TB, what Packing, events ...string) Packing {
	t.Helper()
	what.Lines = slices.Clone(what.Lines)
	for _, e := range events {
		line, err := journal.Encode(what.Lines[len(what.Lines)-1].Head(), []byte(e))
		if err != nil {
			t.Fatal(err)
		}
		what.Lines = append(what.Lines, line)
	}
	return what
}

func TestWorkInTwoPlacesIsRefused(t *testing.T) {
	a, what := away(t)
	b := newStore(t)
	closeJob(t, takeJob(t, b, unpack(t, pack(t, a, 1, what))).Job)
	there := grown(t, what, `{"there":1}`, `{"there":2}`, `{"there":3}`)
	p := unpack(t, pack(t, a, 1, there))
	j := openJob(t, b, 1)
	add(t, j, `{"here":1}`)
	here := j.Log().Lines()
	// While somebody has it open, nothing can come home.
	var locked *LockedError
	if _, err := b.TakeJob(p, Take{}); !errors.As(err, &locked) {
		t.Errorf("open: error %v", err)
	}
	closeJob(t, j)
	_, err := b.TakeJob(p, Take{})
	checkRefusal(t, "fork", err)
	var fork *ForkError
	want := ForkError{Job: 1, Line: 4, Here: here[3].Head(), There: there.Lines[5].Head()}
	if !errors.As(err, &fork) || *fork != want {
		t.Errorf("error %+v, want %+v", err, want)
	}
	if lines, err := b.ReadJob(1); err != nil || !slices.EqualFunc(lines, here, func(x, y journal.Line) bool { return x.Hash == y.Hash }) {
		t.Errorf("the job here has %d lines, error %v", len(lines), err)
	}
	// An older file than what is here.
	_, err = b.TakeJob(unpack(t, pack(t, a, 1, what)), Take{})
	checkRefusal(t, "older", err)
	if err != nil && !strings.Contains(err.Error(), "job 1 is further on here: it has 4 lines, the packed one 3") {
		t.Errorf("older: %v", err)
	}
	if nos, err := b.Jobs(); len(nos) != 1 || err != nil {
		t.Errorf("jobs %v, error %v", nos, err)
	}
}

func TestClosingSignaturesComeHome(t *testing.T) {
	a, what := away(t)
	b := newStore(t)
	closeJob(t, takeJob(t, b, unpack(t, pack(t, a, 1, what))).Job)
	j := openJob(t, b, 1)
	if err := j.WriteClosing("second", []byte("of bea")); err != nil {
		t.Fatal(err)
	}
	closeJob(t, j)
	signed := unpack(t, pack(t, b, 1, what))
	home := takeJob(t, a, signed)
	if closing, err := home.Job.Closing(); len(closing) != 2 || string(closing["second"]) != "of bea" || home.Lines != 0 || err != nil {
		t.Errorf("%q, %+v, error %v", closing, home, err)
	}
	closeJob(t, home.Job)
	put(t, a, "jobs/0001/closing/second.sig", "of carl")
	_, err := a.TakeJob(signed, Take{})
	checkRefusal(t, "another signature", err)
	if closing, err := a.ReadClosing(1); string(closing["second"]) != "of carl" || err != nil {
		t.Errorf("%q, error %v", closing, err)
	}
}

// A torn line of the job that was left here is set aside, as when it is opened.
func TestATornLineAtHome(t *testing.T) {
	a, what := away(t)
	there := grown(t, what, `{"there":1}`)
	p := unpack(t, pack(t, a, 1, there))
	put(t, a, journalPath(1), string(journal.Join(what.Lines))+`{"n":4,"prev"`)
	home := takeJob(t, a, p)
	checkTaken(t, a, 1, there)
	if torn, err := os.ReadFile(a.path("jobs/0001/journal.torn-1")); string(torn) != `{"n":4,"prev"` || err != nil {
		t.Errorf("torn %q, error %v", torn, err)
	}
	if home.Lines != 1 {
		t.Errorf("%+v", home)
	}
}

func TestTwoWhoTakeUpAtOnce(t *testing.T) {
	a, what := away(t)
	p := unpack(t, pack(t, a, 1, what))
	b := newStore(t)
	if err := b.makeDir("jobs"); err != nil {
		t.Fatal(err)
	}
	lock, err := openStore(t, b.Dir()).tryLock("jobs/.taking")
	if err != nil || lock == nil {
		t.Fatal(lock, err)
	}
	_, err = b.TakeJob(p, Take{})
	checkRefusal(t, "another one", err)
	if err := lock.Unlock(); err != nil {
		t.Fatal(err)
	}
	takeJob(t, b, p)
}

// The file is changed by somebody after it was looked at.
func TestAPackThatChangesMeanwhile(t *testing.T) {
	a, what := away(t)
	file := filepath.Join(t.TempDir(), "job.zip")
	data := pack(t, a, 1, what)
	if err := os.WriteFile(file, data, 0o644); err != nil {
		t.Fatal(err)
	}
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	p, err := ReadPacked(f, int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, []byte(strings.Replace(string(data), "picture", "pixture", 1)), 0o644); err != nil {
		t.Fatal(err)
	}
	b := newStore(t)
	_, err = b.TakeJob(p, Take{})
	checkRefusal(t, "changed", err)
	if nos, err := b.Jobs(); len(nos) != 0 || err != nil {
		t.Errorf("jobs %v, error %v", nos, err)
	}
	entries, err := os.ReadDir(b.path("jobs/0001"))
	var left []string
	for _, e := range entries {
		left = append(left, e.Name())
	}
	if diff := cmp.Diff([]string{"journal.jsonl", "lock"}, left); diff != "" || err != nil {
		t.Errorf("%s error %v", diff, err)
	}
}

func BenchmarkTakeAJobWith200Photos(b *testing.B) {
	s, what := away(b)
	for n := range 200 {
		picture := strings.Repeat(fmt.Sprintf("%08d", n), 4<<10)
		name := hashOf([]byte(picture)) + ".jpg"
		put(b, s, "jobs/0001/photos/"+name, picture)
		what.Photos = append(what.Photos, name)
	}
	data := pack(b, s, 1, what)
	for b.Loop() {
		taken, err := newStore(b).TakeJob(unpack(b, data), Take{})
		if err != nil {
			b.Fatal(err)
		}
		closeJob(b, taken.Job)
	}
}
