package seal_test

import (
	"bytes"
	"crypto"
	"crypto/ed25519"
	"crypto/rand"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"golang.org/x/crypto/ssh"
	"golang.org/x/crypto/ssh/agent"

	"example.org/linewright/engine/seal"
)

func skipWithoutAgents(t *testing.T) {
	t.Helper()
	if runtime.GOOS == "windows" {
		t.Skip("agents are not used on Windows")
	}
}

// socketFolder is short, because the path of a socket has to be.
func socketFolder(t *testing.T) string {
	t.Helper()
	dir := must[string](t)(os.MkdirTemp("", "seal"))
	t.Cleanup(func() { os.RemoveAll(dir) })
	return dir
}

// startAgent runs OpenSSH's ssh-agent until the end of the test. It asks nobody:
// a key that wants to be confirmed is always declined.
func startAgent(t *testing.T) (socket string, client agent.ExtendedAgent) {
	t.Helper()
	skipWithoutAgents(t)
	needTool(t, "ssh-agent")
	socket = filepath.Join(socketFolder(t), "agent")
	cmd := exec.Command("ssh-agent", "-D", "-a", socket)
	cmd.Env = append(os.Environ(), "SSH_ASKPASS=/bin/false", "SSH_ASKPASS_REQUIRE=force")
	out := must[interface{ Read([]byte) (int, error) }](t)(cmd.StdoutPipe())
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		cmd.Process.Kill()
		cmd.Wait()
	})
	// The agent prints its variables once the socket listens.
	if _, err := out.Read(make([]byte, 256)); err != nil {
		t.Fatalf("ssh-agent said nothing: %v", err)
	}
	conn := must[net.Conn](t)(net.Dial("unix", socket))
	t.Cleanup(func() { conn.Close() })
	return socket, agent.NewClient(conn)
}

func addKey(t *testing.T, client agent.Agent, key agent.AddedKey) seal.PublicKey {
	t.Helper()
	if err := client.Add(key); err != nil {
		t.Fatal(err)
	}
	signer := must[ssh.Signer](t)(ssh.NewSignerFromKey(key.PrivateKey))
	return publicOf(t, signer.PublicKey())
}

func publicOf(t *testing.T, key ssh.PublicKey) seal.PublicKey {
	t.Helper()
	public, _, err := seal.ParsePublicKey(ssh.MarshalAuthorizedKey(key))
	if err != nil {
		t.Fatal(err)
	}
	return public
}

func newEd25519(t *testing.T) ed25519.PrivateKey {
	t.Helper()
	_, private, err := ed25519.GenerateKey(rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	return private
}

func TestAgentOfOpenSSH(t *testing.T) {
	socket, client := startAgent(t)
	if keys := must[[]seal.AgentKey](t)(seal.AgentKeys(socket)); len(keys) != 0 {
		t.Fatalf("an empty agent holds %v", keys)
	}
	rsaKey := newRSA(t)
	want := []seal.AgentKey{
		{Key: addKey(t, client, agent.AddedKey{PrivateKey: newEd25519(t), Comment: "ann.example"}), Comment: "ann.example"},
		{Key: addKey(t, client, agent.AddedKey{PrivateKey: rsaKey, Comment: "\x1b[2Jben"}), Comment: "?[2Jben"},
		{Key: addKey(t, client, agent.AddedKey{PrivateKey: newECDSA(t)})},
	}
	got := must[[]seal.AgentKey](t)(seal.AgentKeys(socket))
	if len(got) != len(want) {
		t.Fatalf("the agent holds %d keys, %d are listed", len(want), len(got))
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("key %d is %v, want %v", i, got[i], want[i])
		}
		signer := must[seal.Signer](t)(seal.AgentSigner(socket, want[i].Key))
		if signer.Custody() != seal.InAgent || signer.Public() != want[i].Key {
			t.Errorf("signer has custody %q and key %s", signer.Custody(), signer.Public().Fingerprint())
		}
		armored := must[[]byte](t)(signer.Sign(seal.NamespaceHold, message))
		if key := must[seal.PublicKey](t)(seal.Verify(seal.NamespaceHold, message, armored)); key != want[i].Key {
			t.Errorf("signed with %s, want %s", key.Fingerprint(), want[i].Key.Fingerprint())
		}
		_, err := signer.Sign("file", message)
		wantKind(t, err, seal.UnknownNamespace)
		signer.Forget()
		_, err = signer.Sign(seal.NamespaceHold, message)
		wantKind(t, err, seal.Forgotten)
	}
}

