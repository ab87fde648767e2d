package store

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"example.org/linewright/engine/journal"
)

// Packed is a packed job that was checked: every file is one that belongs there
// and is whole, and the journal is one chain. Whether the files are those that
// the events name is for the caller to see.
type Packed struct {
	Job  int    // the number that its journal claims
	Wing Wing   // as its file says
	Head string // SHA-256 of the last line of its journal

	lines   []journal.Line
	plan    []byte // in force for the wing
	loops   []byte // nil: none measured
	pinned  map[string][]byte
	closing map[string][]byte
	photos  map[string]*zip.File
}

// Lines returns the journal. The caller does not change it.
func (p *Packed) Lines() []journal.Line { return p.lines }

// Pinned returns a plan or procedure by its SHA-256.
func (p *Packed) Pinned(sha string) ([]byte, error) {
	data, ok := p.pinned[sha]
	if !ok {
		return nil, badPack(fmt.Sprintf("the plan or procedure %q is not in it", clip(sha)), nil)
	}
	return data, nil
}

// PinnedNames returns the SHA-256 of all plans and procedures, in order.
func (p *Packed) PinnedNames() []string { return slices.Sorted(maps.Keys(p.pinned)) }

// PhotoNames returns the names of all photos, in order.
func (p *Packed) PhotoNames() []string { return slices.Sorted(maps.Keys(p.photos)) }

// ReadPacked checks a packed job in r, which has size bytes, and reads it but for
// the photos, so r has to stay open until TakeJob is done. The file may be a
// hostile one: nothing is written, no name of it is used as a path, and no more
// is held than maxPackSmall. What PackJob does not write is refused.
func ReadPacked(r io.ReaderAt, size int64) (*Packed, error) {
	if what := badEnd(r, size); what != "" {
		return nil, badPack(what, nil)
	}
	z, err := zip.NewReader(r, size)
	if err != nil {
		return nil, badPack("it cannot be read", err)
	}
	files, err := sorted(z.File, size)
	if err != nil {
		return nil, err
	}
	return open(files)
}

// badPack says why a packed job is refused.
func badPack(what string, err error) error {
	return &Error{What: "this is not a packed job that can be taken up: " + what, Err: err,
		Do: "have the job packed again where it comes from, and take that file as it is"}
}

// A zip file ends with this record; PackJob writes no remark behind it. The
// record of larger files stands before it, behind a record of its own.
const (
	endLen, endMark    = 22, "PK\x05\x06"
	largeLen, largeEnd = 20, "PK\x06\x07"
	// Fields of a file in the directory, the longest name that is known, and
	// the time.
	maxDirectory = maxPackNames * (46 + 128 + 16)
)

// badEnd looks at the end of a zip file before its directory is read: the
// library reads as many names as there are, and they all go into memory.
func badEnd(r io.ReaderAt, size int64) string {
	const notZip = "it is no zip file, or not the whole of it"
	if size > MaxPack {
		return fmt.Sprintf("it has %d bytes, at most %d are read", size, int64(MaxPack))
	}
	if size < endLen+largeLen {
		return notZip
	}
	tail := make([]byte, endLen+largeLen)
	if n, err := r.ReadAt(tail, size-int64(len(tail))); n < len(tail) {
		return fmt.Sprintf("it cannot be read: %s", cause(err))
	}
	end := tail[largeLen:]
	remark := binary.LittleEndian.Uint16(end[20:])
	if string(end[:4]) != endMark || remark != 0 || string(tail[:4]) == largeEnd {
		return notZip
	}
	names := binary.LittleEndian.Uint16(end[10:])
	length, start := binary.LittleEndian.Uint32(end[12:]), binary.LittleEndian.Uint32(end[16:])
	switch {
	case names > maxPackNames || length > maxDirectory:
		return fmt.Sprintf("it has more than %d files", maxPackNames)
	case int64(start)+int64(length)+endLen != size:
		return notZip
	}
	return ""
}

// sorted looks at the directory of a zip file and gives its files by name.
func sorted(all []*zip.File, size int64) (map[string]*zip.File, error) {
	files := map[string]*zip.File{}
	room, small := uint64(size), uint64(maxPackSmall)
	for _, f := range all {
		most := mostOf(f.Name)
		var what string
		switch {
		case most == 0:
			what = "does not belong there"
		case files[f.Name] != nil:
			what = "is there twice"
		case !f.Mode().IsRegular():
			what = "is not a plain file"
		case f.Method != zip.Store || f.Flags&^0x8 != 0 || f.CompressedSize64 != f.UncompressedSize64:
			what = "is compressed or locked"
		case f.UncompressedSize64 > most:
			what = "is too large"
		// Files that lie over each other would come to more than there is.
		case f.UncompressedSize64 > room:
			what = "lies over another"
		case !strings.HasPrefix(f.Name, packPhotos) && f.UncompressedSize64 > small:
			what = fmt.Sprintf("makes more than %d MiB without the photos", maxPackSmall>>20)
		}
		if what != "" {
			return nil, badPack(fmt.Sprintf("the file %q in it %s", clip(f.Name), what), nil)
		}
		files[f.Name] = f
		room -= f.UncompressedSize64
		if !strings.HasPrefix(f.Name, packPhotos) {
			small -= f.UncompressedSize64
		}
	}
	return files, nil
}

