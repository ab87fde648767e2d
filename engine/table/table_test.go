package table

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.org/linewright/engine/source"
)

var update = flag.Bool("update", false, "write golden files; read them before you commit them")

// answers are those that the tables of testdata want, by the key of the need.
var answers = map[string]string{
	"name": "Test Dishcloth", "size": "M", "source": "invented for a test", "date": "2026-01-01",
	"unit": "mm", "strength_unit": "daN", "paths_from": "link", "links": "screw", "sheath": "upper",
}

func columns(t testing.TB, told ...string) []Column {
	t.Helper()
	var all []Column
	for _, text := range told {
		c, err := ParseColumn(text)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, c)
	}
	return all
}

func guessed(t testing.TB, name, text string, told ...string) *Import {
	t.Helper()
	s, err := Read(name, []byte(text), Layout{})
	if err != nil {
		t.Fatal(err)
	}
	im, err := s.Guess(columns(t, told...))
	if err != nil {
		t.Fatal(err)
	}
	return im
}

// answer answers what is asked.
func answer(t testing.TB, im *Import) Answers {
	t.Helper()
	var a Answers
	for _, n := range im.Needs(a) {
		if err := a.Set(n.Key, answers[n.Key]); err != nil {
			t.Fatal(err)
		}
	}
	return a
}

// Odd tables, all invented: what each is taken for, what is asked, and the plan.
func TestTables(t *testing.T) {
	told := map[string][]string{
		"told_grid.csv":    {"place=1", "length:A=2", "length:B=3"},
		"two_lengths.csv":  {"length=3"},
		"told_segment.csv": {"code=1", "length=2"},
	}
	files, err := filepath.Glob("testdata/tables/*.csv")
	if err != nil || len(files) < 18 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			im := guessed(t, filepath.Base(file), string(data), told[filepath.Base(file)]...)
			golden(t, strings.TrimSuffix(file, ".csv")+".txt", describe(t, im))
		})
	}
}

func describe(t *testing.T, im *Import) string {
	t.Helper()
	var b strings.Builder
	fmt.Fprintf(&b, "separated by %s, titles on line %d\n", im.Sheet.SeparatorWords(), im.Sheet.HeadLine())
	for _, c := range im.Columns {
		fmt.Fprintf(&b, "%s: %s %s %s, by %s: %s\n", c.Words(), c.Role, c.At, c.Unit, c.Why, strings.Join(c.First, " | "))
	}
	for _, n := range im.Needs(Answers{}) {
		fmt.Fprintf(&b, "asks: %s\n", n.Key)
	}
	r, err := im.Plan(answer(t, im))
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range r.LeftOut {
		fmt.Fprintf(&b, "left out: line %d %q\n", n.Line, n.Text)
	}
	for _, n := range r.Notes {
		fmt.Fprintf(&b, "note: %s\n", n)
	}
	for _, s := range r.Plan.Serves() {
		fmt.Fprintf(&b, "serves: %s\n", s)
	}
	return b.String() + "\n" + string(r.TOML)
}

// Each file is wrong in the one way that its name says (some in a few).
func TestFaults(t *testing.T) {
	files, err := filepath.Glob("testdata/faults/*.csv")
	if err != nil || len(files) < 30 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			err = refused(filepath.Base(file), data)
			var list source.Faults
			if !errors.As(err, &list) {
				t.Fatalf("error %v", err)
			}
			for _, f := range list {
				if f.What == "" || f.Cure == "" || f.File == "" {
					t.Errorf("a word is missing: %+v", f)
				}
			}
			golden(t, strings.TrimSuffix(file, ".csv")+".txt", err.Error()+"\n")
		})
	}
}

// refused goes all the way to the plan and gives the error.
func refused(name string, data []byte) error {
	s, err := Read(name, data, Layout{})
	if err != nil {
		return err
	}
	im, err := s.Guess(nil)
	if err != nil {
		return err
	}
	var a Answers
	for _, n := range im.Needs(a) {
		if err := a.Set(n.Key, answers[n.Key]); err != nil {
			return err
		}
	}
	_, err = im.Plan(a)
	return err
}

func golden(t *testing.T, file, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Error(diff)
	}
}
