package wing

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the golden fault texts anew")

// Each file is wrong in the one way that its name says (several: in a few).
func TestFaultFiles(t *testing.T) {
	files, err := filepath.Glob("testdata/faults/*.toml")
	if err != nil || len(files) < 70 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".toml"), func(t *testing.T) {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			p, err := ParsePlan(data, filepath.Base(file))
			var faults Faults
			if !errors.As(err, &faults) || p != nil {
				t.Fatalf("plan %v, error %v", p, err)
			}
			for _, f := range faults {
				if f.What == "" || f.Cure == "" || f.File == "" {
					t.Errorf("a word is missing: %+v", f)
				}
			}
			golden(t, strings.TrimSuffix(file, ".toml")+".txt", faults.Error()+"\n")
		})
	}
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

func small(t testing.TB) string {
	t.Helper()
	data, err := os.ReadFile("testdata/small.toml")
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// chainOf makes a plan of n lines, each hanging on the one before it.
func chainOf(n int) string {
	var b strings.Builder
	b.WriteString("linewright_plan = 1\nname = 'n'\nsize = 's'\npartial = true\n[source]\ntext = 't'\ndate = 'd'\n[[riser]]\nbranch = 'A'\n[[link]]\nname = 'A'\nbranch = 'A'\nkind = 'soft'\n")
	on := "link:A"
	for i := range n {
		fmt.Fprintf(&b, "[[line]]\ncode = 'L%d'\nrow = 'A'\ntier = 'lower'\non = '%s'\nsheathed = true\n", i, on)
		on = fmt.Sprintf("L%d", i)
	}
	return b.String()
}

func TestSizeLimits(t *testing.T) {
	if _, err := ParsePlan([]byte(chainOf(MaxLines)), "x.toml"); err != nil {
		t.Errorf("%d lines: %v", MaxLines, err)
	}
	for name, c := range map[string]struct{ text, want string }{
		"lines":  {chainOf(MaxLines + 1), "x.toml:12014: line[2000]: the plan has 2001 lines\n  at most 2000 are read; one table serves both sides"},
		"bytes":  {small(t) + strings.Repeat("#\n", 1<<19), fmt.Sprintf("x.toml: the file has %d bytes\n  split it: at most 1 MiB is read", len(small(t))+1<<20)},
		"width":  {"# 1\n#" + strings.Repeat(" ", 2048), "x.toml:2: this line of text has 2049 bytes\n  break it up: at most 2048 are read"},
		"points": {"a" + strings.Repeat(".a", 41) + " = 1", "x.toml:1: this line of text has 41 points\n  break it up: at most 40 are read"},
		"utf8":   {"linewright_plan = 1\nname = \"\xff\"\n", "x.toml: the file is not UTF-8 text\n  save it again as UTF-8"},
	} {
		_, err := ParsePlan([]byte(c.text), "x.toml")
		if err == nil || err.Error() != c.want {
			t.Errorf("%s: %v\nwant %s", name, err, c.want)
		}
	}
}
