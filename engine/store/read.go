package store

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"

	"example.org/linewright/engine/journal"
)

func closingPath(no int) string { return path.Join(jobPath(no), "closing") }

// Jobs returns the numbers of all jobs in order. A number that was given out
// and then never written under is not listed.
func (s *Store) Jobs() ([]int, error) {
	nos, err := s.JobFolders()
	if err != nil {
		return nil, err
	}
	return slices.DeleteFunc(nos, func(no int) bool {
		info, err := s.root.Stat(journalPath(no))
		return err == nil && info.Size() == 0 || errors.Is(err, fs.ErrNotExist)
	}), nil
}

// ReadJob returns the whole lines of a job's journal without taking its lock. A
// line that is just being written, or was torn, is left out.
func (s *Store) ReadJob(no int) ([]journal.Line, error) {
	name := journalPath(no)
	data, err := s.read(name, journal.MaxFile)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, noJob(no)
	}
	if err != nil {
		return nil, err
	}
	lines, _, err := journal.Parse(data)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.path(name), err)
	}
	return lines, nil
}

// ReadPinned returns a plan or procedure as job no used it and checks its
// SHA-256.
func (s *Store) ReadPinned(no int, sha string) ([]byte, error) {
	if err := checkSHA(sha); err != nil {
		return nil, err
	}
	return s.readHashed(path.Join(jobPath(no), "pinned", sha+".toml"), sha, MaxText)
}

// ReadPhoto returns a photo of job no by the name that AddPhoto gave and checks
// its SHA-256.
func (s *Store) ReadPhoto(no int, name string) ([]byte, error) {
	sha, ok := photoSHA(name)
	if !ok {
		return nil, noPhoto(name)
	}
	return s.readHashed(path.Join(jobPath(no), "photos", name), sha, MaxPhoto)
}

func noPhoto(name string) error {
	return &Error{What: fmt.Sprintf("%q is not the name of a photo", clip(name)),
		Do: "give the name as the journal has it"}
}

// ReadClosing returns the closing signatures of job no by role.
func (s *Store) ReadClosing(no int) (map[string][]byte, error) {
	entries, err := s.list(closingPath(no))
	if err != nil {
		return nil, err
	}
	sigs := map[string][]byte{}
	for _, e := range entries {
		role, ok := strings.CutSuffix(e.Name(), ".sig")
		if !ok || checkID("role of a signature", role) != nil {
			continue
		}
		if sigs[role], err = s.read(path.Join(closingPath(no), e.Name()), MaxSmall); err != nil {
			return nil, err
		}
	}
	return sigs, nil
}
