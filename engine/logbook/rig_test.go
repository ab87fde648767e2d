package logbook

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"os"
	"testing"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

// memory pins files by their SHA-256, as a job's folder does.
type memory map[string][]byte

func (m memory) Pinned(sha string) ([]byte, error) {
	if data, ok := m[sha]; ok {
		return data, nil
	}
	return nil, errors.New("not pinned")
}

func (m memory) pin(t testing.TB, path string) string {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	sum := sha256.Sum256(data)
	sha := hex.EncodeToString(sum[:])
	m[sha] = data
	return sha
}

// hangar is a wing with its jobs.
type hangar struct {
	t    testing.TB
	pins memory
	jobs []*visit
}

// visit is one job that a test works on.
type visit struct {
	*job.Job
	t    testing.TB
	pins memory
	now  string // the time of the next entry
}

func newHangar(t testing.TB) *hangar { return &hangar{t: t, pins: memory{}} }

// begin starts the next job as a session does: with what the book carries.
// hours is the wing's flying time in tenths, 0 where it is not known.
func (h *hangar) begin(at string, hours job.Hours) *visit {
	h.t.Helper()
	bench := metrology.DefaultBench()
	bench.Rule = metrology.RuleSimple
	start := job.Start{
		Job: len(h.jobs) + 1, WingID: "cloth", WingName: "Cloth", Plan: h.pins.pin(h.t, "../../procedures/sample/plan.toml"), Bench: bench,
		Carried: h.book(at[:10]).Carried(),
	}
	if hours > 0 {
		start.Hours = &hours
	}
	v := &visit{Job: job.New(h.pins), t: h.t, pins: h.pins, now: at}
	v.apply(job.Begin(v.stamp(), start))
	h.jobs = append(h.jobs, v)
	return v
}

func (h *hangar) pages() []Page {
	var out []Page
	for _, v := range h.jobs {
		out = append(out, PageOf(v.Job))
	}
	return out
}

// book is the book on a day on which nobody said the hours.
func (h *hangar) book(today string) Book { return Bind("cloth", h.pages(), today, nil) }

func (v *visit) stamp() job.Stamp {
	return job.Stamp{At: v.now, Who: "ann", Sitting: 1, HeadN: v.Lines, Head: "h"}
}

// apply sends an event through JSON, as the journal does.
func (v *visit) apply(e job.Event) {
	v.t.Helper()
	data, err := job.Encode(e)
	if err != nil {
		v.t.Fatal(err)
	}
	back, err := job.Decode(data)
	if err != nil {
		v.t.Fatal(err)
	}
	if err := v.Apply(back); err != nil {
		v.t.Fatal(err)
	}
}

func (v *visit) must(en job.Entry) {
	v.t.Helper()
	e, err := job.Decide(v.Job, v.stamp(), en)
	if err != nil {
		v.t.Fatalf("%+v: %v", en, err)
	}
	v.apply(e)
}

// add adds a task of a procedure in testdata and gives its number.
func (v *visit) add(id, target string) int {
	v.t.Helper()
	ref, err := wing.ParseRef(target)
	if err != nil {
		v.t.Fatal(err)
	}
	v.must(job.Entry{Kind: job.EnterAdd, Add: &job.Add{Procedure: id, Edition: "1", SHA256: v.pins.pin(v.t, "testdata/"+id+".toml"), Target: ref}})
	return len(v.Tasks)
}

// find surveys the wing far enough to write a finding on a line of row A on
// the left, and gives its ID.
func (v *visit) find(code, rule string) string {
	v.t.Helper()
	task := v.add("survey", "wing")
	v.must(job.Entry{Kind: job.EnterFinding, Task: task, Seen: &job.Seen{Thing: wing.LineRef(code, wing.Left), Rule: rule}})
	fs := v.Findings()
	v.must(job.Entry{Kind: job.EnterDrop, Task: task, Text: "the rest another day"})
	return fs[len(fs)-1].ID
}

// swap exchanges a line on the left, in the middle of its limits.
func (v *visit) swap(code string) {
	v.t.Helper()
	task := v.add("swap", "line:"+code+"@left")
	l, _ := v.Plan.Line(code)
	fitted := (l.Length + quantity.Millimetre).String()
	for _, text := range []string{"batch 77", l.Length.String(), "", l.Length.String(), fitted, "", "", ""} {
		kind := job.EnterAnswer
		if text == "" {
			kind = job.EnterOn
		}
		v.must(job.Entry{Kind: kind, Task: task, Text: text})
	}
}

// release lets the pilot take the tag off.
func (v *visit) release() {
	v.t.Helper()
	task := v.add("release", "wing")
	v.must(job.Entry{Kind: job.EnterOn, Task: task})
	m, err := v.Hold(task, v.stamp(), "ann", "SHA256:ann")
	if err != nil {
		v.t.Fatal(err)
	}
	m.Signature = "armoured"
	v.must(job.Entry{Kind: job.EnterSign, Task: task, Sign: &m})
}

func (v *visit) postpone(id string, d job.Deferral, why string) {
	v.t.Helper()
	v.must(job.Entry{Kind: job.EnterDefer, Finding: id, Deferral: &d, Text: why})
}

func (v *visit) clear(id string) {
	v.t.Helper()
	v.must(job.Entry{Kind: job.EnterClear, Finding: id, Way: job.ByLooking, Text: "it is sound"})
}

func (v *visit) close() {
	v.t.Helper()
	v.must(job.Entry{Kind: job.EnterClose, Text: "done"})
}

// asJSON is a book as bytes, to compare with.
func asJSON(t testing.TB, b Book) string {
	t.Helper()
	data, err := json.Marshal(b)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}
