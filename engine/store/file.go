package store

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"

	"example.org/linewright/engine/journal"
)

const tempPrefix = ".tmp-"

var errSize = errors.New("the file is too large")

// disk is what replacing a file needs. It is a seam for tests with disks that
// fail; rootDisk is the real one.
type disk interface {
	create(name string, perm os.FileMode) (file, error) // refuses a name that is taken
	Rename(from, to string) error
	Remove(name string) error
	SyncDir(name string) error
}

type file interface {
	io.WriteCloser
	Sync() error
}

type rootDisk struct {
	*os.Root
	journal.FS
}

func (d rootDisk) create(name string, perm os.FileMode) (file, error) {
	return d.Root.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, perm)
}

func diskAt(root *os.Root) disk { return rootDisk{root, journal.Dir(root)} }

// WriteFile replaces the file at path as a whole, or leaves it as it was. When
// it returns nil the new content survives a crash.
func WriteFile(path string, data []byte) error {
	return WriteFileBy(path, all(data))
}

// WriteFileBy is WriteFile for what is too large to be held: by writes the
// content, and when it fails the file stays as it was.
func WriteFileBy(path string, by func(io.Writer) error) error {
	root, err := os.OpenRoot(filepath.Dir(path))
	if err != nil {
		return err
	}
	return errors.Join(replace(diskAt(root), filepath.Base(path), by, 0o644), root.Close())
}

// all writes data.
func all(data []byte) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	}
}

// replace writes a new file beside the old one and puts it in its place.
func replace(d disk, name string, by func(io.Writer) error, perm os.FileMode) error {
	f, temp, err := createTemp(d, path.Dir(name), perm)
	if err != nil {
		return err
	}
	err = by(f)
	if err == nil {
		err = f.Sync()
	}
	err = errors.Join(err, f.Close())
	if err == nil {
		err = d.Rename(temp, name)
	}
	if err != nil {
		return errors.Join(err, d.Remove(temp))
	}
	return d.SyncDir(path.Dir(name))
}

// createTemp makes a new file in folder dir. The process number keeps two
// programs apart, the count two writers in one program and what an earlier crash
// left.
func createTemp(d disk, dir string, perm os.FileMode) (file, string, error) {
	for n := 1; ; n++ {
		name := path.Join(dir, fmt.Sprintf("%s%d-%d", tempPrefix, os.Getpid(), n))
		f, err := d.create(name, perm)
		if errors.Is(err, fs.ErrExist) && n < 10_000 {
			continue
		}
		return f, name, err
	}
}

// readIn reads a file under root that has at most most bytes.
func readIn(root *os.Root, name string, most int64) ([]byte, error) {
	// Asked first, since opening a pipe would wait for its other end.
	info, err := root.Stat(name)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, errors.New("not a regular file")
	}
	f, err := root.Open(name)
	if err != nil {
		return nil, err
	}
	data, err := readAtMost(f, most)
	return data, errors.Join(err, f.Close())
}

func readAtMost(r io.Reader, most int64) ([]byte, error) {
	data, err := io.ReadAll(io.LimitReader(r, most+1))
	if err != nil {
		return nil, err
	}
	if int64(len(data)) > most {
		return nil, fmt.Errorf("%w: more than %d bytes", errSize, most)
	}
	return data, nil
}

// makeFolder creates dir and the folders above it and makes their names survive
// a crash.
func makeFolder(dir string) error {
	if info, err := os.Stat(dir); err == nil && info.IsDir() {
		return nil
	}
	parent := filepath.Dir(dir)
	if parent != dir {
		if err := makeFolder(parent); err != nil {
			return err
		}
	}
	if err := os.Mkdir(dir, 0o700); err != nil && !errors.Is(err, fs.ErrExist) {
		return err
	}
	root, err := os.OpenRoot(parent)
	if err != nil {
		return err
	}
	return errors.Join(journal.Dir(root).SyncDir("."), root.Close())
}
