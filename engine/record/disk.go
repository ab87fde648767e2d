package record

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"syscall"
)

// disk is what an export does to a file system. It is a seam for tests with
// disks that fail.
type disk interface {
	Empty(dir string) (bool, error) // fs.ErrNotExist where nothing is there
	Mkdir(dir string) error
	WriteFile(name string, data []byte) error // a new file, synced
	SyncDir(dir string) error
	Remove(name string) error
	Rename(from, to string) error
	RemoveAll(dir string) error
}

type osDisk struct{}

func (osDisk) Empty(dir string) (bool, error) {
	info, err := os.Lstat(dir)
	if err != nil {
		return false, err
	}
	if !info.IsDir() {
		return false, fmt.Errorf("%s is no folder", dir)
	}
	names, err := os.ReadDir(dir)
	return len(names) == 0, err
}

func (osDisk) Mkdir(dir string) error       { return os.Mkdir(dir, 0o755) }
func (osDisk) Remove(name string) error     { return os.Remove(name) }
func (osDisk) Rename(from, to string) error { return os.Rename(from, to) }
func (osDisk) RemoveAll(dir string) error   { return os.RemoveAll(dir) }

func (osDisk) WriteFile(name string, data []byte) error {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if err == nil {
		err = f.Sync()
	}
	return errors.Join(err, f.Close())
}

func (osDisk) SyncDir(dir string) error {
	// Windows has no sync of a folder; NTFS keeps the order of names by itself.
	if runtime.GOOS == "windows" {
		return nil
	}
	f, err := os.Open(dir)
	if err != nil {
		return err
	}
	err = f.Sync()
	// Some network file systems know no sync of a folder.
	if errors.Is(err, syscall.EINVAL) || errors.Is(err, errors.ErrUnsupported) {
		err = nil
	}
	return errors.Join(err, f.Close())
}

// moveInto puts the finished folder in its place. An empty one that stands
// there is taken away first: not every system renames over it.
func moveInto(d disk, temp, dir string) error {
	if err := d.Remove(dir); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return d.Rename(temp, dir)
}

// writer writes the files of one folder and stops at the first fault.
type writer struct {
	disk    disk
	dir     string
	sums    map[string]string
	folders []string
	err     error
}

func (w *writer) folder(name string) {
	if w.err == nil {
		w.err = w.disk.Mkdir(filepath.Join(w.dir, name))
		w.folders = append(w.folders, name)
	}
}

func (w *writer) file(name string, data []byte) {
	if w.err == nil {
		w.err = w.disk.WriteFile(filepath.Join(w.dir, filepath.FromSlash(name)), data)
		w.sums[name] = hashOf(data)
	}
}
