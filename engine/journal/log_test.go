package journal

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const name = "journal.jsonl"

func mustOpen(t testing.TB, fsys FS) (*Log, Recovery) {
	t.Helper()
	l, rec, err := Open(fsys, name)
	if err != nil {
		t.Fatal(err)
	}
	return l, rec
}

func TestAppendOnARealDisk(t *testing.T) {
	dir := t.TempDir()
	root, err := os.OpenRoot(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer root.Close()
	l, rec := mustOpen(t, Dir(root))
	if rec.Torn() || l.Head() != EmptyHead() {
		t.Fatalf("new journal: recovery %+v, head %+v", rec, l.Head())
	}
	for _, e := range events {
		before := l.Head()
		line, err := l.Append(before, json.RawMessage(e))
		if err != nil {
			t.Fatal(err)
		}
		if line.Prev != before.Hash || line.Head() != l.Head() {
			t.Errorf("line %d: prev %s after head %+v, head now %+v", line.N, line.Prev, before, l.Head())
		}
	}
	if err := errors.Join(l.Close(), l.Close()); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(filepath.Join(dir, name))
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(data, Join(chain(t, events...))) {
		t.Errorf("the file holds\n%s", data)
	}
	again, _ := mustOpen(t, Dir(root))
	defer again.Close()
	if len(again.Lines()) != len(events) || !bytes.Equal(Join(again.Lines()), data) {
		t.Errorf("read again: %d lines", len(again.Lines()))
	}
}

func TestTornLineOnARealDisk(t *testing.T) {
	dir := t.TempDir()
	root, err := os.OpenRoot(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer root.Close()
	whole := Join(chain(t, events[:2]...))
	for i, torn := range []string{`{"n":3,"prev"`, "\x00\x00\x00"} {
		if err := os.WriteFile(filepath.Join(dir, name), append(bytes.Clone(whole), torn...), 0o644); err != nil {
			t.Fatal(err)
		}
		l, rec := mustOpen(t, Dir(root))
		want := Recovery{Line: 3, Bytes: len(torn), TornFile: fmt.Sprintf("journal.torn-%d", i+1)}
		if rec != want {
			t.Errorf("recovery %+v, want %+v", rec, want)
		}
		kept, err := os.ReadFile(filepath.Join(dir, want.TornFile))
		if err != nil || string(kept) != torn {
			t.Errorf("kept %q, error %v", kept, err)
		}
		if _, err := l.Append(l.Head(), json.RawMessage(`{"after":"tear"}`)); err != nil {
			t.Error(err)
		}
		if err := l.Close(); err != nil {
			t.Error(err)
		}
		again, rec := mustOpen(t, Dir(root))
		if rec.Torn() || again.Head().N != 3 {
			t.Errorf("opened again: recovery %+v, head %+v", rec, again.Head())
		}
		if err := again.Close(); err != nil {
			t.Error(err)
		}
	}
}

// A cut at any byte keeps every line before it, and keeps the cut bytes too.
func TestCutAtEveryByte(t *testing.T) {
	good := Join(chain(t, events...))
	for cut := range len(good) + 1 {
		data := good[:cut]
		whole := bytes.Count(data, []byte("\n"))
		d := withFile(name, data)
		l, rec := mustOpen(t, d)
		if l.Head().N != whole || !bytes.HasPrefix(data, Join(l.Lines())) {
			t.Fatalf("cut at %d: %d lines, want %d", cut, l.Head().N, whole)
		}
		left := data[len(Join(l.Lines())):]
		if rec.Torn() != (len(left) > 0) || rec.Bytes != len(left) {
			t.Fatalf("cut at %d: recovery %+v with %d bytes over", cut, rec, len(left))
		}
		if rec.Torn() && (rec.Line != whole+1 || !bytes.Equal(d.files[rec.TornFile].synced, left)) {
			t.Fatalf("cut at %d: recovery %+v, kept %q", cut, rec, d.files[rec.TornFile].synced)
		}
		if _, err := l.Append(l.Head(), json.RawMessage(`{}`)); err != nil {
			t.Fatalf("cut at %d: %v", cut, err)
		}
	}
}

func TestDamageIsRefusedAndLeftAlone(t *testing.T) {
	good := Join(chain(t, events...))
	bad := bytes.Replace(good, []byte("4205000"), []byte("4206000"), 1)
	bad = append(bad, "torn"...)
	d := withFile(name, bad)
	_, _, err := Open(d, name)
	var damage *DamageError
	if !errors.As(err, &damage) || damage.Line != 3 {
		t.Fatalf("error %v", err)
	}
	if !bytes.Equal(d.files[name].data, bad) || len(d.files) != 1 {
		t.Error("the damaged file was touched")
	}
}

func TestAppendRefusesAnOldHead(t *testing.T) {
	l, _ := mustOpen(t, newDisk())
	if _, err := l.Append(EmptyHead(), json.RawMessage(`{}`)); err != nil {
		t.Fatal(err)
	}
	have := l.Head()
	for _, want := range []Head{EmptyHead(), {}, {N: 1, Hash: ZeroHash}, {N: 2, Hash: have.Hash}} {
		_, err := l.Append(want, json.RawMessage(`{}`))
		var moved *HeadError
		if !errors.As(err, &moved) || moved.Want != want || moved.Have != have {
			t.Errorf("%+v: error %v", want, err)
		}
	}
	var refused *EventError
	if _, err := l.Append(have, json.RawMessage(`[]`)); !errors.As(err, &refused) {
		t.Errorf("bad event: error %v", err)
	}
	if _, err := l.Append(have, json.RawMessage(`{}`)); err != nil {
		t.Errorf("after refusals the log goes on, but: %v", err)
	}
}

func TestLinesIsNotChangedByLaterAppends(t *testing.T) {
	l, _ := mustOpen(t, newDisk())
	for range 3 {
		if _, err := l.Append(l.Head(), json.RawMessage(`{}`)); err != nil {
			t.Fatal(err)
		}
	}
	three := l.Lines()
	if _, err := l.Append(l.Head(), json.RawMessage(`{}`)); err != nil {
		t.Fatal(err)
	}
	_ = append(three, Line{N: 99})
	if len(three) != 3 || l.Lines()[3].N != 4 {
		t.Errorf("%d lines before, line 4 has number %d", len(three), l.Lines()[3].N)
	}
}

func TestClosedLogTakesNothing(t *testing.T) {
	l, _ := mustOpen(t, newDisk())
	if err := l.Close(); err != nil {
		t.Fatal(err)
	}
	if _, err := l.Append(l.Head(), json.RawMessage(`{}`)); !errors.Is(err, ErrClosed) {
		t.Errorf("error %v", err)
	}
}

// Somebody saved the file from an editor while it was open: their bytes are not
// overwritten.
func TestChangeFromOutsideStopsTheLog(t *testing.T) {
	d := newDisk()
	l, _ := mustOpen(t, d)
	f := d.files[name]
	f.data = append(f.data, "from outside\n"...)
	_, err := l.Append(l.Head(), json.RawMessage(`{}`))
	if err == nil || !strings.Contains(err.Error(), "another program has changed the file") {
		t.Errorf("error %v", err)
	}
	if _, err := l.Append(l.Head(), json.RawMessage(`{}`)); !errors.Is(err, ErrStopped) {
		t.Errorf("second append: error %v", err)
	}
	if string(f.data) != "from outside\n" {
		t.Errorf("the file holds %q", f.data)
	}
}

func TestFullDiskLeavesNoHalfLine(t *testing.T) {
	d := newDisk()
	l, _ := mustOpen(t, d)
	if _, err := l.Append(l.Head(), json.RawMessage(`{"kept":1}`)); err != nil {
		t.Fatal(err)
	}
	before := bytes.Clone(d.files[name].data)
	size := d.ops + 1 // asked first, then the write
	d.fail = func(op int) bool { return op == size+1 }
	if _, err := l.Append(l.Head(), json.RawMessage(`{"lost":1}`)); !errors.Is(err, errDisk) {
		t.Fatalf("error %v", err)
	}
	if !bytes.Equal(d.files[name].data, before) {
		t.Errorf("the file holds %q", d.files[name].data)
	}
	again, rec := mustOpen(t, d)
	if rec.Torn() || again.Head() != l.Head() {
		t.Errorf("recovery %+v, head %+v, want %+v", rec, again.Head(), l.Head())
	}
}

func TestShortWriteIsAFailure(t *testing.T) {
	d := newDisk()
	l, _ := mustOpen(t, d)
	d.short = true
	if _, err := l.Append(l.Head(), json.RawMessage(`{}`)); !errors.Is(err, io.ErrShortWrite) {
		t.Errorf("error %v", err)
	}
	if len(d.files[name].data) != 0 || l.Head().N != 0 {
		t.Errorf("the file holds %q, head %+v", d.files[name].data, l.Head())
	}
}

func TestFullJournalIsRefusedAndGoesOn(t *testing.T) {
	l, _ := mustOpen(t, newDisk())
	l.size = MaxFile - 10
	_, err := l.Append(l.Head(), json.RawMessage(`{}`))
	if err == nil || !strings.Contains(err.Error(), "the journal is full") {
		t.Errorf("error %v", err)
	}
	l.size = 0
	if _, err := l.Append(l.Head(), json.RawMessage(`{}`)); err != nil {
		t.Errorf("a full journal is no failed disk, but: %v", err)
	}
}

func TestWhatIsNoFileIsRefused(t *testing.T) {
	dir := t.TempDir()
	root, err := os.OpenRoot(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer root.Close()
	if err := os.Mkdir(filepath.Join(dir, name), 0o755); err != nil {
		t.Fatal(err)
	}
	if _, _, err := Open(Dir(root), name); err == nil || !strings.Contains(err.Error(), "not a regular file") {
		t.Errorf("error %v", err)
	}
}

func TestTooLargeFileIsNotRead(t *testing.T) {
	d := withFile(name, make([]byte, MaxFile+1))
	if _, _, err := Open(d, name); err == nil || !strings.Contains(err.Error(), "at most 67108864 are read") {
		t.Errorf("error %v", err)
	}
}

func BenchmarkAppend(b *testing.B) {
	root, err := os.OpenRoot(b.TempDir())
	if err != nil {
		b.Fatal(err)
	}
	defer root.Close()
	l, _ := mustOpen(b, Dir(root))
	defer l.Close()
	event := json.RawMessage(events[1])
	b.ReportAllocs()
	for b.Loop() {
		if _, err := l.Append(l.Head(), event); err != nil {
			b.Fatal(err)
		}
	}
}
