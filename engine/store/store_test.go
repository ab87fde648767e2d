package store

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode"

	"github.com/google/go-cmp/cmp"
)

// newStore opens a fresh store.
func newStore(t testing.TB) *Store {
	t.Helper()
	return openStore(t, filepath.Join(t.TempDir(), "store"))
}

func openStore(t testing.TB, dir string) *Store {
	t.Helper()
	s, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

// put writes a file into the store as somebody with an editor would.
func put(t testing.TB, s *Store, name string, data string) {
	t.Helper()
	full := s.path(name)
	if err := os.MkdirAll(filepath.Dir(full), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(full, []byte(data), 0o644); err != nil {
		t.Fatal(err)
	}
}

// checkRefusal says that err is a refusal fit for a terminal: what, then what to
// do, and no control character.
func checkRefusal(t testing.TB, where string, err error) {
	t.Helper()
	if err == nil {
		t.Errorf("%s: not refused", where)
		return
	}
	what, do, ok := strings.Cut(err.Error(), "\n")
	if !ok || what == "" || do == "" {
		t.Errorf("%s: the error has not both what and what to do: %q", where, err)
	}
	if strings.ContainsFunc(strings.ReplaceAll(err.Error(), "\n", ""), unicode.IsControl) {
		t.Errorf("%s: control character in %q", where, err)
	}
}

func TestOpenFoundsAStoreOnce(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "a", "b")
	s := openStore(t, dir)
	got, err := os.ReadFile(filepath.Join(dir, "store.toml"))
	if err != nil {
		t.Fatal(err)
	}
	golden, err := os.ReadFile("testdata/edition-1/store.toml")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, golden) {
		t.Errorf("store.toml is %q, want %q", got, golden)
	}
	if _, err := s.AddWing(Wing{ID: "red-one", Name: "Red One"}, []byte("plan")); err != nil {
		t.Fatal(err)
	}
	again := openStore(t, dir)
	if ids, err := again.Wings(); err != nil || len(ids) != 1 {
		t.Errorf("opened again: wings %v, error %v", ids, err)
	}
}

func TestAnEmptyStoreListsNothing(t *testing.T) {
	s := newStore(t)
	wings, err1 := s.Wings()
	jobs, err2 := s.Jobs()
	procedures, err3 := s.Procedures()
	signers, err4 := s.Signers()
	allowed, err5 := s.AllowedSigners()
	bench, err6 := s.BenchProfile()
	if err := errors.Join(err1, err2, err3, err4, err5, err6); err != nil {
		t.Fatal(err)
	}
	if n := len(wings) + len(jobs) + len(procedures) + len(signers) + len(allowed) + len(bench); n != 0 {
		t.Errorf("wings %v, jobs %v, procedures %v, signers %v, allowed %q, bench %q",
			wings, jobs, procedures, signers, allowed, bench)
	}
}

func TestOpenRefusesOtherFolders(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "holiday.txt"), nil, 0o644); err != nil {
		t.Fatal(err)
	}
	_, err := Open(dir)
	want := dir + ": the folder is neither empty nor a linewright store\nchoose another folder with --store"
	if err == nil || err.Error() != want {
		t.Errorf("error %v, want %s", err, want)
	}
	_, err = Open(filepath.Join(dir, "holiday.txt"))
	checkRefusal(t, "a file", err)
	if entries, err := os.ReadDir(dir); err != nil || len(entries) != 1 {
		t.Errorf("the folder was touched: %v, %v", entries, err)
	}
}

// A crash while the store was founded leaves such a file.
func TestOpenPassesOverLeftoverTemps(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, ".tmp-1-1"), []byte("linewr"), 0o644); err != nil {
		t.Fatal(err)
	}
	openStore(t, dir)
}

func TestOpenRefusesOtherEditions(t *testing.T) {
	for text, want := range map[string]string{
		"linewright_store = 2\n":           ": edition 2, this program reads edition 1\nuse the newer linewright that wrote it",
		"linewright_store = 2\nnew = true": ": edition 2, this program reads edition 1\nuse the newer linewright that wrote it",
		"linewright_store = 0\n":           ": edition 0, this program reads edition 1\nuse the newer linewright that wrote it",
		"":                                 ": the key linewright_store with the edition is missing\nsee whether this is the right file",
		"linewright_store = \"1\"\n":       ": the key linewright_store with the edition is missing\nsee whether this is the right file",
		"Linewright_Store = 1\n":           ": the key linewright_store with the edition is missing\nsee whether this is the right file",
		"linewright_store = 1\nnew = 1\n":  ":2: new: the key is not known here\nknown keys: linewright_store",
		"linewright_store = 1\n[x]\na=1\n": ":2: x: the key is not known here\nknown keys: linewright_store",
	} {
		dir := t.TempDir()
		file := filepath.Join(dir, "store.toml")
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		_, err := Open(dir)
		if err == nil || err.Error() != file+want {
			t.Errorf("%q: error %v, want %s", text, err, file+want)
		}
		if after, _ := os.ReadFile(file); string(after) != text {
			t.Errorf("%q: the file is now %q", text, after)
		}
		var edition *EditionError
		if errors.As(err, &edition) != strings.HasPrefix(want, ": edition") {
			t.Errorf("%q: error of the type %T", text, err)
		}
	}
}

