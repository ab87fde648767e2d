package store

import (
	"errors"
	"fmt"
	"io/fs"
)

// sameWing refuses a packed job whose wing has the id of another wing here. The
// journal names the wing by that id and signatures are made over it, so a job
// cannot be put under another id. Two wings of one model have one plan, so where
// there is no serial number a person has to say that it is the same.
func (s *Store) sameWing(packed Wing, same bool) error {
	here, err := s.Wing(packed.ID)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	const elsewhere = "take the job up in a store of its own, with --store"
	switch {
	case here.Serial != packed.Serial:
		return &Error{What: fmt.Sprintf("wing %s here has the serial number %q, the wing of the packed job %q", here.ID, here.Serial, packed.Serial),
			Do: "if it is another wing, " + elsewhere + "; if not, mend the serial number in the wing file that has it wrong"}
	case here.Plan != packed.Plan:
		return &Error{What: fmt.Sprintf("wing %s here has another plan than the wing of the packed job", here.ID),
			Do: elsewhere + ": there the wing is added with the plan that comes with it"}
	case here.Serial == "" && !same:
		return &Error{What: fmt.Sprintf("there is a wing %s here, and no serial number tells whether it is the wing of the packed job", here.ID),
			Do: "if you know that it is the same wing, say so; else " + elsewhere}
	}
	return nil
}

// bringWing adds the wing of a packed job where it is not here, and its loop
// table where none was measured here.
func (s *Store) bringWing(p *Packed) (added bool, err error) {
	if !s.exists(wingPath(p.Wing.ID)) {
		if _, err := s.AddWing(p.Wing, p.plan); err != nil {
			return false, err
		}
		added = true
	}
	loops, err := s.WingLoops(p.Wing.ID)
	if err == nil && loops == nil && p.loops != nil {
		err = s.WriteWingLoops(p.Wing.ID, p.loops)
	}
	return added, err
}
