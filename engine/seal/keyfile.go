package seal

import (
	"bytes"
	"crypto/ed25519"
	"crypto/rand"
	"crypto/x509"
	"encoding/pem"
	"errors"
	"fmt"

	"golang.org/x/crypto/ssh"
)

const (
	// maxKeyFile bounds a private key file; RSA with 16384 bits has 12 KiB.
	maxKeyFile = 64 << 10
	// maxKDFRounds bounds the work to unlock; ssh-keygen's own choice is 16 to 24.
	maxKDFRounds = 2048

	keyFileType  = "OPENSSH PRIVATE KEY"
	keyFileMagic = "openssh-key-v1\x00"
)

// NewKey makes an Ed25519 key: the private half as a file in OpenSSH format
// (to be written with mode 0600), the public half as the line of a .pub file;
// the name is the comment of both. An empty pass phrase leaves the file
// unencrypted: warn before. The pass phrase is overwritten with zeros.
// Errors: BadName, BadKey (no key could be made).
func NewKey(name string, passphrase []byte) (privatePEM, publicAuthorized []byte, err error) {
	defer clear(passphrase)
	if err := CheckName(name); err != nil {
		return nil, nil, err
	}
	public, private, err := ed25519.GenerateKey(rand.Reader)
	if err != nil {
		return nil, nil, notMade()
	}
	defer clear(private)
	block, err := marshalPrivate(private, name, passphrase)
	if err != nil {
		return nil, nil, notMade()
	}
	sshPublic, err := ssh.NewPublicKey(public)
	if err != nil {
		return nil, nil, notMade()
	}
	return pem.EncodeToMemory(block), []byte(authorizedText(sshPublic) + " " + name + "\n"), nil
}

func marshalPrivate(private ed25519.PrivateKey, name string, passphrase []byte) (*pem.Block, error) {
	if len(passphrase) == 0 {
		return ssh.MarshalPrivateKey(private, name)
	}
	return ssh.MarshalPrivateKeyWithPassphrase(private, name, passphrase)
}

func notMade() *Error {
	return fail(BadKey, "the key could not be made", "try again; if it stays so, make it with: ssh-keygen -t ed25519")
}

// KeyFile is a private key file that has been read and is not yet open.
type KeyFile struct {
	content   []byte
	public    PublicKey
	encrypted bool
}

// keyFileHead is the part of the file before the private half, which is not
// encrypted (PROTOCOL.key).
type keyFileHead struct {
	CipherName string
	KdfName    string
	KdfOpts    string
	NumKeys    uint32
	PublicKey  []byte
	Private    []byte
}

// ParseKeyFile reads the content of a private key file in OpenSSH format, with
// or without a pass phrase. Errors: BadKey.
func ParseKeyFile(content []byte) (*KeyFile, error) {
	head, err := parseHead(content)
	if err != nil {
		return nil, err
	}
	encrypted := head.CipherName != "none" || head.KdfName != "none"
	if encrypted {
		if err := checkEncryption(head); err != nil {
			return nil, err
		}
	}
	parsed, err := ssh.ParsePublicKey(head.PublicKey)
	if err != nil {
		return nil, damagedKey()
	}
	public, err := newPublicKey(parsed)
	if err != nil {
		return nil, err
	}
	return &KeyFile{content: bytes.Clone(content), public: public, encrypted: encrypted}, nil
}

func parseHead(content []byte) (*keyFileHead, error) {
	if len(content) > maxKeyFile {
		return nil, fail(BadKey, "the file is too large for a private key", "give the key file that ssh-keygen wrote")
	}
	block, _ := pem.Decode(content)
	if block == nil && bytes.Contains(content, []byte("-----BEGIN "+keyFileType)) {
		return nil, damagedKey()
	}
	if block == nil {
		return nil, fail(BadKey, "this is not a private key file",
			"give the key file that ssh-keygen wrote, not the one that ends in .pub")
	}
	if block.Type != keyFileType {
		return nil, fail(BadKey, fmt.Sprintf("the key file has the older form %q", clean(block.Type)),
			"write it anew in OpenSSH form: ssh-keygen -p -f KEYFILE")
	}
	body, ok := bytes.CutPrefix(block.Bytes, []byte(keyFileMagic))
	if !ok {
		return nil, damagedKey()
	}
	var head keyFileHead
	if err := ssh.Unmarshal(body, &head); err != nil || head.NumKeys != 1 {
		return nil, damagedKey()
	}
	return &head, nil
}

