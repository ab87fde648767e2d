package record

import (
	"bytes"
	"crypto/ed25519"
	"crypto/sha256"
	"encoding/json"
	"encoding/pem"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"golang.org/x/crypto/ssh"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/journal"
	"example.org/linewright/engine/seal"
	"example.org/linewright/engine/wing"
)

// memory holds pinned files and photos as a store would.
type memory struct {
	pinned map[string][]byte
	photos map[string][]byte
}

func (m memory) Pinned(sha string) ([]byte, error) {
	if data, ok := m.pinned[sha]; ok {
		return data, nil
	}
	return nil, fmt.Errorf("no file with the SHA-256 %s", sha)
}

func (m memory) photo(name string) ([]byte, error) {
	if data, ok := m.photos[name]; ok {
		return data, nil
	}
	return nil, os.ErrNotExist
}

func (m memory) pin(data []byte) string {
	sha := hashOf(data)
	m.pinned[sha] = data
	return sha
}

// walk makes a job as a session does, through Decide and Apply.
type walk struct {
	t     testing.TB
	files memory
	job   *job.Job
	lines []journal.Line
	head  journal.Head
	who   string
	day   int
	min   int
	sit   int
	keys  map[string]seal.Signer
}

// person gives the key of an invented person. It is made of the name, so that
// a golden record has the same signatures every time.
func person(t testing.TB, name, passphrase string) seal.Signer {
	t.Helper()
	if s, ok := people[name]; ok {
		return s
	}
	seed := sha256.Sum256([]byte("test key of " + name))
	private := ed25519.NewKeyFromSeed(seed[:])
	block, err := ssh.MarshalPrivateKey(private, name)
	if passphrase != "" {
		block, err = ssh.MarshalPrivateKeyWithPassphrase(private, name, []byte(passphrase))
	}
	if err != nil {
		t.Fatal(err)
	}
	file, err := seal.ParseKeyFile(pem.EncodeToMemory(block))
	if err != nil {
		t.Fatal(err)
	}
	signer, err := file.Unlock([]byte(passphrase))
	if err != nil {
		t.Fatal(err)
	}
	people[name] = signer
	return signer
}

// people keeps opened keys: a pass phrase is slow by design.
var people = map[string]seal.Signer{}

func newWalk(t testing.TB, demo bool) *walk {
	t.Helper()
	plan, err := os.ReadFile("testdata/job/plan.toml")
	if err != nil {
		t.Fatal(err)
	}
	return newWalkOn(t, demo, plan)
}

func newWalkOn(t testing.TB, demo bool, plan []byte) *walk {
	t.Helper()
	return newWalkWith(t, plan, job.Start{Demo: demo})
}

// newWalkWith begins a job of which some is given.
func newWalkWith(t testing.TB, plan []byte, s job.Start) *walk {
	t.Helper()
	w := &walk{
		t: t, files: memory{map[string][]byte{}, map[string][]byte{}}, head: journal.EmptyHead(),
		who: "ann.example", day: 2, min: 9 * 60, sit: 1,
		keys: map[string]seal.Signer{"ann.example": person(t, "ann.example", ""), "bea.example": person(t, "bea.example", "cold hands")},
	}
	w.job = job.New(w.files)
	s.Job, s.WingID, s.WingName, s.Serial, s.Plan = 7, "barn-m-0042", "Barn wing", "TN-0042", w.files.pin(plan)
	s.Bench, s.Reason = fallbackBench(), "caught on a hedge after landing"
	w.write(job.Begin(w.stamp(), s))
	return w
}

func (w *walk) read(name string) []byte {
	w.t.Helper()
	data, err := os.ReadFile(filepath.Join("testdata", "job", name))
	if err != nil {
		w.t.Fatal(err)
	}
	return data
}

// stamp goes three minutes on with every line.
func (w *walk) stamp() job.Stamp {
	w.min += 3
	at := fmt.Sprintf("2026-05-%02dT%02d:%02d:00+02:00", w.day, w.min/60, w.min%60)
	return job.Stamp{At: at, Who: w.who, Key: w.keys[w.who].Public().Fingerprint(), Sitting: w.sit, HeadN: w.head.N, Head: w.head.Hash}
}

