package record

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"

	"example.org/linewright/engine/journal"
)

// What is read of a folder that a stranger gave. A folder beyond this is
// refused before its content is looked at.
const (
	maxNames   = 10_000    // in one folder
	maxSmall   = 1 << 20   // plan, procedures, signatures, allowed_signers, sums
	maxLarge   = 64 << 20  // record.json, record.txt
	maxPhoto   = 32 << 20  // as the store takes them
	maxContent = 256 << 20 // of all files but photos
)

// folder reads the files of a record. It opens plain files only, and only
// those whose name was listed, so no link and no name leads out of the folder.
type folder struct {
	fsys    fs.FS
	names   map[string]bool // plain files
	content map[string][]byte
	sums    map[string]string
	budget  int64
	findings
}

// openFolder lists a folder. The error is for a folder that cannot be read at
// all.
func openFolder(fsys fs.FS) (*folder, error) {
	f := &folder{fsys: fsys, names: map[string]bool{}, content: map[string][]byte{}, sums: map[string]string{}, budget: maxContent, findings: newFindings()}
	entries, err := f.list(".")
	if err != nil {
		return nil, &Error{What: "the folder cannot be read: " + firstLine(err), Do: "see that it is there and that you may read it", Err: err}
	}
	for _, e := range entries {
		name := e.Name()
		switch {
		case e.Type().IsRegular():
			f.names[name] = true
		case e.IsDir() && (name == dirProcedures || name == dirPhotos):
			f.sub(name)
		default:
			f.add(NotPlain, name)
		}
	}
	return f, nil
}

func (f *folder) sub(dir string) {
	entries, err := f.list(dir)
	if err != nil {
		f.add(Unreadable, dir)
	}
	for _, e := range entries {
		name := path.Join(dir, e.Name())
		if !e.Type().IsRegular() {
			f.add(NotPlain, name)
			continue
		}
		f.names[name] = true
	}
}

// list gives the entries of a folder, at most maxNames.
func (f *folder) list(dir string) ([]fs.DirEntry, error) {
	d, err := f.fsys.Open(dir)
	if err != nil {
		return nil, err
	}
	lister, ok := d.(fs.ReadDirFile)
	if !ok {
		return nil, errors.Join(errors.New("this is no folder"), d.Close())
	}
	entries, err := lister.ReadDir(maxNames + 1)
	if errors.Is(err, io.EOF) {
		err = nil
	}
	if len(entries) > maxNames {
		f.add(TooMany, dir, maxNames)
		entries = entries[:maxNames]
	}
	return entries, errors.Join(err, d.Close())
}

func limitOf(name string) int64 {
	switch {
	case name == NameJSON || name == NameText:
		return maxLarge
	case name == NameJournal:
		return journal.MaxFile
	case path.Dir(name) == dirPhotos:
		return maxPhoto
	}
	return maxSmall
}

// read gives a file's bytes; false where it is not there or cannot be read,
// which is noted once.
func (f *folder) read(name string) ([]byte, bool) {
	if data, ok := f.content[name]; ok {
		return data, data != nil
	}
	if !f.names[name] {
		return nil, false
	}
	data := []byte{}
	err := f.stream(name, min(limitOf(name), f.budget), func(r io.Reader) (err error) {
		data, err = io.ReadAll(r)
		return err
	})
	f.budget -= int64(len(data))
	if err != nil {
		data = nil
	}
	f.content[name] = data
	return data, err == nil
}

// sum gives a file's SHA-256 without keeping its bytes.
func (f *folder) sum(name string) (string, bool) {
	if sha, ok := f.sums[name]; ok {
		return sha, sha != ""
	}
	if data, ok := f.content[name]; ok {
		if data != nil {
			f.sums[name] = hashOf(data)
		}
		return f.sums[name], data != nil
	}
	if !f.names[name] {
		return "", false
	}
	h := sha256.New()
	f.sums[name] = ""
	if err := f.stream(name, limitOf(name), func(r io.Reader) error { _, err := io.Copy(h, r); return err }); err == nil {
		f.sums[name] = hex.EncodeToString(h.Sum(nil))
	}
	return f.sums[name], f.sums[name] != ""
}

// stream hands a file of at most most bytes to a reader, and notes what fails.
func (f *folder) stream(name string, most int64, use func(io.Reader) error) error {
	err := f.open(name, most, use)
	var large tooLarge
	switch {
	case errors.As(err, &large):
		f.add(TooLarge, name, int64(large))
	case err != nil:
		f.add(Unreadable, name)
	}
	return err
}

type tooLarge int64

func (t tooLarge) Error() string { return fmt.Sprintf("larger than %d bytes", int64(t)) }

func (f *folder) open(name string, most int64, use func(io.Reader) error) error {
	file, err := f.fsys.Open(name)
	if err != nil {
		return err
	}
	info, err := file.Stat()
	if err == nil && !info.Mode().IsRegular() {
		err = errors.New("no plain file")
	}
	limited := &io.LimitedReader{R: file, N: most + 1}
	if err == nil {
		err = use(limited)
	}
	if err == nil && limited.N == 0 {
		err = tooLarge(most)
	}
	return errors.Join(err, file.Close())
}
