package store

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"maps"
	"path"
	"slices"
	"strings"
	"time"

	"github.com/BurntSushi/toml"

	"example.org/linewright/engine/journal"
)

// The names in a packed job. Those of folders end in a slash.
const (
	packHead    = "handover.toml"
	packJournal = journalName
	packWing    = "wing/wing.toml"
	packPlan    = "wing/plan.toml"
	packLoops   = "wing/loops.toml"
	packPinned  = "pinned/"
	packPhotos  = "photos/"
	packClosing = "closing/"
)

// Greatest measures of a packed job. Nothing in it is compressed, so it has the
// size of what is in it.
const (
	MaxPack      = 4<<30 - 1 // bytes; what a zip file can have in its plain form
	maxPackNames = 10_000
	maxPackSmall = 256 << 20 // bytes of all but the photos
)

// packedAt is the time of every file in a packed job, so that the same job gives
// the same bytes. Nothing older can be told in a zip file.
var packedAt = time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)

// Packing says what of a job is packed. The caller finds it in the events, which
// this package does not look into.
type Packing struct {
	Job    int            // the number that the journal claims
	Wing   string         // id of its wing
	Lines  []journal.Line // the whole journal
	Pinned []string       // SHA-256 of the plan and the procedures
	Photos []string       // names as AddPhoto gave them
}

// handoverFile is handover.toml in the order in which it is written.
type handoverFile struct {
	Edition *int64   `toml:"linewright_handover"`
	Job     int      `toml:"job"`
	Wing    string   `toml:"wing"`
	Lines   int      `toml:"lines"`
	Head    string   `toml:"head"`
	Signed  []string `toml:"signed"`
}

// PackJob writes job no as one zip file, with the file, the plan in force and the
// loop table of its wing. The same job gives the same bytes. Call it with the
// lock held; what fails may leave w half written, so see WriteFileBy.
func (s *Store) PackJob(no int, what Packing, w io.Writer) error {
	small, err := s.smallParts(no, what)
	if err != nil {
		return err
	}
	size := int64(0)
	for _, data := range small {
		size += int64(len(data))
	}
	photos := slices.Compact(slices.Sorted(slices.Values(what.Photos)))
	if size > maxPackSmall || len(small)+len(photos) > maxPackNames {
		return cannotPack(no, fmt.Sprintf("it has more than %d files, or more than %d MiB without its photos", maxPackNames, maxPackSmall>>20))
	}
	for _, name := range photos {
		if _, ok := photoSHA(name); !ok {
			return noPhoto(name)
		}
		// One that is not there is told when it is read.
		if info, err := s.root.Stat(path.Join(jobPath(no), "photos", name)); err == nil {
			size += info.Size()
		}
	}
	// Each file has some bytes beside its content.
	if size > MaxPack-maxPackNames*1024 {
		return cannotPack(no, "its photos have more than 4 GiB")
	}
	return s.writePack(no, small, photos, w)
}

func cannotPack(no int, what string) error {
	return &Error{What: fmt.Sprintf("job %d cannot be packed: %s", no, what), Do: "go on with it on this machine"}
}

// smallParts reads everything but the photos, by its name in the pack.
func (s *Store) smallParts(no int, what Packing) (map[string][]byte, error) {
	if len(what.Lines) == 0 {
		return nil, cannotPack(no, "nothing is written in it")
	}
	wing, err := s.wingParts(what.Wing)
	if err != nil {
		return nil, err
	}
	parts := map[string][]byte{packJournal: journal.Join(what.Lines)}
	maps.Copy(parts, wing)
	for _, sha := range what.Pinned {
		if parts[packPinned+sha+".toml"], err = s.ReadPinned(no, sha); err != nil {
			return nil, err
		}
	}
	closing, err := s.ReadClosing(no)
	if err != nil {
		return nil, err
	}
	for role, sig := range closing {
		parts[packClosing+role+".sig"] = sig
	}
	parts[packHead], err = encodeHandover(what, slices.Sorted(maps.Keys(closing)))
	return parts, err
}

// wingParts reads the files of a wing that go with its job.
func (s *Store) wingParts(id string) (map[string][]byte, error) {
	w, err := s.Wing(id)
	if err != nil {
		return nil, err
	}
	parts := map[string][]byte{}
	if parts[packWing], err = encodeWing(w); err != nil {
		return nil, err
	}
	if parts[packPlan], err = s.PlanBytes(w); err != nil {
		return nil, err
	}
	loops, err := s.WingLoops(id)
	if loops != nil {
		parts[packLoops] = loops
	}
	return parts, err
}

func encodeHandover(what Packing, signed []string) ([]byte, error) {
	head := what.Lines[len(what.Lines)-1].Head()
	var text bytes.Buffer
	err := toml.NewEncoder(&text).Encode(handoverFile{edition(), what.Job, what.Wing, head.N, head.Hash, append([]string{}, signed...)})
	return text.Bytes(), err
}

// writePack writes the zip file, its names in order. Photos are read one at a
// time: together they can be large.
func (s *Store) writePack(no int, small map[string][]byte, photos []string, w io.Writer) error {
	names := slices.Collect(maps.Keys(small))
	for _, name := range photos {
		names = append(names, packPhotos+name)
	}
	slices.Sort(names)
	z := zip.NewWriter(w)
	for _, name := range names {
		data, ok := small[name]
		if !ok {
			var err error
			if data, err = s.ReadPhoto(no, strings.TrimPrefix(name, packPhotos)); err != nil {
				return err
			}
		}
		if err := addPart(z, name, data); err != nil {
			return notPacked(no, err)
		}
	}
	if err := z.Close(); err != nil {
		return notPacked(no, err)
	}
	return nil
}

func addPart(z *zip.Writer, name string, data []byte) error {
	part, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Store, Modified: packedAt})
	if err != nil {
		return err
	}
	_, err = part.Write(data)
	return err
}

func notPacked(no int, err error) error {
	return &Error{What: fmt.Sprintf("job %d cannot be packed", no), Err: err,
		Do: "see to the disk, then pack it again; the job is as it was"}
}
