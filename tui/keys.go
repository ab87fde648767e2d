package tui

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
)

// The keys. Enter, esc, tab, the arrows and digits do everything: they are on
// every keyboard, no text field needs them but for the digits, and no terminal
// multiplexer takes them away. A few letters are short cuts where nothing is
// typed. Help is drawn from these bindings; a page lists only what acts.
var (
	keyOn     = bind("enter", "go on", "enter", "ctrl+j")
	keyBack   = bind("esc", "look back", "esc")
	keyLeave  = bind("esc", "back", "esc")
	keyMenu   = bind("tab", "more", "tab")
	keyHelp   = bind("?", "reason and keys", "?")
	keyKeys   = bind("?", "keys", "?") // where there is no reason to give
	keyUp     = bind("up", "up", "up")
	keyDown   = bind("down", "down", "down")
	keyScroll = bind("up, down", "scroll", "up", "down")
	keyPage   = bind("left, right", "page the text", "left", "right", "pgup", "pgdown")
	keyLeft   = bind("left", "left", "left")
	keyRight  = bind("right", "right", "right")
	keyWalk   = bind("arrows", "walk over the fan", "left", "right", "up", "down")
	keyChoose = bind("digit, arrows", "choose", "0", "1", "2", "3", "4", "5", "6", "7", "8", "9")
	keyPgUp   = bind("page up", "a page up", "pgup")
	keyPgDown = bind("page down", "a page down", "pgdown")
	keyWhich  = bind("w", "which line is it?", "w")
	keyReopen = bind("r", "do it again", "r")
	keyFaults = bind("f", "see the faults", "f")
	keyRefuse = bind("n", "not agreed", "n")
	keyQuit   = bind("ctrl+c", "leave; what is saved is kept", "ctrl+c")
	keyPause  = bind("ctrl+z", "put to sleep; fg wakes it", "ctrl+z")
)

func bind(name, does string, keys ...string) key.Binding {
	return key.NewBinding(key.WithKeys(keys...), key.WithHelp(name, does))
}

// named gives a binding another description on one page.
func named(b key.Binding, does string) key.Binding {
	b.SetHelp(b.Help().Key, does)
	return b
}

// digits gives the digits that were typed and nothing else: one, or several
// where fast fingers bring them at once.
func digits(k tea.KeyMsg) []int {
	if k.Type != tea.KeyRunes || k.Alt || k.Paste {
		return nil
	}
	typed := make([]int, len(k.Runes))
	for i, r := range k.Runes {
		if r < '0' || r > '9' {
			return nil
		}
		typed[i] = int(r - '0')
	}
	return typed
}

// hints says the first keys of a page in at most w columns.
func hints(keys []key.Binding, w int) string {
	line := ""
	for _, b := range keys {
		h := b.Help()
		more := h.Key + " " + h.Desc
		if line != "" {
			more = line + "   " + more
		}
		if ansi.StringWidth(more) > w {
			break
		}
		line = more
	}
	return line
}

// keyLines lists all keys of a page, one a line.
func keyLines(keys []key.Binding) []string {
	wide := 0
	for _, b := range keys {
		wide = max(wide, len(b.Help().Key))
	}
	var out []string
	for _, b := range keys {
		out = append(out, pad(b.Help().Key, wide+2)+b.Help().Desc)
	}
	return out
}

// moved gives the way of an arrow or page key over a list or a text.
func moved(k tea.KeyMsg, page int) (int, bool) {
	switch {
	case key.Matches(k, keyUp):
		return -1, true
	case key.Matches(k, keyDown):
		return 1, true
	case key.Matches(k, keyPgUp):
		return -page, true
	case key.Matches(k, keyPgDown):
		return page, true
	}
	return 0, false
}

// isText reports whether a key types something that can be seen.
func isText(k tea.KeyMsg) bool {
	return (k.Type == tea.KeyRunes || k.Type == tea.KeySpace) && !k.Alt && strings.TrimSpace(string(k.Runes)) != ""
}
