package record

import (
	"bytes"
	"encoding/json"
	"os"
	"slices"
	"strings"
	"testing"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/journal"
	"example.org/linewright/engine/seal"
)

func TestVerifyNamesEachChangedByte(t *testing.T) {
	w := sample(t, false)
	whole, allowed := load(t, w.export()), w.allowed()
	for name, f := range whole {
		step := max(1, len(f.Data)/16)
		for at := 0; at < len(f.Data); at += step {
			r := check(t, with(whole, name, flipped(f.Data, at)), allowed)
			wantNamed(t, r, name)
			wantNoOtherBlamed(t, r, name)
		}
		wantNamed(t, check(t, with(whole, name, flipped(f.Data, len(f.Data)-1)), allowed), name)
	}
}

// wantNoOtherBlamed checks that a changed file throws no doubt on the others,
// but on signatures over it and on the sums.
func wantNoOtherBlamed(t *testing.T, r Report, changed string) {
	t.Helper()
	for _, p := range r.Problems {
		over := changed == NameJSON && p.Code == SigBad
		if p.File != changed && p.File != NameSums && changed != NameSums && !over {
			t.Errorf("%s was changed, and %s is blamed:\n%s", changed, p.File, r.Words())
		}
	}
}

// The sum of the journal in record.json is wrong, not the journal.
func TestVerifyBlamesTheListWhenTheListWasChanged(t *testing.T) {
	w := sample(t, false)
	m := load(t, w.export())
	at := bytes.Index(m[NameJSON].Data, []byte(hashOf(m[NameJournal].Data)))
	r := check(t, with(m, NameJSON, flipped(m[NameJSON].Data, at)), w.allowed())
	wantNamed(t, r, NameJSON)
	wantNoOtherBlamed(t, r, NameJSON)
}

// Nothing follows the last line in the chain; without a signature the sums
// still say which file it was.
func TestVerifyBlamesTheLastLineOfAnUnsignedJournal(t *testing.T) {
	w := sample(t, false)
	dir := t.TempDir() + "/record"
	if err := Export(dir, w.build(), nil, nil); err != nil {
		t.Fatal(err)
	}
	m := load(t, dir)
	r := check(t, with(m, NameJournal, bytes.Replace(m[NameJournal].Data, []byte("waits for its part"), []byte("waits for its port"), 1)), w.allowed())
	wantNamed(t, r, NameJournal)
	for _, p := range r.Problems {
		if p.File == NameJSON {
			t.Errorf("record.json is blamed:\n%s", r.Words())
		}
	}
}

func TestVerifyNamesTwoChangedFiles(t *testing.T) {
	w := sample(t, false)
	m, allowed := load(t, w.export()), w.allowed()
	for _, other := range []string{NameText, NameJournal, NamePlan} {
		two := with(with(m, NameJSON, flipped(m[NameJSON].Data, 1000)), other, flipped(m[other].Data, 500))
		r := check(t, two, allowed)
		wantNamed(t, r, other)
		wantCode(t, r, SigBad, "record.json.doer.sig")
	}
	r := check(t, with(with(m, NameJSON, flipped(m[NameJSON].Data, 1000)), NameText, []byte("x")), allowed)
	wantCode(t, r, NotTheSame, NameJSON)
}

func flipped(data []byte, at int) []byte {
	out := bytes.Clone(data)
	out[at] ^= 1
	return out
}

func TestVerifyNamesEachCutAndLengthenedFile(t *testing.T) {
	w := sample(t, false)
	whole, allowed := load(t, w.export()), w.allowed()
	for name, f := range whole {
		wantNamed(t, check(t, with(whole, name, []byte{}), allowed), name)
		wantNamed(t, check(t, with(whole, name, f.Data[:len(f.Data)-1]), allowed), name)
		wantNamed(t, check(t, with(whole, name, append(bytes.Clone(f.Data), '\n')), allowed), name)
	}
}

func TestVerifyNamesEachDroppedFile(t *testing.T) {
	w := sample(t, false)
	whole, allowed := load(t, w.export()), w.allowed()
	for name := range whole {
		wantNamed(t, check(t, with(whole, name, nil), allowed), name)
	}
}

func TestVerifyNamesEachAddedFile(t *testing.T) {
	w := sample(t, false)
	whole, allowed := load(t, w.export()), w.allowed()
	for _, name := range []string{
		"more.txt", "record.pdf", "journal.jsonl.bak", ".hidden", "photos/" + strings.Repeat("0", 64) + ".jpg",
		"procedures/more-000000000000.toml", "procedures/x", "record.json.third.sig", "record.json.Doer.sig", "record.json..sig",
	} {
		wantNamed(t, check(t, with(whole, name, []byte("x")), allowed), name)
	}
}

