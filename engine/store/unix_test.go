//go:build unix

package store

import (
	"os"
	"syscall"
	"testing"
)

// A pipe in the place of a file must not make the program wait for ever.
func TestPipesAreRefused(t *testing.T) {
	s := newStore(t)
	closeJob(t, newJob(t, s))
	pipe := func(name string) {
		full := s.path(name)
		if err := os.RemoveAll(full); err != nil {
			t.Fatal(err)
		}
		if err := syscall.Mkfifo(full, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	pipe("jobs/0001/journal.jsonl")
	_, err := s.ReadJob(1)
	checkRefusal(t, "ReadJob", err)
	_, err = s.OpenJob(1, "Anna")
	checkRefusal(t, "OpenJob", err)
	pipe("jobs/0001/lock")
	_, err = s.OpenJob(1, "Anna")
	checkRefusal(t, "lock", err)
	pipe("bench.toml")
	_, err = s.BenchProfile()
	checkRefusal(t, "BenchProfile", err)
}

func TestPrivateKeysArePrivate(t *testing.T) {
	s := newStore(t)
	if err := s.WriteSigner("anna", []byte("private"), []byte("public")); err != nil {
		t.Fatal(err)
	}
	info, err := os.Stat(s.path("signers/anna"))
	if err != nil {
		t.Fatal(err)
	}
	if info.Mode().Perm() != 0o600 {
		t.Errorf("the private key has mode %v", info.Mode())
	}
}

// Such a name cannot be given to a file on every system.
func TestProcedureWithAControlCharacterInItsName(t *testing.T) {
	s := newStore(t)
	put(t, s, "procedures/x\x1b[2J.toml", "")
	_, err := s.Procedures()
	want := s.path("procedures") + ": \"x\\x1b[2J.toml\" is not a file name to use here\n" +
		"rename the file: letters, digits, spaces and hyphens, then .toml"
	if err == nil || err.Error() != want {
		t.Errorf("error %v, want %s", err, want)
	}
}
