package tui

import (
	"regexp"
	"strings"
	"testing"

	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/x/ansi"
)

// common matches the keys that every keyboard and every terminal has, also one
// inside a multiplexer: one printable sign of ASCII, the keys to move and to
// confirm, and the few chords that terminals share; ctrl+j is the line end of an
// instrument that types.
var common = regexp.MustCompile(`^([!-~]|enter|esc|tab|shift\+tab|up|down|left|right|pgup|pgdown|home|end|backspace|ctrl\+[cjuz])$`)

// keysAreCommon checks that no key of a page is one that a keyboard may lack: no
// function keys, no chords with Alt.
func (u *user) keysAreCommon() {
	u.t.Helper()
	for _, b := range u.m.top().keys(u.m) {
		for _, k := range b.Keys() {
			if !common.MatchString(k) {
				u.t.Fatalf("%q of %q is not on every keyboard", k, b.Help().Desc)
			}
		}
	}
}

// TestOddKeysAreNotCommon shows that the rule above can say no.
func TestOddKeysAreNotCommon(t *testing.T) {
	for _, k := range []string{"f1", "alt+x", "ctrl+b", "ctrl+a", "insert", "ä", "§"} {
		if common.MatchString(k) {
			t.Errorf("%q passes", k)
		}
	}
	if b := (key.Binding{}); len(b.Keys()) != 0 {
		t.Error("a binding without keys has some")
	}
}

// restless matches what makes text faint or lets it blink, which eyes cannot
// follow in the sun (SGR 2, 5 and 6 of ECMA-48).
var restless = regexp.MustCompile(`\x1b\[([0-9;]*;)?[256](;[0-9;]*)?m`)

// isCalm checks that nothing on the screen is faint or blinks. The arguments of
// a colour (38;5;n, 48;2;r;g;b) are no attributes.
func (u *user) isCalm() {
	u.t.Helper()
	bare := arguments.ReplaceAllString(u.m.View(), "38")
	if seq := restless.FindString(bare); seq != "" {
		u.t.Fatalf("the screen has %q", seq)
	}
}

var arguments = regexp.MustCompile(`[34]8;(5;[0-9]+|2;[0-9]+;[0-9]+;[0-9]+)`)

// standsInPlace checks that action, entry and foot of a card are on the rows
// that they have on every card of that height; the entry stands higher where a
// long list of answers needs the rows that the text leaves free.
func (u *user) standsInPlace(w, h int) {
	u.t.Helper()
	p, ok := u.m.top().(*cardPage)
	if !ok {
		return
	}
	s, at := p.view(u.m, w, h), placesFor(h).listing(p.listUp(u.m, w, h))
	if strings.Contains(strings.Join(s.lines, "\n"), "Read this first") {
		return // a page of the caution alone
	}
	word, _, _ := strings.Cut(p.card.Action, " ")
	if got := ansi.Strip(s.lines[at.action]); !strings.Contains(got, word) {
		u.t.Fatalf("row %d has no %q but %q:\n%s", at.action, word, got, u.view())
	}
	if s.cursor == nil || s.cursor.row < at.ask || s.cursor.row > at.verdict {
		u.t.Fatalf("the cursor is at %v, the entry in rows %d to %d:\n%s", s.cursor, at.ask, at.verdict, u.view())
	}
	if got := ansi.Strip(s.lines[at.foot]); !strings.Contains(got, "SAVED") {
		u.t.Fatalf("the foot does not say what is saved: %q", got)
	}
}
