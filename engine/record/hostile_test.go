package record

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"example.org/linewright/engine/journal"
)

func TestVerifyOfAFolderThatCannotBeRead(t *testing.T) {
	for name, fsys := range map[string]fs.FS{
		"absent": os.DirFS(filepath.Join(t.TempDir(), "absent")),
		"a file": fileFS{},
	} {
		_, err := Verify(fsys, nil)
		var own *Error
		if !errors.As(err, &own) {
			t.Errorf("%s: error is %v, want an *Error", name, err)
		}
	}
}

// fileFS has a file where the folder should be.
type fileFS struct{}

func (fileFS) Open(string) (fs.File, error) {
	return fstest.MapFS{"x": {Data: []byte("x")}}.Open("x")
}

func TestVerifyOfAnEmptyFolder(t *testing.T) {
	r := check(t, fstest.MapFS{}, nil)
	for _, name := range []string{NameJSON, NameText, NameJournal, NamePlan, NameReadme, NameSums} {
		wantCode(t, r, Missing, name)
	}
}

// A link is never followed, wherever it leads.
func TestVerifyFollowsNoLink(t *testing.T) {
	w := sample(t, false)
	outside := filepath.Join(t.TempDir(), "outside")
	if err := os.MkdirAll(outside, 0o755); err != nil {
		t.Fatal(err)
	}
	whole := w.export()
	for _, name := range []string{NameJSON, NameJournal, NamePlan, NameSums, "record.json.doer.sig", "procedures", "photos"} {
		dir := w.export()
		target := filepath.Join(outside, name)
		if err := errors.Join(os.Rename(filepath.Join(dir, name), target), os.Symlink(target, filepath.Join(dir, name))); err != nil {
			t.Fatal(err)
		}
		r := check(t, os.DirFS(dir), w.allowed())
		wantNamed(t, r, name)
		wantCode(t, r, NotPlain, name)
	}
	if err := os.Symlink("/etc/passwd", filepath.Join(whole, "procedures", "x")); err != nil {
		t.Fatal(err)
	}
	wantCode(t, check(t, os.DirFS(whole), w.allowed()), NotPlain, "procedures/x")
}

func TestVerifyGoesIntoNoOtherFolder(t *testing.T) {
	w := sample(t, false)
	m := load(t, w.export())
	wantCode(t, check(t, with(m, "deep/er/and/deeper/record.json", []byte("x")), w.allowed()), NotPlain, "deep")
	wantCode(t, check(t, with(m, "photos/more/x.jpg", []byte("x")), w.allowed()), NotPlain, "photos/more")
	wantCode(t, check(t, with(with(m, NamePlan, nil), "plan.toml/x", []byte("x")), w.allowed()), NotPlain, NamePlan)
}

// Names reach a terminal without control characters.
func TestVerifyShowsNoControlCharacters(t *testing.T) {
	w := sample(t, false)
	m := load(t, w.export())
	for _, name := range []string{"\x1b[31mred", "new\nline", "turn\u202earound", "record.json.\x07.sig", "bad\xff"} {
		m[name] = &fstest.MapFile{Data: []byte("x"), Mode: 0o644}
	}
	m[NameJSON] = &fstest.MapFile{Data: []byte(`{"linewright_record":1,"files":[{"name":"\u001b[2J","sha256":"x"},{"name":"../../etc/passwd","sha256":"x"}]}`), Mode: 0o644}
	r := check(t, m, w.allowed())
	if len(r.Problems) < 5 {
		t.Errorf("%d problems", len(r.Problems))
	}
	for _, bad := range []string{"\x1b", "\x07", "\u202e", "\xff"} {
		if strings.Contains(r.Words(), bad) {
			t.Errorf("the report holds %q", bad)
		}
	}
}

// endless is a folder whose one file never ends.
type endless struct {
	fstest.MapFS
	name string
}

func (e endless) Open(name string) (fs.File, error) {
	f, err := e.MapFS.Open(name)
	if err == nil && name == e.name {
		return endlessFile{f}, nil
	}
	return f, err
}

