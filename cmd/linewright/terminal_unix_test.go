//go:build unix

package main

import (
	"slices"
	"strings"
	"testing"
)

// On a terminal that cannot move its cursor, or does not say what it is, and
// where the input is no terminal, nothing is drawn: line mode is named.
func namesLineMode(t *testing.T, p program) {
	const word = "line mode does the same work"
	for name, kind := range map[string]string{"dumb": "TERM=dumb", "empty": "TERM=", "not set": ""} {
		cmd := p.on(t.TempDir())
		cmd.Env = slices.DeleteFunc(cmd.Env, func(e string) bool { return strings.HasPrefix(e, "TERM=") })
		if kind != "" {
			cmd.Env = append(cmd.Env, kind)
		}
		if text := sit(t, cmd).end(); !strings.Contains(text, word) || strings.ContainsRune(text, '\x1b') {
			t.Errorf("TERM %s: %q", name, text)
		}
	}
	if text, err := p.on(t.TempDir()).CombinedOutput(); err == nil || !strings.Contains(string(text), word) {
		t.Errorf("without a terminal: %v, %q", err, text)
	}
}