func (w *walk) write(e job.Event) int {
	w.t.Helper()
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(e); err != nil {
		w.t.Fatal(err)
	}
	line, err := journal.Encode(w.head, bytes.TrimSpace(b.Bytes()))
	if err != nil {
		w.t.Fatal(err)
	}
	if err := w.job.Apply(e); err != nil {
		w.t.Fatal(err)
	}
	w.lines, w.head = append(w.lines, line), line.Head()
	return line.N
}

// enter decides and writes an entry, which must be taken or noted.
func (w *walk) enter(en job.Entry) int {
	w.t.Helper()
	e, err := job.Decide(w.job, w.stamp(), en)
	if err != nil {
		w.t.Fatalf("%s %q: %v", en.Kind, en.Text, err)
	}
	return w.write(e)
}

// look is the second person saying their name.
func (w *walk) look(task int, name string) int {
	w.t.Helper()
	return w.enter(job.Entry{Kind: job.EnterLook, Task: task, Text: name})
}

func (w *walk) say(task int, text string) int {
	w.t.Helper()
	return w.enter(job.Entry{Kind: job.EnterAnswer, Task: task, Text: text})
}

func (w *walk) on(task int) int {
	w.t.Helper()
	return w.enter(job.Entry{Kind: job.EnterOn, Task: task})
}

func (w *walk) add(code string, side wing.Side, reason string) {
	w.t.Helper()
	swap, closing := w.read("swap.toml"), w.read("closing.toml")
	w.enter(job.Entry{Kind: job.EnterAdd, Text: reason, Add: &job.Add{
		Procedure: "test-swap", Edition: "2", SHA256: w.files.pin(swap), Parts: []string{w.files.pin(closing)}, Target: wing.LineRef(code, side),
	}})
}

func (w *walk) photo(task int, data string) {
	w.t.Helper()
	sha := hashOf([]byte(data))
	w.files.photos[sha+".jpg"] = []byte(data)
	w.enter(job.Entry{Kind: job.EnterAnswer, Task: task, Photo: &job.Photo{Name: sha + ".jpg", SHA256: sha}})
}

// sign signs the hold that is due.
func (w *walk) sign(task int, name string) int {
	w.t.Helper()
	st, signer := w.stamp(), w.keys[name]
	m, err := w.job.Hold(task, st, name, signer.Public().Fingerprint())
	if err != nil {
		w.t.Fatal(err)
	}
	card, err := w.job.Card(task, w.sit)
	if err != nil {
		w.t.Fatal(err)
	}
	m.Custody, m.Namespace = string(signer.Custody()), seal.NamespaceHold
	sig, err := signer.Sign(seal.NamespaceHold, []byte(w.job.HoldText(task, card.Key, m)))
	if err != nil {
		w.t.Fatal(err)
	}
	m.Signature = string(sig)
	e, err := job.Decide(w.job, st, job.Entry{Kind: job.EnterSign, Task: task, Key: card.Key, Sign: &m})
	if err != nil {
		w.t.Fatal(err)
	}
	return w.write(e)
}

func (w *walk) build() Record {
	w.t.Helper()
	r, err := Build(w.lines, w.files, w.files.photo)
	if err != nil {
		w.t.Fatal(err)
	}
	return r
}

// closing signs a record as people do after the job is closed.
func (w *walk) closing(r Record) map[string][]byte {
	w.t.Helper()
	sigs := map[string][]byte{}
	for role, name := range map[string]string{"doer": "ann.example", "second": "bea.example", "pilot": "ann.example"} {
		sig, err := w.keys[name].Sign(seal.NamespaceRecord, r.JSON)
		if err != nil {
			w.t.Fatal(err)
		}
		sigs[role] = sig
	}
	return sigs
}

// allowed is the file of trusted people that a checker would have.
func (w *walk) allowed() []byte {
	w.t.Helper()
	var out []byte
	for _, name := range slices.Sorted(maps.Keys(w.keys)) {
		var err error
		if out, err = seal.Append(out, name, w.keys[name].Public()); err != nil {
			w.t.Fatal(err)
		}
	}
	return out
}

// export writes the whole record to a new folder and gives its path.
func (w *walk) export() string {
	w.t.Helper()
	r := w.build()
	dir := filepath.Join(w.t.TempDir(), "record")
	if err := Export(dir, r, w.closing(r), w.allowed()); err != nil {
		w.t.Fatal(err)
	}
	return dir
}
