package journal

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
)

var errDisk = errors.New("the disk failed")

// disk is a file system in memory that fails on demand and, at a crash, loses
// what was not synced.
type disk struct {
	files map[string]*diskFile // by name
	named map[string]*diskFile // names that survive a crash
	ops   int                  // operations that can fail, so far
	fail  func(op int) bool    // nil: never
	short bool                 // writes stop half way and say no error
}

type diskFile struct {
	disk   *disk
	data   []byte
	synced []byte
}

func newDisk() *disk {
	return &disk{files: map[string]*diskFile{}, named: map[string]*diskFile{}}
}

// withFile returns a disk on which one file lies safely.
func withFile(name string, data []byte) *disk {
	d := newDisk()
	f := &diskFile{disk: d, data: bytes.Clone(data), synced: bytes.Clone(data)}
	d.files[name], d.named[name] = f, f
	return d
}

func (d *disk) op() error {
	d.ops++
	if d.fail != nil && d.fail(d.ops) {
		return errDisk
	}
	return nil
}

func (d *disk) OpenFile(name string, flag int) (File, error) {
	if err := d.op(); err != nil {
		return nil, err
	}
	f, ok := d.files[name]
	switch {
	case ok && flag&os.O_EXCL != 0:
		return nil, fs.ErrExist
	case !ok && flag&os.O_CREATE == 0:
		return nil, fs.ErrNotExist
	case !ok:
		f = &diskFile{disk: d}
		d.files[name] = f
	}
	return f, nil
}

func (d *disk) SyncDir(dir string) error {
	if err := d.op(); err != nil {
		return err
	}
	for name, f := range d.files {
		if filepath.Dir(name) == dir {
			d.named[name] = f
		}
	}
	return nil
}

func (f *diskFile) ReadAt(p []byte, off int64) (int, error) {
	if err := f.disk.op(); err != nil {
		return 0, err
	}
	n := copy(p, f.data[min(off, int64(len(f.data))):])
	if n < len(p) {
		return n, io.EOF
	}
	return n, nil
}

// WriteAt writes half of the bytes before it fails, as a full disk does.
func (f *diskFile) WriteAt(p []byte, off int64) (int, error) {
	err := f.disk.op()
	if err != nil || f.disk.short {
		p = p[:len(p)/2]
	}
	f.data = append(bytes.Clone(f.data[:off]), p...)
	return len(p), err
}

func (f *diskFile) Size() (int64, error) { return int64(len(f.data)), f.disk.op() }

func (f *diskFile) Truncate(size int64) error {
	if err := f.disk.op(); err != nil {
		return err
	}
	f.data = bytes.Clone(f.data[:size])
	return nil
}

func (f *diskFile) Sync() error {
	if err := f.disk.op(); err != nil {
		return err
	}
	f.synced = bytes.Clone(f.data)
	return nil
}

func (f *diskFile) Close() error { return f.disk.op() }

// crash returns the disk as it may be found after the power went.
func (d *disk) crash(r *rand.Rand) *disk {
	after := newDisk()
	for _, name := range slices.Sorted(maps.Keys(d.files)) {
		f := d.files[name]
		if d.named[name] != f && r.IntN(2) == 0 {
			continue
		}
		data := f.afterCrash(r)
		g := &diskFile{disk: after, data: data, synced: bytes.Clone(data)}
		after.files[name], after.named[name] = g, g
	}
	return after
}

// afterCrash keeps what was synced and, of the rest, what chance leaves.
func (f *diskFile) afterCrash(r *rand.Rand) []byte {
	fresh, ok := bytes.CutPrefix(f.data, f.synced)
	if !ok {
		// Cut back, and the cut not synced: the old bytes may return.
		if r.IntN(2) == 0 {
			return bytes.Clone(f.synced)
		}
		return bytes.Clone(f.data)
	}
	kept := r.IntN(len(fresh) + 1)
	data := append(bytes.Clone(f.synced), fresh[:kept]...)
	if r.IntN(2) == 0 {
		data = append(data, make([]byte, len(fresh)-kept)...)
	}
	return data
}
