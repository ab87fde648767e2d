package record

import (
	"bytes"
	"io/fs"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"example.org/linewright/engine/seal"
)

// load reads an exported folder into memory, to be changed there.
func load(t testing.TB, dir string) fstest.MapFS {
	t.Helper()
	m := fstest.MapFS{}
	err := fs.WalkDir(os.DirFS(dir), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(dir + "/" + name)
		m[name] = &fstest.MapFile{Data: data, Mode: 0o644}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// with copies a folder and changes one file of it; nil data takes it away.
func with(m fstest.MapFS, name string, data []byte) fstest.MapFS {
	out := fstest.MapFS{}
	for n, f := range m {
		out[n] = f
	}
	delete(out, name)
	if data != nil {
		out[name] = &fstest.MapFile{Data: data, Mode: 0o644}
	}
	return out
}

func check(t testing.TB, fsys fs.FS, allowed []byte) Report {
	t.Helper()
	r, err := Verify(fsys, allowed)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// wantNamed checks that a report is not verified and names a file, with what
// and what to do on one line each.
func wantNamed(t *testing.T, r Report, file string) {
	t.Helper()
	if r.Status != Broken {
		t.Errorf("%s was changed and the record is %q", file, r.Status)
	}
	named := false
	for _, p := range r.Problems {
		what, do := p.Words()
		if strings.Contains(what+do, "{") || strings.Contains(what+do, "\n") || do == "" || !strings.HasPrefix(what, p.File) {
			t.Errorf("problem %q is not said in one line what and one line what to do: %q, %q", p.Code, what, do)
		}
		named = named || p.File == file
	}
	if !named {
		t.Errorf("%s was changed and is not named:\n%s", file, r.Words())
	}
}

func wantCode(t *testing.T, r Report, code Code, file string) {
	t.Helper()
	for _, p := range r.Problems {
		if p.Code == code && p.File == file {
			return
		}
	}
	t.Errorf("no problem %q with %s:\n%s", code, file, r.Words())
}

func TestVerifyFindsNothingWrong(t *testing.T) {
	w := sample(t, false)
	r := check(t, os.DirFS(w.export()), w.allowed())
	if r.Status != Verified || len(r.Problems) > 0 {
		t.Fatalf("status %q:\n%s", r.Status, r.Words())
	}
	if r.Job != 7 || r.Wing != "Barn wing" || r.Demo {
		t.Errorf("job %d, wing %q, demo %v", r.Job, r.Wing, r.Demo)
	}
	if len(r.Closing) != 3 || len(r.Holds) != 3 {
		t.Errorf("%d closing signatures and %d holds, want 3 and 3", len(r.Closing), len(r.Holds))
	}
	for _, s := range append(r.Closing, r.Holds...) {
		if !s.Trusted || len(s.Names) != 1 {
			t.Errorf("%+v is not trusted", s)
		}
	}
	if r.Holds[2].Custody != string(seal.Unencrypted) || !strings.Contains(r.Words(), "kept without a pass phrase") {
		t.Errorf("the report does not say that a key was kept without a pass phrase:\n%s", r.Words())
	}
}

func TestVerifyWithoutTrustedKeysVouchesForNobody(t *testing.T) {
	w := sample(t, false)
	r := check(t, os.DirFS(w.export()), nil)
	if r.Status != NotVouched || len(r.Problems) > 0 {
		t.Errorf("status %q:\n%s", r.Status, r.Words())
	}
	for _, name := range []string{"ann.example", "bea.example"} {
		if key := w.keys[name].Public().Fingerprint(); !strings.Contains(r.Words(), key) {
			t.Errorf("the key %s of %s is not named:\n%s", key, name, r.Words())
		}
	}
	if !strings.Contains(r.Words(), "nobody says whose keys they are") {
		t.Errorf("it is not said that nobody vouches:\n%s", r.Words())
	}
}

func TestVerifyWithOtherTrustedKeys(t *testing.T) {
	w := sample(t, false)
	dir := w.export()
	eve, err := seal.Append(nil, "eve.example", person(t, "eve.example", "").Public())
	if err != nil {
		t.Fatal(err)
	}
	for name, allowed := range map[string][]byte{"a stranger": eve, "nobody": {}} {
		r := check(t, os.DirFS(dir), allowed)
		if r.Status != NotVouched {
			t.Errorf("trusting %s: status %q", name, r.Status)
		}
		wantCode(t, r, SigTrust, "record.json.doer.sig")
		wantCode(t, r, HoldTrust, NameJournal)
	}
	if _, err := Verify(os.DirFS(dir), []byte("no key\n")); err == nil {
		t.Error("a faulty file of trusted people was taken")
	}
}

func TestVerifyAKeyForAnotherNameIsNotTrusted(t *testing.T) {
	w := sample(t, false)
	swapped := strings.NewReplacer("ann.example", "bea.example", "bea.example", "ann.example").Replace(string(w.allowed()))
	r := check(t, os.DirFS(w.export()), []byte(swapped))
	if r.Status != NotVouched {
		t.Errorf("status %q", r.Status)
	}
	wantCode(t, r, HoldTrust, NameJournal)
}

// A key counts at the time of the journal: 2026-05-02 and -03.
func TestVerifyTakesTheTimeOfTheJournal(t *testing.T) {
	w := sample(t, false)
	dir := w.export()
	for window, want := range map[string]Status{
		`valid-before="20260601000000Z"`: Verified,
		`valid-after="20260501000000Z"`:  Verified,
		`valid-after="20260601000000Z"`:  NotVouched,
		`valid-before="20260501000000Z"`: NotVouched,
	} {
		allowed := bytes.ReplaceAll(w.allowed(), []byte("namespaces="), []byte(window+",namespaces="))
		if r := check(t, os.DirFS(dir), allowed); r.Status != want {
			t.Errorf("%s: status %q, want %q\n%s", window, r.Status, want, r.Words())
		}
	}
}

func TestVerifyOfARecordThatNobodySigned(t *testing.T) {
	w := sample(t, false)
	dir := t.TempDir() + "/record"
	if err := Export(dir, w.build(), nil, nil); err != nil {
		t.Fatal(err)
	}
	r := check(t, os.DirFS(dir), w.allowed())
	if r.Status != NotVouched {
		t.Errorf("status %q", r.Status)
	}
	wantCode(t, r, NoSignature, "record.json.doer.sig")
}

// What a closing signature covers is one place; a later one is added with its
// line in SHA256SUMS.
func TestVerifyTakesALaterSignature(t *testing.T) {
	w := sample(t, false)
	r := w.build()
	dir := w.export()
	sig, err := w.keys["bea.example"].Sign(seal.NamespaceRecord, r.JSON)
	if err != nil {
		t.Fatal(err)
	}
	m := with(load(t, dir), "record.json.club.sig", sig)
	wantCode(t, check(t, m, w.allowed()), SumNone, "record.json.club.sig")
	m = with(m, NameSums, append(readFile(t, dir, NameSums), []byte(hashOf(sig)+"  record.json.club.sig\n")...))
	if report := check(t, m, w.allowed()); report.Status != Verified {
		t.Errorf("status %q:\n%s", report.Status, report.Words())
	}
}

// Whoever signs can write another record.txt and list it; the journal says
// what it should be.
func TestVerifyNamesATextThatTheJournalDoesNotGive(t *testing.T) {
	w := sample(t, false)
	r := w.build()
	old := hashOf(r.Text)
	r.Text = bytes.Replace(r.Text, []byte("NOT PROVED"), []byte("INSIDE    "), -1)
	r.JSON = bytes.Replace(r.JSON, []byte(old), []byte(hashOf(r.Text)), 1)
	dir := t.TempDir() + "/record"
	if err := Export(dir, r, w.closing(r), w.allowed()); err != nil {
		t.Fatal(err)
	}
	report := check(t, os.DirFS(dir), w.allowed())
	wantCode(t, report, NotTheSame, NameText)
	wantCode(t, report, NotTheSame, NameJSON)
}

func TestVerifyNamesALineThatStandsTwiceInTheSums(t *testing.T) {
	w := sample(t, false)
	m := load(t, w.export())
	first, _, _ := bytes.Cut(m[NameSums].Data, []byte("\n"))
	m = with(m, NameSums, append(bytes.Clone(m[NameSums].Data), append(first, '\n')...))
	wantCode(t, check(t, m, w.allowed()), SumLine, NameSums)
}

func TestVerifyNamesASecondLookByTheDoer(t *testing.T) {
	w := sample(t, false)
	r := w.build()
	sigs := w.closing(r)
	sigs["second"] = sigs["doer"]
	dir := t.TempDir() + "/record"
	if err := Export(dir, r, sigs, w.allowed()); err != nil {
		t.Fatal(err)
	}
	report := check(t, os.DirFS(dir), w.allowed())
	wantNamed(t, report, "record.json.second.sig")
	wantCode(t, report, SameSigner, "record.json.second.sig")

	// Two keys of one person by the trusted file.
	both := strings.ReplaceAll(string(w.allowed()), "bea.example", "ann.example")
	report = check(t, os.DirFS(w.export()), []byte(both))
	wantCode(t, report, SameSigner, NameJournal)
}

func TestVerifyOfAnotherEdition(t *testing.T) {
	w := sample(t, false)
	m := load(t, w.export())
	m = with(m, NameJSON, bytes.Replace(m[NameJSON].Data, []byte(`"linewright_record":1`), []byte(`"linewright_record":2`), 1))
	wantCode(t, check(t, m, w.allowed()), OtherEdition, NameJSON)
	m = with(m, NameJSON, []byte(`{"some":"other JSON"}`))
	wantCode(t, check(t, m, w.allowed()), NotARecord, NameJSON)
}

func BenchmarkVerify(b *testing.B) {
	w := sample(b, false)
	r := w.build()
	dir := b.TempDir() + "/record"
	if err := Export(dir, r, w.closing(r), w.allowed()); err != nil {
		b.Fatal(err)
	}
	m, allowed := load(b, dir), w.allowed()
	for b.Loop() {
		check(b, m, allowed)
	}
}
