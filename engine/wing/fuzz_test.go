package wing

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"example.org/linewright/engine/source"
)

// Whatever is fed in, either a plan comes out whose lines all reach a riser or
// the handle, or faults that are safe to print.
func FuzzParsePlan(f *testing.F) {
	files, err := filepath.Glob("testdata/faults/*.toml")
	if err != nil {
		f.Fatal(err)
	}
	for _, file := range append(files, "testdata/small.toml", "testdata/partial.toml", "testdata/loose.toml") {
		data, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := ParsePlan(data, "x.toml")
		if err == nil {
			sound(t, p)
			return
		}
		var faults Faults
		if !errors.As(err, &faults) || len(faults) == 0 {
			t.Fatalf("error %v", err)
		}
		for _, r := range err.Error() {
			if r != '\n' && source.Hidden(r) {
				t.Fatalf("%q reaches the terminal", err.Error())
			}
		}
	})
}

func sound(t *testing.T, p *Plan) {
	t.Helper()
	for _, l := range p.Lines {
		foot, ok := p.Foot(l.Code)
		if !ok || foot.Kind == OnLine {
			t.Errorf("%s ends at %v", l.Code, foot)
		}
		if _, ok := p.Branch(l.Code); !ok && foot.Kind != OnHandle {
			t.Errorf("%s reaches no riser", l.Code)
		}
		if l.Length != 0 && (l.Length < minLineMM*mm || l.Length > maxLineMM*mm) {
			t.Errorf("%s is %s long", l.Code, l.Length)
		}
	}
	text := p.Draft().TOML()
	again, err := ParsePlan(text, "x.toml")
	if err != nil && !wide(text) || err == nil && whole(again) != whole(p) {
		t.Errorf("written and read again: %v\n%s", err, text)
	}
	if got := len(p.Fan(Left)); got != len(p.Lines) {
		t.Errorf("%d strands of %d lines", got, len(p.Lines))
	}
}

// wide says that a file has a line that is not read, as one that writes the
// text of several lines on one.
func wide(text []byte) bool {
	return slices.ContainsFunc(bytes.Split(text, []byte("\n")), func(line []byte) bool { return len(line) > 2048 || bytes.Count(line, []byte(".")) > 40 })
}
