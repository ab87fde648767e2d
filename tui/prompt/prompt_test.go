package prompt

import (
	"errors"
	"flag"
	"os"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write golden files; read them before you commit them")

func golden(t *testing.T, path, got string) {
	t.Helper()
	if *update {
		check(t, os.WriteFile(path, []byte(got), 0o644))
	}
	if diff := cmp.Diff(string(read(t, path)), got); diff != "" {
		t.Errorf("%s (-want +got):\n%s", path, diff)
	}
}

func TestTheWholeJobIsSaidInWords(t *testing.T) {
	d := bench(t)
	s := start(t, d)
	text, err := feed(t, d, s, Options{}, append(good, ":close Line exchanged.", "yes")...)
	check(t, err)
	if s.Job().Closed == nil {
		t.Error("the job is not closed")
	}
	golden(t, "testdata/whole.golden", settled(text))
}

func TestInputThatEndsEarlyKeepsWhatWasSaved(t *testing.T) {
	for n := range good {
		d := bench(t)
		s := start(t, d)
		_, err := feed(t, d, s, Options{}, good[:n]...)
		var ended *Ended
		if !errors.As(err, &ended) {
			t.Fatalf("after %d lines: %v, want *Ended", n, err)
		}
		if want := 2 + n; s.Job().Lines != want { // start, add, then one line an entry
			t.Fatalf("after %d lines of input the journal has %d lines, want %d", n, s.Job().Lines, want)
		}
	}
}

func TestFactsAreFoldedBetweenWords(t *testing.T) {
	const fact = "Look at it on the wing. An empty line if it is as it says."
	for _, c := range []struct {
		width int
		want  string
	}{
		{0, fact}, {80, fact}, {6, fact},
		{31, "Look at it on the wing. An\n  empty line if it is as it\n  says."},
		{21, "Look at it on the\n  wing. An empty\n  line if it is as\n  it says."},
	} {
		got := fold(fact, c.width)
		if got != c.want {
			t.Errorf("width %d: %q, want %q", c.width, got, c.want)
		}
	}
}
