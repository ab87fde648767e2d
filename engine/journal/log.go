package journal

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
)

// ErrStopped says that an earlier write or sync of this log failed. The log
// takes no line until it is opened again.
var ErrStopped = errors.New("the journal is stopped after a failed write\n" +
	"open the job again; what said \"saved\" is kept")

// ErrClosed says that the log was closed.
var ErrClosed = errors.New("the journal is closed\nopen the job again")

// HeadError says that the journal has moved on since the caller looked. Nothing
// was written.
type HeadError struct{ Want, Have Head }

func (e *HeadError) Error() string {
	return fmt.Sprintf("the entry was made for journal line %d, but the next line is %d\n"+
		"nothing was written; look at the job again and repeat the entry", e.Want.N+1, e.Have.N+1)
}

// Recovery tells what Open had to mend.
type Recovery struct {
	Line     int    // number that the torn line would have had; 0: nothing was torn
	Bytes    int    // size of the torn line
	TornFile string // name of the file that keeps it, beside the journal
}

// Torn reports whether a torn line was set aside.
func (r Recovery) Torn() bool { return r.Line > 0 }

// Log is a journal that is open for writing. Its methods may be called from
// several goroutines; appends run one after the other.
type Log struct {
	mu    sync.Mutex
	file  File
	size  int64 // bytes up to the end of the last acknowledged line
	lines []Line
	stop  error // why no line is taken any more
}

// Open opens the journal at path for writing, creates it when it is absent, and
// recovers it as the package comment says. The caller holds a lock that keeps
// other writers out. It returns a *DamageError or an *EditionError when the
// content is refused; the file is unchanged then.
func Open(fsys FS, path string) (*Log, Recovery, error) {
	f, err := fsys.OpenFile(path, os.O_CREATE)
	if err != nil {
		return nil, Recovery{}, fmt.Errorf("the journal cannot be opened: %w\n"+
			"see that the folder exists and that you may write in it", err)
	}
	l := &Log{file: f}
	rec, err := l.recover(fsys, path)
	if err != nil {
		return nil, Recovery{}, errors.Join(err, f.Close())
	}
	return l, rec, nil
}

func (l *Log) recover(fsys FS, path string) (Recovery, error) {
	data, err := readAll(l.file)
	if err != nil {
		return Recovery{}, err
	}
	lines, torn, err := Parse(data)
	if err != nil {
		return Recovery{}, err
	}
	l.lines = lines
	l.size = int64(len(data) - len(torn))
	var rec Recovery
	if len(torn) > 0 {
		name, err := setAside(fsys, path, torn)
		if err != nil {
			return Recovery{}, fmt.Errorf("the unfinished last line of the journal cannot be set aside: %w\n"+
				"nothing was changed; make room on the disk and open the job again", err)
		}
		rec = Recovery{Line: len(lines) + 1, Bytes: len(torn), TornFile: name}
		if err := l.file.Truncate(l.size); err != nil {
			return Recovery{}, fmt.Errorf("the unfinished last line of the journal cannot be cut off: %w\n"+
				"see that you may write to the file and open the job again", err)
		}
	}
	if err := syncBoth(l.file, fsys, path); err != nil {
		return Recovery{}, fmt.Errorf("the journal cannot be synced to the disk: %w\n"+
			"nothing is lost; see to the disk and open the job again", err)
	}
	return rec, nil
}

// readAll reads the whole of f, if it is not too large.
func readAll(f File) ([]byte, error) {
	size, err := f.Size()
	if err != nil {
		return nil, fmt.Errorf("the journal cannot be read: %w\nsee to the disk and open the job again", err)
	}
	if size > MaxFile {
		return nil, fmt.Errorf("the journal has %d bytes, at most %d are read\n"+
			"see whether this is the right file", size, MaxFile)
	}
	data := make([]byte, size)
	if _, err := io.ReadFull(io.NewSectionReader(f, 0, size), data); err != nil {
		return nil, fmt.Errorf("the journal cannot be read: %w\nsee to the disk and open the job again", err)
	}
	return data, nil
}

// setAside keeps torn in a new file beside the journal and returns its name.
func setAside(fsys FS, path string, torn []byte) (string, error) {
	stem := strings.TrimSuffix(path, filepath.Ext(path))
	for n := 1; ; n++ {
		name := fmt.Sprintf("%s.torn-%d", stem, n)
		f, err := fsys.OpenFile(name, os.O_CREATE|os.O_EXCL)
		if errors.Is(err, fs.ErrExist) && n < 10_000 {
			continue
		}
		if err != nil {
			return "", err
		}
		_, err = f.WriteAt(torn, 0)
		if err == nil {
			err = syncBoth(f, fsys, name)
		}
		return name, errors.Join(err, f.Close())
	}
}

// syncBoth syncs a file and the folder that names it.
func syncBoth(f File, fsys FS, path string) error {
	if err := f.Sync(); err != nil {
		return err
	}
	return fsys.SyncDir(filepath.Dir(path))
}

// Append writes the line that carries event, syncs it and returns it. want is
// the head that the caller decided on. A *HeadError, an *EventError or a full
// journal writes nothing and the log goes on. Any other error stops the log: the
// line is not acknowledged and every later Append returns ErrStopped.
func (l *Log) Append(want Head, event json.RawMessage) (Line, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.stop != nil {
		return Line{}, l.stop
	}
	if have := l.head(); want != have {
		return Line{}, &HeadError{Want: want, Have: have}
	}
	line, err := Encode(want, event)
	if err != nil {
		return Line{}, err
	}
	data := append(line.Raw, '\n')
	if l.size+int64(len(data)) > MaxFile {
		return Line{}, fmt.Errorf("the journal is full: it would have more than %d bytes\n"+
			"close this job and go on in a new one", MaxFile)
	}
	if err := l.write(data); err != nil {
		l.stop = ErrStopped
		return Line{}, fmt.Errorf("journal line %d was not saved: %w\n"+
			"make room on the disk or see to it, then open the job again", line.N, err)
	}
	l.size += int64(len(data))
	l.lines = append(l.lines, line)
	return line, nil
}

// write puts data behind the acknowledged lines and syncs it.
func (l *Log) write(data []byte) error {
	size, err := l.file.Size()
	if err != nil {
		return err
	}
	if size != l.size {
		// Whatever stands there now is not ours to overwrite.
		return errors.New("another program has changed the file")
	}
	n, err := l.file.WriteAt(data, l.size)
	if err == nil && n < len(data) {
		err = io.ErrShortWrite
	}
	if err == nil {
		err = l.file.Sync()
	}
	if err != nil {
		// What of the line reached the file was never acknowledged. If it cannot
		// be cut off now, the next Open sees to it.
		_ = l.file.Truncate(l.size)
	}
	return err
}

// Lines returns all acknowledged lines. The caller does not change them.
func (l *Log) Lines() []Line {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.lines[:len(l.lines):len(l.lines)]
}

// Head returns the head of the acknowledged lines.
func (l *Log) Head() Head {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.head()
}

func (l *Log) head() Head {
	if len(l.lines) == 0 {
		return EmptyHead()
	}
	return l.lines[len(l.lines)-1].Head()
}

// Close closes the file. Everything acknowledged is on the disk already.
func (l *Log) Close() error {
	l.mu.Lock()
	defer l.mu.Unlock()
	if errors.Is(l.stop, ErrClosed) {
		return nil
	}
	l.stop = ErrClosed
	return l.file.Close()
}
