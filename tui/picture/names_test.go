package picture

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"testing"
)

var asked = regexp.MustCompile(`(?m)^\s*picture = "([^"]*)"`)

// drawnByKind are pictures that the kind of a step brings with it: the bench
// draws them from what the step holds, and not by their name.
var drawnByKind = []string{"survey", "lengths", "trim"}

// Every picture that a shipped procedure asks for can be drawn.
func TestProceduresAskForKnownPictures(t *testing.T) {
	files, err := filepath.Glob("../../procedures/*.toml")
	if err != nil || len(files) == 0 {
		t.Fatal("no procedures", err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range asked.FindAllStringSubmatch(string(data), -1) {
			if !slices.Contains(names[1:len(names)-1], m[1]) && !slices.Contains(drawnByKind, m[1]) {
				t.Errorf("%s asks for %q", file, m[1])
			}
		}
	}
}
