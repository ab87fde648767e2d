package session

import (
	"strings"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/seal"
)

// opposed gives the role that one person cannot have beside this one: who did
// the work is no second person. A pilot may have been either.
func opposed(role string) string {
	switch procedure.Role(role) {
	case procedure.Doer:
		return string(procedure.Second)
	case procedure.Second:
		return string(procedure.Doer)
	}
	return ""
}

// mayClose refuses a closing signature by a person who had the opposed role in
// this job, at a hold, at the bench or in another closing signature.
func (s *Session) mayClose(role string, p *Person, recordJSON []byte) error {
	other := opposed(role)
	if other == "" {
		return nil
	}
	for _, e := range s.job.Events() {
		if e.Kind == job.Signed && e.Sign.Role == other {
			if role == string(procedure.Doer) && strings.EqualFold(e.Sign.Name, p.Name) {
				return job.NewRefusal(job.LookedAtIt, p.Name)
			}
			if e.Sign.Fingerprint == p.Signer.Public().Fingerprint() {
				return job.NewRefusal(job.SameKey, e.Sign.Name)
			}
			if strings.EqualFold(e.Sign.Name, p.Name) {
				return job.NewRefusal(job.SamePerson, p.Name)
			}
		}
		if role == string(procedure.Second) && strings.EqualFold(e.Who, p.Name) && !s.looked(e) {
			return job.NewRefusal(job.SamePerson, p.Name)
		}
	}
	return s.closedBySame(other, p, recordJSON)
}

// looked reports whether an entry is of the second person at their card.
func (s *Session) looked(e *job.Event) bool {
	t, ok := s.job.Task(e.Task)
	if !ok {
		return false
	}
	slot, ok := t.Unfolded.Slot(e.Key)
	return ok && slot.Card.By == procedure.Second
}

// closedBySame compares with the closing signature of the opposed role, if
// there is one: by allowed_signers a person can have several keys.
func (s *Session) closedBySame(other string, p *Person, recordJSON []byte) error {
	closing, err := s.dir.Closing()
	if err != nil || closing[other] == nil {
		return err
	}
	key, err := seal.Verify(seal.NamespaceRecord, recordJSON, closing[other])
	if err != nil {
		return err
	}
	allowed, err := s.desk.Trusted()
	if err != nil {
		return err
	}
	if allowed.SamePerson(p.Signer.Public(), key) {
		return job.NewRefusal(job.SamePerson, p.Name)
	}
	return nil
}
