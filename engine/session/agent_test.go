package session

import (
	"errors"
	"net"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"golang.org/x/crypto/ssh"
	"golang.org/x/crypto/ssh/agent"

	"example.org/linewright/engine/seal"
)

// agentWith serves an ssh-agent that holds one key of the store, unlocked.
func agentWith(t *testing.T, private []byte) (socket string) {
	t.Helper()
	if runtime.GOOS == "windows" {
		t.Skip("agents are not used on Windows")
	}
	key, err := ssh.ParseRawPrivateKeyWithPassphrase(private, []byte("open"))
	if err != nil {
		t.Fatal(err)
	}
	ring := agent.NewKeyring()
	if err := ring.Add(agent.AddedKey{PrivateKey: key}); err != nil {
		t.Fatal(err)
	}
	folder, err := os.MkdirTemp("", "agent") // the path of a socket has to be short
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(folder) })
	socket = filepath.Join(folder, "s")
	listener, err := net.Listen("unix", socket)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { listener.Close() })
	go func() {
		for {
			conn, err := listener.Accept()
			if err != nil {
				return
			}
			go agent.ServeAgent(ring, conn)
		}
	}()
	return socket
}

func TestALockedKeyIsTakenFromTheAgent(t *testing.T) {
	d := desk(t)
	private, public, err := seal.NewKey("cal", []byte("open"))
	if err != nil {
		t.Fatal(err)
	}
	if err := d.Store.WriteSigner("cal", private, public); err != nil {
		t.Fatal(err)
	}
	if _, err := d.FromAgent("cal"); !errors.Is(err, seal.NoAgent) {
		t.Errorf("without an agent: %v, want %v", err, seal.NoAgent)
	}
	d.Agent = agentWith(t, private)
	p, err := d.FromAgent("cal")
	if err != nil {
		t.Fatal(err)
	}
	if p.Name != "cal" || p.Signer.Custody() != seal.InAgent {
		t.Errorf("got %s, kept %q; want cal, kept by the agent", p.Name, p.Signer.Custody())
	}
	if _, err := d.FromAgent("ann"); !errors.Is(err, seal.NotInAgent) {
		t.Errorf("a key that the agent has not: %v, want %v", err, seal.NotInAgent)
	}
}
