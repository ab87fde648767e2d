package seal_test

import (
	"bytes"
	"crypto"
	"crypto/rand"
	"encoding/base64"
	"encoding/pem"
	"io"
	"strings"
	"testing"

	"github.com/hiddeco/sshsig"
	"golang.org/x/crypto/ssh"

	"example.org/linewright/engine/seal"
)

func TestSignAndVerifyInBothNamespaces(t *testing.T) {
	for name, private := range map[string]crypto.PrivateKey{"rsa": newRSA(t), "ecdsa": newECDSA(t)} {
		signer := openKey(t, keyFile(t, private), "")
		for _, namespace := range []string{seal.NamespaceHold, seal.NamespaceRecord} {
			armored := must[[]byte](t)(signer.Sign(namespace, message))
			if key := must[seal.PublicKey](t)(seal.Verify(namespace, message, armored)); key != signer.Public() {
				t.Errorf("%s: Verify names another key", name)
			}
		}
	}
}

func TestOneByteChangedIsNeverVerified(t *testing.T) {
	signer := newSigner(t, "ann.example")
	armored := must[[]byte](t)(signer.Sign(seal.NamespaceHold, message))
	for i := range message {
		changed := bytes.Clone(message)
		changed[i] ^= 1
		wantBad(t, changed, armored)
	}
	wantBad(t, message[:len(message)-1], armored)
	wantBad(t, append(bytes.Clone(message), '\n'), armored)
	for i := range len(bytes.TrimRight(armored, "\n")) {
		changed := bytes.Clone(armored)
		changed[i] ^= 1
		wantBad(t, message, changed)
	}
}

func wantBad(t *testing.T, message, armored []byte) {
	t.Helper()
	key, err := seal.Verify(seal.NamespaceHold, message, armored)
	if err == nil || !key.IsZero() {
		t.Fatalf("changed text or signature: key %s, error %v", key.Fingerprint(), err)
	}
}

