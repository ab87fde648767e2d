package store

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"os"
	"strings"
	"testing"

	"example.org/linewright/engine/journal"
)

// zipped makes a zip file as somebody else's program would.
func zipped(t testing.TB, parts []part, tweak func(*zip.FileHeader)) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, p := range parts {
		h := &zip.FileHeader{Name: p.name, Method: zip.Store}
		if tweak != nil {
			tweak(h)
		}
		w, err := z.CreateHeader(h)
		if err != nil {
			t.Fatal(err)
		}
		if strings.HasSuffix(p.name, "/") {
			continue // the library takes no content for a folder
		}
		if _, err := w.Write(p.data); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// refusedPack says that a pack is refused in words fit for a terminal, and which.
func refusedPack(t testing.TB, name string, data []byte, words string) {
	t.Helper()
	_, err := readPack(data)
	checkRefusal(t, name, err)
	if err != nil && !strings.Contains(err.Error(), words) {
		t.Errorf("%s: %q has not the words %q", name, err, words)
	}
}

func TestAPackByAnotherHandIsRead(t *testing.T) {
	s, what := away(t)
	unpack(t, zipped(t, partsOf(t, pack(t, s, 1, what)), nil))
}

func TestNamesInAPack(t *testing.T) {
	s, what := away(t)
	good := partsOf(t, pack(t, s, 1, what))
	sha := strings.Repeat("a", 64)
	names := []string{
		"closing/con.sig", "closing/COM1.sig", "closing/Doer.sig", "closing/.sig", "closing/a.b.sig", "closing/a/b.sig",
		"pinned/" + sha, "pinned/" + strings.ToUpper(sha) + ".toml", "pinned/../x.toml", "pinned/" + sha + ".toml/", "pinned//" + sha + ".toml",
		"photos/" + sha + ".JPG", "photos/" + sha + ".jpg/x", "photos/" + sha + ".exe", "photos/" + sha + ".jpg:x", "photos/" + sha + ".jpg ",
		"journal.jsonl.", "Journal.jsonl", "./journal.jsonl", "/journal.jsonl", "journal.torn-1", "lock", "holder", "wing", "wing/",
		"../../.ssh/authorized_keys", `wing\wing.toml`, "wing/x\x1b[2J.toml", "store.toml", "handover.toml\x00", "wing/wing.toml/..",
	}
	for _, name := range append(names, evilNames...) {
		// A name longer than a zip file can hold cannot be written.
		if len(name) < 1<<16 {
			refusedPack(t, clip(clean(name)), zipped(t, append([]part{{name, []byte("x")}}, good...), nil), "does not belong there")
		}
	}
	for _, p := range good {
		refusedPack(t, p.name+" twice", zipped(t, append([]part{p}, good...), nil), "is there twice")
	}
	needed := map[string]bool{packHead: true, packJournal: true, packPlan: true, packWing: true}
	for i, p := range good {
		without := append(append([]part{}, good[:i]...), good[i+1:]...)
		if needed[p.name] {
			refusedPack(t, "without "+p.name, zipped(t, without, nil), "the file "+p.name+" is not in it")
			continue
		}
		if p.name == "closing/doer.sig" {
			refusedPack(t, "without "+p.name, zipped(t, without, nil), "closing signatures are not those")
			continue
		}
		unpack(t, zipped(t, without, nil))
	}
}

func TestKindsOfFilesInAPack(t *testing.T) {
	s, what := away(t)
	good := partsOf(t, pack(t, s, 1, what))
	for name, c := range map[string]struct {
		tweak func(*zip.FileHeader)
		words string
	}{
		"a link":     {func(h *zip.FileHeader) { h.SetMode(os.ModeSymlink | 0o777) }, "is not a plain file"},
		"a folder":   {func(h *zip.FileHeader) { h.SetMode(os.ModeDir | 0o777) }, "is not a plain file"},
		"a pipe":     {func(h *zip.FileHeader) { h.SetMode(os.ModeNamedPipe | 0o777) }, "is not a plain file"},
		"a device":   {func(h *zip.FileHeader) { h.SetMode(os.ModeDevice | 0o777) }, "is not a plain file"},
		"compressed": {func(h *zip.FileHeader) { h.Method = zip.Deflate }, "is compressed or locked"},
		"locked":     {func(h *zip.FileHeader) { h.Flags |= 1 }, "is compressed or locked"},
	} {
		for _, p := range good {
			data := zipped(t, good, func(h *zip.FileHeader) {
				if h.Name == p.name {
					c.tweak(h)
				}
			})
			refusedPack(t, name+" as "+p.name, data, c.words)
		}
	}
}

// Whatever byte is changed or missing: the pack is refused, or it says the same.
func TestEachChangedByteOfAPack(t *testing.T) {
	s, what := away(t)
	good := pack(t, s, 1, what)
	want := unpack(t, good)
	for i := range good {
		for _, flip := range []byte{0x01, 0x80} {
			data := bytes.Clone(good)
			data[i] ^= flip
			p, err := readPack(data)
			if err != nil {
				checkRefusal(t, fmt.Sprint("byte ", i), err)
				continue
			}
			// Times and the names before the contents: the directory counts.
			if !samePack(p, want) {
				t.Fatalf("byte %d changed by %#x is taken and says something else", i, flip)
			}
		}
	}
	for n := range good {
		_, err := readPack(good[:n])
		checkRefusal(t, fmt.Sprint("cut at ", n), err)
	}
	for _, behind := range []string{"\x00", "x", string(good)} {
		data := append(bytes.Clone(good), behind...)
		if behind == string(good) {
			refusedPack(t, "one behind the other", data, "not the whole of it")
			continue
		}
		_, err := readPack(data)
		checkRefusal(t, "something behind it", err)
	}
}

func samePack(a, b *Packed) bool {
	one := func(p *Packed) string {
		return fmt.Sprint(p.Job, p.Wing.ID, p.Wing.Name, p.Wing.Serial, *p.Wing.HoursAtStart, p.Wing.Plan, p.Head,
			string(journal.Join(p.lines)), p.plan, p.loops, p.pinned, p.closing, p.PhotoNames())
	}
	return one(a) == one(b)
}

// A changed content whose check sum in the zip file was made to fit.
func TestChangedContentOfAPack(t *testing.T) {
	s, what := away(t)
	good := partsOf(t, pack(t, s, 1, what))
	for name, c := range map[string]struct{ file, old, new, words string }{
		"plan of the job":    {"pinned/" + what.Pinned[0] + ".toml", "plan", "plAn", "was changed"},
		"photo":              {"photos/" + what.Photos[0], "picture", "other", "was changed"},
		"plan of the wing":   {packPlan, "plan", "plAn", "wing/plan.toml in it was changed"},
		"wing":               {packWing, "serial", "seriall", "wing/wing.toml:4: seriall: the key is not known here"},
		"wing with escape":   {packWing, "Red", "\\u001b[2J", "control character"},
		"another wing":       {packWing, "\"red\"", "\"blue\"", "wing/wing.toml:2: id"},
		"wing of another":    {packHead, "red", "blue", "wing/wing.toml:2: id"},
		"wing leading out":   {packHead, "red", "../red", "handover.toml:3: wing: this is not the id of a wing"},
		"edition":            {packHead, "handover = 1", "handover = 2", "edition 2, this program reads edition 1"},
		"another role":       {packHead, "doer", "pilot", "closing signatures are not those"},
		"number of lines":    {packHead, "lines = 3", "lines = 2", "does not end where"},
		"head":               {packHead, "head = \"", "head = \"0", "does not end where"},
		"line":               {packJournal, "\"no\":1", "\"no\":7", "journal line 3 is damaged"},
		"last line":          {packJournal, "\"no\":2", "\"no\":7", "does not end where"},
		"line end":           {packJournal, "\"no\":2}}\n", "\"no\":2}}", "does not end where"},
		"edition of journal": {packJournal, "_journal\":1", "_journal\":2", "the journal has edition 2"},
	} {
		parts := append([]part{}, good...)
		done := false
		for i, p := range parts {
			if p.name == c.file {
				parts[i].data = []byte(strings.Replace(string(p.data), c.old, c.new, 1))
				done = !bytes.Equal(parts[i].data, p.data)
			}
		}
		if !done {
			t.Fatalf("%s: nothing was changed", name)
		}
		refusedPack(t, name, zipped(t, parts, nil), c.words)
	}
	var edition *EditionError
	parts := append([]part{}, good...)
	for i := range parts {
		if parts[i].name == packHead {
			parts[i].data = []byte("linewright_handover = 2\nnew = 1\n")
		}
	}
	if _, err := readPack(zipped(t, parts, nil)); !errors.As(err, &edition) {
		t.Errorf("another edition: %v", err)
	}
}

// raw makes a zip file out of a directory alone, which may tell anything.
func raw(entries []zip.FileHeader, names uint16) []byte {
	var b bytes.Buffer
	for _, h := range entries {
		b.WriteString("PK\x01\x02")
		for _, v := range []any{uint16(20), uint16(20), h.Flags, h.Method, uint16(0), uint16(0), h.CRC32, uint32(h.CompressedSize64),
			uint32(h.UncompressedSize64), uint16(len(h.Name)), uint16(0), uint16(0), uint16(0), uint16(0), uint32(0), uint32(0)} {
			_ = binary.Write(&b, binary.LittleEndian, v)
		}
		b.WriteString(h.Name)
	}
	size := uint32(b.Len())
	b.WriteString(endMark)
	for _, v := range []any{uint16(0), uint16(0), names, names, size, uint32(0), uint16(0)} {
		_ = binary.Write(&b, binary.LittleEndian, v)
	}
	return b.Bytes()
}

// The directory of a zip file goes into memory as a whole; how much is looked at
// before. 70 000 wraps round to 4464 in the field for the number.
func TestPacksOfManyFiles(t *testing.T) {
	var many []zip.FileHeader
	for n := range 70_000 {
		many = append(many, zip.FileHeader{Name: fmt.Sprintf("photos/%064x.jpg", n)})
	}
	refusedPack(t, "70 000 files", raw(many, 4464), "more than 10000 files")
	refusedPack(t, "10 001 files", raw(many[:10_001], 10_001), "more than 10000 files")
	refusedPack(t, "fewer than it says", raw(many[:5], 9000), "cannot be read")
	var parts []part
	for n := range 70_000 {
		parts = append(parts, part{fmt.Sprintf("photos/%064x.jpg", n), nil})
	}
	refusedPack(t, "70 000 files in the form for large files", zipped(t, parts, nil), "not the whole of it")
}

// A small file that says that it unpacks to a large one.
func TestZipBombs(t *testing.T) {
	s, what := away(t)
	good := partsOf(t, pack(t, s, 1, what))
	zeros := make([]byte, 64<<20)
	bomb := append([]part{{"photos/" + hashOf(zeros) + ".jpg", zeros}}, good...)
	refusedPack(t, "compressed zeros", zipped(t, bomb, func(h *zip.FileHeader) { h.Method = zip.Deflate }), "is compressed or locked")

	name := func(n int) string { return fmt.Sprintf("photos/%064x.jpg", n) }
	huge := zip.FileHeader{Name: name(0), CompressedSize64: MaxPhoto + 1, UncompressedSize64: MaxPhoto + 1}
	refusedPack(t, "a file too large", raw([]zip.FileHeader{huge}, 1), "is too large")
	beyond := zip.FileHeader{Name: name(0), CompressedSize64: 1 << 20, UncompressedSize64: 1 << 20}
	refusedPack(t, "a file larger than all", raw([]zip.FileHeader{beyond}, 1), "lies over another")
	two := zip.FileHeader{Name: name(0), CompressedSize64: 10, UncompressedSize64: 1 << 20}
	refusedPack(t, "two sizes", raw([]zip.FileHeader{two}, 1), "is compressed or locked")

	// Files that lie over each other are together more than the whole.
	var over []zip.FileHeader
	for n := range 100 {
		over = append(over, zip.FileHeader{Name: name(n), CompressedSize64: 9000, UncompressedSize64: 9000, CRC32: crc32.ChecksumIEEE(nil)})
	}
	refusedPack(t, "files over each other", raw(over, 100), "lies over another")

	// What is not a photo is held in memory.
	var small []zip.FileHeader
	for n := range 300 {
		small = append(small, zip.FileHeader{Name: fmt.Sprintf("pinned/%064x.toml", n), CompressedSize64: MaxText, UncompressedSize64: MaxText})
	}
	large := &holes{data: raw(small, 300), size: 1 << 30}
	_, err := ReadPacked(large, large.size)
	checkRefusal(t, "many plans", err)
	if err != nil && !strings.Contains(err.Error(), "makes more than 256 MiB") {
		t.Errorf("many plans: %v", err)
	}
	_, err = ReadPacked(bytes.NewReader(nil), MaxPack+1)
	checkRefusal(t, "larger than 4 GiB", err)
}

// holes is a large file of zeros with data at its end; the directory in it is
// moved there.
type holes struct {
	data []byte
	size int64
}

func (h *holes) ReadAt(p []byte, off int64) (int, error) {
	start := h.size - int64(len(h.data))
	binary.LittleEndian.PutUint32(h.data[len(h.data)-6:], uint32(start))
	for i := range p {
		p[i] = 0
		if at := off + int64(i) - start; at >= 0 {
			p[i] = h.data[at]
		}
	}
	return len(p), nil
}

// Whatever a file holds, reading it ends with a job or with a refusal that can be
// shown.
func FuzzPack(f *testing.F) {
	s, what := away(f)
	good := pack(f, s, 1, what)
	f.Add(good)
	f.Add(zipped(f, partsOf(f, good)[:3], nil))
	f.Add(raw([]zip.FileHeader{{Name: packHead}}, 1))
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := readPack(data)
		if err != nil {
			checkRefusal(t, "fuzzed", err)
			return
		}
		if len(p.Lines()) == 0 || checkID("id", p.Wing.ID) != nil || hashOf(p.plan) != p.Wing.Plan {
			t.Errorf("taken: %+v", p)
		}
	})
}
