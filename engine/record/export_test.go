package record

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// wantEmpty checks that nothing was left in a folder.
func wantEmpty(t *testing.T, dir string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		t.Errorf("%s was left behind", e.Name())
	}
}

func wantError(t *testing.T, err error, part string) {
	t.Helper()
	var own *Error
	if !errors.As(err, &own) {
		t.Fatalf("error is %v, want an *Error", err)
	}
	lines := strings.Split(err.Error(), "\n")
	if len(lines) != 2 || !strings.Contains(lines[0], part) || strings.TrimSpace(lines[1]) == "" {
		t.Errorf("error is %q, want one line with %q and one line what to do", err, part)
	}
}

func TestExportWritesEveryFileAndTheirSums(t *testing.T) {
	w := sample(t, false)
	r := w.build()
	dir := w.export()
	m := load(t, dir)
	sums, bad := parseSums(m[NameSums].Data)
	if len(bad) > 0 || len(sums) != len(m)-1 {
		t.Errorf("%d sums for %d files, bad lines %v", len(sums), len(m), bad)
	}
	for name, f := range m {
		if name != NameSums && sums[name] != hashOf(f.Data) {
			t.Errorf("SHA256SUMS does not fit %s", name)
		}
	}
	wantBytes(t, NameJSON, m[NameJSON].Data, r.JSON)
	wantBytes(t, NameText, m[NameText].Data, r.Text)
	for _, f := range r.Content.Files {
		if m[f.Name] == nil || hashOf(m[f.Name].Data) != f.SHA256 {
			t.Errorf("%s is not what record.json lists", f.Name)
		}
	}
	wantBytes(t, NameAllowed, m[NameAllowed].Data, w.allowed())
}

func TestExportWithoutTrustedPeopleOrSignatures(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "record")
	if err := Export(dir, sample(t, false).build(), nil, nil); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(dir, NameAllowed)); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("there is an allowed_signers: %v", err)
	}
	readme := string(readFile(t, dir, NameReadme))
	wantAll(t, readme, "Nobody has signed this record.", "ssh-keygen -Y sign -f KEYFILE -n record-v1@linewright.example.org record.json")
	if strings.Contains(readme, "copy for convenience") {
		t.Error("README.txt speaks of a file that is not there")
	}
}

func TestReadmeSaysHowToCheckAndWhatThatProves(t *testing.T) {
	w := sample(t, false)
	readme := string(readFile(t, w.export(), NameReadme))
	wantAll(t, flat([]byte(readme)), "sha256sum -c SHA256SUMS",
		`ssh-keygen -Y verify -f TRUSTED -I NAME \ -n record-v1@linewright.example.org \ -s record.json.doer.sig < record.json`,
		"It proves nothing against a person who wanted to deceive you", "only a copy for convenience. Do not use it as it is",
		"Nothing here states that a wing is airworthy.")
	wantClean(t, readme)
}

func TestExportTakesAnEmptyFolder(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "record")
	if err := os.Mkdir(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := Export(dir+"/", sample(t, false).build(), nil, nil); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(dir, NameJSON)); err != nil {
		t.Error(err)
	}
}

func TestExportRefusesATargetThatHoldsAnything(t *testing.T) {
	r := sample(t, false).build()
	parent := t.TempDir()
	full, file, link := filepath.Join(parent, "full"), filepath.Join(parent, "file"), filepath.Join(parent, "link")
	if err := errors.Join(os.Mkdir(full, 0o755), os.WriteFile(filepath.Join(full, "mine"), []byte("mine"), 0o644),
		os.WriteFile(file, []byte("mine"), 0o644), os.Symlink(t.TempDir(), link)); err != nil {
		t.Fatal(err)
	}
	wantError(t, Export(full, r, nil, nil), "is not empty")
	wantError(t, Export(file, r, nil, nil), "is no folder to write to")
	wantError(t, Export(link, r, nil, nil), "is no folder to write to")
	wantError(t, Export(filepath.Join(parent, "absent", "record"), r, nil, nil), "cannot be written")
	for _, name := range []string{filepath.Join(full, "mine"), file} {
		if data, err := os.ReadFile(name); err != nil || string(data) != "mine" {
			t.Errorf("%s was changed: %q, %v", name, data, err)
		}
	}
	left, err := os.ReadDir(parent)
	if err != nil || len(left) != 3 {
		t.Errorf("%d names in the folder, want 3: %v", len(left), err)
	}
}

func TestExportRefusesASignatureThatDoesNotFit(t *testing.T) {
	w := sample(t, false)
	r, other := w.build(), sample(t, true).build()
	parent := t.TempDir()
	wantError(t, Export(filepath.Join(parent, "x"), r, w.closing(other), nil), "does not fit this record")
	wantError(t, Export(filepath.Join(parent, "x"), r, map[string][]byte{"../doer": w.closing(r)["doer"]}, nil), "is not a role")
	wantEmpty(t, parent)
}

