package picture

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.org/linewright/engine/wing"
)

var update = flag.Bool("update", false, "write the goldens anew; read them before they are committed")

func parse(t testing.TB, text string) *wing.Plan {
	t.Helper()
	p, err := wing.ParsePlan([]byte(text), "test.toml")
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func sample(t testing.TB) *wing.Plan {
	t.Helper()
	data, err := os.ReadFile("../../procedures/sample/plan.toml")
	if err != nil {
		t.Fatal(err)
	}
	return parse(t, string(data))
}

// lines makes a plan of one riser and one link for each row, and of the given
// lines: code, row, tier, on, place.
func lines(t testing.TB, all ...[5]string) *wing.Plan {
	t.Helper()
	var b strings.Builder
	b.WriteString("linewright_plan = 1\nname = \"Small\"\nsize = \"S\"\npartial = true\n[source]\ntext = \"invented\"\ndate = \"2026-01-01\"\n")
	made := map[string]bool{}
	for _, l := range all {
		name, onLink := strings.CutPrefix(l[3], "link:")
		if onLink && !made[name] {
			made[name] = true
			fmt.Fprintf(&b, "[[riser]]\nbranch = %q\n[[link]]\nname = %q\nbranch = %q\nkind = \"screw\"\n", name, name, name)
		}
	}
	for _, l := range all {
		fmt.Fprintf(&b, "[[line]]\ncode = %q\nrow = %q\ntier = %q\non = %q\npos = %s\nlength_mm = 1000\nsheathed = true\n", l[0], l[1], l[2], l[3], l[4])
	}
	return parse(t, b.String())
}

// golden compares with a file of testdata.
func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("%s (-want +got):\n%s", name, diff)
	}
}

func equal[T comparable](t *testing.T, what string, got, want T) {
	t.Helper()
	if got != want {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}
