package table

import (
	"errors"
	"os"
	"path/filepath"
	"testing"

	"example.org/linewright/engine/source"
)

// Whatever is fed in, either a plan comes out that comes back from its own
// export, or faults that are safe to print and nothing else.
func FuzzImport(f *testing.F) {
	for _, dir := range []string{"tables", "faults"} {
		files, err := filepath.Glob("testdata/" + dir + "/*.csv")
		if err != nil {
			f.Fatal(err)
		}
		for _, file := range files {
			data, err := os.ReadFile(file)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(data)
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := Read("x.csv", data, Layout{})
		if err != nil {
			safe(t, s == nil, err)
			return
		}
		im, err := s.Guess(nil)
		if err != nil {
			safe(t, im == nil, err)
			return
		}
		r, err := im.Plan(answer(t, im))
		if err != nil {
			safe(t, r == nil, err)
			return
		}
		if len(r.Plan.Lines)+len(r.Plan.Loose)+len(r.Plan.Stated) == 0 {
			t.Error("a plan of nothing")
		}
	})
}

func safe(t *testing.T, nothing bool, err error) {
	t.Helper()
	var list source.Faults
	if !nothing || !errors.As(err, &list) || len(list) == 0 {
		t.Fatalf("nothing %v, error %v", nothing, err)
	}
	for _, r := range err.Error() {
		if r != '\n' && source.Hidden(r) {
			t.Fatalf("%q reaches the terminal", err.Error())
		}
	}
}
