package seal

import (
	"fmt"
	"slices"
	"strings"
	"time"
)

// AllowedSigners says whose key is whose: the content of an OpenSSH
// allowed_signers file.
type AllowedSigners struct {
	Entries []Entry
}

// Entry is one line of the file: these people may sign with this key.
type Entry struct {
	Line        int       // from 1; 0 if it comes from no file
	Principals  []string  // names or patterns with * and ?; "!" in front takes names out
	Namespaces  []string  // the same for namespaces; empty allows all
	ValidAfter  time.Time // the key counts from this moment on; zero is no limit
	ValidBefore time.Time // the key counts up to this moment, itself included; zero is no limit
	Key         PublicKey
	Comment     string
}

// timeLayout is how a moment is written: UTC, to the second.
const timeLayout = "20060102150405Z"

// String is the entry as a line of the file, without line end.
func (e Entry) String() string {
	var options []string
	if len(e.Namespaces) > 0 {
		options = append(options, `namespaces="`+strings.Join(e.Namespaces, ",")+`"`)
	}
	if !e.ValidAfter.IsZero() {
		options = append(options, `valid-after="`+e.ValidAfter.UTC().Format(timeLayout)+`"`)
	}
	if !e.ValidBefore.IsZero() {
		options = append(options, `valid-before="`+e.ValidBefore.UTC().Format(timeLayout)+`"`)
	}
	fields := []string{strings.Join(e.Principals, ",")}
	if len(options) > 0 {
		fields = append(fields, strings.Join(options, ","))
	}
	fields = append(fields, e.Key.Authorized())
	if e.Comment != "" {
		fields = append(fields, e.Comment)
	}
	return strings.Join(fields, " ")
}

// allows says whether the entry lets its key sign in a namespace at a moment.
func (e Entry) allows(namespace string, at time.Time) bool {
	return e.allowsNamespace(namespace) && !e.tooEarly(at) && !e.tooLate(at)
}

func (e Entry) allowsNamespace(namespace string) bool {
	return len(e.Namespaces) == 0 || matchList(e.Namespaces, namespace)
}

func (e Entry) tooEarly(at time.Time) bool { return !e.ValidAfter.IsZero() && at.Before(e.ValidAfter) }

// tooLate counts in whole seconds, as OpenSSH does.
func (e Entry) tooLate(at time.Time) bool {
	return !e.ValidBefore.IsZero() && at.Truncate(time.Second).After(e.ValidBefore)
}

// names are the people whom the entry names outright. A pattern names nobody.
func (e Entry) names() []string {
	var names []string
	for _, p := range e.Principals {
		if isName(p) && matchList(e.Principals, p) {
			names = append(names, p)
		}
	}
	return names
}

// PrincipalsFor gives the people whose key it is for a namespace at a moment,
// each once, in the order of the file. An entry that only has patterns names
// nobody; use KeyAllowed for it.
func (a *AllowedSigners) PrincipalsFor(key PublicKey, namespace string, at time.Time) []string {
	var people []string
	for _, e := range a.Entries {
		if e.Key != key || !e.allows(namespace, at) {
			continue
		}
		for _, name := range e.names() {
			if !slices.Contains(people, name) {
				people = append(people, name)
			}
		}
	}
	return people
}

// KeyAllowed says whether a person may sign with a key in a namespace at a
// moment: nil, or NotTrusted with the reason.
func (a *AllowedSigners) KeyAllowed(principal string, key PublicKey, namespace string, at time.Time) error {
	reason := "no line names that key"
	for _, e := range a.Entries {
		if e.Key != key {
			continue
		}
		switch {
		case !matchList(e.Principals, principal):
			reason = fmt.Sprintf("line %d gives that key to %s", e.Line, strings.Join(e.Principals, ","))
		case !e.allowsNamespace(namespace):
			reason = fmt.Sprintf("line %d does not allow the namespace %q", e.Line, clean(namespace))
		case e.tooEarly(at):
			reason = fmt.Sprintf("line %d lets it count from %s on", e.Line, e.ValidAfter.UTC().Format(time.RFC3339))
		case e.tooLate(at):
			reason = fmt.Sprintf("line %d lets it count up to %s", e.Line, e.ValidBefore.UTC().Format(time.RFC3339))
		default:
			return nil
		}
	}
	return failKey(NotTrusted, key,
		fmt.Sprintf("%s is not trusted for %s: %s", key.Fingerprint(), clean(principal), reason),
		"ask that person for the fingerprint by another way; if it is theirs: linewright signer trust NAME FILE.pub")
}

// SamePerson says whether two keys may belong to one person: they are one key,
// or some line of the file gives both to one name, at whatever time. A pattern
// may stand for anybody, so it counts for every name that it fits. A second look
// needs a key for which this is false.
func (a *AllowedSigners) SamePerson(one, other PublicKey) bool {
	if one == other {
		return true
	}
	for _, e := range a.Entries {
		for _, f := range a.Entries {
			if e.Key == one && f.Key == other && overlap(e.Principals, f.Principals) {
				return true
			}
		}
	}
	return false
}

// Append adds a person's key to the content of an allowed_signers file, for the
// namespaces of this program, and returns the new content; what stood there
// stays as it was. Errors: BadName; BadSignersFile if the existing content has a
// fault; AlreadyTrusted if that key stands there under that name; OtherName if
// it stands there under another name, or if the name differs from one that is
// there by upper and lower case only.
func Append(existing []byte, principal string, key PublicKey) ([]byte, error) {
	if err := CheckName(principal); err != nil {
		return nil, err
	}
	if key.IsZero() {
		return nil, fail(BadKey, "there is no key to add", "give the .pub file of the key")
	}
	signers, err := ParseAllowedSigners(existing)
	if err != nil {
		return nil, err
	}
	for _, e := range signers.Entries {
		if err := e.conflict(principal, key); err != nil {
			return nil, err
		}
	}
	added := Entry{Principals: []string{principal}, Namespaces: []string{namespacePattern}, Key: key}
	content := slices.Clone(existing)
	if len(content) > 0 && content[len(content)-1] != '\n' {
		content = append(content, '\n')
	}
	return append(content, added.String()+"\n"...), nil
}

// conflict says what keeps a key from being added beside the entry.
func (e Entry) conflict(principal string, key PublicKey) error {
	switch {
	case e.Key == key && matchList(e.Principals, principal):
		return failKey(AlreadyTrusted, key,
			fmt.Sprintf("line %d has that key for %s already", e.Line, principal), "nothing needs to be added")
	case e.Key == key:
		return failKey(OtherName, key,
			fmt.Sprintf("line %d gives that key to %s; one key cannot stand for two people", e.Line, strings.Join(e.Principals, ",")),
			"take the other person's own key, or remove that line first")
	}
	for _, name := range e.names() {
		if name != principal && strings.EqualFold(name, principal) {
			return failKey(OtherName, key,
				fmt.Sprintf("line %d has the name %s, which differs by upper and lower case only", e.Line, name),
				"choose a name that nobody mistakes for it, or write it as it stands there")
		}
	}
	return nil
}
