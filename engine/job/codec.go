package job

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"regexp"
	"sync"

	"example.org/linewright/engine/quantity"
)

// Encode writes an event as the one line of compact JSON that a journal takes.
func Encode(e Event) ([]byte, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(e); err != nil {
		return nil, fmt.Errorf("this entry cannot be written: %w", err)
	}
	return bytes.TrimSuffix(b.Bytes(), []byte("\n")), nil
}

// Decode reads an event in the one way in which Encode writes it. A key twice,
// two that differ by case, or one that is not known would let a person read
// something else in the journal than the program does. The error is one
// clause, without the line.
func Decode(raw []byte) (Event, error) {
	var e Event
	if err := json.Unmarshal(raw, &e); err != nil {
		return Event{}, errors.New("is no entry of a job")
	}
	again, err := Encode(e)
	if err != nil || !bytes.Equal(again, raw) {
		return Event{}, errors.New("has keys that this program does not write")
	}
	if !e.whole() {
		return Event{}, fmt.Errorf("is a %q entry without what belongs to one", e.Kind)
	}
	return e, nil
}

var shaForm = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^[0-9a-f]{64}$`) })

// whole reports whether an event has the parts that its kind cannot do
// without. Apply rests on it.
func (e *Event) whole() bool {
	if e.Value != nil && (!e.Value.Kind.Valid() || e.Value.N > quantity.Max || e.Value.N < -quantity.Max) {
		return false
	}
	if e.Photo != nil && !shaForm().MatchString(e.Photo.SHA256) {
		return false
	}
	switch e.Kind {
	case Started:
		return e.Start != nil && shaForm().MatchString(e.Start.Plan)
	case Added:
		return e.Add != nil && shaForm().MatchString(e.Add.SHA256)
	case Read:
		return e.Value != nil
	case Sheeted:
		return len(e.Sheet) > 0
	case Signed:
		return e.Sign != nil
	case Benched:
		return e.Bench != nil
	case FoundOne:
		return e.Found != nil && e.Finding != "" && e.Found.wholePhotos()
	case Deferring:
		return e.Deferral != nil && e.Finding != ""
	case Clearing:
		return e.Finding != ""
	case Parted:
		return e.Part != nil && (e.Part.Op != PartList || e.Part.Part != nil)
	}
	return true
}

func (f *Found) wholePhotos() bool {
	for _, p := range f.Photos {
		if !shaForm().MatchString(p.SHA256) {
			return false
		}
	}
	return true
}