func TestDefaultDir(t *testing.T) {
	home := func() (string, error) { return "/home/anna", nil }
	for _, c := range []struct {
		goos, key, value, want string
	}{
		// XDG Base Directory Specification 0.8: default, value, relative ignored.
		{"linux", "", "", "/home/anna/.local/share/linewright"},
		{"linux", "XDG_DATA_HOME", "/data", "/data/linewright"},
		{"linux", "XDG_DATA_HOME", "data", "/home/anna/.local/share/linewright"},
		{"darwin", "XDG_DATA_HOME", "/data", "/home/anna/Library/Application Support/linewright"},
		{"windows", "LocalAppData", "/local", "/local/linewright"},
		{"windows", "", "", "/home/anna/AppData/Local/linewright"},
	} {
		getenv := func(key string) string {
			if key == c.key {
				return c.value
			}
			return ""
		}
		got, err := defaultDir(c.goos, getenv, home)
		if err != nil || filepath.ToSlash(got) != c.want {
			t.Errorf("%s with %s=%q: %q, error %v, want %q", c.goos, c.key, c.value, got, err, c.want)
		}
	}
	lost := errors.New("no home")
	_, err := defaultDir("linux", func(string) string { return "" }, func() (string, error) { return "", lost })
	checkRefusal(t, "no home", err)
	if !errors.Is(err, lost) {
		t.Errorf("the cause is missing from %v", err)
	}
}

func TestProcedures(t *testing.T) {
	s := newStore(t)
	put(t, s, "procedures/my swap 2.toml", "a = 1\n")
	put(t, s, "procedures/bridle.toml", "b = 2\n")
	put(t, s, "procedures/notes.txt", "no procedure")
	put(t, s, "procedures/.hidden.toml", "no procedure")
	names, err := s.Procedures()
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([]string{"bridle.toml", "my swap 2.toml"}, names); diff != "" {
		t.Error(diff)
	}
	data, err := s.ReadProcedure("my swap 2.toml")
	if err != nil || string(data) != "a = 1\n" {
		t.Errorf("read %q, error %v", data, err)
	}
	if onDisk, err := os.ReadFile(s.ProcedurePath("bridle.toml")); err != nil || string(onDisk) != "b = 2\n" {
		t.Errorf("the path leads to %q, error %v", onDisk, err)
	}
	put(t, s, "procedures/sub/x.toml", "")
	for _, name := range []string{"sub/x.toml", ".hidden.toml", "notes.txt"} {
		_, err := s.ReadProcedure(name)
		checkRefusal(t, name, err)
	}
	put(t, s, "procedures/big.toml", strings.Repeat("#", MaxText+1))
	_, err = s.ReadProcedure("big.toml")
	checkRefusal(t, "too large", err)
}

func TestSigners(t *testing.T) {
	s := newStore(t)
	if err := s.WriteSigner("anna", []byte("private"), []byte("public")); err != nil {
		t.Fatal(err)
	}
	if err := s.WriteSigner("ben-2", nil, []byte("public of ben")); err != nil {
		t.Fatal(err)
	}
	if err := s.WriteAllowedSigners([]byte("anna ssh-ed25519 AAAA\n")); err != nil {
		t.Fatal(err)
	}
	names, err := s.Signers()
	if diff := cmp.Diff([]string{"anna", "ben-2"}, names); diff != "" || err != nil {
		t.Errorf("%s error %v", diff, err)
	}
	private, public, err := s.ReadSigner("anna")
	if err != nil || string(private) != "private" || string(public) != "public" {
		t.Errorf("anna: %q, %q, %v", private, public, err)
	}
	private, public, err = s.ReadSigner("ben-2")
	if err != nil || private != nil || string(public) != "public of ben" {
		t.Errorf("ben-2: %q, %q, %v", private, public, err)
	}
	if data, err := s.AllowedSigners(); err != nil || string(data) != "anna ssh-ed25519 AAAA\n" {
		t.Errorf("allowed signers %q, error %v", data, err)
	}
	for _, taken := range []string{"anna", "ben-2"} {
		err := s.WriteSigner(taken, []byte("other"), []byte("other"))
		checkRefusal(t, taken, err)
		if !errors.Is(err, fs.ErrExist) {
			t.Errorf("%s: error %v", taken, err)
		}
	}
	if _, _, err := s.ReadSigner("carl"); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("unknown key: error %v", err)
	}
}

func TestBenchProfile(t *testing.T) {
	s := newStore(t)
	if err := s.WriteBenchProfile([]byte("tape = \"II\"\n")); err != nil {
		t.Fatal(err)
	}
	if data, err := s.BenchProfile(); err != nil || string(data) != "tape = \"II\"\n" {
		t.Errorf("read %q, error %v", data, err)
	}
	checkRefusal(t, "too large", s.WriteBenchProfile(make([]byte, MaxSmall+1)))
	checkRefusal(t, "too large", s.WriteAllowedSigners(make([]byte, MaxText+1)))
}
