package record

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"sync"

	"example.org/linewright/engine/seal"
)

var roleForm = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^[a-z][a-z0-9-]{0,31}$`) })

// SignatureName is the file name of a closing signature.
func SignatureName(role string) string { return NameJSON + "." + role + ".sig" }

// Export writes a record to a new folder. closing holds the closing signatures
// by role, allowed the content of allowed_signers, or nothing. dir must not be
// there, or be an empty folder; the folder above it must be there. Whatever
// fails leaves nothing half written.
func Export(dir string, r Record, closing map[string][]byte, allowed []byte) error {
	return export(osDisk{}, dir, r, closing, allowed)
}

func export(d disk, dir string, r Record, closing map[string][]byte, allowed []byte) error {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return cannotWrite(dir, err)
	}
	extra, err := r.beside(closing, allowed)
	if err != nil {
		return err
	}
	if err := free(d, dir); err != nil {
		return err
	}
	temp, err := tempBeside(d, dir)
	if err != nil {
		return cannotWrite(dir, err)
	}
	if err := r.writeAll(d, temp, extra); err != nil {
		return undo(d, temp, cannotWrite(dir, err))
	}
	if err := moveInto(d, temp, dir); err != nil {
		return undo(d, temp, cannotWrite(dir, err))
	}
	if err := d.SyncDir(filepath.Dir(dir)); err != nil {
		return undo(d, dir, cannotWrite(dir, err))
	}
	return nil
}

// undo takes away what was written, and says where it lies if it cannot.
func undo(d disk, written string, err error) error {
	if d.RemoveAll(written) == nil {
		return err
	}
	return &Error{What: firstLine(err), Do: "what was written could not be taken away: delete " + written, Err: err}
}

func cannotWrite(dir string, err error) error {
	var own *Error
	if errors.As(err, &own) {
		return own
	}
	return &Error{What: fmt.Sprintf("the record cannot be written to %s: %s", dir, firstLine(err)),
		Do: "nothing was left there; see to the disk or choose another folder", Err: err}
}

// beside gives the files that no signature covers.
func (r Record) beside(closing map[string][]byte, allowed []byte) (map[string][]byte, error) {
	out := map[string][]byte{}
	roles := slices.Sorted(maps.Keys(closing))
	for _, role := range roles {
		if !roleForm().MatchString(role) {
			return nil, &Error{What: fmt.Sprintf("%q is not a role that can sign", role), Do: `use a word in small letters, such as "doer"`}
		}
		if _, err := seal.Verify(seal.NamespaceRecord, r.JSON, closing[role]); err != nil {
			return nil, &Error{What: fmt.Sprintf("the closing signature of the %s does not fit this record", role),
				Do: "sign the record again", Err: err}
		}
		out[SignatureName(role)] = closing[role]
	}
	if len(allowed) > 0 {
		out[NameAllowed] = allowed
	}
	out[NameReadme] = []byte(readme(r.Content, roles, len(allowed) > 0))
	return out, nil
}

// free refuses a target that holds anything.
func free(d disk, dir string) error {
	empty, err := d.Empty(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return &Error{What: fmt.Sprintf("%s is there and is no folder to write to", dir), Do: "choose a folder that is not there yet", Err: err}
	case !empty:
		return &Error{What: fmt.Sprintf("%s is not empty", dir), Do: "choose a folder that is not there yet; nothing is ever written over", Err: fs.ErrExist}
	}
	return nil
}

// tempBeside makes a folder beside the target, so that a rename can finish it.
func tempBeside(d disk, dir string) (string, error) {
	for n := 1; ; n++ {
		name := filepath.Join(filepath.Dir(dir), fmt.Sprintf(".tmp-%s-%d-%d", filepath.Base(dir), os.Getpid(), n))
		err := d.Mkdir(name)
		if errors.Is(err, fs.ErrExist) && n < 1000 {
			continue
		}
		return name, err
	}
}

// writeAll writes every file, the sums last, and syncs the folders.
func (r Record) writeAll(d disk, dir string, extra map[string][]byte) error {
	w := &writer{disk: d, dir: dir, sums: map[string]string{}}
	w.folder(dirProcedures)
	w.file(NameJSON, r.JSON)
	w.file(NameText, r.Text)
	for _, name := range slices.Sorted(maps.Keys(r.parts)) {
		w.file(name, r.parts[name])
	}
	for _, name := range slices.Sorted(maps.Keys(extra)) {
		w.file(name, extra[name])
	}
	r.writePhotos(w)
	w.file(NameSums, sumsOf(w.sums))
	for _, folder := range append(w.folders, "") {
		if w.err == nil {
			w.err = d.SyncDir(filepath.Join(dir, folder))
		}
	}
	return w.err
}

// writePhotos takes one photo at a time: together they can be large.
func (r Record) writePhotos(w *writer) {
	for _, f := range r.Content.Files {
		folder, name := path.Split(f.Name)
		if folder != dirPhotos+"/" || w.err != nil {
			continue
		}
		if !slices.Contains(w.folders, dirPhotos) {
			w.folder(dirPhotos)
		}
		data, err := r.photo(name, f.SHA256)
		if err != nil {
			w.err = err
			return
		}
		w.file(f.Name, data)
	}
}

func (r Record) photo(name, sha string) ([]byte, error) {
	if r.photos == nil {
		return nil, &Error{What: "the job has photos, and none were given for the record", Do: "export from the folder in which the job was made"}
	}
	data, err := r.photos(name)
	if err != nil {
		return nil, &Error{What: fmt.Sprintf("photo %s cannot be read", name), Do: "put it back from a backup, then export again", Err: err}
	}
	if hashOf(data) != sha {
		return nil, &Error{What: fmt.Sprintf("photo %s was changed", name), Do: "put it back from a backup, then export again"}
	}
	return data, nil
}