// mostOf returns how many bytes a file of a packed job may have; 0 for a name
// that is not known. No other name is ever used.
func mostOf(name string) uint64 {
	folder, rest, _ := strings.Cut(name, "/")
	switch folder + "/" {
	case packPinned:
		if sha, ok := strings.CutSuffix(rest, ".toml"); ok && isSHA(sha) {
			return MaxText
		}
		return 0
	case packPhotos:
		if _, ok := photoSHA(rest); ok {
			return MaxPhoto
		}
		return 0
	case packClosing:
		if role, ok := strings.CutSuffix(rest, ".sig"); ok && checkID("role of a signature", role) == nil {
			return MaxSmall
		}
		return 0
	}
	switch name {
	case packHead, packWing, packLoops:
		return MaxSmall
	case packPlan:
		return MaxText
	case packJournal:
		return journal.MaxFile
	}
	return 0
}

// open reads the files of a packed job and checks each of them.
func open(files map[string]*zip.File) (*Packed, error) {
	p := &Packed{pinned: map[string][]byte{}, closing: map[string][]byte{}, photos: map[string]*zip.File{}}
	single := map[string][]byte{}
	for _, name := range slices.Sorted(maps.Keys(files)) {
		data, err := readPart(files[name])
		if err != nil {
			return nil, err
		}
		folder, rest, _ := strings.Cut(name, "/")
		switch folder + "/" {
		case packPinned:
			sha := strings.TrimSuffix(rest, ".toml")
			if hashOf(data) != sha {
				return nil, changed(name)
			}
			p.pinned[sha] = data
		case packPhotos:
			if sha, _ := photoSHA(rest); sha != hashOf(data) {
				return nil, changed(name)
			}
			p.photos[rest] = files[name]
		case packClosing:
			p.closing[strings.TrimSuffix(rest, ".sig")] = data
		default:
			single[name] = data
		}
	}
	return p, p.take(single)
}

func changed(name string) error {
	return badPack("the file "+name+" in it was changed", nil)
}

func readPart(f *zip.File) ([]byte, error) {
	r, err := f.Open()
	if err != nil {
		return nil, badPack("the file "+f.Name+" in it cannot be read", err)
	}
	data := bytes.NewBuffer(make([]byte, 0, min(f.UncompressedSize64+1, 1<<20)))
	_, err = io.Copy(data, r)
	if err != nil {
		return nil, badPack("the file "+f.Name+" in it cannot be read", err)
	}
	return data.Bytes(), r.Close()
}

// take reads the files that a packed job has one of, and holds them against
// each other.
func (p *Packed) take(files map[string][]byte) error {
	for _, name := range []string{packHead, packJournal, packPlan, packWing} {
		if files[name] == nil {
			return badPack("the file "+name+" is not in it", nil)
		}
	}
	var head handoverFile
	f, err := bound(packHead, files[packHead], "linewright_handover", &head, &head.Edition)
	if err != nil {
		return err
	}
	if checkID("id of a wing", head.Wing) != nil {
		return f.fault(&Error{Key: "wing", What: "this is not the id of a wing", Do: "have the job packed again"})
	}
	lines, torn, err := journal.Parse(files[packJournal])
	if err != nil {
		return badPack("its journal cannot be read", err)
	}
	if torn != nil || len(lines) == 0 || lines[len(lines)-1].Head() != (journal.Head{N: head.Lines, Hash: head.Head}) {
		return badPack("its journal does not end where "+packHead+" says", nil)
	}
	// No hash stands for a role: it is in the name of its file alone.
	if !slices.Equal(head.Signed, slices.Sorted(maps.Keys(p.closing))) {
		return badPack("its closing signatures are not those that "+packHead+" says", nil)
	}
	if p.Wing, err = decodeWing(packWing, files[packWing], head.Wing); err != nil {
		return err
	}
	if hashOf(files[packPlan]) != p.Wing.Plan {
		return changed(packPlan)
	}
	p.Job, p.Head, p.lines, p.plan, p.loops = head.Job, head.Head, lines, files[packPlan], files[packLoops]
	return nil
}
