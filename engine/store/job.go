package store

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"iter"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/gofrs/flock"

	"example.org/linewright/engine/journal"
)

// MaxJob is the greatest number of a job.
const MaxJob = 999_999

const journalName = "journal.jsonl"

func jobPath(no int) string     { return path.Join("jobs", fmt.Sprintf("%04d", no)) }
func journalPath(no int) string { return path.Join(jobPath(no), journalName) }

// JobDir is a job that is open for writing; it holds the lock until Close. Reading
// goes through the Store and needs no lock.
type JobDir struct {
	store    *Store
	no       int
	lock     *flock.Flock
	log      *journal.Log
	recovery journal.Recovery
}

// NewJob creates the next job and opens it. Numbers are not used twice, also
// when several programs ask at once.
func (s *Store) NewJob(holder string) (*JobDir, error) { return s.newJob(0, holder) }

// newJob creates a job, with the number want if no job has it.
func (s *Store) newJob(want int, holder string) (*JobDir, error) {
	if err := s.makeDir("jobs"); err != nil {
		return nil, s.fault("jobs", "the folder cannot be created", err, "see that you may write there")
	}
	taken, err := s.JobFolders()
	if err != nil {
		return nil, err
	}
	for no := range numbers(want, taken) {
		err := s.root.Mkdir(jobPath(no), 0o755)
		if errors.Is(err, fs.ErrExist) {
			continue
		}
		if err != nil {
			return nil, s.fault(jobPath(no), "the job cannot be created", err,
				"make room on the disk or see that you may write there")
		}
		return s.OpenJob(no, holder)
	}
	return nil, s.fault("jobs", "there is no number left for a job", nil, "begin a new store with --store")
}

// numbers gives the numbers to try for a new job: the wanted one, those behind
// all that are taken, and, when a job from elsewhere has brought the greatest
// number, those between.
func numbers(want int, taken []int) iter.Seq[int] {
	return func(yield func(int) bool) {
		greatest := 0
		if len(taken) > 0 {
			greatest = taken[len(taken)-1]
		}
		if want > 0 && want <= MaxJob && !yield(want) {
			return
		}
		for no := greatest + 1; no <= MaxJob; no++ {
			if !yield(no) {
				return
			}
		}
		for no := 1; no < greatest; no++ {
			if _, found := slices.BinarySearch(taken, no); !found && !yield(no) {
				return
			}
		}
	}
}

// OpenJob opens a job for writing. holder is the name that others are told. It
// returns a *LockedError when the job is open elsewhere, and what journal.Open
// returns when the journal is damaged.
func (s *Store) OpenJob(no int, holder string) (*JobDir, error) {
	if no < 1 || no > MaxJob || !s.exists(jobPath(no)) {
		return nil, noJob(no)
	}
	// Another process may have created the folder a moment ago.
	if err := s.files.SyncDir("jobs"); err != nil {
		return nil, s.fault("jobs", "the folder cannot be synced to the disk", err, "see to the disk and try again")
	}
	lock, err := s.lockJob(no, holder)
	if err != nil {
		return nil, err
	}
	j := &JobDir{store: s, no: no, lock: lock}
	if err := j.openLog(); err != nil {
		return nil, errors.Join(err, j.release())
	}
	return j, nil
}

func noJob(no int) error {
	return &Error{What: fmt.Sprintf("there is no job %d", no), Err: fs.ErrNotExist,
		Do: "linewright job list shows the jobs"}
}

func (j *JobDir) openLog() (err error) {
	name := journalPath(j.no)
	j.log, j.recovery, err = journal.Open(j.store.files, name)
	if err != nil {
		return fmt.Errorf("%s: %w", j.store.path(name), err)
	}
	return nil
}

// No returns the number of the job.
func (j *JobDir) No() int { return j.no }

// Log returns the journal of the job. Reopen replaces it.
func (j *JobDir) Log() *journal.Log { return j.log }

// Recovery tells what the last opening of the journal had to mend.
func (j *JobDir) Recovery() journal.Recovery { return j.recovery }

// Reopen opens the journal again after a failed write, under the same lock.
// When it fails the log stays stopped and Reopen may be called again.
func (j *JobDir) Reopen() error {
	if err := j.held(); err != nil {
		return err
	}
	old := j.log
	// A failed write has been told already; what counts is what is read now.
	_ = old.Close()
	if err := j.openLog(); err != nil {
		j.log = old
		return err
	}
	return nil
}

