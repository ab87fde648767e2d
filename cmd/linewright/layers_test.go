package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

const module = "example.org/linewright/"

// mayImport is the table of DEVELOPERS.md: which room may know which. Arrows
// point down only; a room that is not in the table may not exist.
var mayImport = map[string][]string{
	"engine/source":    {},
	"engine/quantity":  {},
	"engine/journal":   {},
	"engine/seal":      {},
	"engine/metrology": {"engine/quantity", "engine/source"},
	"engine/wing":      {"engine/quantity", "engine/source", "engine/metrology"},
	"engine/reckon":    {"engine/quantity", "engine/source", "engine/metrology", "engine/wing"},
	"engine/trim":      {"engine/quantity", "engine/source", "engine/metrology", "engine/wing"},
	"engine/table":     {"engine/quantity", "engine/source", "engine/wing"},
	"engine/procedure": {"engine/quantity", "engine/source", "engine/metrology", "engine/wing"},
	"engine/job":       {"engine/quantity", "engine/source", "engine/metrology", "engine/wing", "engine/procedure", "engine/trim"},
	"engine/logbook":   {"engine/quantity", "engine/source", "engine/metrology", "engine/wing", "engine/procedure", "engine/job", "engine/trim"},
	"engine/order":     {"engine/source", "engine/job"},
	"engine/store":     {"engine/journal", "engine/source"},
	"engine/record":    {"engine/quantity", "engine/source", "engine/metrology", "engine/wing", "engine/procedure", "engine/job", "engine/trim", "engine/journal", "engine/seal"},
	"engine/session":   {"engine/quantity", "engine/source", "engine/metrology", "engine/wing", "engine/procedure", "engine/job", "engine/logbook", "engine/trim", "engine/journal", "engine/seal", "engine/store"},
	"procedures":       {"engine/procedure"},
	"tui/ground":       {},
	"tui/picture":      {"engine/quantity", "engine/metrology", "engine/source", "engine/wing", "engine/procedure", "engine/job", "engine/trim"},
}

// pure rooms read no clock, file, network, terminal or chance.
var pure = []string{"engine/source", "engine/quantity", "engine/metrology", "engine/wing", "engine/reckon", "engine/trim", "engine/table", "engine/procedure", "engine/job", "engine/order", "engine/logbook"}

var impure = []string{"os", "net", "math/rand", "crypto/rand", "io/ioutil", "syscall"}

func TestArrowsPointDown(t *testing.T) {
	rooms := imports(t)
	for room, list := range rooms {
		allowed, known := mayImport[room]
		front := strings.HasPrefix(room, "tui") || strings.HasPrefix(room, "cmd")
		if !known && !front {
			t.Errorf("%s is not in the table of rooms", room)
		}
		for _, path := range list {
			ours, isOurs := strings.CutPrefix(path, module)
			if isOurs && known && !slices.Contains(allowed, ours) {
				t.Errorf("%s may not import %s", room, ours)
			}
			if isOurs && strings.HasPrefix(room, "tui") && strings.HasPrefix(ours, "cmd") {
				t.Errorf("%s may not import %s", room, ours)
			}
			if terminal(path) && room != "tui" && room != "tui/ground" {
				t.Errorf("%s imports %s: only tui knows the terminal library", room, path)
			}
			if slices.Contains(pure, room) && slices.ContainsFunc(impure, func(s string) bool { return path == s || strings.HasPrefix(path, s+"/") }) {
				t.Errorf("%s imports %s: it reads no clock, file, network or chance", room, path)
			}
		}
	}
	if len(rooms) < len(mayImport) {
		t.Errorf("only %d rooms were found", len(rooms))
	}
}

func terminal(path string) bool {
	for _, lib := range []string{"bubbletea", "lipgloss", "bubbles"} {
		if strings.HasPrefix(path, "github.com/charmbracelet/"+lib) {
			return true
		}
	}
	return false
}

// imports lists what each room imports, without its tests.
func imports(t *testing.T) map[string][]string {
	t.Helper()
	out := map[string][]string{}
	err := filepath.WalkDir("../..", func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (d.Name() == "testdata" || strings.HasPrefix(d.Name(), ".") && d.Name() != "..") {
			return filepath.SkipDir // programs under testdata are for tests: no room can import them
		}
		if !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return nil
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		room := filepath.ToSlash(filepath.Dir(strings.TrimPrefix(filepath.ToSlash(path), "../../")))
		out[room] = append(out[room], []string{}...)
		for _, imp := range file.Imports {
			name, _ := strconv.Unquote(imp.Path.Value)
			out[room] = append(out[room], name)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// time.Now in a pure room would escape the import table: time itself is
// needed there for nothing.
func TestPureRoomsHaveNoTime(t *testing.T) {
	for room, list := range imports(t) {
		if slices.Contains(pure, room) && room != "engine/source" && slices.Contains(list, "time") {
			t.Errorf("%s imports time", room)
		}
	}
}
