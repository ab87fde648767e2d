// Package sample holds the sample wing of the demo. The plan is made by the
// sums of this file and kept as text, so that it can be read and pasted like
// any other plan.
package sample

import (
	"bytes"
	"flag"
	"os"
	"testing"
	"text/template"
)

var update = flag.Bool("update", false, "write plan.toml anew")

func TestPlanIsWhatTheGeneratorGives(t *testing.T) {
	want := generate(t)
	if *update {
		if err := os.WriteFile("plan.toml", want, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile("plan.toml")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Error("plan.toml is not what the generator gives: go test ./procedures/sample -update")
	}
}

func generate(t *testing.T) []byte {
	t.Helper()
	tpl, err := template.ParseFiles("plan.tmpl")
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := tpl.Execute(&out, lines()); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}
