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

// golden is an exported record of edition 1. It is never made anew to please a
// test: that a record of this edition still gives the same bytes is the test.
const golden = "testdata/edition-1"

func TestGoldenRecordIsStillVerified(t *testing.T) {
	if *update {
		writeGolden(t)
	}
	report, err := Verify(os.DirFS(golden), readFile(t, golden, NameAllowed))
	if err != nil {
		t.Fatal(err)
	}
	if report.Status != Verified {
		t.Errorf("the golden record of edition 1 is no longer verified:\n%s", report.Words())
	}
}

func TestGoldenJournalGivesTheGoldenBytes(t *testing.T) {
	lines, _, err := journal.Parse(readFile(t, golden, NameJournal))
	if err != nil {
		t.Fatal(err)
	}
	folder, err := openFolder(os.DirFS(golden))
	if err != nil {
		t.Fatal(err)
	}
	r, err := Build(lines, pinsIn{folder}, nil)
	if err != nil {
		t.Fatal(err)
	}
	wantBytes(t, NameJSON, r.JSON, readFile(t, golden, NameJSON))
	wantBytes(t, NameText, r.Text, readFile(t, golden, NameText))
}

func TestTextIsRenderedFromRecordJSON(t *testing.T) {
	var c Content
	if err := json.Unmarshal(readFile(t, golden, NameJSON), &c); err != nil {
		t.Fatal(err)
	}
	wantBytes(t, NameText, []byte(c.Text()), readFile(t, golden, NameText))
	c.Files = nil
	wantBytes(t, "text without the list of files", []byte(c.Text()), readFile(t, golden, NameText))
}

func TestSameJournalGivesTheSameBytes(t *testing.T) {
	one, two := sample(t, false).build(), sample(t, false).build()
	wantBytes(t, NameJSON, one.JSON, two.JSON)
	wantBytes(t, NameText, one.Text, two.Text)
}

func writeGolden(t *testing.T) {
	t.Helper()
	if err := os.RemoveAll(golden); err != nil {
		t.Fatal(err)
	}
	w := sample(t, false)
	r := w.build()
	if err := Export(golden, r, w.closing(r), w.allowed()); err != nil {
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
