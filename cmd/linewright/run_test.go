package main

import (
	"bytes"
	"context"
	"strings"
	"testing"

	"example.org/linewright/engine/session"
)

// run runs a command line in this process on the store of a desk.
func run(t *testing.T, d session.Desk, args ...string) (status int, stdout, stderr string) {
	t.Helper()
	var out, errs bytes.Buffer
	env := map[string]string{"LINEWRIGHT_STORE": d.Store.Dir(), "USER": "ann"}
	status = Run(context.Background(), args, strings.NewReader(""), &out, &errs, func(key string) string { return env[key] })
	return status, out.String(), errs.String()
}

func TestAJobThatIsOpenElsewhereIsNamed(t *testing.T) {
	d, s := sampleJob(t)
	_, out, _ := run(t, d, "job", "list")
	if !strings.Contains(out, "open elsewhere: "+demoDoer+", process ") {
		t.Errorf("the list does not say who holds the job:\n%s", out)
	}
	status, _, errs := run(t, d, "job", "walk", "1")
	if status != statusFail || !strings.HasPrefix(errs, "linewright: job 1 is open elsewhere: "+demoDoer) || !strings.Contains(errs, "\n  close it there") {
		t.Errorf("status %d:\n%s", status, errs)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if _, out, _ = run(t, d, "job", "list"); strings.Contains(out, "open elsewhere") {
		t.Errorf("the job is free and not listed so:\n%s", out)
	}
}

func TestAnInterruptIsSaidAndIsAFailure(t *testing.T) {
	d, s := sampleJob(t)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	var out, errs bytes.Buffer
	status := Run(ctx, []string{"--store", d.Store.Dir(), "job", "walk", "1", "--as", "ann"}, blocked{}, &out, &errs, func(string) string { return "" })
	if status != statusFail || errs.String() != "linewright: interrupted; what was saved is kept\n" {
		t.Errorf("status %d: %q", status, errs.String())
	}
	if !strings.Contains(out.String(), "Everything that was said to be saved is kept.") {
		t.Errorf("no word on leaving:\n%s", out.String())
	}
}

// blocked is an input on which nobody types.
type blocked struct{}

func (blocked) Read([]byte) (int, error) { select {} }
