package tui

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/seal"
	"example.org/linewright/engine/session"
	"example.org/linewright/engine/store"
	"example.org/linewright/procedures"
	"example.org/linewright/tui/prompt"
)

// bothWays is a job that is done twice: in line mode, and then at the bench with
// the keys of a person. Both stores hold the same wing, bench and keys, and the
// bench's clock tells the times of line mode, so that the journals have to be
// the same byte for byte, signatures included.
type bothWays struct {
	t           *testing.T
	procedures  []procedure.File
	library     *procedure.Library
	line, bench *store.Store
	sittings    []done
	want        map[int][]*job.Event // of line mode, by job
}

// done is a sitting as line mode left it.
type done struct {
	*prompt.Sitting
	no       int          // of the job
	from, to int          // its events are the lines behind from, up to to
	want     []*job.Event // of the job, as line mode wrote it
}

// bothPeople have a key in both stores.
var bothPeople = []string{"ann", "bea", "cal", "pia"}

// bothBench decides the limits of the sample plan.
func bothBench() metrology.Bench {
	return metrology.Bench{
		Name: "bench of the test, invented", Rule: metrology.RuleBudget,
		TapeClass: "I", Graduation: quantity.Millimetre, TapeMaterial: "steel",
		Pull: 50 * quantity.Newton, PullHow: metrology.PullWeight, PullError: quantity.Newton / 2, Pin: 8 * quantity.Millimetre,
		AirC: 20, AirErrorC: 2, Repeatability: quantity.Millimetre / 2, RepeatabilityDoF: 10,
	}
}

// inBoth tells a story in line mode and makes the store for the bench.
func inBoth(t *testing.T, files []procedure.File, name, story string) *bothWays {
	t.Helper()
	b := &bothWays{t: t, procedures: files, line: openStore(t), bench: openStore(t), want: map[int][]*job.Event{}}
	b.furnish()
	var err error
	if b.library, err = procedure.NewLibrary(files); err != nil {
		t.Fatal(err)
	}
	sittings, err := prompt.ReadStory(name, []byte(story))
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range sittings {
		b.inLineMode(s)
	}
	return b
}

func openStore(t *testing.T) *store.Store {
	t.Helper()
	st, err := store.Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = st.Close() })
	return st
}

// furnish puts the same things into both stores.
func (b *bothWays) furnish() {
	b.t.Helper()
	plan, err := procedures.Sample.ReadFile("sample/plan.toml")
	if err != nil {
		b.t.Fatal(err)
	}
	for _, st := range []*store.Store{b.line, b.bench} {
		if _, err := st.AddWing(store.Wing{ID: "sample", Name: "Sample wing", Serial: "0042"}, plan); err != nil {
			b.t.Fatal(err)
		}
		if err := (session.Desk{Store: st}).SaveBench(bothBench()); err != nil {
			b.t.Fatal(err)
		}
	}
	var allowed []byte
	for _, name := range bothPeople {
		private, public, err := seal.NewKey(name, nil)
		if err != nil {
			b.t.Fatal(err)
		}
		for _, st := range []*store.Store{b.line, b.bench} {
			if err := st.WriteSigner(name, private, public); err != nil {
				b.t.Fatal(err)
			}
		}
		key, _, err := seal.ParsePublicKey(public)
		if err != nil {
			b.t.Fatal(err)
		}
		if allowed, err = seal.Append(allowed, name, key); err != nil {
			b.t.Fatal(err)
		}
	}
	for _, st := range []*store.Store{b.line, b.bench} {
		if err := st.WriteAllowedSigners(allowed); err != nil {
			b.t.Fatal(err)
		}
	}
}

// inLineMode lets one sitting be typed.
func (b *bothWays) inLineMode(sit *prompt.Sitting) {
	b.t.Helper()
	d := session.Desk{Store: b.line, Procedures: b.procedures, Who: sit.Who, Clock: sit.Clock()}
	start := session.New{Wing: "sample"}
	if len(b.sittings) == 0 {
		start.Hours = "123.5"
	}
	s, err := sit.Begin(d, start)
	if err != nil {
		b.t.Fatalf("line %d: %v", sit.Line, err)
	}
	from := s.Job().Lines
	if sit.Job == 0 {
		from = 0
	}
	in := prompt.NewInput(&byNumber{s: s, lines: sit.Typed})
	if err := sit.Walk(context.Background(), in, io.Discard, s, prompt.Options{Desk: d, RecordJSON: bothRecord}); err != nil {
		b.t.Fatalf("the sitting at line %d: %v", sit.Line, err)
	}
	b.want[s.No()] = s.Job().Events()
	b.sittings = append(b.sittings, done{sit, s.No(), from, s.Job().Lines, s.Job().Events()})
	if err := s.Close(); err != nil {
		b.t.Fatal(err)
	}
}

