package store

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"runtime"
	"strings"

	"example.org/linewright/engine/journal"
)

// Edition is the edition of the store and wing files that this package writes
// and reads.
const Edition = 1

// Greatest sizes in bytes of what is read.
const (
	MaxSmall = 64 << 10 // settings, wing files, keys, signatures
	MaxText  = 1 << 20  // plans, procedures, allowed_signers
	MaxPhoto = 32 << 20
)

const storeFile = "store.toml"

// Store is an open store. Its methods may be called from several goroutines and
// processes.
type Store struct {
	dir   string // absolute
	root  *os.Root
	files journal.FS // the journals
	disk  disk       // all other files
}

// DefaultDir returns the user's data folder for linewright. It creates nothing.
func DefaultDir() (string, error) {
	return defaultDir(runtime.GOOS, os.Getenv, os.UserHomeDir)
}

func defaultDir(goos string, getenv func(string) string, home func() (string, error)) (string, error) {
	var base string
	switch goos {
	case "windows":
		base = getenv("LocalAppData")
	case "darwin":
	default:
		base = getenv("XDG_DATA_HOME")
		// The XDG specification has relative paths ignored.
		if !path.IsAbs(base) {
			base = ""
		}
	}
	if base != "" {
		return filepath.Join(base, "linewright"), nil
	}
	dir, err := home()
	if err != nil {
		return "", &Error{What: "no data folder is known for this user", Err: err,
			Do: "name one with --store or LINEWRIGHT_STORE"}
	}
	switch goos {
	case "windows":
		return filepath.Join(dir, "AppData", "Local", "linewright"), nil
	case "darwin":
		return filepath.Join(dir, "Library", "Application Support", "linewright"), nil
	}
	return filepath.Join(dir, ".local", "share", "linewright"), nil
}

// Open opens the store in dir. An absent or empty folder becomes a new store; a
// folder with other things in it is refused, and so is an edition that this
// program does not know (*EditionError).
func Open(dir string) (*Store, error) {
	abs, err := filepath.Abs(dir)
	if err == nil {
		err = makeFolder(abs)
	}
	if err != nil {
		return nil, &Error{Path: dir, What: "the store cannot be created", Err: err,
			Do: "choose a folder that you may write to, with --store"}
	}
	root, err := os.OpenRoot(abs)
	if err != nil {
		return nil, &Error{Path: dir, What: "the store cannot be opened", Err: err,
			Do: "choose another folder with --store"}
	}
	s := &Store{dir: abs, root: root, files: journal.Dir(root), disk: diskAt(root)}
	if err := s.begin(); err != nil {
		return nil, errors.Join(err, root.Close())
	}
	return s, nil
}

// begin checks the edition, or writes it to an empty folder.
func (s *Store) begin() error {
	data, err := readIn(s.root, storeFile, MaxSmall)
	if errors.Is(err, fs.ErrNotExist) {
		return s.found()
	}
	if err != nil {
		return s.fault(storeFile, "the store cannot be read", err, "choose another folder with --store")
	}
	var head struct {
		Edition *int64 `toml:"linewright_store"`
	}
	_, err = bound(s.path(storeFile), data, "linewright_store", &head, &head.Edition)
	return err
}

func (s *Store) found() error {
	entries, err := fs.ReadDir(s.root.FS(), ".")
	if err != nil {
		return s.fault(".", "the folder cannot be read", err, "choose another folder with --store")
	}
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), tempPrefix) {
			return s.fault(".", "the folder is neither empty nor a linewright store", nil,
				"choose another folder with --store")
		}
	}
	head := fmt.Appendf(nil, "linewright_store = %d\n", Edition)
	return s.write(storeFile, head, 0o644)
}

// Dir returns the folder of the store, absolute.
func (s *Store) Dir() string { return s.dir }

// Close gives the folder back. Open jobs are closed by their own Close.
func (s *Store) Close() error { return s.root.Close() }

// path returns the full path of a name in the store, for messages and for what
// can only work on paths.
func (s *Store) path(name string) string {
	return filepath.Join(s.dir, filepath.FromSlash(name))
}

func (s *Store) fault(name, what string, err error, do string) error {
	return &Error{Path: s.path(name), What: what, Err: err, Do: do}
}

// write replaces the file name and creates its folder when needed.
func (s *Store) write(name string, data []byte, perm os.FileMode) error {
	err := s.makeDir(path.Dir(name))
	if err == nil {
		err = replace(s.disk, name, all(data), perm)
	}
	if err != nil {
		return s.fault(name, "the file cannot be written", err,
			"the old file is as it was; make room on the disk or see that you may write there")
	}
	return nil
}

// read reads the file name, which has at most most bytes.
func (s *Store) read(name string, most int64) ([]byte, error) {
	data, err := readIn(s.root, name, most)
	if err != nil {
		do := "see that it is there and that you may read it"
		if errors.Is(err, errSize) {
			do = "see whether this is the right file"
		}
		return nil, s.fault(name, "the file cannot be read", err, do)
	}
	return data, nil
}

// readOptional is read, where an absent file is nil and no error.
func (s *Store) readOptional(name string, most int64) ([]byte, error) {
	data, err := s.read(name, most)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	return data, err
}

// readHashed reads a file that is named by its SHA-256 and checks it.
func (s *Store) readHashed(name, sha string, most int64) ([]byte, error) {
	data, err := s.read(name, most)
	if err != nil {
		return nil, err
	}
	if hashOf(data) != sha {
		return nil, s.fault(name, "the file was changed: it no longer has the SHA-256 of its name", nil,
			"put back an unchanged copy under this name")
	}
	return data, nil
}

// writeHashed keeps data under its SHA-256. An unchanged file is left alone.
func (s *Store) writeHashed(dir, ext string, data []byte) (sha string, err error) {
	sha = hashOf(data)
	name := path.Join(dir, sha+ext)
	if _, err := s.readHashed(name, sha, int64(len(data))); err == nil {
		return sha, nil
	}
	return sha, s.write(name, data, 0o644)
}

// makeDir creates folder name and those above it. Their names are synced in
// every case: another process may have created them a moment ago.
func (s *Store) makeDir(name string) error {
	if name == "." {
		return nil
	}
	if err := s.makeDir(path.Dir(name)); err != nil {
		return err
	}
	if err := s.root.Mkdir(name, 0o755); err != nil && !errors.Is(err, fs.ErrExist) {
		return err
	}
	return s.files.SyncDir(path.Dir(name))
}

// list returns the entries of a folder of the store in the order of their names.
// An absent folder is empty. What is hidden is left out.
func (s *Store) list(name string) ([]fs.DirEntry, error) {
	all, err := fs.ReadDir(s.root.FS(), name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, s.fault(name, "the folder cannot be read", err, "see that you may read it")
	}
	var shown []fs.DirEntry
	for _, e := range all {
		if !strings.HasPrefix(e.Name(), ".") {
			shown = append(shown, e)
		}
	}
	return shown, nil
}

func (s *Store) exists(name string) bool {
	_, err := s.root.Lstat(name)
	return err == nil
}