type endlessFile struct{ fs.File }

func (endlessFile) Read(b []byte) (int, error) { return len(b), nil }

func TestVerifyReadsNoFileWithoutEnd(t *testing.T) {
	w := sample(t, false)
	m := load(t, w.export())
	for name := range m {
		r := check(t, endless{m, name}, w.allowed())
		wantNamed(t, r, name)
		wantCode(t, r, TooLarge, name)
	}
}

// crowd lists more names than are looked at.
type crowd struct{ fstest.MapFS }

func (c crowd) Open(name string) (fs.File, error) {
	f, err := c.MapFS.Open(name)
	if err == nil && name == "photos" {
		return &crowdDir{File: f}, nil
	}
	return f, err
}

type crowdDir struct {
	fs.File
	given int
}

func (d *crowdDir) ReadDir(n int) ([]fs.DirEntry, error) {
	if n <= 0 {
		return nil, errors.New("all names of a folder without end were asked for")
	}
	out := make([]fs.DirEntry, n)
	for i := range out {
		d.given++
		out[i] = fs.FileInfoToDirEntry(plainInfo(fmt.Sprintf("%d.jpg", d.given)))
	}
	return out, nil
}

type plainInfo string

func (p plainInfo) Name() string     { return string(p) }
func (plainInfo) Size() int64        { return 1 }
func (plainInfo) Mode() fs.FileMode  { return 0o644 }
func (plainInfo) ModTime() time.Time { return time.Time{} }
func (plainInfo) IsDir() bool        { return false }
func (plainInfo) Sys() any           { return nil }

func TestVerifyListsNoFolderWithoutEnd(t *testing.T) {
	w := sample(t, false)
	r := check(t, crowd{load(t, w.export())}, w.allowed())
	wantCode(t, r, TooMany, "photos")
	if r.Status != Broken {
		t.Errorf("status %q", r.Status)
	}
}

// A hostile list must neither fill the screen nor keep the program busy.
func TestVerifyListsOnlySoManyProblems(t *testing.T) {
	w := sample(t, false)
	m := load(t, w.export())
	var b strings.Builder
	b.WriteString(`{"linewright_record":1,"files":[`)
	for i := range 200_000 {
		fmt.Fprintf(&b, `{"name":"f%d","sha256":"x"},`, i)
	}
	b.WriteString(`{"name":"last","sha256":"x"}]}`)
	m = with(with(m, NameJSON, []byte(b.String())), NameJournal, []byte("x"))
	r := check(t, m, w.allowed())
	if r.Status != Broken || len(r.Problems) != maxProblems || r.More < 199_000 {
		t.Errorf("status %q, %d problems and %d more", r.Status, len(r.Problems), r.More)
	}
	wantAll(t, r.Words(), fmt.Sprintf("and %d more", r.More))
}

func TestJournalsBeyondAnyJobAreRefused(t *testing.T) {
	w := newWalk(t, false)
	if _, err := Build(make([]journal.Line, maxLines+1), w.files, nil); err == nil || errors.Is(err, NotClosed) {
		t.Errorf("%d lines were taken: %v", maxLines+1, err)
	}
}

// failingRead is a disk that cannot read one file.
type failingRead struct {
	fstest.MapFS
	name string
}

type failingFile struct{ fs.File }

func (failingFile) Read([]byte) (int, error) { return 0, io.ErrUnexpectedEOF }

func (d failingRead) Open(name string) (fs.File, error) {
	f, err := d.MapFS.Open(name)
	if err == nil && name == d.name {
		return failingFile{f}, nil
	}
	return f, err
}

func TestVerifyNamesAFileThatCannotBeRead(t *testing.T) {
	w := sample(t, false)
	m := load(t, w.export())
	for name := range m {
		r := check(t, failingRead{m, name}, w.allowed())
		wantNamed(t, r, name)
		wantCode(t, r, Unreadable, name)
	}
}

