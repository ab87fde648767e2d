package store

import (
	"fmt"
	"io/fs"
	"path"
	"strings"
)

// Procedures returns the file names of the user's own procedures, in order. A
// name that could not be shown or opened on every machine is an error.
func (s *Store) Procedures() ([]string, error) {
	entries, err := s.list("procedures")
	if err != nil {
		return nil, err
	}
	var names []string
	for _, e := range entries {
		if path.Ext(e.Name()) != ".toml" {
			continue
		}
		if err := checkFileName(e.Name(), ".toml"); err != nil {
			return nil, at(s.path("procedures"), 0, err)
		}
		names = append(names, e.Name())
	}
	return names, nil
}

// ReadProcedure returns the bytes of one of the user's own procedures.
func (s *Store) ReadProcedure(name string) ([]byte, error) {
	if err := checkFileName(name, ".toml"); err != nil {
		return nil, err
	}
	return s.read(path.Join("procedures", name), MaxText)
}

// ProcedurePath returns the full path of a procedure file, for messages.
func (s *Store) ProcedurePath(name string) string { return s.path(path.Join("procedures", name)) }

// AllowedSigners returns the file of trusted people, nil when there is none.
func (s *Store) AllowedSigners() ([]byte, error) {
	return s.readOptional("signers/allowed_signers", MaxText)
}

// WriteAllowedSigners replaces the file of trusted people.
func (s *Store) WriteAllowedSigners(data []byte) error {
	if len(data) > MaxText {
		return tooLarge("allowed_signers", MaxText)
	}
	return s.write("signers/allowed_signers", data, 0o644)
}

// Signers returns the names of all keys in the store, in order.
func (s *Store) Signers() ([]string, error) {
	entries, err := s.list("signers")
	if err != nil {
		return nil, err
	}
	var names []string
	for _, e := range entries {
		name, ok := strings.CutSuffix(e.Name(), ".pub")
		if ok && checkID("name of a key", name) == nil {
			names = append(names, name)
		}
	}
	return names, nil
}

// ReadSigner returns the key files of name. private is nil when only the public
// half is here and an agent holds the other.
func (s *Store) ReadSigner(name string) (private, public []byte, err error) {
	if err := checkID("name of a key", name); err != nil {
		return nil, nil, err
	}
	file := path.Join("signers", name)
	if public, err = s.read(file+".pub", MaxSmall); err != nil {
		return nil, nil, err
	}
	private, err = s.readOptional(file, MaxSmall)
	return private, public, err
}

// WriteSigner keeps a new key; private may be nil when an agent holds it. A name
// that is taken is refused, so that no key is ever lost.
func (s *Store) WriteSigner(name string, private, public []byte) error {
	if err := checkID("name of a key", name); err != nil {
		return err
	}
	file := path.Join("signers", name)
	if s.exists(file) || s.exists(file+".pub") {
		return s.fault(file, fmt.Sprintf("there is a key %s already", name), fs.ErrExist, "choose another name")
	}
	if private != nil {
		if err := s.write(file, private, 0o600); err != nil {
			return err
		}
	}
	return s.write(file+".pub", public, 0o644)
}

// BenchProfile returns the bench profile, nil when there is none.
func (s *Store) BenchProfile() ([]byte, error) { return s.readOptional("bench.toml", MaxSmall) }

// WriteBenchProfile replaces the bench profile.
func (s *Store) WriteBenchProfile(data []byte) error {
	if len(data) > MaxSmall {
		return tooLarge("the bench profile", MaxSmall)
	}
	return s.write("bench.toml", data, 0o644)
}