// byNumber types lines, an option by its number where the story has its name:
// line mode takes both, the bench has the numbers, and a journal keeps what was
// typed.
type byNumber struct {
	s     *session.Session
	lines []string
}

func (r *byNumber) Read(p []byte) (int, error) {
	if len(r.lines) == 0 {
		return 0, io.EOF
	}
	line := r.lines[0]
	r.lines = r.lines[1:]
	return copy(p, r.numbered(line)+"\n"), nil
}

func (r *byNumber) numbered(line string) string {
	name, words, _ := strings.Cut(line, " ")
	for _, t := range r.s.Job().Tasks {
		c, err := r.s.Card(t.No)
		if err != nil || c.Over || len(c.Fields) == 0 {
			continue
		}
		slot, _ := t.Unfolded.Slot(c.Fields[c.At].Key)
		if slot == nil {
			continue
		}
		for i, o := range slot.Offered(t) {
			if o.ID == name {
				return strings.TrimSpace(strconv.Itoa(i+1) + " " + words)
			}
		}
	}
	return line
}

// atTheBench does at the bench, event by event, what line mode wrote, and
// compares what is written.
func (b *bothWays) atTheBench(w, h int) {
	b.t.Helper()
	for _, s := range b.sittings {
		hand := b.sits(s, w, h)
		for n := s.from; n < s.to; n = hand.lines() {
			hand.does(b.want[s.no][n])
			hand.wrote(b.want[s.no], n)
		}
		hand.signsRecord()
		hand.press("ctrl+c")
		if err := hand.m.hands.leave(); err != nil {
			b.t.Fatal(err)
		}
	}
	for no := range b.want {
		b.sameFile(no)
	}
}

// sits opens the bench for a sitting.
func (b *bothWays) sits(s done, w, h int) *hand {
	b.t.Helper()
	x := &hand{at: s, library: b.library}
	x.user = sitDown(b.t, b.bench, b.procedures, w, h, func(o *Options) {
		o.Desk.Who, o.RecordJSON = s.Who, bothRecord
		o.Desk.Clock = func() time.Time { return b.time(s, x.written()) }
	})
	if s.Job != 0 {
		x.press(strings.Split(strconv.Itoa(s.Job), "")...).press("enter")
	}
	return x
}

// time is when line mode wrote the line that is written next.
func (b *bothWays) time(s done, n int) time.Time {
	at, err := time.Parse(time.RFC3339, b.want[s.no][min(n, s.to-1)].At)
	if err != nil {
		b.t.Fatal(err)
	}
	return at
}

// written counts what is in the journal, also while an entry is being written.
func (x *hand) written() int {
	if x.user == nil || x.m.hands.session == nil {
		return x.at.from
	}
	return x.m.hands.session.Job().Lines
}

// wrote checks the events that are new at the bench.
func (x *hand) wrote(want []*job.Event, from int) {
	x.t.Helper()
	if x.lines() == from {
		x.t.Fatalf("line %d, %q, cannot be written at the bench:\n%s", from+1, want[from].Kind, x.view())
	}
	for n, e := range x.m.session.Job().Events()[from:] {
		a, b := encoded(x.t, want[from+n]), encoded(x.t, e)
		if !bytes.Equal(a, b) {
			x.t.Fatalf("line %d is another one at the bench\nline mode %s\nbench     %s", from+n+1, a, b)
		}
	}
}

func encoded(t judge, e *job.Event) []byte {
	t.Helper()
	data, err := job.Encode(*e)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// bothRecord stands for the record that is signed: how one is made is another
// matter.
func bothRecord(no int) ([]byte, error) { return fmt.Appendf(nil, `{"job":%d}`, no), nil }

// sameFile compares the two journals of a job as they lie on the disk, and the
// signatures of its record.
func (b *bothWays) sameFile(no int) {
	b.t.Helper()
	var data [2][]byte
	for i, st := range []*store.Store{b.line, b.bench} {
		var err error
		if data[i], err = os.ReadFile(filepath.Join(st.Dir(), "jobs", fmt.Sprintf("%04d", no), "journal.jsonl")); err != nil {
			b.t.Fatal(err)
		}
	}
	if !bytes.Equal(data[0], data[1]) {
		b.t.Errorf("the journals of job %d differ", no)
	}
	signed, err := b.line.ReadClosing(no)
	if err != nil {
		b.t.Fatal(err)
	}
	at, err := b.bench.ReadClosing(no)
	if err != nil || !maps.EqualFunc(signed, at, bytes.Equal) {
		b.t.Errorf("job %d: the signatures of the record differ: %d in line mode, %d at the bench, %v", no, len(signed), len(at), err)
	}
}
