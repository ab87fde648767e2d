package tui

import (
	"strings"
	"sync"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/session"
)

// hands does all that touches the disk, away from the screen and one thing at
// a time. It owns the session, so that the session is closed on every way out,
// also if the program ends while one is being opened.
type hands struct {
	mu      sync.Mutex
	gone    bool
	session *session.Session
}

// then is what a piece of work wants done at the screen when it is finished.
type then func(*model) tea.Cmd

// do runs a piece of work. Once the program is leaving nothing begins anew.
func (h *hands) do(f func() then) tea.Msg {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.gone {
		return nil
	}
	return f()
}

// swap puts another session, or none, in the place of the one that is open.
// The caller runs inside do.
func (h *hands) swap(s *session.Session) error {
	old := h.session
	h.session = s
	if old == nil {
		return nil
	}
	return old.Close()
}

// leave waits for the work that is under way and closes the session.
func (h *hands) leave() error {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.gone = true
	return h.swap(nil)
}

// work hands a piece of work over. Until its reply is here no other begins and
// no key acts: the screen moves on only when what was entered is on the disk.
func (m *model) work(f func() then) tea.Cmd {
	if m.busy {
		return nil
	}
	m.busy = true
	return func() tea.Msg { return m.hands.do(f) }
}

// explain splits an error into what is wrong and what to do: the first line and
// the rest.
func explain(err error) (what, do string) {
	what, do, _ = strings.Cut(err.Error(), "\n")
	return strings.TrimSpace(what), strings.TrimSpace(do)
}
