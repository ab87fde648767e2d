package record

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"example.org/linewright/engine/journal"
)

var update = flag.Bool("update", false, "write the golden record anew")

// goldens are exported records of edition 1. They are never made anew to please
// a test: that a record of this edition still gives the same bytes is the test.
var goldens = map[string]func(t testing.TB) *walk{
	golden:                     func(t testing.TB) *walk { return sample(t, false) },
	"testdata/edition-1-whole": wholeWing,
}

const golden = "testdata/edition-1"

func TestGoldenRecordsAreStillVerified(t *testing.T) {
	for dir, walked := range goldens {
		if *update {
			writeGolden(t, dir, walked(t))
		}
		report, err := Verify(os.DirFS(dir), readFile(t, dir, NameAllowed))
		if err != nil {
			t.Fatal(err)
		}
		if report.Status != Verified {
			t.Errorf("the golden record in %s is no longer verified:\n%s", dir, report.Words())
		}
	}
}

func TestGoldenJournalsGiveTheGoldenBytes(t *testing.T) {
	for dir := range goldens {
		lines, _, err := journal.Parse(readFile(t, dir, NameJournal))
		if err != nil {
			t.Fatal(err)
		}
		folder, err := openFolder(os.DirFS(dir))
		if err != nil {
			t.Fatal(err)
		}
		r, err := Build(lines, pinsIn{folder}, nil)
		if err != nil {
			t.Fatal(err)
		}
		wantBytes(t, dir+" "+NameJSON, r.JSON, readFile(t, dir, NameJSON))
		wantBytes(t, dir+" "+NameText, r.Text, readFile(t, dir, NameText))
	}
}

func TestTextIsRenderedFromRecordJSON(t *testing.T) {
	for dir := range goldens {
		var c Content
		if err := json.Unmarshal(readFile(t, dir, NameJSON), &c); err != nil {
			t.Fatal(err)
		}
		wantBytes(t, dir+" "+NameText, []byte(c.Text()), readFile(t, dir, NameText))
		c.Files = nil
		wantBytes(t, dir+" text without the list of files", []byte(c.Text()), readFile(t, dir, NameText))
	}
}

func TestSameJournalGivesTheSameBytes(t *testing.T) {
	for _, walked := range goldens {
		one, two := walked(t).build(), walked(t).build()
		wantBytes(t, NameJSON, one.JSON, two.JSON)
		wantBytes(t, NameText, one.Text, two.Text)
	}
}

func writeGolden(t *testing.T, dir string, w *walk) {
	t.Helper()
	if err := os.RemoveAll(dir); err != nil {
		t.Fatal(err)
	}
	r := w.build()
	if err := Export(dir, r, w.closing(r), w.allowed()); err != nil {
		t.Fatal(err)
	}
}

func readFile(t testing.TB, dir, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(name)))
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// wantBytes shows the first place where two texts part.
func wantBytes(t *testing.T, what string, got, want []byte) {
	t.Helper()
	if bytes.Equal(got, want) {
		return
	}
	at := 0
	for at < len(got) && at < len(want) && got[at] == want[at] {
		at++
	}
	t.Errorf("%s differs at byte %d:\n got ...%q\nwant ...%q", what, at, part(got, at), part(want, at))
}

func part(b []byte, at int) []byte { return b[max(0, at-40):min(len(b), at+80)] }