// tree gives an event as any JSON, to be spoiled.
func tree(t *testing.T, l journal.Line) map[string]any {
	t.Helper()
	var out map[string]any
	if err := json.Unmarshal(l.Event, &out); err != nil {
		t.Fatal(err)
	}
	return out
}

// Every part of every form of event left out in turn.
func TestVerifySurvivesEventsWithoutAPart(t *testing.T) {
	w := sample(t, false)
	whole, allowed := load(t, w.export()), w.allowed()
	tried := map[string]bool{}
	for n, l := range w.lines {
		form := fmt.Sprint(tree(t, l)["kind"], sortedNames(tree(t, l)))
		if tried[form] {
			continue
		}
		tried[form] = true
		for key := range tree(t, l) {
			spoiled := tree(t, l)
			delete(spoiled, key)
			if r := check(t, with(whole, NameJournal, chained(t, w.lines, n, spoiled)), allowed); r.Status == Verified {
				t.Errorf("line %d without %q is verified", n+1, key)
			}
		}
	}
}

// Values of every event replaced by chance, the same at each run. Nothing may
// panic, and none may pass as verified.
func TestVerifySurvivesHostileEvents(t *testing.T) {
	w := sample(t, false)
	whole, allowed := load(t, w.export()), w.allowed()
	rnd := rand.New(rand.NewPCG(1, 2))
	for n, l := range w.lines {
		for range 3 {
			tree := tree(t, l)
			spoil(tree, rnd)
			m := with(whole, NameJournal, chained(t, w.lines, n, tree))
			if r := check(t, m, allowed); r.Status == Verified {
				t.Errorf("line %d changed to %v is verified", n+1, tree)
			}
		}
	}
}

// spoil puts something that does not belong there in place of one value.
func spoil(tree map[string]any, rnd *rand.Rand) {
	keys := sortedNames(tree)
	key := keys[rnd.IntN(len(keys))]
	if inner, ok := tree[key].(map[string]any); ok && len(inner) > 0 && rnd.IntN(3) > 0 {
		spoil(inner, rnd)
		return
	}
	switch rnd.IntN(3) {
	case 0:
		tree[key] = []any{nil, -1, 1e300, "\u001b[31m", map[string]any{}, strings.Repeat("9", 400)}[rnd.IntN(6)]
	case 1:
		tree[key] = []string{"start", "add", "drop", "lay_down", "take_up", "answer", "reading", "settle", "decide", "stands", "confirm", "reopen", "strike", "look", "bench", "sign", "disagree", "closing.order", "work_done"}[rnd.IntN(19)]
	case 2:
		tree[key] = rnd.IntN(100) - 20
	}
}

// chained links the journal anew with one event replaced.
func chained(t *testing.T, lines []journal.Line, n int, tree map[string]any) []byte {
	t.Helper()
	spoiled, err := json.Marshal(tree)
	if err != nil {
		t.Fatal(err)
	}
	head := journal.EmptyHead()
	var out []journal.Line
	for i, l := range lines {
		event := l.Event
		if i == n {
			event = spoiled
		}
		line, err := journal.Encode(head, event)
		if err != nil {
			t.Fatal(err)
		}
		out, head = append(out, line), line.Head()
	}
	return journal.Join(out)
}

func FuzzVerify(f *testing.F) {
	w := sample(f, false)
	r := w.build()
	dir := filepath.Join(f.TempDir(), "record")
	if err := Export(dir, r, w.closing(r), w.allowed()); err != nil {
		f.Fatal(err)
	}
	whole, allowed := load(f, dir), w.allowed()
	for name, file := range whole {
		f.Add(name, file.Data)
	}
	f.Fuzz(func(t *testing.T, name string, data []byte) {
		if !fs.ValidPath(name) || name == "." {
			return
		}
		if old, ok := whole[name]; ok && string(old.Data) == string(data) {
			return
		}
		if r := check(t, with(whole, name, data), allowed); r.Status == Verified {
			t.Errorf("%q can be %q", name, data)
		}
	})
}
