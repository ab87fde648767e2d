package store

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.org/linewright/engine/journal"
)

// away is a store with one job of the wing red: three lines, a plan pinned, a
// photo, a closing signature. It gives the packing of the job.
func away(t testing.TB) (*Store, Packing) {
	t.Helper()
	s := newStore(t)
	if _, err := s.AddWing(Wing{ID: "red", Name: "Red", Serial: "S-1", HoursAtStart: hours(112.5)}, plan); err != nil {
		t.Fatal(err)
	}
	if err := s.WriteWingLoops("red", []byte("loops")); err != nil {
		t.Fatal(err)
	}
	j := newJob(t, s)
	sha, err := j.Pin(plan)
	if err != nil {
		t.Fatal(err)
	}
	picture := filepath.Join(t.TempDir(), "a.jpg")
	if err := os.WriteFile(picture, []byte("picture"), 0o644); err != nil {
		t.Fatal(err)
	}
	_, photo, err := j.AddPhoto(picture)
	if err != nil {
		t.Fatal(err)
	}
	for n := range 3 {
		add(t, j, fmt.Sprintf(`{"kind":"line","no":%d}`, n))
	}
	if err := j.WriteClosing("doer", []byte("signature")); err != nil {
		t.Fatal(err)
	}
	what := Packing{Job: 1, Wing: "red", Lines: j.Log().Lines(), Pinned: []string{sha}, Photos: []string{photo}}
	closeJob(t, j)
	return s, what
}

func pack(t testing.TB, s *Store, no int, what Packing) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := s.PackJob(no, what, &b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func readPack(data []byte) (*Packed, error) {
	return ReadPacked(bytes.NewReader(data), int64(len(data)))
}

func unpack(t testing.TB, data []byte) *Packed {
	t.Helper()
	p, err := readPack(data)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// part is one file of a zip file.
type part struct {
	name string
	data []byte
}

func partsOf(t testing.TB, data []byte) []part {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	var parts []part
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		content, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		parts = append(parts, part{f.Name, content})
	}
	return parts
}

// The files of edition 1, their names in order.
func TestPackOfEdition1(t *testing.T) {
	s, what := away(t)
	data := pack(t, s, 1, what)
	if again := pack(t, s, 1, what); !bytes.Equal(again, data) {
		t.Error("the same job gives other bytes")
	}
	golden, err := os.ReadFile("testdata/edition-1/job.zip")
	if err != nil {
		t.Fatal(err)
	}
	sha, photo := what.Pinned[0], what.Photos[0]
	want := []string{
		"closing/doer.sig: signature",
		"handover.toml: linewright_handover = 1\njob = 1\nwing = \"red\"\nlines = 3\nhead = \"" + what.Lines[2].Hash + "\"\nsigned = [\"doer\"]\n",
		"journal.jsonl: " + string(journal.Join(what.Lines)),
		"photos/" + photo + ": picture",
		"pinned/" + sha + ".toml: " + string(plan),
		"wing/loops.toml: loops",
		"wing/plan.toml: " + string(plan),
		"wing/wing.toml: linewright_wing = 1\nid = \"red\"\nname = \"Red\"\nserial = \"S-1\"\nhours_at_start = 112.5\nplan = \"" + sha + "\"\n",
	}
	// The library may write the frame around the files in another way some day.
	for file, zip := range map[string][]byte{"packed": data, "testdata/edition-1/job.zip": golden} {
		var got []string
		for _, p := range partsOf(t, zip) {
			got = append(got, p.name+": "+string(p.data))
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s: %s", file, diff)
		}
	}
}

// A pack of edition 1 stays readable for ever.
func TestEdition1OfAPackStaysReadable(t *testing.T) {
	golden, err := os.ReadFile("testdata/edition-1/job.zip")
	if err != nil {
		t.Fatal(err)
	}
	p := unpack(t, golden)
	if p.Job != 1 || p.Wing.Serial != "S-1" || len(p.Lines()) != 3 || len(p.PinnedNames()) != 1 || len(p.PhotoNames()) != 1 {
		t.Errorf("read %+v", p)
	}
	if data, err := p.Pinned(p.PinnedNames()[0]); string(data) != string(plan) || err != nil {
		t.Errorf("pinned %q, error %v", data, err)
	}
	if _, err := p.Pinned("\x1b[2J"); err == nil {
		t.Error("a plan that is not there was given")
	} else {
		checkRefusal(t, "absent plan", err)
	}
}

func TestWhatCannotBePacked(t *testing.T) {
	s, what := away(t)
	for name, change := range map[string]func(*Packing){
		"nothing written":    func(p *Packing) { p.Lines = nil },
		"an unknown wing":    func(p *Packing) { p.Wing = "blue" },
		"a wing leading out": func(p *Packing) { p.Wing = "../red" },
		"an absent plan":     func(p *Packing) { p.Pinned = []string{strings.Repeat("0", 64)} },
		"a plan leading out": func(p *Packing) { p.Pinned = []string{"../x"} },
		"an absent photo":    func(p *Packing) { p.Photos = []string{strings.Repeat("0", 64) + ".jpg"} },
		"no photo":           func(p *Packing) { p.Photos = []string{"../../x.jpg"} },
	} {
		p := what
		change(&p)
		checkRefusal(t, name, s.PackJob(1, p, io.Discard))
	}
	put(t, s, "jobs/0001/photos/"+what.Photos[0], "changed")
	checkRefusal(t, "a changed photo", s.PackJob(1, what, io.Discard))
}

type fullDisk struct{ room int }

func (w *fullDisk) Write(p []byte) (int, error) {
	if w.room -= len(p); w.room < 0 {
		return 0, errFull
	}
	return len(p), nil
}

func TestPackingOnAFullDisk(t *testing.T) {
	s, what := away(t)
	size := len(pack(t, s, 1, what))
	for room := 0; room < size; room += 50 {
		err := s.PackJob(1, what, &fullDisk{room})
		checkRefusal(t, "full disk", err)
		if !errors.Is(err, errFull) {
			t.Errorf("%d bytes of room: error %v", room, err)
		}
	}
}

func TestAPackWithoutRoomForItsPhotosIsRefused(t *testing.T) {
	s, what := away(t)
	what.Photos = nil
	for n := range 140 {
		name := fmt.Sprintf("%064x.jpg", n)
		what.Photos = append(what.Photos, name)
		put(t, s, "jobs/0001/photos/"+name, "")
		// A hole: it has the size and takes no room.
		if err := os.Truncate(s.path("jobs/0001/photos/"+name), MaxPhoto); err != nil {
			t.Fatal(err)
		}
	}
	w := &fullDisk{1 << 30}
	err := s.PackJob(1, what, w)
	checkRefusal(t, "too large", err)
	if w.room != 1<<30 {
		t.Error("something was written")
	}
	if errors.Is(err, fs.ErrNotExist) || !strings.Contains(err.Error(), "more than 4 GiB") {
		t.Errorf("error %v", err)
	}
}
