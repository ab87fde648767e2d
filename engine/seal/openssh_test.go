package seal_test

import (
	"bytes"
	"strings"
	"testing"

	"example.org/linewright/engine/seal"
)

// The outside check of these tests is the reference program of both formats:
// ssh-keygen of OpenSSH (PROTOCOL.sshsig, ssh-keygen(1) ALLOWED SIGNERS).

var message = []byte("{\"job\":7,\"wing\":\"sample\"}\n")

// keyKinds are keys as people have them, made by ssh-keygen.
var keyKinds = []struct {
	name, passphrase string
	args             []string
}{
	{"ed25519", "", []string{"-t", "ed25519"}},
	{"ed25519 encrypted", "cold hands", []string{"-t", "ed25519"}},
	{"rsa 3072", "", []string{"-t", "rsa", "-b", "3072"}},
	{"rsa 2048 encrypted with cbc", "cold hands", []string{"-t", "rsa", "-b", "2048", "-Z", "aes256-cbc"}},
	{"ecdsa 256", "", []string{"-t", "ecdsa", "-b", "256"}},
	{"ecdsa 384 encrypted", "cold hands", []string{"-t", "ecdsa", "-b", "384"}},
	{"ecdsa 521", "", []string{"-t", "ecdsa", "-b", "521"}},
}

func TestSignaturesBothWaysWithOpenSSH(t *testing.T) {
	for _, kind := range keyKinds {
		t.Run(kind.name, func(t *testing.T) {
			b := newBench(t)
			args := append([]string{"-q", "-N", kind.passphrase, "-C", "ann.example", "-f", "key"}, kind.args...)
			b.run(nil, args...)

			file := must[*seal.KeyFile](t)(seal.ParseKeyFile(b.read("key")))
			if file.Encrypted() != (kind.passphrase != "") {
				t.Errorf("Encrypted() is %v for the pass phrase %q", file.Encrypted(), kind.passphrase)
			}
			if listed := b.run(nil, "-l", "-f", "key.pub"); !strings.Contains(listed, " "+file.Public().Fingerprint()+" ") {
				t.Errorf("fingerprint %s, ssh-keygen says %s", file.Public().Fingerprint(), listed)
			}
			signer := openKey(t, b.read("key"), kind.passphrase)
			b.write("allowed_signers", must[[]byte](t)(seal.Append(nil, "ann.example", signer.Public())))

			oursToOpenSSH(t, b, signer)
			openSSHToOurs(t, b, signer, kind.passphrase)
		})
	}
}

func oursToOpenSSH(t *testing.T, b bench, signer seal.Signer) {
	t.Helper()
	b.write("ours.sig", must[[]byte](t)(signer.Sign(seal.NamespaceRecord, message)))
	verify := func(name, namespace string) []string {
		return []string{"-Y", "verify", "-f", "allowed_signers", "-I", name, "-n", namespace, "-s", "ours.sig"}
	}
	b.run(message, verify("ann.example", seal.NamespaceRecord)...)
	found := b.run(message, "-Y", "find-principals", "-f", "allowed_signers", "-n", seal.NamespaceRecord, "-s", "ours.sig")
	if strings.TrimSpace(found) != "ann.example" {
		t.Errorf("find-principals says %q", found)
	}

	b.wantRefused(message, verify("ann.example", seal.NamespaceHold)...)
	b.wantRefused(message, verify("ben.example", seal.NamespaceRecord)...)
	changed := bytes.Clone(message)
	changed[3] ^= 1
	b.wantRefused(changed, verify("ann.example", seal.NamespaceRecord)...)
}

func openSSHToOurs(t *testing.T, b bench, signer seal.Signer, passphrase string) {
	t.Helper()
	for _, hash := range []string{"sha512", "sha256"} {
		theirs := []byte(b.run(message, "-q", "-Y", "sign", "-P", passphrase, "-O", "hashalg="+hash, "-f", "key", "-n", seal.NamespaceRecord))
		key, err := seal.Verify(seal.NamespaceRecord, message, theirs)
		if err != nil {
			t.Fatalf("signature of ssh-keygen with %s: %v", hash, err)
		}
		if key != signer.Public() {
			t.Errorf("Verify names %s, want %s", key.Fingerprint(), signer.Public().Fingerprint())
		}
		_, err = seal.Verify(seal.NamespaceHold, message, theirs)
		wantKind(t, err, seal.BadSignature)
		if key.Type() == "ssh-ed25519" && hash == "sha512" {
			// Ed25519 (RFC 8032) gives one signature for one message.
			if ours := must[[]byte](t)(signer.Sign(seal.NamespaceRecord, message)); !bytes.Equal(ours, theirs) {
				t.Errorf("our file\n%s\ndiffers from the one of ssh-keygen\n%s", ours, theirs)
			}
		}
	}
}