func TestExportRefusesAPhotoThatIsMissingOrChanged(t *testing.T) {
	w := sample(t, false)
	parent := t.TempDir()
	for name := range w.files.photos {
		w.files.photos[name] = []byte("another picture")
		wantError(t, Export(filepath.Join(parent, "x"), w.build(), nil, nil), "was changed")
		delete(w.files.photos, name)
		wantError(t, Export(filepath.Join(parent, "x"), w.build(), nil, nil), "cannot be read")
	}
	r, err := Build(w.lines, w.files, nil)
	if err != nil {
		t.Fatal(err)
	}
	wantError(t, Export(filepath.Join(parent, "x"), r, nil, nil), "none were given")
	wantEmpty(t, parent)
}

// failing is the real disk with operation number fail failing. A failing write
// leaves half of the file, as a full disk does.
type failing struct {
	osDisk
	n, fail int
	stuck   bool // nothing can be taken away
	done    []string
}

var errDisk = errors.New("no space left on device")

func (d *failing) next(what, name string) error {
	d.n++
	d.done = append(d.done, what+" "+filepath.Base(name))
	if d.n == d.fail {
		return fmt.Errorf("%s %s: %w", what, filepath.Base(name), errDisk)
	}
	return nil
}

func (d *failing) Empty(dir string) (bool, error) {
	if err := d.next("look at", dir); err != nil {
		return false, err
	}
	return d.osDisk.Empty(dir)
}

func (d *failing) Mkdir(dir string) error {
	if err := d.next("make", dir); err != nil {
		return err
	}
	return d.osDisk.Mkdir(dir)
}

func (d *failing) WriteFile(name string, data []byte) error {
	if err := d.next("write", name); err != nil {
		return errors.Join(err, d.osDisk.WriteFile(name, data[:len(data)/2]))
	}
	return d.osDisk.WriteFile(name, data)
}

func (d *failing) SyncDir(dir string) error {
	if err := d.next("sync", dir); err != nil {
		return err
	}
	return d.osDisk.SyncDir(dir)
}

func (d *failing) Remove(name string) error {
	if err := d.next("remove", name); err != nil {
		return err
	}
	return d.osDisk.Remove(name)
}

func (d *failing) Rename(from, to string) error {
	if err := d.next("rename", from); err != nil {
		return err
	}
	return d.osDisk.Rename(from, to)
}

func (d *failing) RemoveAll(dir string) error {
	if d.stuck {
		return errDisk
	}
	return d.osDisk.RemoveAll(dir)
}

func TestExportSaysWhatItCouldNotTakeAway(t *testing.T) {
	parent := t.TempDir()
	err := export(&failing{fail: 5, stuck: true}, filepath.Join(parent, "record"), sample(t, false).build(), nil, nil)
	wantError(t, err, "cannot be written")
	left, _ := os.ReadDir(parent)
	if len(left) != 1 || !strings.Contains(err.Error(), "delete "+filepath.Join(parent, left[0].Name())) {
		t.Errorf("%v is left, the error is %v", left, err)
	}
}

// A failing disk, at each operation in turn, must leave nothing behind.
func TestExportThatFailsLeavesNothing(t *testing.T) {
	w := sample(t, false)
	r := w.build()
	closing, allowed := w.closing(r), w.allowed()
	counting := &failing{}
	if err := export(counting, filepath.Join(t.TempDir(), "record"), r, closing, allowed); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"write record.json", "write journal.jsonl", "write SHA256SUMS", "make photos", "sync procedures", "sync photos"} {
		if !slices.Contains(counting.done, want) {
			t.Errorf("%q is not among the operations %q", want, counting.done)
		}
	}
	for fail := 1; fail <= counting.n; fail++ {
		parent := t.TempDir()
		err := export(&failing{fail: fail}, filepath.Join(parent, "record"), r, closing, allowed)
		if !errors.Is(err, errDisk) {
			t.Errorf("operation %d, %s: error is %v", fail, counting.done[fail-1], err)
		}
		wantEmpty(t, parent)
	}
}

func TestExportWithoutPermissionLeavesNothing(t *testing.T) {
	if os.Getuid() == 0 {
		t.Skip("the superuser may write everywhere")
	}
	parent := t.TempDir()
	if err := os.Chmod(parent, 0o555); err != nil {
		t.Fatal(err)
	}
	wantError(t, Export(filepath.Join(parent, "record"), sample(t, false).build(), nil, nil), "cannot be written")
	wantEmpty(t, parent)
}

// Two that write to one target at once: one is done, the other refused.
func TestExportAtTheSameTime(t *testing.T) {
	r := sample(t, false).build()
	parent := t.TempDir()
	dir := filepath.Join(parent, "record")
	results := make(chan error)
	for range 2 {
		go func() { results <- Export(dir, r, nil, nil) }()
	}
	if one, two := <-results, <-results; one != nil && two != nil {
		t.Errorf("neither was done: %v, %v", one, two)
	}
	left, err := os.ReadDir(parent)
	if err != nil || len(left) != 1 || !bytes.Equal(readFile(t, dir, NameJSON), r.JSON) {
		t.Errorf("left: %v, %v", left, err)
	}
}
