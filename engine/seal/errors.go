package seal

import (
	"strings"
	"unicode"
)

// Kind is what went wrong, for a caller that has to decide:
//
//	if errors.Is(err, seal.WrongPassPhrase) { ask again }
type Kind string

// The kinds of error of this package.
const (
	Locked           Kind = "key is locked"                  // a pass phrase is needed
	WrongPassPhrase  Kind = "wrong pass phrase"              // ask again
	BadKey           Kind = "key cannot be used"             // unreadable, unsupported or too weak
	Forgotten        Kind = "key was put away"               // unlock it anew
	NoAgent          Kind = "no ssh-agent"                   // none given, none answering
	NotInAgent       Kind = "key is not in the agent"        // add it, or use the file
	AgentRefused     Kind = "agent refused"                  // locked, or the person said no
	UnknownNamespace Kind = "unknown namespace"              // a fault of the caller
	BadSignature     Kind = "signature is bad"               // not one, damaged, or over another text
	NotTrusted       Kind = "key is not trusted"             // not in allowed_signers for that name, time, namespace
	BadName          Kind = "name cannot be used"            // CheckName says what can
	BadSignersFile   Kind = "allowed_signers has a fault"    // Error.Line says where
	OtherName        Kind = "key or name is taken"           // one key under two names, or names that differ in case only
	AlreadyTrusted   Kind = "key is trusted under that name" // nothing to add
)

// Error makes a Kind a target for errors.Is.
func (k Kind) Error() string { return string(k) }

// Error is every error that this package returns.
type Error struct {
	Kind Kind
	What string    // one line: what is wrong
	Cure string    // one line: what to do
	Key  PublicKey // the key concerned, zero if there is none or it is not known
	Line int       // line of the allowed_signers file from 1, else 0
}

// Error gives two lines: what is wrong, what to do.
func (e *Error) Error() string { return e.What + "\n" + e.Cure }

// Is lets errors.Is compare with a Kind.
func (e *Error) Is(target error) bool { return target == e.Kind }

func fail(kind Kind, what, cure string) *Error {
	return &Error{Kind: kind, What: what, Cure: cure}
}

func failKey(kind Kind, key PublicKey, what, cure string) *Error {
	return &Error{Kind: kind, What: what, Cure: cure, Key: key}
}

// clean makes text from outside fit for a terminal and for one line.
func clean(s string) string {
	const longest = 120
	runes := []rune(strings.ToValidUTF8(s, "?"))
	if len(runes) > longest {
		runes = append(runes[:longest], []rune("...")...)
	}
	for i, r := range runes {
		if !unicode.IsPrint(r) {
			runes[i] = '?'
		}
	}
	return string(runes)
}
