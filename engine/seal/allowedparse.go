package seal

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"
)

// maxSignersFile bounds an allowed_signers file: some thousand people.
const maxSignersFile = 1 << 20

// ParseAllowedSigners reads the content of an allowed_signers file. It takes
// less than OpenSSH does, so that the file means the same here and there:
// cert-authority is refused, and moments without Z, which OpenSSH reads in
// whatever time zone a computer is set to. The first fault ends the reading.
// Errors: BadSignersFile with the line.
func ParseAllowedSigners(content []byte) (*AllowedSigners, error) {
	if len(content) > maxSignersFile {
		return nil, fail(BadSignersFile, "the file of trusted people is larger than 1 MiB", "remove lines that are not needed")
	}
	signers := &AllowedSigners{}
	number := 0
	for line := range bytes.SplitSeq(content, []byte("\n")) {
		number++
		text := strings.Trim(strings.TrimSuffix(string(line), "\r"), " \t")
		if text == "" || text[0] == '#' {
			continue
		}
		entry, err := parseEntry(text)
		if err != nil {
			return nil, atLine(number, err)
		}
		entry.Line = number
		signers.Entries = append(signers.Entries, entry)
	}
	return signers, nil
}

func fault(what, cure string) error { return fail(BadSignersFile, what, cure) }

// atLine says where a fault stands.
func atLine(number int, err error) error {
	var bare *Error
	if !errors.As(err, &bare) {
		return err
	}
	return &Error{
		Kind: BadSignersFile, Line: number, Key: bare.Key, Cure: bare.Cure,
		What: fmt.Sprintf("allowed_signers line %d: %s", number, bare.What),
	}
}

// parseEntry reads principals, options if there are any, type, key, comment.
func parseEntry(text string) (Entry, error) {
	if !utf8.ValidString(text) || strings.IndexFunc(text, isUnprintable) >= 0 {
		return Entry{}, fault("the line holds a control character or is not UTF-8", "write the line anew")
	}
	var entry Entry
	field, rest, err := principalsField(text)
	if err != nil {
		return Entry{}, err
	}
	if entry.Principals, err = parsePrincipals(field); err != nil {
		return Entry{}, err
	}
	keyType, rest := nextField(rest)
	if strings.HasPrefix(keyType, "AAAA") { // so starts the base64 text of every key: a .pub line was copied as it is
		return Entry{}, fault("the name in front of the key is missing", "write: NAME ssh-ed25519 AAAA...")
	}
	if !isKeyType(keyType) {
		if err := entry.parseOptions(keyType); err != nil {
			return Entry{}, err
		}
		keyType, rest = nextField(rest)
	}
	encoded, comment := nextField(rest)
	if encoded == "" {
		return Entry{}, fault("the key is missing", "write: NAME ssh-ed25519 AAAA...")
	}
	if entry.Key, err = decodePublicKey(keyType, encoded); err != nil {
		return Entry{}, err
	}
	entry.Comment = comment
	return entry, nil
}

func isUnprintable(r rune) bool { return r != '\t' && !unicode.IsPrint(r) }

// isKeyType tells a type of key from options, which stand in the same place.
func isKeyType(word string) bool {
	if strings.ContainsAny(word, `="`) {
		return false
	}
	return strings.HasPrefix(word, "ssh-") || strings.HasPrefix(word, "ecdsa-") || strings.HasPrefix(word, "sk-")
}

// nextField cuts the first field off; blanks within double quotes belong to it.
func nextField(text string) (field, rest string) {
	quoted := false
	for i := 0; i < len(text); i++ {
		switch c := text[i]; {
		case c == '"':
			quoted = !quoted
		case (c == ' ' || c == '\t') && !quoted:
			return text[:i], strings.TrimLeft(text[i:], " \t")
		}
	}
	return text, ""
}

// principalsField cuts off the list of names, which may stand in double quotes
// as a whole.
func principalsField(text string) (field, rest string, err error) {
	if quoted, ok := strings.CutPrefix(text, `"`); ok {
		field, rest, ok = strings.Cut(quoted, `"`)
		if !ok || rest != "" && rest[0] != ' ' && rest[0] != '\t' {
			return "", "", fault("the quotes around the names are not closed", `write: "NAME,NAME" ssh-ed25519 AAAA...`)
		}
		return field, strings.TrimLeft(rest, " \t"), nil
	}
	field, rest = nextField(text)
	return field, rest, nil
}

