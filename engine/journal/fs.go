package journal

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"syscall"
)

// File is what a log needs of an open file.
type File interface {
	io.ReaderAt
	io.WriterAt
	io.Closer
	Size() (int64, error)
	Truncate(size int64) error
	Sync() error
}

// FS is what a log needs of a file system. It is a seam for tests with disks
// that fail; Dir is the real one.
type FS interface {
	// OpenFile opens name for reading and writing. flag is 0, os.O_CREATE, or
	// os.O_CREATE|os.O_EXCL.
	OpenFile(name string, flag int) (File, error)
	// SyncDir makes the names of the files in folder name survive a crash.
	SyncDir(name string) error
}

// Dir returns the files under root. No name and no symbolic link leads out of
// it.
func Dir(root *os.Root) FS { return dirFS{root} }

type dirFS struct{ root *os.Root }

func (d dirFS) OpenFile(name string, flag int) (File, error) {
	// Opening a pipe would wait for its other end for ever.
	if info, err := d.root.Stat(name); err == nil && !info.Mode().IsRegular() {
		return nil, &os.PathError{Op: "open", Path: name, Err: errors.New("not a regular file")}
	}
	f, err := d.root.OpenFile(name, os.O_RDWR|flag, 0o644)
	if err != nil {
		return nil, err
	}
	return osFile{f}, nil
}

func (d dirFS) SyncDir(name string) error {
	// Windows has no sync of a folder; NTFS keeps the order of names by itself.
	if runtime.GOOS == "windows" {
		return nil
	}
	dir, err := d.root.Open(filepath.Clean(name))
	if err != nil {
		return err
	}
	err = dir.Sync()
	// Some network file systems know no sync of a folder. There is nothing to
	// wait for then.
	if errors.Is(err, syscall.EINVAL) || errors.Is(err, errors.ErrUnsupported) {
		err = nil
	}
	return errors.Join(err, dir.Close())
}

type osFile struct{ *os.File }

func (f osFile) Size() (int64, error) {
	info, err := f.Stat()
	if err != nil {
		return 0, err
	}
	return info.Size(), nil
}
