package job

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"os"
	"testing"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/procedure"
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

func (m memory) pin(data []byte) string {
	sum := sha256.Sum256(data)
	sha := hex.EncodeToString(sum[:])
	m[sha] = data
	return sha
}

// rig drives a job as a session does, with the events kept as JSON.
type rig struct {
	t       testing.TB
	pins    memory
	job     *Job
	journal [][]byte
	sitting int
	who     string
	sha     string
	bare    string // the step at which to leaves out the second person's name
}

func newRig(t testing.TB) *rig {
	t.Helper()
	r := &rig{t: t, pins: memory{}, sitting: 1, who: "ann"}
	r.job = New(r.pins)
	plan := read(t, "../../procedures/sample/plan.toml")
	r.apply(Begin(r.stamp(), Start{Job: 7, WingID: "cloth", WingName: "Cloth", Plan: r.pins.pin(plan), Bench: simpleBench()}))
	r.sha = r.pins.pin(read(t, "testdata/bench.toml"))
	return r
}

// withTask adds the test procedure on C1.2 left.
func withTask(t testing.TB) *rig {
	t.Helper()
	r := newRig(t)
	r.add("line:C1.2@left")
	return r
}

func read(t testing.TB, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func (r *rig) stamp() Stamp {
	return Stamp{At: "2026-03-01T10:00:00Z", Who: r.who, Key: "SHA256:" + r.who, Sitting: r.sitting, HeadN: len(r.journal), Head: "h"}
}

// apply sends an event through JSON, as the journal does.
func (r *rig) apply(e Event) {
	r.t.Helper()
	data, err := json.Marshal(e)
	if err != nil {
		r.t.Fatal(err)
	}
	var back Event
	if err := json.Unmarshal(data, &back); err != nil {
		r.t.Fatal(err)
	}
	if err := r.job.Apply(back); err != nil {
		r.t.Fatal(err)
	}
	r.journal = append(r.journal, data)
}

func (r *rig) enter(en Entry) (Event, error) {
	r.t.Helper()
	if en.Task == 0 && en.Kind != EnterAdd && en.Kind != EnterClose {
		en.Task = 1
	}
	e, err := Decide(r.job, r.stamp(), en)
	if err == nil {
		r.apply(e)
	}
	return e, err
}

// must enters and fails the test on a refusal.
func (r *rig) must(en Entry) Event {
	r.t.Helper()
	e, err := r.enter(en)
	if err != nil {
		r.t.Fatalf("%+v: %v", en, err)
	}
	return e
}

func (r *rig) add(target string) {
	r.t.Helper()
	ref, err := wing.ParseRef(target)
	if err != nil {
		r.t.Fatal(err)
	}
	r.must(Entry{Kind: EnterAdd, Add: &Add{Procedure: "bench-test", Edition: "1", SHA256: r.sha, Target: ref}})
}

// good answers every step of the test procedure on C1.2.
var good = map[string][]string{
	"side_seen": {"1"}, "branch": {"C"}, "place": {"2"}, "joints": {"0"},
	"damage": {"1"}, "label": {"C1.2"}, "loose": {"4206", "4207", ""},
	"first_order": {"1 2 3"}, "turns_open": {"5"}, "second_order": {"C1.1 C1.2 C1.3"}, "turns_closed": {"5.25"},
	"new_installed": {"4180"}, "twin_installed": {"4181", ""},
	"joint": {"1"}, "free@C1.1": {"1"}, "free@C1.2": {"1"}, "free@C1.3": {"1"}, "second_look": {"bea"},
	"inflation": {"2"}, "tools": {""}, "words": {""}, "picture": {""}, "doer_sign": {"ann"},
}

// bench describes a bench for the full budget, with the pull's error and the
// hands' repeatability; invented.
func bench(class, how string, pullErrorN, repeatUM int64) *metrology.Bench {
	return &metrology.Bench{
		Name: "test bench", Rule: metrology.RuleBudget, TapeClass: class, Graduation: quantity.Millimetre,
		Pull: 50 * quantity.Newton, PullHow: how, PullError: quantity.Force(pullErrorN) * quantity.Newton,
		TapeMaterial: "steel", AirC: 20, AirErrorC: 2,
		Repeatability: quantity.Length(repeatUM), RepeatabilityDoF: 9,
	}
}

// to answers steps until key is due.
func (r *rig) to(key string) {
	r.t.Helper()
	task, _ := r.job.Task(len(r.job.Tasks))
	for {
		slot, err := task.current()
		if err != nil {
			r.t.Fatal(err)
		}
		if slot != nil && slot.Card.By == procedure.Second && task.looker == "" && slot.Key != r.bare {
			r.must(Entry{Kind: EnterLook, Task: task.No, Text: "bea"})
		}
		if slot == nil || slot.Key == key {
			return
		}
		for _, text := range good[slot.Key] {
			r.one(task.No, slot, text)
		}
	}
}

func (r *rig) one(task int, slot *procedure.Slot, text string) {
	r.t.Helper()
	switch {
	case slot.Step.Kind == procedure.Sign:
		r.sign(task, slot.Key, text, "SHA256:"+text)
	case text == "":
		r.must(Entry{Kind: EnterOn, Task: task, Key: slot.Key})
	default:
		r.must(Entry{Kind: EnterAnswer, Task: task, Key: slot.Key, Text: text})
	}
}

func (r *rig) sign(task int, key, name, fingerprint string) {
	r.t.Helper()
	m, err := r.job.Hold(task, r.stamp(), name, fingerprint)
	if err != nil {
		r.t.Fatal(err)
	}
	m.Signature = "armoured"
	r.must(Entry{Kind: EnterSign, Task: task, Key: key, Sign: &m})
}

func (r *rig) due() string {
	r.t.Helper()
	task, _ := r.job.Task(len(r.job.Tasks))
	slot, err := task.current()
	if err != nil {
		r.t.Fatal(err)
	}
	if slot == nil {
		return ""
	}
	return slot.Key
}

// simpleBench is the default bench by the simple rule: its numbers can be
// worked out on paper.
func simpleBench() metrology.Bench {
	b := metrology.DefaultBench()
	b.Rule = metrology.RuleSimple
	return b
}