func TestNewKeyIsReadByOpenSSH(t *testing.T) {
	for _, passphrase := range []string{"", "cold hands"} {
		t.Run("pass phrase "+passphrase, func(t *testing.T) {
			b := newBench(t)
			private, public, err := seal.NewKey("ann.example", []byte(passphrase))
			if err != nil {
				t.Fatal(err)
			}
			b.write("key", private)
			if read := b.run(nil, "-y", "-P", passphrase, "-f", "key"); read != string(public) {
				t.Errorf("ssh-keygen reads %q, the .pub file is %q", read, public)
			}
			if passphrase != "" {
				b.wantRefused(nil, "-y", "-P", "warm hands", "-f", "key")
			}
		})
	}
}

func TestWeakKeyOfOpenSSHIsRefused(t *testing.T) {
	b := newBench(t)
	b.run(nil, "-q", "-N", "", "-t", "rsa", "-b", "1024", "-f", "key")
	file, err := seal.ParseKeyFile(b.read("key"))
	if e := wantKind(t, err, seal.BadKey); file != nil || !strings.Contains(e.What, "1024 bits") {
		t.Errorf("key file %v, error %v", file, err)
	}
}

// Each line has one key and a bound of time or namespace; OpenSSH and this
// package have to judge it alike.
func TestAllowedSignersJudgedAsOpenSSHDoes(t *testing.T) {
	b := newBench(t)
	signer := newSigner(t, "ann.example")
	b.write("sig", must[[]byte](t)(signer.Sign(seal.NamespaceRecord, message)))
	key := signer.Public().Authorized()

	for _, c := range []struct {
		name, line string
		allowed    bool
	}{
		{"plain", "ann.example " + key, true},
		{"comment behind", "ann.example " + key + " Ann at the bench", true},
		{"quoted", `"ann.example" ` + key, true},
		{"list", "ben.example,ann.example " + key, true},
		{"quoted list", `"ben.example,ann.example" ` + key, true},
		{"other name", "ben.example " + key, false},
		{"other case", "Ann.example " + key, false},
		{"star", "*.example " + key, true},
		{"question mark", "a?n.example " + key, true},
		{"question mark is one character", "an?n.example " + key, false},
		{"taken out", "*.example,!ann.example " + key, false},
		{"taken out first", "!ann.example,*.example " + key, false},
		{"another taken out", "*.example,!ben.example " + key, true},
		{"only taken out", "!ben.example " + key, false},
		{"namespace", `ann.example namespaces="` + seal.NamespaceRecord + `" ` + key, true},
		{"namespace in capitals", `ann.example NameSpaces="` + seal.NamespaceRecord + `" ` + key, true},
		{"namespace pattern", `ann.example namespaces="*@linewright.example.org" ` + key, true},
		{"namespace list", `ann.example namespaces="file,record-v*" ` + key, true},
		{"other namespace", `ann.example namespaces="` + seal.NamespaceHold + `" ` + key, false},
		{"namespace taken out", `ann.example namespaces="*,!record-*" ` + key, false},
		{"after, day", `ann.example valid-after="20260601Z" ` + key, true},
		{"after, next day", `ann.example valid-after="20260602Z" ` + key, false},
		{"after, that second", `ann.example valid-after="20260601120000Z" ` + key, true},
		{"after, next second", `ann.example valid-after="20260601120001Z" ` + key, false},
		{"before, day", `ann.example valid-before="20260602Z" ` + key, true},
		{"before, same day", `ann.example valid-before="20260601Z" ` + key, false},
		{"before, that minute", `ann.example valid-before="202606011200Z" ` + key, true},
		{"before, second past", `ann.example valid-before="20260601115959Z" ` + key, false},
		{"both", `ann.example valid-after="20260101Z",valid-before="20261231Z",namespaces="record-v1*" ` + key, true},
		{"second line counts", "# two keys\r\n\nben.example " + key + "\nann.example " + key + "\n", true},
	} {
		t.Run(c.name, func(t *testing.T) {
			b.t = t
			b.write("allowed_signers", []byte(c.line+"\n"))
			out, err := b.try(message, "-Y", "verify", "-f", "allowed_signers", "-I", "ann.example",
				"-n", seal.NamespaceRecord, "-s", "sig", "-O", "verify-time=20260601120000Z")
			if (err == nil) != c.allowed {
				t.Errorf("OpenSSH: %v, want allowed %v\n%s", err, c.allowed, out)
			}
			signers := must[*seal.AllowedSigners](t)(seal.ParseAllowedSigners([]byte(c.line + "\n")))
			err = signers.KeyAllowed("ann.example", signer.Public(), seal.NamespaceRecord, noon)
			if (err == nil) != c.allowed {
				t.Errorf("here: %v, want allowed %v", err, c.allowed)
			}
			if !c.allowed {
				wantKind(t, err, seal.NotTrusted)
			}
		})
	}
}