func TestAgentWithoutTheKey(t *testing.T) {
	socket, client := startAgent(t)
	stranger := newSigner(t, "ann.example").Public()
	signer, err := seal.AgentSigner(socket, stranger)
	if e := wantKind(t, err, seal.NotInAgent); signer != nil || e.Key != stranger {
		t.Error("NotInAgent has to name the key and return nothing else")
	}

	key := addKey(t, client, agent.AddedKey{PrivateKey: newEd25519(t)})
	signer = must[seal.Signer](t)(seal.AgentSigner(socket, key))
	if err := client.RemoveAll(); err != nil {
		t.Fatal(err)
	}
	_, err = signer.Sign(seal.NamespaceHold, message)
	wantKind(t, err, seal.NotInAgent)
}

func TestAgentThatIsDeclinedSignsNothing(t *testing.T) {
	socket, client := startAgent(t)
	key := addKey(t, client, agent.AddedKey{PrivateKey: newEd25519(t), ConfirmBeforeUse: true})
	signer := must[seal.Signer](t)(seal.AgentSigner(socket, key))
	armored, err := signer.Sign(seal.NamespaceHold, message)
	if e := wantKind(t, err, seal.AgentRefused); armored != nil || e.Key != key {
		t.Error("AgentRefused has to name the key and return nothing else")
	}
}

func TestNoAgent(t *testing.T) {
	skipWithoutAgents(t)
	dir := socketFolder(t)
	hangsUp := filepath.Join(dir, "hangs-up")
	listener := must[net.Listener](t)(net.Listen("unix", hangsUp))
	t.Cleanup(func() { listener.Close() })
	go func() {
		for conn, err := listener.Accept(); err == nil; conn, err = listener.Accept() {
			conn.Close()
		}
	}()
	for _, socket := range []string{"", filepath.Join(dir, "absent"), dir, hangsUp} {
		keys, err := seal.AgentKeys(socket)
		wantKind(t, err, seal.NoAgent)
		if keys != nil {
			t.Errorf("%q: something was returned beside the error", socket)
		}
		_, err = seal.AgentSigner(socket, newSigner(t, "ann.example").Public())
		wantKind(t, err, seal.NoAgent)
	}
}

// oddAgent holds one key and signs with another, or in an older way.
type oddAgent struct {
	agent.ExtendedAgent
	sign func(data []byte) (*ssh.Signature, error)
}

func (a oddAgent) SignWithFlags(_ ssh.PublicKey, data []byte, _ agent.SignatureFlags) (*ssh.Signature, error) {
	return a.sign(data)
}

func serve(t *testing.T, held crypto.PrivateKey, sign func(data []byte) (*ssh.Signature, error)) string {
	t.Helper()
	skipWithoutAgents(t)
	ring := agent.NewKeyring().(agent.ExtendedAgent)
	if err := ring.Add(agent.AddedKey{PrivateKey: held}); err != nil {
		t.Fatal(err)
	}
	socket := filepath.Join(socketFolder(t), "odd")
	listener := must[net.Listener](t)(net.Listen("unix", socket))
	t.Cleanup(func() { listener.Close() })
	go func() {
		for conn, err := listener.Accept(); err == nil; conn, err = listener.Accept() {
			agent.ServeAgent(oddAgent{ring, sign}, conn)
			conn.Close()
		}
	}()
	return socket
}

func TestWhatAnAgentSendsIsChecked(t *testing.T) {
	old := newRSA(t)
	oldSigner := must[ssh.Signer](t)(ssh.NewSignerFromKey(old))
	other := must[ssh.Signer](t)(ssh.NewSignerFromKey(newEd25519(t)))
	for name, c := range map[string]struct {
		held   crypto.PrivateKey
		sign   func(data []byte) (*ssh.Signature, error)
		reason string
	}{
		"SHA-1, as agents of old": {old, func(data []byte) (*ssh.Signature, error) {
			return oldSigner.(ssh.AlgorithmSigner).SignWithAlgorithm(rand.Reader, data, ssh.KeyAlgoRSA)
		}, "invalid signature format"},
		"by another key": {newEd25519(t), func(data []byte) (*ssh.Signature, error) {
			return other.Sign(rand.Reader, data)
		}, "does not fit"},
		"rubbish": {newEd25519(t), func([]byte) (*ssh.Signature, error) {
			return &ssh.Signature{Format: "ssh-ed25519", Blob: bytes.Repeat([]byte{7}, 64)}, nil
		}, "does not fit"},
	} {
		t.Run(name, func(t *testing.T) {
			socket := serve(t, c.held, c.sign)
			public := publicOf(t, must[ssh.Signer](t)(ssh.NewSignerFromKey(c.held)).PublicKey())
			signer := must[seal.Signer](t)(seal.AgentSigner(socket, public))
			armored, err := signer.Sign(seal.NamespaceHold, message)
			if e := wantKind(t, err, seal.BadSignature); armored != nil || !strings.Contains(e.What, c.reason) {
				t.Errorf("signature %q, error %v", armored, err)
			}
		})
	}
}
