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
		fmt.Fprintf(&b, "%s: %s %s %s, by %s: %s", c.Words(), c.Role, c.At, c.Unit, c.Why, strings.Join(c.First, " | "))
		if first, ok := c.FirstLength(); ok {
			fmt.Fprintf(&b, " (%s)", first)
		}
		b.WriteString("\n")
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

func TestToldColumns(t *testing.T) {
	const text = "a,b,c\nA1,4205,4206\nA2,4210,4211\n"
	for want, told := range map[string][]string{
		"x.csv: column 3 \"c\": length is held by column 2 \"b\" too\n  leave one of them out, as none=3":                             {"length=2", "length=3"},
		"x.csv: no column holds codes of lines or points\n  say what the columns hold, as code=1 and length=2, or point=1 and path=2": {"none=1", "none=2"},
	} {
		if err := guessed(t, "x.csv", text, told...).Check(); err == nil || err.Error() != want {
			t.Errorf("%v: %v\nwant %s", told, err, want)
		}
	}
	s, err := Read("x.csv", []byte(text), Layout{})
	if err != nil {
		t.Fatal(err)
	}
	if im, err := s.Guess(columns(t, "length=4")); im != nil || err == nil || !strings.Contains(err.Error(), "the table has 3 columns") {
		t.Errorf("%v", err)
	}
	for _, text := range []string{"", "length", "length=0", "length=x", "width=1", "code:A=1", "path:=2", "path:A B=2", "length=101"} {
		if c, err := ParseColumn(text); err == nil || c.Role != "" || !strings.Contains(err.Error(), "\n") {
			t.Errorf("%q: %+v, %v", text, c, err)
		}
	}
}

func TestLayout(t *testing.T) {
	const text = "made 2026,by hand\nn,l\nA1,4205\nA2,4210\n"
	for _, c := range []struct {
		told Layout
		head int
		want string
	}{
		{Layout{Head: 2}, 2, ""},
		{Layout{Head: NoHead}, 0, ""},
		{Layout{Head: 9}, 0, "x.csv:9: no record begins on this line"},
		{Layout{Comma: ';'}, 0, "x.csv:1: the records have one field only"},
		{Layout{Comma: '|'}, 0, "x.csv: '|' is no separator of fields"},
	} {
		s, err := Read("x.csv", []byte(text), c.told)
		if c.want != "" {
			if err == nil || !strings.HasPrefix(err.Error(), c.want+"\n") {
				t.Errorf("%+v: %v", c.told, err)
			}
			continue
		}
		if err != nil || s.HeadLine() != c.head {
			t.Errorf("%+v: %v, titles on %d", c.told, err, s.HeadLine())
		}
	}
}

// What is too large, or too much to list, is said once.
func TestLimits(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"bytes":   {strings.Repeat("code,length\n", 1<<17), "x.csv: the table has 1572864 bytes"},
		"records": {"code,length\n" + strings.Repeat("A1,4205\n", MaxRecords+1), "x.csv: the table has more than 10000 records"},
		"columns": {strings.Repeat("a,", MaxColumns) + "b\n", "x.csv: the table has 101 columns"},
		"lines":   {"code,length\n" + numbered(2001), "x.csv:2002: the plan has 2001 lines"},
	} {
		if err := refused("x.csv", []byte(c.text)); err == nil || !strings.HasPrefix(err.Error(), c.want) {
			t.Errorf("%s: %.200v", name, err)
		}
	}
	err := refused("x.csv", []byte("code,length\n"+strings.Repeat("A 1,x\n", 300)))
	var list source.Faults
	if !errors.As(err, &list) || len(list) != maxFaults+1 || list[maxFaults].What != "more faults follow" {
		t.Errorf("%d faults", len(list))
	}
}

func numbered(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "A%d,4205\n", i)
	}
	return b.String()
}

// A table with open needs makes no plan; answers that are none are refused.
func TestNeeds(t *testing.T) {
	im := guessed(t, "x.csv", "code,length\na1,420\na2,410\n")
	r, err := im.Plan(Answers{Name: "n"})
	if r != nil || err == nil || !strings.Contains(err.Error(), "x.csv: not said: Unit of the lengths\n  answer it, or give it as unit") {
		t.Errorf("%v", err)
	}
	var a Answers
	for key, text := range map[string]string{"unit": "furlong", "name": " ", "no": "x"} {
		if err := a.Set(key, text); err == nil || a != (Answers{}) {
			t.Errorf("%s %q: %v", key, text, err)
		}
	}
}