func TestVerifyTakesOneSignatureAndNothingBeside(t *testing.T) {
	signer := newSigner(t, "ann.example")
	armored := string(must[[]byte](t)(signer.Sign(seal.NamespaceHold, message)))

	wide, _ := pem.Decode([]byte(armored))
	for name, good := range map[string]string{
		"as written":       armored,
		"other line width": string(pem.EncodeToMemory(wide)),
		"DOS line ends":    strings.ReplaceAll(armored, "\n", "\r\n"),
		"no last line end": strings.TrimRight(armored, "\n"),
	} {
		if _, err := seal.Verify(seal.NamespaceHold, message, []byte(good)); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	for name, bad := range map[string]string{
		"empty":            "",
		"text before":      "signed by Ann\n" + armored,
		"text after":       armored + "and by Ben\n",
		"twice":            armored + armored,
		"header":           strings.Replace(armored, "\n", "\nName: Ben\n\n", 1),
		"another kind":     strings.ReplaceAll(armored, "SSH SIGNATURE", "SSH MESSAGE"),
		"no end":           strings.Replace(armored, "-----END", "", 1),
		"not base64":       strings.Replace(armored, "U1NI", "U1N!", 1),
		"too large":        armored + strings.Repeat("\n", 40<<10),
		"carriage returns": strings.ReplaceAll(armored, "\n", "\r"),
	} {
		_, err := seal.Verify(seal.NamespaceHold, message, []byte(bad))
		if err == nil {
			t.Errorf("%s was taken", name)
			continue
		}
		wantKind(t, err, seal.BadSignature)
	}
}

func TestBytesHiddenInASignatureAreRefused(t *testing.T) {
	signer := newSigner(t, "ann.example")
	armored := must[[]byte](t)(signer.Sign(seal.NamespaceHold, message))
	sig := must[*sshsig.Signature](t)(sshsig.Unarmor(armored))

	sig.Signature.Rest = []byte("by Ben")
	_, err := seal.Verify(seal.NamespaceHold, message, sshsig.Armor(sig))
	wantKind(t, err, seal.BadSignature)

	// The reserved field of PROTOCOL.sshsig stands between namespace and hash.
	const before, after = "linewright.example.org\x00\x00\x00\x00", "linewright.example.org\x00\x00\x00\x03Ben"
	block, _ := pem.Decode(armored)
	block.Bytes = bytes.Replace(block.Bytes, []byte(before), []byte(after), 1)
	_, err = seal.Verify(seal.NamespaceHold, message, pem.EncodeToMemory(block))
	if e := wantKind(t, err, seal.BadSignature); !strings.Contains(e.What, "do not belong") {
		t.Errorf("refused for another reason: %s", e.What)
	}
}

func TestForeignNamespacesAreRefused(t *testing.T) {
	signer := newSigner(t, "ann.example")
	for _, namespace := range []string{"", "file", "git", "hold-v2@linewright.example.org", "\x1b[2Jfile"} {
		armored, err := signer.Sign(namespace, message)
		wantKind(t, err, seal.UnknownNamespace)
		if armored != nil {
			t.Errorf("%q: something was returned beside the error", namespace)
		}
		_, err = seal.Verify(namespace, message, nil)
		wantKind(t, err, seal.UnknownNamespace)
	}
}

// rawSign signs as a careless program might, in any namespace and algorithm.
func rawSign(t *testing.T, key crypto.Signer, algorithm, namespace string) []byte {
	t.Helper()
	signer := must[ssh.Signer](t)(ssh.NewSignerFromSigner(key))
	sig := must[*sshsig.Signature](t)(sshsig.Sign(bytes.NewReader(message),
		forced{signer.(ssh.AlgorithmSigner), algorithm}, sshsig.HashSHA512, namespace))
	return sshsig.Armor(sig)
}

type forced struct {
	ssh.AlgorithmSigner
	algorithm string
}

func (f forced) SignWithAlgorithm(random io.Reader, data []byte, _ string) (*ssh.Signature, error) {
	return f.AlgorithmSigner.SignWithAlgorithm(random, data, f.algorithm)
}

func TestSHA1SignatureIsRefused(t *testing.T) {
	key := newRSA(t)
	if _, err := seal.Verify(seal.NamespaceHold, message, rawSign(t, key, ssh.KeyAlgoRSASHA256, seal.NamespaceHold)); err != nil {
		t.Errorf("RSA with SHA-256: %v", err)
	}
	_, err := seal.Verify(seal.NamespaceHold, message, rawSign(t, key, ssh.KeyAlgoRSA, seal.NamespaceHold))
	if e := wantKind(t, err, seal.BadSignature); !strings.Contains(e.What, `invalid signature format "ssh-rsa"`) {
		t.Errorf("the text does not say what is wrong: %s", e.What)
	}
}

// Who knows the private half of a weak key can sign well with it; so the key is
// refused whatever the signature is worth.
func TestSignatureOfAWeakKeyIsRefused(t *testing.T) {
	weak, _, _, _, err := ssh.ParseAuthorizedKey([]byte(rsaLine(t, 1024)))
	if err != nil {
		t.Fatal(err)
	}
	sig := &sshsig.Signature{
		Version: 1, PublicKey: weak, Namespace: seal.NamespaceHold, HashAlgorithm: sshsig.HashSHA512,
		Signature: &ssh.Signature{Format: ssh.KeyAlgoRSASHA512, Blob: make([]byte, 128)},
	}
	key, err := seal.Verify(seal.NamespaceHold, message, sshsig.Armor(sig))
	if e := wantKind(t, err, seal.BadKey); !key.IsZero() || !strings.Contains(e.What, "1024 bits") {
		t.Errorf("key %s, error %v", key.Fingerprint(), err)
	}
}

func TestNamespaceOfASignatureIsShownWithoutControlCharacters(t *testing.T) {
	armored := rawSign(t, newRSA(t), ssh.KeyAlgoRSASHA512, "\x1b]0;owned\a\nline")
	_, err := seal.Verify(seal.NamespaceHold, message, armored)
	wantKind(t, err, seal.BadSignature)
}

func TestSignedTextsMayBeEmptyOrLarge(t *testing.T) {
	signer := newSigner(t, "ann.example")
	large := make([]byte, 1<<20)
	if _, err := rand.Read(large); err != nil {
		t.Fatal(err)
	}
	for _, text := range [][]byte{nil, {0}, large} {
		armored := must[[]byte](t)(signer.Sign(seal.NamespaceRecord, text))
		if _, err := seal.Verify(seal.NamespaceRecord, text, armored); err != nil {
			t.Errorf("%d bytes: %v", len(text), err)
		}
	}
}

func TestIdentify(t *testing.T) {
	signer := newSigner(t, "ann.example")
	got := must[seal.Identity](t)(seal.Identify("ann.example", signer))
	want := seal.Identity{
		Name: "ann.example", Fingerprint: signer.Public().Fingerprint(),
		KeyType: "ssh-ed25519", Custody: seal.Unencrypted,
	}
	if got != want {
		t.Errorf("got %+v, want %+v", got, want)
	}
	got, err := seal.Identify("Ann at the bench", signer)
	wantKind(t, err, seal.BadName)
	if got != (seal.Identity{}) {
		t.Errorf("returned beside the error: %+v", got)
	}
}

func TestSignatureFileHasLinesOfSeventy(t *testing.T) {
	signer := openKey(t, keyFile(t, newRSA(t)), "")
	lines := strings.Split(string(must[[]byte](t)(signer.Sign(seal.NamespaceHold, message))), "\n")
	last := len(lines) - 1
	if lines[0] != "-----BEGIN SSH SIGNATURE-----" || lines[last-1] != "-----END SSH SIGNATURE-----" || lines[last] != "" {
		t.Fatalf("frame is %q %q %q", lines[0], lines[last-1], lines[last])
	}
	body := lines[1 : last-1]
	for _, line := range body[:len(body)-1] {
		if len(line) != 70 {
			t.Errorf("line of %d letters: %s", len(line), line)
		}
	}
	blob, err := base64.StdEncoding.DecodeString(strings.Join(body, ""))
	if err != nil || !bytes.HasPrefix(blob, []byte("SSHSIG\x00\x00\x00\x01")) {
		t.Errorf("PROTOCOL.sshsig asks for SSHSIG and version 1 in front, got %q, %v", blob[:10], err)
	}
}
