package prompt

import (
	"context"
	"errors"
	"os"
	"regexp"
	"strings"
	"testing"
	"time"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/seal"
	"example.org/linewright/engine/session"
	"example.org/linewright/engine/store"
	"example.org/linewright/engine/wing"
)

// bench is a store with the sample wing, the test procedure and the keys of
// ann, who works, and of bea, who looks.
func bench(t *testing.T) session.Desk {
	t.Helper()
	folder, err := store.Open(t.TempDir())
	check(t, err)
	t.Cleanup(func() { _ = folder.Close() })
	_, err = folder.AddWing(store.Wing{ID: "cloth", Name: "Cloth"}, read(t, "../../procedures/sample/plan.toml"))
	check(t, err)
	addKey(t, folder, "ann", "")
	addKey(t, folder, "bea", "")
	return session.Desk{
		Store: folder, Who: "ann", Clock: func() time.Time { return time.Date(2026, 3, 1, 10, 0, 0, 0, time.UTC) },
		Procedures: []procedure.File{{Name: "bench.toml", Data: read(t, "testdata/bench.toml")}},
	}
}

// addKey makes a trusted key; deriving one from a pass phrase takes a while.
func addKey(t *testing.T, folder *store.Store, name, phrase string) {
	t.Helper()
	private, public, err := seal.NewKey(name, []byte(phrase))
	check(t, err)
	check(t, folder.WriteSigner(name, private, public))
	key, _, err := seal.ParsePublicKey(public)
	check(t, err)
	allowed, err := folder.AllowedSigners()
	check(t, err)
	allowed, err = seal.Append(allowed, name, key)
	check(t, err)
	check(t, folder.WriteAllowedSigners(allowed))
}

func check(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func read(t *testing.T, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	check(t, err)
	return data
}

var newJob = session.New{Wing: "cloth", Bench: simpleBench()}

// simpleBench is the default bench with the rule whose sums fit on a thumbnail.
func simpleBench() metrology.Bench {
	b := metrology.DefaultBench()
	b.Rule = metrology.RuleSimple
	return b
}

// start begins a job with the test procedure on C1.2 left.
func start(t *testing.T, d session.Desk) *session.Session {
	t.Helper()
	s, err := d.Start(newJob)
	check(t, err)
	t.Cleanup(func() { _ = s.Close() })
	_, err = s.AddTask("bench-test", wing.LineRef("C1.2", wing.Left), "")
	check(t, err)
	return s
}

// good answers every step of the test procedure, one line each.
var good = []string{
	"1", "C", "2", "0",
	"1", "C1.2", "4206", "4207", "",
	"1 2 3", "5", "C1.1 C1.2 C1.3", "5.25", "4180", "4181", "",
	"bea", "1", "1", "1", "1", "bea",
	"2", "", "", "", "ann",
}

// feed walks with these lines as the input of a pipe and gives what was said.
func feed(t *testing.T, d session.Desk, s *session.Session, o Options, lines ...string) (string, error) {
	t.Helper()
	o.Desk = d
	var out strings.Builder
	text := strings.Join(lines, "\n")
	if len(lines) > 0 {
		text += "\n"
	}
	err := Walk(context.Background(), NewInput(strings.NewReader(text)), &out, s, o)
	return out.String(), err
}

// mustSay fails unless the text holds each of the parts, in this order.
func mustSay(t *testing.T, text string, parts ...string) {
	t.Helper()
	rest := text
	for _, p := range parts {
		at := strings.Index(rest, p)
		if at < 0 {
			t.Fatalf("not said, or not in this order: %q\n---\n%s", p, text)
		}
		rest = rest[at+len(p):]
	}
}

func mustEnd(t *testing.T, err error) *NotTaken {
	t.Helper()
	var n *NotTaken
	if !errors.As(err, &n) {
		t.Fatalf("error %v, want a *NotTaken", err)
	}
	return n
}

var keyEnd = regexp.MustCompile(`ends in [A-Za-z0-9+/]{6}`)

func settled(text string) string { return keyEnd.ReplaceAllString(text, "ends in (key)") }
