package session

import (
	"errors"
	"fmt"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/seal"
)

// Unlock opens the key of a person in the store. passphrase is asked only if
// the key needs one; it gets overwritten. A name whose private half is not
// here is looked for in the agent.
func (d Desk) Unlock(name string, passphrase func() ([]byte, error)) (*Person, error) {
	private, public, err := d.Store.ReadSigner(name)
	if err != nil {
		return nil, err
	}
	if private == nil {
		return d.inAgent(name, public)
	}
	file, err := seal.ParseKeyFile(private)
	if err != nil {
		return nil, err
	}
	var phrase []byte
	if file.Encrypted() {
		if phrase, err = passphrase(); err != nil {
			return nil, err
		}
	}
	signer, err := file.Unlock(phrase)
	if err != nil {
		return nil, err
	}
	return &Person{name, signer}, nil
}

// FromAgent gives the key of a person as the ssh-agent holds it, also where the
// private half is in the store: without a terminal nobody can type its pass
// phrase.
func (d Desk) FromAgent(name string) (*Person, error) {
	_, public, err := d.Store.ReadSigner(name)
	if err != nil {
		return nil, err
	}
	return d.inAgent(name, public)
}

func (d Desk) inAgent(name string, public []byte) (*Person, error) {
	key, _, err := seal.ParsePublicKey(public)
	if err != nil {
		return nil, err
	}
	signer, err := seal.AgentSigner(d.Agent, key)
	if err != nil {
		return nil, err
	}
	return &Person{name, signer}, nil
}

// Encrypted reports whether a pass phrase will be asked for.
func (d Desk) Encrypted(name string) (bool, error) {
	private, _, err := d.Store.ReadSigner(name)
	if err != nil || private == nil {
		return false, err
	}
	file, err := seal.ParseKeyFile(private)
	if err != nil {
		return false, err
	}
	return file.Encrypted(), nil
}

// Trusted lists whose key is whose.
func (d Desk) Trusted() (*seal.AllowedSigners, error) {
	data, err := d.Store.AllowedSigners()
	if err != nil {
		return nil, err
	}
	return seal.ParseAllowedSigners(data)
}

// SetDoer keeps the doer's key open for the sitting. The name must be the one
// of the person at the bench.
func (s *Session) SetDoer(p *Person) error {
	if p.Name != s.desk.Who {
		return fmt.Errorf("%s is at the bench, not %s\n  sign with your own key, or start again under your own name", s.desk.Who, p.Name)
	}
	if err := s.trusted(p, seal.NamespaceHold); err != nil {
		return err
	}
	s.doer = p
	return nil
}

// Doer is the doer's open key, nil while there is none.
func (s *Session) Doer() *Person { return s.doer }

// trusted sees to it that a key is that person's by allowed_signers.
func (s *Session) trusted(p *Person, namespace string) error {
	allowed, err := s.desk.Trusted()
	if err != nil {
		return err
	}
	return allowed.KeyAllowed(p.Name, p.Signer.Public(), namespace, s.desk.Clock())
}

// SignHold signs the hold that is due in a task. A second look's key is put
// away at once, whatever comes of it.
func (s *Session) SignHold(task int, p *Person) (job.Event, error) {
	c, err := s.Card(task)
	if err != nil {
		return job.Event{}, err
	}
	if len(c.Fields) > 0 && c.Fields[c.At].Role == procedure.Second {
		defer p.Signer.Forget()
		if err := s.independent(p); err != nil {
			return job.Event{}, err
		}
	}
	if err := s.trusted(p, seal.NamespaceHold); err != nil {
		return job.Event{}, err
	}
	mark, err := s.job.Hold(task, s.stamp(), p.Name, p.Signer.Public().Fingerprint())
	if err != nil {
		return job.Event{}, err
	}
	mark.Custody, mark.Namespace = string(p.Signer.Custody()), seal.NamespaceHold
	text := []byte(s.job.HoldText(task, c.Key, mark))
	sig, err := p.Signer.Sign(seal.NamespaceHold, text)
	if err != nil {
		return job.Event{}, err
	}
	mark.Signature = string(sig)
	return s.Enter(job.Entry{Kind: job.EnterSign, Task: task, Key: c.Key, Sign: &mark})
}

// independent refuses a second look with a key that may be the doer's: by
// allowed_signers a person can have several keys.
func (s *Session) independent(p *Person) error {
	if s.doer == nil {
		return nil
	}
	allowed, err := s.desk.Trusted()
	if err != nil {
		return err
	}
	if allowed.SamePerson(p.Signer.Public(), s.doer.Signer.Public()) {
		return job.NewRefusal(job.SameKey, s.doer.Name)
	}
	return nil
}

// ErrNotClosed says that a record cannot be signed yet.
var ErrNotClosed = errors.New("the job is not closed\n  close it first; a record is made from a closed job")

// SignRecord keeps a closing signature over the bytes of record.json.
func (s *Session) SignRecord(role string, p *Person, recordJSON []byte) error {
	if s.job.Closed == nil {
		return ErrNotClosed
	}
	if err := s.trusted(p, seal.NamespaceRecord); err != nil {
		return err
	}
	if err := s.mayClose(role, p, recordJSON); err != nil {
		return err
	}
	sig, err := p.Signer.Sign(seal.NamespaceRecord, recordJSON)
	if err != nil {
		return err
	}
	return s.dir.WriteClosing(role, sig)
}
