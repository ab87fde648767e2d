package record

import (
	"errors"
	"fmt"
	"strings"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/journal"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/seal"
)

// signers are the keys that signed as the doer and as the second person.
type signers struct{ doer, second []signer }

type signer struct {
	key  seal.PublicKey
	file string
	line int
}

func (s *signers) add(role string, one signer) {
	switch role {
	case string(procedure.Doer):
		s.doer = append(s.doer, one)
	case string(procedure.Second):
		s.second = append(s.second, one)
	}
}

// signatures checks the closing signatures over record.json.
func (v *verifier) signatures() {
	any := false
	for _, name := range sortedNames(v.names) {
		if !isSignature(name) {
			continue
		}
		any = true
		if v.json == nil {
			continue
		}
		role := strings.TrimSuffix(strings.TrimPrefix(name, NameJSON+"."), ".sig")
		if !roleForm().MatchString(role) {
			v.add(SigName, name, role)
			continue
		}
		v.closing(name, role)
	}
	if !any {
		v.add(NoSignature, SignatureName("doer"))
	}
	if data, ok := v.read(NameSums); ok && !v.sealed {
		sums, _ := parseSums(data)
		have, ok := v.sum(NameJSON)
		v.sealed = ok && sums[NameJSON] == have
	}
}

func (v *verifier) closing(name, role string) {
	armored, ok := v.read(name)
	if !ok {
		return
	}
	key, err := seal.Verify(seal.NamespaceRecord, v.json, armored)
	if err != nil {
		v.add(SigBad, name, firstLine(err))
		return
	}
	v.sealed = true
	s := Signature{File: name, Role: role, Fingerprint: key.Fingerprint()}
	if v.allowed != nil {
		s.Names = v.allowed.PrincipalsFor(key, seal.NamespaceRecord, v.closed)
		s.Trusted = len(s.Names) > 0
		if !s.Trusted {
			v.add(SigTrust, name, key.Fingerprint(), v.closedText())
		}
	}
	v.keys.add(role, signer{key, name, 0})
	v.r.Closing = append(v.r.Closing, s)
}

func (v *verifier) closedText() string {
	if v.closed.IsZero() {
		return "an unknown day"
	}
	return v.closed.Format("2006-01-02")
}

// hold checks a signed hold at its place in the chain, before it is applied.
func (v *verifier) hold(j *job.Job, at journal.Line, e *job.Event) {
	if e.Kind != job.Signed {
		return
	}
	m := e.Sign
	note := func(code Code, args ...any) {
		v.addAt(code, NameJournal, at.N, args...)
	}
	if m.OverN != at.N-1 || m.OverHash != at.Prev {
		note(HoldPlace, m.Name)
	}
	if err := fits(j, e); err != nil {
		note(HoldRole, m.Name, firstLine(err))
	}
	key, err := seal.Verify(seal.NamespaceHold, []byte(j.HoldText(e.Task, e.Key, *m)), []byte(m.Signature))
	if err == nil && key.Fingerprint() != m.Fingerprint {
		err = fmt.Errorf("the key that signed is %s, not %s", key.Fingerprint(), m.Fingerprint)
	}
	if err != nil {
		note(HoldText, m.Name, firstLine(err))
		return
	}
	s := Signature{File: NameJournal, Line: at.N, Role: m.Role, Fingerprint: m.Fingerprint, Custody: m.Custody, Names: []string{m.Name}}
	if v.allowed != nil {
		err := v.allowed.KeyAllowed(m.Name, key, seal.NamespaceHold, moment(e.At))
		s.Trusted = err == nil
		if err != nil {
			note(HoldTrust, firstLine(err), m.Name)
		}
	}
	v.keys.add(m.Role, signer{key, NameJournal, at.N})
	v.r.Holds = append(v.r.Holds, s)
}

// fits reports what keeps a mark from being the signature that its step wants.
func fits(j *job.Job, e *job.Event) error {
	t, ok := j.Task(e.Task)
	if !ok {
		return errors.New("there is no such task")
	}
	slot, ok := t.Unfolded.Slot(e.Key)
	if !ok || slot.Step.Kind != procedure.Sign {
		return errors.New("the step is no hold")
	}
	if e.Sign.Namespace != seal.NamespaceHold {
		return errors.New("the signature was made for another purpose")
	}
	if e.Sign.States != slot.Say(slot.Step.States, "en", t) {
		return errors.New("the text that was signed is not the procedure's")
	}
	return j.MaySign(t, slot, *e.Sign)
}

// independence notes a second look that came from the doer, by key or by the
// names in the trusted file.
func (v *verifier) independence() {
	doers := map[seal.PublicKey]bool{}
	for _, d := range v.keys.doer {
		doers[d.key] = true
	}
	known := v.knownKeys()
	asked := map[seal.PublicKey]bool{}
	for _, s := range v.keys.second {
		if !asked[s.key] && (doers[s.key] || known[s.key] && v.alsoDoer(s.key, doers, known)) {
			v.addAt(SameSigner, s.file, s.line, s.key.Fingerprint())
		}
		asked[s.key] = true
	}
}

// knownKeys are those of the trusted file, under whatever name.
func (v *verifier) knownKeys() map[seal.PublicKey]bool {
	known := map[seal.PublicKey]bool{}
	if v.allowed != nil {
		for _, e := range v.allowed.Entries {
			known[e.Key] = true
		}
	}
	return known
}

// alsoDoer reports whether the trusted file gives a key to one of the doers.
func (v *verifier) alsoDoer(key seal.PublicKey, doers, known map[seal.PublicKey]bool) bool {
	for d := range doers {
		if known[d] && v.allowed.SamePerson(key, d) {
			return true
		}
	}
	return false
}
