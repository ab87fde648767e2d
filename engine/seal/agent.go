package seal

import (
	"net"
	"runtime"
	"time"

	"golang.org/x/crypto/ssh"
	"golang.org/x/crypto/ssh/agent"
)

const (
	// listPatience is how long an agent may take to name its keys.
	listPatience = 5 * time.Second
	// signPatience is longer, because an agent may ask the person first.
	signPatience = 60 * time.Second
)

// AgentKey is a key that an ssh-agent holds.
type AgentKey struct {
	Key     PublicKey
	Comment string // as the agent gives it, control characters replaced
}

// AgentKeys lists the keys of the ssh-agent at a socket (the caller's
// SSH_AUTH_SOCK) that can sign here, in the agent's order; others are left out.
// Errors: NoAgent.
func AgentKeys(socket string) ([]AgentKey, error) {
	client, hangUp, err := callAgent(socket, listPatience)
	if err != nil {
		return nil, err
	}
	defer hangUp()
	held, err := client.List()
	if err != nil {
		return nil, deafAgent()
	}
	var keys []AgentKey
	for _, h := range held {
		parsed, err := ssh.ParsePublicKey(h.Blob)
		if err != nil {
			continue
		}
		key, err := newPublicKey(parsed)
		if err != nil {
			continue
		}
		keys = append(keys, AgentKey{Key: key, Comment: clean(h.Comment)})
	}
	return keys, nil
}

// AgentSigner signs with a key that the ssh-agent at a socket holds. The agent
// is called anew for each signature, so that it is asked each time.
// Errors: NoAgent, NotInAgent.
func AgentSigner(socket string, key PublicKey) (Signer, error) {
	keys, err := AgentKeys(socket)
	if err != nil {
		return nil, err
	}
	for _, held := range keys {
		if held.Key == key {
			return &agentSigner{socket: socket, public: key}, nil
		}
	}
	return nil, notInAgent(key)
}

type agentSigner struct {
	socket    string
	public    PublicKey
	forgotten bool
}

func (s *agentSigner) Public() PublicKey { return s.public }

func (s *agentSigner) Custody() Custody { return InAgent }

func (s *agentSigner) Forget() { s.forgotten = true }

func (s *agentSigner) Sign(namespace string, message []byte) ([]byte, error) {
	if s.forgotten {
		return nil, failKey(Forgotten, s.public, "the key "+s.public.Fingerprint()+" was put away", "choose it again")
	}
	client, hangUp, err := callAgent(s.socket, signPatience)
	if err != nil {
		return nil, err
	}
	defer hangUp()
	signers, err := client.Signers()
	if err != nil {
		return nil, deafAgent()
	}
	for _, signer := range signers {
		if string(signer.PublicKey().Marshal()) == s.public.wire {
			return sign(signer, namespace, message, s.refusal())
		}
	}
	return nil, notInAgent(s.public)
}

func (s *agentSigner) refusal() *Error {
	return failKey(AgentRefused, s.public, "the ssh-agent did not sign",
		"unlock it (ssh-add -X) or agree when it asks, then sign again")
}

// callAgent opens a connection that closes itself when patience runs out, so
// that a silent agent cannot hold the bench for ever.
func callAgent(socket string, patience time.Duration) (agent.ExtendedAgent, func(), error) {
	if runtime.GOOS == "windows" {
		return nil, nil, fail(NoAgent, "an ssh-agent cannot be used on Windows", "use a key file")
	}
	if socket == "" {
		return nil, nil, fail(NoAgent, "no ssh-agent is running", "start one and add a key (ssh-add), or use a key file")
	}
	conn, err := net.DialTimeout("unix", socket, listPatience)
	if err != nil {
		return nil, nil, deafAgent()
	}
	timer := time.AfterFunc(patience, func() { conn.Close() })
	hangUp := func() {
		timer.Stop()
		conn.Close()
	}
	return agent.NewClient(conn), hangUp, nil
}

func deafAgent() *Error {
	return fail(NoAgent, "the ssh-agent does not answer", "start it again and add the key (ssh-add), or use a key file")
}

func notInAgent(key PublicKey) *Error {
	return failKey(NotInAgent, key, "the ssh-agent does not hold the key "+key.Fingerprint(),
		"add it: ssh-add KEYFILE, or use the key file")
}
