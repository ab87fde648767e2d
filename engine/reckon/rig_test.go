package reckon_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/reckon"
	"example.org/linewright/engine/wing"
)

var update = flag.Bool("update", false, "write the golden files anew")

func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("%s (-want +got)\n%s", name, diff)
	}
}

// described gives a new bench its answers, key and text by turns.
func described(t testing.TB, answers ...string) metrology.Bench {
	t.Helper()
	b := metrology.NewBench()
	for i := 0; i < len(answers); i += 2 {
		var err error
		if b, err = metrology.Answer(b, answers[i], answers[i+1]); err != nil {
			t.Fatal(err)
		}
	}
	return b
}

// goodBench has a class I tape and a hung weight; badBench a class III tape
// with a hook and a hand that pulls too little.
func goodBench(t testing.TB) metrology.Bench {
	return described(t, "name", "club room", "tape_class", "I", "graduation_mm", "1", "hook", "no", "tape_material", "steel", "tape_lies", "flat",
		"pull_how", "hung weight", "pull_n", "50", "pull_error_n", "0.5", "pin_mm", "6", "air_c", "24", "air_error_c", "1",
		"repeatability_mm", "0.5", "repeatability_dof", "9")
}

func badBench(t testing.TB) metrology.Bench {
	return described(t, "name", "meadow", "tape_class", "III", "hook", "yes", "pull_n", "30", "air_c", "8", "repeatability_mm", "1.5", "repeatability_dof", "9")
}

func samplePlan(t testing.TB) *wing.Plan {
	t.Helper()
	data, err := os.ReadFile("../../procedures/sample/plan.toml")
	if err != nil {
		t.Fatal(err)
	}
	plan, err := wing.ParsePlan(data, "plan.toml")
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

// values reads "name=text" into Values.
func values(pairs ...string) reckon.Values {
	v := reckon.Values{}
	for _, p := range pairs {
		name, text, _ := strings.Cut(p, "=")
		v[name] = append(v[name], text)
	}
	return v
}

func find(t testing.TB, id string) reckon.Sum {
	t.Helper()
	s, ok := reckon.Find(id)
	if !ok {
		t.Fatalf("no sum %s", id)
	}
	return s
}

func do(t testing.TB, id string, env reckon.Env, pairs ...string) reckon.Result {
	t.Helper()
	r, err := find(t, id).Do(values(pairs...), env)
	if err != nil {
		t.Fatalf("%s %v: %v", id, pairs, err)
	}
	return r
}

// printed is a result in all three ways.
func printed(t testing.TB, r reckon.Result) string {
	t.Helper()
	var out bytes.Buffer
	for _, line := range r.Lines() {
		out.WriteString(line + "\n")
	}
	out.WriteString("\n")
	for _, line := range r.Why {
		out.WriteString(line + "\n")
	}
	out.WriteString("\n")
	enc := json.NewEncoder(&out)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	if err := enc.Encode(r.JSON); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// fits reports the first line that is wider than a narrow terminal.
func fits(r reckon.Result) (string, bool) {
	for _, line := range append(r.Lines(), r.Why...) {
		if utf8.RuneCountInString(line) > reckon.Width || strings.ContainsAny(line, "\n\t\x1b") {
			return line, false
		}
	}
	return "", true
}