// checkEncryption refuses before a pass phrase is asked for what no pass phrase
// could open.
func checkEncryption(head *keyFileHead) error {
	known := head.KdfName == "bcrypt" && (head.CipherName == "aes256-ctr" || head.CipherName == "aes256-cbc")
	if !known {
		return fail(BadKey, fmt.Sprintf("the key file is encrypted with %q, which is not known here", clean(head.CipherName)),
			"write it anew: ssh-keygen -p -Z aes256-ctr -f KEYFILE")
	}
	var options struct {
		Salt   string
		Rounds uint32
	}
	if err := ssh.Unmarshal([]byte(head.KdfOpts), &options); err != nil {
		return damagedKey()
	}
	if options.Rounds > maxKDFRounds {
		return fail(BadKey, fmt.Sprintf("unlocking the key takes %d rounds, more than %d", options.Rounds, maxKDFRounds),
			"write it anew with fewer: ssh-keygen -p -a 100 -f KEYFILE")
	}
	return nil
}

func damagedKey() *Error {
	return fail(BadKey, "the key file is damaged", "take it from a backup, or make a new key: linewright signer new NAME")
}

// Public is the public half as the file states it. Until the key is unlocked
// nothing proves that the private half belongs to it; Unlock checks that.
func (f *KeyFile) Public() PublicKey { return f.public }

// Encrypted says whether Unlock needs a pass phrase.
func (f *KeyFile) Encrypted() bool { return f.encrypted }

// Unlock opens the key. A key that is not encrypted needs no pass phrase and
// any given one is ignored. The pass phrase is overwritten with zeros, whatever
// happens; the file can be unlocked again. Errors: Locked (no pass phrase
// given), WrongPassPhrase, BadKey.
func (f *KeyFile) Unlock(passphrase []byte) (Signer, error) {
	defer clear(passphrase)
	private, err := f.decrypt(passphrase)
	if err != nil {
		return nil, err
	}
	signer, err := ssh.NewSignerFromKey(private)
	if err != nil {
		return nil, damagedKey()
	}
	if string(signer.PublicKey().Marshal()) != f.public.wire {
		return nil, failKey(BadKey, f.public, "the public and the private half in the key file do not belong together",
			"take the file from a backup, or make a new key: linewright signer new NAME")
	}
	// A damaged Ed25519 file can hold a private half that does not fit the public
	// one beside it; what such a pair signs would give the private half away.
	if _, err := sign(signer, NamespaceHold, []byte("trial"), damagedKey()); err != nil {
		return nil, damagedKey()
	}
	custody := Unencrypted
	if f.encrypted {
		custody = PassPhrase
	}
	return &fileSigner{signer: signer, private: private, public: f.public, custody: custody}, nil
}

func (f *KeyFile) decrypt(passphrase []byte) (any, error) {
	if !f.encrypted {
		private, err := ssh.ParseRawPrivateKey(f.content)
		if err != nil {
			return nil, damagedKey()
		}
		return private, nil
	}
	if len(passphrase) == 0 {
		return nil, failKey(Locked, f.public, "the key "+f.public.Fingerprint()+" is locked", "type its pass phrase")
	}
	private, err := ssh.ParseRawPrivateKeyWithPassphrase(f.content, passphrase)
	switch {
	case errors.Is(err, x509.IncorrectPasswordError):
		return nil, failKey(WrongPassPhrase, f.public, "the pass phrase does not open the key "+f.public.Fingerprint(),
			"type it again; look at caps lock and at the keyboard's language")
	case err != nil:
		return nil, damagedKey()
	}
	return private, nil
}

// fileSigner signs with a key that lies open in memory.
type fileSigner struct {
	signer  ssh.Signer // nil once forgotten
	private any
	public  PublicKey
	custody Custody
}

func (s *fileSigner) Public() PublicKey { return s.public }

func (s *fileSigner) Custody() Custody { return s.custody }

func (s *fileSigner) Sign(namespace string, message []byte) ([]byte, error) {
	if s.signer == nil {
		return nil, failKey(Forgotten, s.public, "the key "+s.public.Fingerprint()+" was put away", "unlock it again")
	}
	return sign(s.signer, namespace, message, damagedKey())
}

// Forget overwrites an Ed25519 key. RSA and ECDSA keys have copies inside the
// library that cannot be reached; there it can only let go of them.
func (s *fileSigner) Forget() {
	if key, ok := s.private.(*ed25519.PrivateKey); ok {
		clear(*key)
	}
	s.signer, s.private = nil, nil
}
