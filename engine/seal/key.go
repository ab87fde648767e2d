package seal

import (
	"bytes"
	"crypto/rsa"
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"strings"

	"golang.org/x/crypto/ssh"
)

// minRSABits is where signatures with RSA are still held safe (NIST SP 800-131A).
const minRSABits = 2048

// maxNameLength keeps a name on one line of a card.
const maxNameLength = 64

// PublicKey is the public half of a key. Two of them are equal (==) when they
// are the same key. The zero value is no key.
type PublicKey struct {
	wire string // SSH wire format, in its one canonical spelling
}

// ParsePublicKey reads the one line of a .pub file: type, base64, comment.
// Options before the type are refused. Errors: BadKey.
func ParsePublicKey(line []byte) (key PublicKey, comment string, err error) {
	text := strings.TrimSpace(string(line))
	if strings.Contains(text, "PRIVATE KEY-----") {
		return PublicKey{}, "", fail(BadKey, "this is a private key",
			"give the file that ends in .pub, and keep this one to yourself")
	}
	if strings.ContainsAny(text, "\n\r") {
		return PublicKey{}, "", fail(BadKey, "a public key is one line, this has more",
			"give a .pub file with one key")
	}
	fields := strings.Fields(text)
	if len(fields) < 2 {
		return PublicKey{}, "", fail(BadKey, "this is not a public key of OpenSSH",
			`give a .pub file; its line starts with a type such as "ssh-ed25519"`)
	}
	key, err = decodePublicKey(fields[0], fields[1])
	if err != nil {
		return PublicKey{}, "", err
	}
	return key, clean(strings.Join(fields[2:], " ")), nil
}

// decodePublicKey reads the type and the base64 text of a key as they stand in
// .pub files and in allowed_signers.
func decodePublicKey(keyType, text string) (PublicKey, error) {
	wire, err := base64.StdEncoding.Strict().DecodeString(text)
	if err != nil {
		return PublicKey{}, fail(BadKey, fmt.Sprintf("no key follows the word %q", clean(keyType)),
			`copy the whole line of the .pub file; a type such as "ssh-ed25519" and a long word follow each other`)
	}
	parsed, err := ssh.ParsePublicKey(wire)
	if err != nil {
		return PublicKey{}, fail(BadKey, "the public key is damaged or of an unknown type",
			"copy the whole line of the .pub file again")
	}
	if parsed.Type() != keyType {
		return PublicKey{}, fail(BadKey,
			fmt.Sprintf("the line says %q, the key in it is %q", clean(keyType), parsed.Type()),
			"copy the whole line of the .pub file again")
	}
	// One key in two spellings would have two fingerprints and pass for two.
	if !bytes.Equal(parsed.Marshal(), wire) {
		return PublicKey{}, fail(BadKey, "the public key is spelt in an unusual way",
			"make the line anew: ssh-keygen -y -f KEYFILE")
	}
	return newPublicKey(parsed)
}

// newPublicKey admits the kinds of key that are safe to sign with today.
func newPublicKey(parsed ssh.PublicKey) (PublicKey, error) {
	switch parsed.Type() {
	case ssh.KeyAlgoED25519, ssh.KeyAlgoECDSA256, ssh.KeyAlgoECDSA384, ssh.KeyAlgoECDSA521:
	case ssh.KeyAlgoRSA:
		if bits := rsaBits(parsed); bits < minRSABits {
			return PublicKey{}, fail(BadKey,
				fmt.Sprintf("the RSA key has %d bits; below %d it could be forged", bits, minRSABits),
				"make a new key: linewright signer new NAME")
		}
	default:
		return PublicKey{}, fail(BadKey,
			fmt.Sprintf("keys of the type %q are not taken", clean(parsed.Type())),
			"use an Ed25519, ECDSA or RSA key; a new one: linewright signer new NAME")
	}
	return PublicKey{wire: string(parsed.Marshal())}, nil
}

func rsaBits(key ssh.PublicKey) int {
	public, ok := key.(ssh.CryptoPublicKey)
	if !ok {
		return 0
	}
	rsaKey, ok := public.CryptoPublicKey().(*rsa.PublicKey)
	if !ok {
		return 0
	}
	return rsaKey.N.BitLen()
}

// IsZero says whether there is no key.
func (k PublicKey) IsZero() bool { return k.wire == "" }

// Fingerprint is "SHA256:" and 43 letters as `ssh-keygen -l` shows it, or "" of
// no key.
func (k PublicKey) Fingerprint() string {
	if k.IsZero() {
		return ""
	}
	sum := sha256.Sum256([]byte(k.wire))
	return "SHA256:" + base64.RawStdEncoding.EncodeToString(sum[:])
}

// Type is the name that OpenSSH gives to the kind of key, such as
// "ssh-ed25519", or "" of no key.
func (k PublicKey) Type() string {
	name, _, _ := strings.Cut(k.Authorized(), " ")
	return name
}

// Authorized is the key as a .pub file has it, without comment and line end:
// "ssh-ed25519 AAAA...", or "" of no key.
func (k PublicKey) Authorized() string {
	parsed, err := ssh.ParsePublicKey([]byte(k.wire))
	if err != nil {
		return ""
	}
	return authorizedText(parsed)
}

func authorizedText(key ssh.PublicKey) string {
	return key.Type() + " " + base64.StdEncoding.EncodeToString(key.Marshal())
}

// CheckName checks the name of a person as it stands in allowed_signers, in
// journals and in file names: 1 to 64 of the letters a-z A-Z, digits and . _ - + @,
// a letter or digit first. Other letters are refused because two names that
// look alike must not be two people. Errors: BadName.
func CheckName(name string) error {
	if isName(name) {
		return nil
	}
	return fail(BadName, fmt.Sprintf("%q cannot be a person's name here", clean(name)),
		`use 1 to 64 letters a-z, digits and . _ - + @, a letter or digit first, such as "ann.example"`)
}

func isName(name string) bool {
	if name == "" || len(name) > maxNameLength || !isLetterOrDigit(rune(name[0])) {
		return false
	}
	return strings.IndexFunc(name, func(r rune) bool { return !isNameRune(r) }) < 0
}

func isLetterOrDigit(r rune) bool {
	return 'a' <= r && r <= 'z' || 'A' <= r && r <= 'Z' || '0' <= r && r <= '9'
}

func isNameRune(r rune) bool {
	return isLetterOrDigit(r) || r == '.' || r == '_' || r == '-' || r == '+' || r == '@'
}
