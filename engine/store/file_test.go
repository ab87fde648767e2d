package store

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestWriteFileReplacesTheWhole(t *testing.T) {
	file := filepath.Join(t.TempDir(), "x.toml")
	for _, data := range []string{"first, and rather long", "second", ""} {
		if err := WriteFile(file, []byte(data)); err != nil {
			t.Fatal(err)
		}
		if got, err := os.ReadFile(file); err != nil || string(got) != data {
			t.Errorf("got %q, error %v, want %q", got, err, data)
		}
	}
	checkNoTemps(t, filepath.Dir(file))
}

func TestWriteFileThatFailsLeavesNothing(t *testing.T) {
	dir := t.TempDir()
	// A folder of that name cannot be replaced by a file.
	file := filepath.Join(dir, "x.toml")
	if err := os.MkdirAll(filepath.Join(file, "in"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := WriteFile(file, []byte("data")); err == nil {
		t.Error("a folder was replaced by a file")
	}
	checkNoTemps(t, dir)
	if _, err := os.Stat(filepath.Join(file, "in")); err != nil {
		t.Error(err)
	}
	if err := WriteFile(filepath.Join(dir, "absent", "x.toml"), nil); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("absent folder: error %v", err)
	}
}

func checkNoTemps(t testing.TB, dir string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), tempPrefix) {
			t.Errorf("left behind: %s", e.Name())
		}
	}
}

func TestWriteFileByThatFailsLeavesTheOldOne(t *testing.T) {
	file := filepath.Join(t.TempDir(), "x.zip")
	if err := WriteFile(file, []byte("old")); err != nil {
		t.Fatal(err)
	}
	err := WriteFileBy(file, func(w io.Writer) error {
		_, err := w.Write([]byte("half of the n"))
		return errors.Join(err, errStep)
	})
	if data, _ := os.ReadFile(file); !errors.Is(err, errStep) || string(data) != "old" {
		t.Errorf("the file is %q, error %v", data, err)
	}
	checkNoTemps(t, filepath.Dir(file))
}

// What an earlier crash of a process with our number left is not written to.
func TestWriteFileLeavesOthersTempsAlone(t *testing.T) {
	dir := t.TempDir()
	other := filepath.Join(dir, fmt.Sprintf("%s%d-1", tempPrefix, os.Getpid()))
	if err := os.WriteFile(other, []byte("other"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := WriteFile(filepath.Join(dir, "x"), []byte("ours")); err != nil {
		t.Fatal(err)
	}
	if data, err := os.ReadFile(other); err != nil || string(data) != "other" {
		t.Errorf("the other file is %q, error %v", data, err)
	}
}

func TestWriteFileFromManySides(t *testing.T) {
	file := filepath.Join(t.TempDir(), "x")
	var wg sync.WaitGroup
	for n := range 8 {
		wg.Go(func() {
			for range 5 {
				if err := WriteFile(file, profile(n)); err != nil {
					t.Error(err)
				}
			}
		})
	}
	wg.Wait()
	got, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	for n := range 8 {
		if bytes.Equal(got, profile(n)) {
			return
		}
	}
	t.Errorf("the file is a mixture of %d bytes", len(got))
}

// diary writes down what is done to a disk, and lets one step fail.
type diary struct {
	disk
	steps  []string
	failAt int // number of the step, from 1; 0: none
}

type diaryFile struct {
	file
	diary *diary
}

var errStep = errors.New("this step failed")

func (d *diary) step(what string) error {
	what = strings.ReplaceAll(what, fmt.Sprint(os.Getpid()), "PID")
	d.steps = append(d.steps, what)
	if len(d.steps) == d.failAt {
		return errStep
	}
	return nil
}

func (d *diary) create(name string, perm os.FileMode) (file, error) {
	if err := d.step("create " + name); err != nil {
		return nil, err
	}
	f, err := d.disk.create(name, perm)
	return diaryFile{f, d}, err
}

func (d *diary) Rename(from, to string) error {
	if err := d.step("rename " + from + " to " + to); err != nil {
		return err
	}
	return d.disk.Rename(from, to)
}

func (d *diary) Remove(name string) error {
	return errors.Join(d.step("remove "+name), d.disk.Remove(name))
}

func (d *diary) SyncDir(name string) error {
	return errors.Join(d.step("sync folder "+name), d.disk.SyncDir(name))
}

func (f diaryFile) Write(p []byte) (int, error) {
	if err := f.diary.step("write"); err != nil {
		n, _ := f.file.Write(p[:len(p)/2])
		return n, err
	}
	return f.file.Write(p)
}

func (f diaryFile) Sync() error  { return errors.Join(f.diary.step("sync"), f.file.Sync()) }
func (f diaryFile) Close() error { return errors.Join(f.diary.step("close"), f.file.Close()) }

// The order is what makes a replaced file survive a crash, and no crash can be
// had in a test; so the order is looked at.
func TestOrderOfReplacing(t *testing.T) {
	root, err := os.OpenRoot(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	defer root.Close()
	d := &diary{disk: diskAt(root)}
	if err := replace(d, "x.toml", all([]byte("new")), 0o644); err != nil {
		t.Fatal(err)
	}
	want := []string{
		"create .tmp-PID-1", "write", "sync", "close", "rename .tmp-PID-1 to x.toml", "sync folder .",
	}
	if diff := cmp.Diff(want, d.steps); diff != "" {
		t.Error(diff)
	}
}

func TestEachStepOfReplacingFails(t *testing.T) {
	const steps = 6
	for n := 1; n <= steps; n++ {
		dir := t.TempDir()
		root, err := os.OpenRoot(dir)
		if err != nil {
			t.Fatal(err)
		}
		if err := root.WriteFile("x.toml", []byte("old"), 0o644); err != nil {
			t.Fatal(err)
		}
		d := &diary{disk: diskAt(root), failAt: n}
		if err := replace(d, "x.toml", all([]byte("new")), 0o644); !errors.Is(err, errStep) {
			t.Errorf("step %d: error %v", n, err)
		}
		// The last step comes after the rename: the new file is there and whole.
		want := "old"
		if n == steps {
			want = "new"
		}
		if data, err := root.ReadFile("x.toml"); err != nil || string(data) != want {
			t.Errorf("step %d, %s: the file is %q, error %v", n, d.steps[n-1], data, err)
		}
		checkNoTemps(t, dir)
		if err := root.Close(); err != nil {
			t.Error(err)
		}
	}
}
