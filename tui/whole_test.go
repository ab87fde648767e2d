package tui

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
	"example.org/linewright/procedures"
)

// whole gives the procedures of the tests that work on the whole wing, with the
// shipped ones that have other names.
func whole(t testing.TB) []procedure.File {
	t.Helper()
	names, err := filepath.Glob("testdata/whole/*.toml")
	if err != nil || len(names) == 0 {
		t.Fatal(names, err)
	}
	var files []procedure.File
	var own []string
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, procedure.File{Name: name, Data: data})
		own = append(own, filepath.Base(name))
	}
	own = append(own, "damage-survey.toml", "trim-measure.toml")
	for _, f := range procedures.Files() {
		if !slices.Contains(own, filepath.Base(f.Name)) {
			files = append(files, f)
		}
	}
	return files
}

// onWing begins a job with one of these procedures.
func onWing(t *testing.T, w, h int, id string) *user {
	t.Helper()
	return sitDown(t, newStore(t, nil), whole(t), w, h, nil).start(id, wing.Whole().Text())
}
