// Package seal makes and checks SSH signatures and reads the OpenSSH
// allowed_signers file. It knows bytes, not jobs: what a message means is the
// caller's affair, the namespace says which kind of message it is.
//
// Everything it makes can be checked, and everything OpenSSH makes in the same
// namespace is accepted, by
//
//	ssh-keygen -Y verify -f allowed_signers -I NAME -n NAMESPACE -s FILE.sig < FILE
//
// A signature proves a key, not a person. Only allowed_signers says whose key
// it is, and only the people who wrote that file know whether it is right.
//
// Rules of the package: a failed call returns nothing but its error; a pass
// phrase that was handed over is overwritten with zeros before the call
// returns; no error text holds a part of a private key or of a pass phrase; the
// environment and the clock are not read, so socket and time come from the
// caller.
//
// Formats: PROTOCOL.sshsig and PROTOCOL.key of OpenSSH, and the chapter ALLOWED
// SIGNERS of its ssh-keygen manual.
package seal

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"strings"

	"github.com/hiddeco/sshsig"
	"golang.org/x/crypto/ssh"
)

// The namespaces that this program signs in. The version is part of the name,
// so that a signature over one edition of a text never counts for another.
const (
	// NamespaceHold is for the short text of one signed hold.
	NamespaceHold = "hold-v1@linewright.example.org"
	// NamespaceRecord is for the closing signatures over record.json.
	NamespaceRecord = "record-v1@linewright.example.org"
)

// namespacePattern covers the namespaces of every edition; it limits a trusted
// key to this program.
const namespacePattern = "*@linewright.example.org"

// maxArmored bounds a signature file; one of an RSA key with 16384 bits has
// about 6 KiB.
const maxArmored = 32 << 10

// Custody says how a signing key was kept when it signed.
type Custody string

const (
	// PassPhrase is a key file that was unlocked with a pass phrase.
	PassPhrase Custody = "pass phrase"
	// Unencrypted is a key file that anyone who can read it can sign with.
	Unencrypted Custody = "unencrypted"
	// InAgent is a key held by an ssh-agent; how its file is kept is not known.
	InAgent Custody = "agent"
)

// Signer is a private key that is ready to sign.
type Signer interface {
	// Public is the public half.
	Public() PublicKey
	// Custody says how the private half is kept.
	Custody() Custody
	// Sign signs the message in one of the namespaces above and returns the
	// armoured signature, as the content of a .sig file. It has been verified
	// before it is returned. Errors: UnknownNamespace, Forgotten, NoAgent,
	// NotInAgent, AgentRefused.
	Sign(namespace string, message []byte) (armored []byte, err error)
	// Forget drops the private half from memory as far as the language lets
	// it; afterwards Sign fails with Forgotten.
	Forget()
}

// Identity is a signer as a journal or a record names it.
type Identity struct {
	Name        string  // principal in allowed_signers
	Fingerprint string  // "SHA256:..."
	KeyType     string  // "ssh-ed25519", "ssh-rsa", "ecdsa-sha2-nistp256", ...
	Custody     Custody // how the key was kept when it signed
}

// Identify names a signer. Errors: BadName.
func Identify(name string, s Signer) (Identity, error) {
	if err := CheckName(name); err != nil {
		return Identity{}, err
	}
	key := s.Public()
	return Identity{Name: name, Fingerprint: key.Fingerprint(), KeyType: key.Type(), Custody: s.Custody()}, nil
}

