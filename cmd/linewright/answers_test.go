package main

import (
	"context"
	"io"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/session"
	"example.org/linewright/engine/store"
	"example.org/linewright/procedures"
	"example.org/linewright/tui/prompt"
)

// sampleJob makes the job of the demo in a new store.
func sampleJob(t *testing.T) (session.Desk, *session.Session) {
	t.Helper()
	folder, err := store.Open(filepath.Join(t.TempDir(), "store"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = folder.Close() })
	d := session.Desk{Store: folder, Procedures: procedures.Files(), Who: demoDoer, Clock: time.Now}
	no, err := demoJob(d)
	if err != nil {
		t.Fatal(err)
	}
	s, err := d.Open(no)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() })
	return d, s
}

func sampleList(t *testing.T) answers {
	t.Helper()
	list, err := readAnswers("")
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// watcher hands out one answer at a time and looks at each whether it belongs to
// the step that is due, and whether the bench would be offered the same.
type watcher struct {
	t    *testing.T
	s    *session.Session
	list answers
	keys int // key presses so far, the closing signatures apart
}

func (w *watcher) Read(p []byte) (int, error) {
	if len(w.list) == 0 {
		return 0, io.EOF
	}
	a := w.list[0]
	w.list = w.list[1:]
	card, err := w.s.Card(1)
	if err != nil {
		w.t.Fatal(err)
	}
	key := keyOf(card)
	if key != atEnd {
		offered, ok := sampleList(w.t).offer(card)
		if offered != a.text || ok != (a.text != "") {
			w.t.Errorf("at %s the bench is offered %q, line mode gets %q", key, offered, a.text)
		}
	}
	if a.key != key {
		w.t.Errorf("the answer of %s comes at %s", a.key, key)
	}
	if key != atEnd && card.Fields[card.At].Role != procedure.Doer {
		w.keys += len(a.text) + 1
	}
	return copy(p, a.text+"\n"), nil
}

func TestTheSampleAnswersFitTheSteps(t *testing.T) {
	d, s := sampleJob(t)
	w := &watcher{t: t, s: s, list: sampleList(t)}
	var out strings.Builder
	err := prompt.Walk(context.Background(), prompt.NewInput(w), &out, s, prompt.Options{Desk: d, RecordJSON: recordJSON(d)})
	if err != nil {
		t.Fatal(err)
	}
	if s.Job().Closed == nil {
		t.Error("the job is not closed")
	}
	// A swap takes a workshop minutes: the program must not make it an hour.
	if cards := strings.Count(out.String(), "\nTo do: "); cards > 30 {
		t.Errorf("%d cards, want at most 30", cards)
	}
	if w.keys > 120 {
		t.Errorf("%d key presses, want at most 120", w.keys)
	}
}

func TestAnswerFilesAreReadStrictly(t *testing.T) {
	list, err := parseAnswers("a.txt", []byte("# a comment\n\nside = 1\nwords=a = b\ndone =\r\n"))
	if err != nil {
		t.Fatal(err)
	}
	want := answers{{"side", "1"}, {"words", "a = b"}, {"done", ""}}
	if len(list) != len(want) {
		t.Fatalf("%v, want %v", list, want)
	}
	for i := range want {
		if list[i] != want[i] {
			t.Errorf("answer %d is %v, want %v", i, list[i], want[i])
		}
	}
	for _, bad := range []string{"side", "= 1", "\x00"} {
		if _, err := parseAnswers("a.txt", []byte("# one\n"+bad)); err == nil || !strings.HasPrefix(err.Error(), "a.txt:2: ") {
			t.Errorf("%q: %v, want an error with file and line", bad, err)
		}
	}
}

func TestNamesOfUsersAreMadeFit(t *testing.T) {
	for user, want := range map[string]string{
		"ann": "ann", "Ann.Example": "ann-example", `CLUB\Bea`: "bea", "..": "", "": "", "jörg": "j-rg",
		strings.Repeat("a", 80): strings.Repeat("a", 40),
	} {
		if got := fit(user); got != want {
			t.Errorf("fit(%q) = %q, want %q", user, got, want)
		}
	}
}