func parsePrincipals(field string) ([]string, error) {
	patterns := strings.Split(field, ",")
	for _, p := range patterns {
		if !isPattern(p) {
			return nil, fault(fmt.Sprintf("%q is neither a name nor a pattern of names", clean(p)),
				`use letters a-z, digits and . _ - + @, with * ? ! in patterns; names are parted by commas without blanks`)
		}
	}
	return patterns, nil
}

// isPattern says whether a text is a name, or one with * ? in it or ! in front.
func isPattern(text string) bool {
	text = strings.TrimPrefix(text, "!")
	if text == "" || len(text) > maxNameLength {
		return false
	}
	return strings.IndexFunc(text, func(r rune) bool { return !isNameRune(r) && r != '*' && r != '?' }) < 0
}

// parseOptions reads the options, such as namespaces="a,b",valid-after="20260101Z".
func (e *Entry) parseOptions(text string) error {
	seen := map[string]bool{}
	for text != "" {
		name, value, rest, err := nextOption(text)
		if err != nil {
			return err
		}
		if seen[name] {
			return fault(fmt.Sprintf("the option %s stands twice", name), "keep one of them")
		}
		seen[name] = true
		if err := e.setOption(name, value); err != nil {
			return err
		}
		text = rest
	}
	if !e.ValidAfter.IsZero() && !e.ValidBefore.IsZero() && !e.ValidAfter.Before(e.ValidBefore) {
		return fault("valid-before is not later than valid-after", "correct one of the two")
	}
	return nil
}

// nextOption cuts off the first of the options: a name, and ="value" unless it is
// cert-authority. Names of options may be written in capitals.
func nextOption(text string) (name, value, rest string, err error) {
	end := strings.IndexAny(text, "=,")
	if end < 0 {
		end = len(text)
	}
	name, rest = strings.ToLower(text[:end]), text[end:]
	if assigned, ok := strings.CutPrefix(rest, "="); ok {
		quoted, opened := strings.CutPrefix(assigned, `"`)
		var closed bool
		value, rest, closed = strings.Cut(quoted, `"`)
		if !opened || !closed || strings.Contains(value, `\`) {
			return "", "", "", fault(fmt.Sprintf("the value of %q is not in double quotes", clean(name)), `write it as: `+exampleOption)
		}
	}
	if rest == "" {
		return name, value, "", nil
	}
	rest, parted := strings.CutPrefix(rest, ",")
	if !parted || rest == "" {
		return "", "", "", fault(fmt.Sprintf("something other than an option follows %q", clean(name)), "part options by one comma, without blanks")
	}
	return name, value, rest, nil
}

const exampleOption = `namespaces="` + NamespaceRecord + `",valid-before="20271231Z"`

func (e *Entry) setOption(name, value string) (err error) {
	switch name {
	case "namespaces":
		e.Namespaces, err = parseNamespaces(value)
	case "valid-after":
		e.ValidAfter, err = parseMoment(value)
	case "valid-before":
		e.ValidBefore, err = parseMoment(value)
	case "cert-authority":
		err = fault("cert-authority: certificates are not supported", "write one line for each person with the person's own key")
	default:
		err = fault(fmt.Sprintf("%q is neither a key type nor an option", clean(name)), `write: NAME `+exampleOption+` ssh-ed25519 AAAA...`)
	}
	return err
}

func parseNamespaces(value string) ([]string, error) {
	patterns := strings.Split(value, ",")
	for _, p := range patterns {
		if !isPattern(p) {
			return nil, fault(fmt.Sprintf("%q is neither a namespace nor a pattern of them", clean(p)), `write: namespaces="`+NamespaceRecord+`"`)
		}
	}
	return patterns, nil
}

// momentLayouts are the ways to write a moment that OpenSSH knows, in UTC. A
// date alone is the start of that day.
var momentLayouts = []string{"20060102Z", "200601021504Z", timeLayout}

func parseMoment(value string) (time.Time, error) {
	for _, layout := range momentLayouts {
		if len(value) != len(layout) {
			continue
		}
		if at, err := time.Parse(layout, value); err == nil && at.Unix() > 0 {
			return at, nil
		}
	}
	return time.Time{}, fault(fmt.Sprintf("%q is not a moment in UTC", clean(value)),
		"write YYYYMMDDZ, YYYYMMDDHHMMZ or YYYYMMDDHHMMSSZ; the Z is needed, because without it each computer reads another moment")
}