// Verify checks an armoured signature over message and returns the key that
// made it. It proves that key only; ask AllowedSigners whose key it is.
// Errors: UnknownNamespace, BadSignature, BadKey.
func Verify(namespace string, message, armored []byte) (PublicKey, error) {
	if err := checkNamespace(namespace); err != nil {
		return PublicKey{}, err
	}
	sig, err := parseSignature(armored)
	if err != nil {
		return PublicKey{}, err
	}
	key, err := newPublicKey(sig.PublicKey)
	if err != nil {
		return PublicKey{}, err
	}
	if sig.Namespace != namespace {
		return PublicKey{}, fail(BadSignature,
			fmt.Sprintf("the signature is for %q, not for %q", clean(sig.Namespace), namespace),
			"look whether it belongs to another file; a signature of one kind never counts for another")
	}
	if err := sshsig.Verify(bytes.NewReader(message), sig, sig.PublicKey, sig.HashAlgorithm, namespace); err != nil {
		return PublicKey{}, fail(BadSignature,
			"the signature does not fit the text: one of the two was changed",
			"get both again from the person who signed; do not rely on either")
	}
	return key, nil
}

// sign makes, checks and armours a signature; refusal is the error when the key
// does not sign. The check costs little and keeps out what a broken or old agent
// may send, such as a SHA-1 signature.
func sign(signer ssh.Signer, namespace string, message []byte, refusal *Error) ([]byte, error) {
	if err := checkNamespace(namespace); err != nil {
		return nil, err
	}
	sig, err := sshsig.Sign(bytes.NewReader(message), signer, sshsig.HashSHA512, namespace)
	if err != nil {
		return nil, refusal
	}
	armored := armor(sig.Marshal())
	if _, err := Verify(namespace, message, armored); err != nil {
		return nil, err
	}
	return armored, nil
}

func checkNamespace(namespace string) error {
	if namespace == NamespaceHold || namespace == NamespaceRecord {
		return nil
	}
	return fail(UnknownNamespace,
		fmt.Sprintf("no signature is made or checked for %q", clean(namespace)),
		fmt.Sprintf("use %q or %q", NamespaceHold, NamespaceRecord))
}

const (
	armorBegin = "-----BEGIN SSH SIGNATURE-----"
	armorEnd   = "-----END SSH SIGNATURE-----"
	armorWidth = 70 // as ssh-keygen writes it
)

// armor is written here because the library breaks lines elsewhere than
// ssh-keygen does, and equal signatures are better as equal files.
func armor(blob []byte) []byte {
	text := base64.StdEncoding.EncodeToString(blob)
	var out bytes.Buffer
	out.WriteString(armorBegin + "\n")
	for len(text) > armorWidth {
		out.WriteString(text[:armorWidth] + "\n")
		text = text[armorWidth:]
	}
	out.WriteString(text + "\n" + armorEnd + "\n")
	return out.Bytes()
}

// dearmor takes one signature and nothing beside it: what stands before or
// after would look signed and is not.
func dearmor(armored []byte) ([]byte, bool) {
	if len(armored) > maxArmored {
		return nil, false
	}
	text := strings.TrimRight(strings.ReplaceAll(string(armored), "\r\n", "\n"), "\n")
	text, hasBegin := strings.CutPrefix(text, armorBegin+"\n")
	text, hasEnd := strings.CutSuffix(text, "\n"+armorEnd)
	if !hasBegin || !hasEnd || strings.Contains(text, "\r") {
		return nil, false
	}
	blob, err := base64.StdEncoding.Strict().DecodeString(text) // skips line ends
	return blob, err == nil
}

func parseSignature(armored []byte) (*sshsig.Signature, error) {
	blob, ok := dearmor(armored)
	if !ok {
		return nil, fail(BadSignature, "this is not an SSH signature",
			"give the .sig file as it was written, with nothing added before or after")
	}
	sig, err := sshsig.ParseSignature(blob)
	if err != nil {
		return nil, fail(BadSignature, "the signature cannot be used: "+clean(err.Error()),
			"have it signed again with a current ssh-keygen or with this program")
	}
	// A second spelling of the same signature, or bytes hidden in it, would
	// pass the arithmetic.
	if len(sig.Signature.Rest) > 0 || !bytes.Equal(sig.Marshal(), blob) {
		return nil, fail(BadSignature, "the signature holds bytes that do not belong there",
			"get it again from the person who signed")
	}
	return sig, nil
}
