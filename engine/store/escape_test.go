package store

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var evilNames = []string{
	"", ".", "..", "../x", "../../etc/passwd", "/etc/passwd", "a/../../x", `..\x`, `C:\x`, "c:x",
	"a/b", "x\x00", "x\n", "\x1b[2J", "~", "-rf", "CON", "nul", "x.toml/../../y",
	strings.Repeat("a", 5000),
}

// Names that come from files or from the keyboard never lead out.
func TestNamesDoNotLeaveTheStore(t *testing.T) {
	outer := t.TempDir()
	s := openStore(t, filepath.Join(outer, "store"))
	j := newJob(t, s)
	add(t, j, `{}`)
	for _, name := range evilNames {
		for _, ext := range []string{"", ".toml", ".jpg", ".sig"} {
			evil := name + ext
			_, addErr := s.AddWing(Wing{ID: evil, Name: "x"}, plan)
			_, setErr := s.SetPlan(evil, plan)
			_, wingErr := s.Wing(evil)
			_, planErr := s.PlanBytes(Wing{ID: "red", Plan: evil})
			_, planErr2 := s.PlanBytes(Wing{ID: evil, Plan: strings.Repeat("0", 64)})
			_, pinErr := j.Pinned(evil)
			_, photoErr := s.ReadPhoto(1, evil)
			_, procErr := s.ReadProcedure(evil)
			_, _, keyErr := s.ReadSigner(evil)
			for what, err := range map[string]error{
				"AddWing": addErr, "SetPlan": setErr, "Wing": wingErr, "PlanBytes": planErr, "PlanBytes of": planErr2,
				"Pinned": pinErr, "ReadPhoto": photoErr, "ReadProcedure": procErr, "ReadSigner": keyErr,
				"WriteSigner":  s.WriteSigner(evil, nil, []byte("x")),
				"WriteClosing": j.WriteClosing(evil, []byte("x")),
			} {
				checkRefusal(t, what+" "+clip(clean(evil)), err)
			}
		}
	}
	if entries, err := os.ReadDir(outer); err != nil || len(entries) != 1 {
		t.Errorf("beside the store: %v, error %v", entries, err)
	}
	if entries, err := os.ReadDir(s.Dir()); err != nil || len(entries) != 2 {
		t.Errorf("in the store: %v, error %v", entries, err)
	}
}

// symlink puts a link to target into the store, or skips the test where the
// system lets nobody make links.
func symlink(t *testing.T, s *Store, name, target string) {
	t.Helper()
	full := s.path(name)
	if err := os.MkdirAll(filepath.Dir(full), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.RemoveAll(full); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(target, full); err != nil {
		t.Skip("no symbolic links here: ", err)
	}
}

// Links in the store that lead out of it are not followed, for reading or for
// writing.
func TestLinksDoNotLeaveTheStore(t *testing.T) {
	outside := t.TempDir()
	secret := filepath.Join(outside, "secret")
	if err := os.WriteFile(secret, []byte("linewright_wing = 1\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	sha := hashOf([]byte("linewright_wing = 1\n"))
	for _, c := range []struct {
		what, name, target string
		try                func(s *Store) error
	}{
		{"a job", "jobs/0002", outside, func(s *Store) error { _, err := s.OpenJob(2, "Anna"); return err }},
		{"a journal", "jobs/0002/journal.jsonl", secret, func(s *Store) error { _, err := s.OpenJob(2, "Anna"); return err }},
		{"an absent journal", "jobs/0002/journal.jsonl", filepath.Join(outside, "new"),
			func(s *Store) error { _, err := s.OpenJob(2, "Anna"); return err }},
		{"a lock", "jobs/0002/lock", filepath.Join(outside, "new"), func(s *Store) error { _, err := s.OpenJob(2, "Anna"); return err }},
		{"a journal to read", "jobs/0002/journal.jsonl", secret, func(s *Store) error { _, err := s.ReadJob(2); return err }},
		{"all jobs", "jobs", outside, func(s *Store) error { _, err := s.NewJob("Anna"); return err }},
		{"a list of jobs", "jobs", outside, func(s *Store) error { _, err := s.Jobs(); return err }},
		{"pinned files", "jobs/0001/pinned", outside, func(s *Store) error {
			j, err := s.OpenJob(1, "Anna")
			if err != nil {
				t.Fatal(err)
			}
			defer j.Close()
			_, err = j.Pin(plan)
			return err
		}},
		{"a pinned file", "jobs/0001/pinned/" + sha + ".toml", secret, func(s *Store) error { _, err := s.ReadPinned(1, sha); return err }},
		{"closing signatures", "jobs/0001/closing/doer.sig", secret, func(s *Store) error { _, err := s.ReadClosing(1); return err }},
		{"a procedure", "procedures/x.toml", secret, func(s *Store) error { _, err := s.ReadProcedure("x.toml"); return err }},
		{"a link upwards", "procedures/x.toml", "../../secret", func(s *Store) error { _, err := s.ReadProcedure("x.toml"); return err }},
		{"a wing", "wings/red", outside, func(s *Store) error { _, err := s.AddWing(Wing{ID: "red", Name: "x"}, plan); return err }},
		{"a wing file", "wings/red/wing.toml", secret, func(s *Store) error { _, err := s.Wing("red"); return err }},
		{"a key", "signers/anna.pub", secret, func(s *Store) error { _, _, err := s.ReadSigner("anna"); return err }},
		{"the signers", "signers", outside, func(s *Store) error { return s.WriteSigner("anna", nil, []byte("x")) }},
		{"the store file", "store.toml", secret, func(s *Store) error { _, err := Open(s.Dir()); return err }},
	} {
		s := newStore(t)
		j := newJob(t, s)
		add(t, j, `{}`)
		closeJob(t, j)
		symlink(t, s, c.name, c.target)
		checkRefusal(t, c.what, c.try(s))
		entries, err := os.ReadDir(outside)
		if err != nil || len(entries) != 1 {
			t.Fatalf("%s: outside there is now %v, error %v", c.what, entries, err)
		}
		if data, err := os.ReadFile(secret); err != nil || string(data) != "linewright_wing = 1\n" {
			t.Fatalf("%s: the file outside is now %q, error %v", c.what, data, err)
		}
	}
}

// A file that replaces a link takes the link's place; what the link led to stays.
func TestReplacingALinkLeavesItsTarget(t *testing.T) {
	s := newStore(t)
	secret := filepath.Join(t.TempDir(), "secret")
	if err := os.WriteFile(secret, []byte("secret"), 0o644); err != nil {
		t.Fatal(err)
	}
	symlink(t, s, "bench.toml", secret)
	if err := s.WriteBenchProfile([]byte("ours")); err != nil {
		t.Fatal(err)
	}
	if data, err := os.ReadFile(secret); err != nil || string(data) != "secret" {
		t.Errorf("the file outside is now %q, error %v", data, err)
	}
	if data, err := s.BenchProfile(); err != nil || string(data) != "ours" {
		t.Errorf("read %q, error %v", data, err)
	}
}
