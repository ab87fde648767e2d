package seal_test

import (
	"bytes"
	"crypto"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/rsa"
	"encoding/pem"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"golang.org/x/crypto/ssh"

	"example.org/linewright/engine/seal"
)

var noon = time.Date(2026, 6, 1, 12, 0, 0, 0, time.UTC)

// wantKind checks the kind of an error and that its text is two clean lines.
func wantKind(t *testing.T, err error, kind seal.Kind) *seal.Error {
	t.Helper()
	if !errors.Is(err, kind) {
		t.Fatalf("error is %v, want the kind %q", err, kind)
	}
	var e *seal.Error
	if !errors.As(err, &e) {
		t.Fatalf("%v is no *seal.Error", err)
	}
	checkText(t, e)
	return e
}

// checkText holds each error to one line what and one line what to do.
func checkText(t *testing.T, e *seal.Error) {
	t.Helper()
	for _, line := range []string{e.What, e.Cure} {
		if line == "" || strings.IndexFunc(line, func(r rune) bool { return r < ' ' || r >= 0x7f && r < 0xa0 }) >= 0 {
			t.Fatalf("line of the error is empty or holds a control character: %q", line)
		}
	}
	if e.Error() != e.What+"\n"+e.Cure {
		t.Fatalf("text is %q, want what and cure on two lines", e.Error())
	}
}

func must[T any](t testing.TB) func(T, error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

// newSigner makes an unencrypted Ed25519 key.
func newSigner(t testing.TB, name string) seal.Signer {
	t.Helper()
	private, _, err := seal.NewKey(name, nil)
	if err != nil {
		t.Fatal(err)
	}
	return openKey(t, private, "")
}

func openKey(t testing.TB, private []byte, passphrase string) seal.Signer {
	t.Helper()
	file := must[*seal.KeyFile](t)(seal.ParseKeyFile(private))
	return must[seal.Signer](t)(file.Unlock([]byte(passphrase)))
}

// keyFile writes a private key of any kind in OpenSSH form.
func keyFile(t testing.TB, key crypto.PrivateKey) []byte {
	t.Helper()
	return pem.EncodeToMemory(must[*pem.Block](t)(ssh.MarshalPrivateKey(key, "ann.example")))
}

func newRSA(t testing.TB) *rsa.PrivateKey {
	t.Helper()
	return must[*rsa.PrivateKey](t)(rsa.GenerateKey(rand.Reader, 2048))
}

func newECDSA(t testing.TB) *ecdsa.PrivateKey {
	t.Helper()
	return must[*ecdsa.PrivateKey](t)(ecdsa.GenerateKey(elliptic.P256(), rand.Reader))
}

// needTool skips, or fails where the tools have to be there.
func needTool(t *testing.T, name string) {
	t.Helper()
	if _, err := exec.LookPath(name); err == nil {
		return
	}
	if os.Getenv("LINEWRIGHT_NEED_TOOLS") == "1" {
		t.Fatalf("%s is not installed and LINEWRIGHT_NEED_TOOLS=1", name)
	}
	t.Skipf("%s is not installed", name)
}

// bench is a folder in which OpenSSH's ssh-keygen works.
type bench struct {
	t   *testing.T
	dir string
}

func newBench(t *testing.T) bench {
	t.Helper()
	needTool(t, "ssh-keygen")
	return bench{t, t.TempDir()}
}

func (b bench) path(name string) string { return filepath.Join(b.dir, name) }

func (b bench) write(name string, content []byte) string {
	b.t.Helper()
	if err := os.WriteFile(b.path(name), content, 0o600); err != nil {
		b.t.Fatal(err)
	}
	return b.path(name)
}

func (b bench) read(name string) []byte {
	b.t.Helper()
	return must[[]byte](b.t)(os.ReadFile(b.path(name)))
}

// try runs ssh-keygen with a message on standard input.
func (b bench) try(stdin []byte, args ...string) (string, error) {
	cmd := exec.Command("ssh-keygen", args...)
	cmd.Dir, cmd.Stdin = b.dir, bytes.NewReader(stdin)
	out, err := cmd.CombinedOutput()
	return string(out), err
}

func (b bench) run(stdin []byte, args ...string) string {
	b.t.Helper()
	out, err := b.try(stdin, args...)
	if err != nil {
		b.t.Fatalf("ssh-keygen %s: %v\n%s", strings.Join(args, " "), err, out)
	}
	return out
}

// wantRefused runs ssh-keygen where it has to say no.
func (b bench) wantRefused(stdin []byte, args ...string) {
	b.t.Helper()
	if out, err := b.try(stdin, args...); err == nil {
		b.t.Fatalf("ssh-keygen %s agreed:\n%s", strings.Join(args, " "), out)
	}
}