// Close closes the journal and releases the lock. A second Close does nothing.
func (j *JobDir) Close() error {
	if !j.lock.Locked() {
		return nil
	}
	return errors.Join(j.log.Close(), j.release())
}

func (j *JobDir) release() error {
	// Only a courtesy file; a stale one is read by nobody.
	_ = j.store.root.Remove(holderPath(j.no))
	return j.lock.Unlock()
}

func (j *JobDir) held() error {
	if j.lock.Locked() {
		return nil
	}
	return &Error{What: fmt.Sprintf("job %d is closed", j.no), Do: "open it again"}
}

// Pin keeps a plan or a procedure with the job and returns its SHA-256.
func (j *JobDir) Pin(data []byte) (sha string, err error) {
	if err := j.held(); err != nil {
		return "", err
	}
	if len(data) > MaxText {
		return "", tooLarge("the file to keep with the job", MaxText)
	}
	return j.store.writeHashed(path.Join(jobPath(j.no), "pinned"), ".toml", data)
}

// Pinned returns a pinned file and checks its SHA-256.
func (j *JobDir) Pinned(sha string) ([]byte, error) { return j.store.ReadPinned(j.no, sha) }

var photoExt = map[string]string{".jpg": ".jpg", ".jpeg": ".jpg", ".png": ".png", ".heic": ".heic"}

// AddPhoto copies the photo at file, a path anywhere on this machine, into the
// job. It returns the SHA-256 of the photo and its name in the job.
func (j *JobDir) AddPhoto(file string) (sha, name string, err error) {
	if err := j.held(); err != nil {
		return "", "", err
	}
	ext, ok := photoExt[strings.ToLower(filepath.Ext(file))]
	if !ok {
		return "", "", &Error{Path: file, What: "this is not known as a photo", Do: "give a jpg, png or heic file"}
	}
	data, err := readAnywhere(file, MaxPhoto)
	if err != nil {
		return "", "", &Error{Path: file, What: "the photo cannot be read", Err: err,
			Do: fmt.Sprintf("give a file of at most %d MiB that you may read", MaxPhoto>>20)}
	}
	sha, err = j.store.writeHashed(path.Join(jobPath(j.no), "photos"), ext, data)
	if err != nil {
		return "", "", err
	}
	return sha, sha + ext, nil
}

func readAnywhere(file string, most int64) ([]byte, error) {
	root, err := os.OpenRoot(filepath.Dir(file))
	if err != nil {
		return nil, err
	}
	data, err := readIn(root, filepath.Base(file), most)
	return data, errors.Join(err, root.Close())
}

// WriteClosing keeps a closing signature. A role signs once: other bytes for a
// role that has signed are refused.
func (j *JobDir) WriteClosing(role string, sig []byte) error {
	if err := j.held(); err != nil {
		return err
	}
	if err := checkID("role of a signature", role); err != nil {
		return err
	}
	if len(sig) > MaxSmall {
		return tooLarge("the signature", MaxSmall)
	}
	name := path.Join(closingPath(j.no), role+".sig")
	old, err := j.store.readOptional(name, MaxSmall)
	if err != nil || bytes.Equal(old, sig) && old != nil {
		return err
	}
	if old != nil {
		return j.store.fault(name, "this role has signed already", fs.ErrExist, "the first signature stands")
	}
	return j.store.write(name, sig, 0o644)
}

// Closing returns the closing signatures by role.
func (j *JobDir) Closing() (map[string][]byte, error) { return j.store.ReadClosing(j.no) }

// JobFolders returns the numbers of all jobs that have a folder, in order: those
// of JobHeads, and those in which nothing is written. No journal is read.
func (s *Store) JobFolders() ([]int, error) {
	entries, err := s.list("jobs")
	if err != nil {
		return nil, err
	}
	var nos []int
	for _, e := range entries {
		no, err := strconv.Atoi(e.Name())
		if err == nil && no > 0 && no <= MaxJob && path.Base(jobPath(no)) == e.Name() {
			nos = append(nos, no)
		}
	}
	// Five digits sort before four as text.
	slices.Sort(nos)
	return nos, nil
}