// rebuiltChain makes the journal anew with one entry changed, and everything
// that follows from it, as somebody with this program could.
func rebuiltChain(t *testing.T, w *walk, change func(e *job.Event)) *walk {
	t.Helper()
	forged := &walk{t: t, files: w.files, head: journal.EmptyHead(), keys: w.keys, job: job.New(w.files)}
	for _, l := range w.lines {
		var e job.Event
		if err := json.Unmarshal(l.Event, &e); err != nil {
			t.Fatal(err)
		}
		change(&e)
		forged.write(e)
	}
	return forged
}

func TestVerifyNamesARebuiltChain(t *testing.T) {
	w := sample(t, false)
	r := w.build()
	forged := rebuiltChain(t, w, func(e *job.Event) {
		if e.Text == "C1" {
			e.Text, e.Typed = "C2", "C2"
		}
	})
	fr := forged.build()
	if bytes.Equal(fr.JSON, r.JSON) {
		t.Fatal("nothing was forged")
	}
	dir := t.TempDir() + "/forged"
	if err := Export(dir, fr, nil, w.allowed()); err != nil {
		t.Fatal(err)
	}
	for role, sig := range w.closing(r) {
		if err := os.WriteFile(dir+"/"+SignatureName(role), sig, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	report := check(t, os.DirFS(dir), w.allowed())
	wantNamed(t, report, NameJournal)
	wantCode(t, report, HoldPlace, NameJournal)
	wantCode(t, report, SigBad, "record.json.doer.sig")
}

// The forger moves the marks to the new hashes too, and takes the closing
// signatures away.
func TestVerifyNamesARebuiltChainWithMovedMarks(t *testing.T) {
	w := sample(t, false)
	forged := &walk{t: t, files: w.files, head: journal.EmptyHead(), keys: w.keys, job: job.New(w.files)}
	for _, l := range w.lines {
		var e job.Event
		if err := json.Unmarshal(l.Event, &e); err != nil {
			t.Fatal(err)
		}
		if e.Text == "C1" {
			e.Text, e.Typed = "C2", "C2"
		}
		if e.Sign != nil {
			e.Sign.OverHash = forged.head.Hash
		}
		forged.write(e)
	}
	dir := t.TempDir() + "/forged"
	if err := Export(dir, forged.build(), nil, w.allowed()); err != nil {
		t.Fatal(err)
	}
	report := check(t, os.DirFS(dir), w.allowed())
	wantNamed(t, report, NameJournal)
	wantCode(t, report, HoldText, NameJournal)
	lines := []int{}
	for _, p := range report.Problems {
		if p.Code == HoldText {
			lines = append(lines, p.Line)
		}
	}
	if !slices.Equal(lines, []int{35, 43, 45}) {
		t.Errorf("the holds on lines %v are named, want those on 35, 43 and 45", lines)
	}
}

// A hold signed as Decide would never take it, with everything else in order.
func TestVerifyNamesAHoldThatCouldNotBeSigned(t *testing.T) {
	for name, c := range map[string]struct {
		signer string
		change func(m *job.Mark)
		code   Code
	}{
		"the doer's second look":   {"ann.example", func(*job.Mark) {}, HoldRole},
		"another role":             {"bea.example", func(m *job.Mark) { m.Role = "doer" }, HoldRole},
		"another text":             {"bea.example", func(m *job.Mark) { m.States = "all is well" }, HoldRole},
		"another purpose":          {"bea.example", func(m *job.Mark) { m.Namespace = "file" }, HoldRole},
		"another key than it says": {"bea.example", func(m *job.Mark) { m.Fingerprint = "SHA256:x" }, HoldText},
		"an older line":            {"bea.example", func(m *job.Mark) { m.OverN-- }, HoldPlace},
	} {
		w := newWalk(t, false)
		w.toSecondLook()
		st, signer := w.stamp(), w.keys[c.signer]
		m := job.Mark{
			Role: "second", Name: c.signer, Fingerprint: signer.Public().Fingerprint(), Custody: "unencrypted", Namespace: seal.NamespaceHold,
			OverN: w.head.N, OverHash: w.head.Hash, States: "I touched the gate and the lines of the link.",
		}
		c.change(&m)
		sig, err := signer.Sign(seal.NamespaceHold, []byte(w.job.HoldText(1, "closing.second_look", m)))
		if err != nil {
			t.Fatal(err)
		}
		m.Signature = string(sig)
		w.write(job.Event{At: st.At, Who: st.Who, Sitting: 1, Kind: job.Signed, Task: 1, Key: "closing.second_look", Outcome: job.Taken, Sign: &m})
		w.enter(job.Entry{Kind: job.EnterLayDown, Task: 1, Text: "dark; tag on"})
		w.enter(job.Entry{Kind: job.EnterClose, Text: "half done"})
		report := check(t, os.DirFS(w.export()), w.allowed())
		if report.Status != Broken {
			t.Errorf("%s: status %q", name, report.Status)
		}
		wantCode(t, report, c.code, NameJournal)
	}
}
