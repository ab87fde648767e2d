package store

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"path"

	"github.com/BurntSushi/toml"
)

// Wing is what the store knows of one wing that does not come from its jobs.
type Wing struct {
	ID           string   // folder name: lower case letters, digits, hyphens
	Name         string   // what the owner calls it
	Serial       string   // as on the wing; may be empty
	HoursAtStart *float64 // airtime in hours when the wing was added; nil: not known
	Plan         string   // SHA-256 of the plan in force
}

// wingFile is wing.toml in the order in which it is written.
type wingFile struct {
	Edition      *int64   `toml:"linewright_wing"`
	ID           string   `toml:"id"`
	Name         string   `toml:"name"`
	Serial       string   `toml:"serial"`
	HoursAtStart *float64 `toml:"hours_at_start,omitempty"`
	Plan         string   `toml:"plan"`
}

// edition is the edition as a file states it.
func edition() *int64 {
	n := int64(Edition)
	return &n
}

func wingPath(id string) string  { return path.Join("wings", id, "wing.toml") }
func plansPath(id string) string { return path.Join("wings", id, "plans") }
func loopsPath(id string) string { return path.Join("wings", id, "loops.toml") }

// AddWing adds a wing with its plan and returns it with Plan filled in. The plan
// is kept byte for byte and not looked into. An ID that is taken is refused.
func (s *Store) AddWing(w Wing, plan []byte) (Wing, error) {
	if err := checkWing(w); err != nil {
		return Wing{}, err
	}
	if s.exists(wingPath(w.ID)) {
		return Wing{}, &Error{What: fmt.Sprintf("there is a wing %s already", w.ID), Err: fs.ErrExist,
			Do: "choose another id, or give that wing a new plan"}
	}
	return s.putWing(w, plan)
}

// SetPlan gives a wing another plan. The plans before it stay in its folder.
func (s *Store) SetPlan(id string, plan []byte) (Wing, error) {
	w, err := s.Wing(id)
	if err != nil {
		return Wing{}, err
	}
	return s.putWing(w, plan)
}

// putWing writes the plan first, so that a wing file never names a plan that is
// not there.
func (s *Store) putWing(w Wing, plan []byte) (Wing, error) {
	if len(plan) > MaxText {
		return Wing{}, tooLarge("the plan", MaxText)
	}
	sha, err := s.writeHashed(plansPath(w.ID), ".toml", plan)
	if err != nil {
		return Wing{}, err
	}
	w.Plan = sha
	text, err := encodeWing(w)
	if err != nil {
		return Wing{}, err
	}
	return w, s.write(wingPath(w.ID), text, 0o644)
}

func encodeWing(w Wing) ([]byte, error) {
	var text bytes.Buffer
	err := toml.NewEncoder(&text).Encode(wingFile{edition(), w.ID, w.Name, w.Serial, w.HoursAtStart, w.Plan})
	return text.Bytes(), err
}

// Wings returns the IDs of all wings, in order. Each is read by Wing, so that
// one file with a fault does not hide the others.
func (s *Store) Wings() ([]string, error) {
	entries, err := s.list("wings")
	if err != nil {
		return nil, err
	}
	var ids []string
	for _, e := range entries {
		if checkID("id of a wing", e.Name()) == nil && s.exists(wingPath(e.Name())) {
			ids = append(ids, e.Name())
		}
	}
	return ids, nil
}

// Wing returns one wing.
func (s *Store) Wing(id string) (Wing, error) {
	if err := checkID("id of a wing", id); err != nil {
		return Wing{}, err
	}
	name := wingPath(id)
	data, err := s.read(name, MaxSmall)
	if errors.Is(err, fs.ErrNotExist) {
		return Wing{}, &Error{What: fmt.Sprintf("there is no wing %s", id), Err: fs.ErrNotExist,
			Do: "linewright wing list shows the wings"}
	}
	if err != nil {
		return Wing{}, err
	}
	return decodeWing(s.path(name), data, id)
}

func decodeWing(file string, data []byte, id string) (Wing, error) {
	var read wingFile
	f, err := bound(file, data, "linewright_wing", &read, &read.Edition)
	if err != nil {
		return Wing{}, err
	}
	w := Wing{ID: read.ID, Name: read.Name, Serial: read.Serial, HoursAtStart: read.HoursAtStart, Plan: read.Plan}
	if w.ID != id {
		return Wing{}, f.fault(&Error{Key: "id", What: "this is not the name of the folder", Do: "make both the same"})
	}
	if fault := wingFault(w); fault != nil {
		return Wing{}, f.fault(fault)
	}
	if !isSHA(w.Plan) {
		return Wing{}, f.fault(&Error{Key: "plan", What: "this is not a SHA-256", Do: "give 64 lower case hex digits"})
	}
	return w, nil
}

// PlanBytes returns the plan in force of a wing, as it was given, and checks its
// SHA-256.
func (s *Store) PlanBytes(w Wing) ([]byte, error) {
	if err := errors.Join(checkID("id of a wing", w.ID), checkSHA(w.Plan)); err != nil {
		return nil, err
	}
	return s.readHashed(path.Join(plansPath(w.ID), w.Plan+".toml"), w.Plan, MaxText)
}

// WingLoops returns the file with what each loop takes on this wing, as it was
// given; nil when nobody has measured that.
func (s *Store) WingLoops(id string) ([]byte, error) {
	if err := checkID("id of a wing", id); err != nil {
		return nil, err
	}
	return s.readOptional(loopsPath(id), MaxSmall)
}

// WriteWingLoops replaces the loop table of a wing. It is kept byte for byte and
// not looked into.
func (s *Store) WriteWingLoops(id string, data []byte) error {
	if _, err := s.Wing(id); err != nil {
		return err
	}
	if len(data) > MaxSmall {
		return tooLarge("the loop table", MaxSmall)
	}
	return s.write(loopsPath(id), data, 0o644)
}

// WingLoopsPath returns the full path of a wing's loop table, for messages.
func (s *Store) WingLoopsPath(id string) string { return s.path(loopsPath(id)) }

func checkWing(w Wing) error {
	if err := checkID("id of a wing", w.ID); err != nil {
		return err
	}
	if fault := wingFault(w); fault != nil {
		return fault
	}
	return nil
}

// wingFault returns what is wrong with the words and numbers of a wing, or nil.
func wingFault(w Wing) *Error {
	for _, text := range []struct{ key, value string }{{"name", w.Name}, {"serial", w.Serial}} {
		if !printable(text.value) || len(text.value) > 200 {
			return &Error{Key: text.key, What: "the " + text.key + " of the wing is too long or holds control characters",
				Do: "give up to 200 plain characters on one line"}
		}
	}
	if w.Name == "" {
		return &Error{Key: "name", What: "the wing has no name", Do: "say what its owner calls it"}
	}
	// Written so that NaN is refused too.
	if h := w.HoursAtStart; h != nil && !(*h >= 0 && *h <= 100_000) {
		return &Error{Key: "hours_at_start", What: fmt.Sprintf("%v is not a number of hours", *h),
			Do: "give hours from 0 to 100000, or leave them out"}
	}
	return nil
}

func tooLarge(what string, most int) error {
	return &Error{What: fmt.Sprintf("%s has more than %d bytes", what, most), Do: "give a smaller file"}
}
