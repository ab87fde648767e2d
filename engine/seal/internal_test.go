package seal

import (
	"errors"
	"net"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// An agent that takes the call and stays silent must not hold the bench for ever.
func TestSilentAgentIsLeft(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("agents are not used on Windows")
	}
	dir, err := os.MkdirTemp("", "seal")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	socket := filepath.Join(dir, "silent")
	listener, err := net.Listen("unix", socket)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { listener.Close() })

	client, hangUp, err := callAgent(socket, 10*time.Millisecond)
	if err != nil {
		t.Fatal(err)
	}
	defer hangUp()
	if keys, err := client.List(); err == nil {
		t.Errorf("a silent agent listed %v", keys)
	}
}

// The reference is Go's regexp: * is .*, ? is one character.
func TestMatchAgreesWithRegexp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pattern := rapid.StringMatching(`[ab.*?]{0,8}`).Draw(t, "pattern")
		text := rapid.StringMatching(`[ab.]{0,10}`).Draw(t, "text")
		quoted := strings.NewReplacer(`\*`, `.*`, `\?`, `.`).Replace(regexp.QuoteMeta(pattern))
		want := regexp.MustCompile(`\A` + quoted + `\z`).MatchString(text)
		if got := match(pattern, text); got != want {
			t.Fatalf("match(%q, %q) is %v, regexp says %v", pattern, text, got, want)
		}
	})
}

// A name that fits both lists must never be overlooked; brute force over all
// short names.
func TestOverlapNeverMissesAName(t *testing.T) {
	var names []string
	for _, a := range "ab" {
		names = append(names, string(a))
		for _, b := range "ab" {
			names = append(names, string(a)+string(b))
		}
	}
	list := rapid.SliceOfN(rapid.StringMatching(`!?[ab*?]{1,3}`), 1, 4)
	rapid.Check(t, func(t *rapid.T) {
		one, other := list.Draw(t, "one"), list.Draw(t, "other")
		for _, name := range names {
			if matchList(one, name) && matchList(other, name) && !overlap(one, other) {
				t.Fatalf("%v and %v both fit %q", one, other, name)
			}
		}
	})
}

func TestMessagesOfOtherLibrariesAreMadeClean(t *testing.T) {
	for text, want := range map[string]string{
		"plain":                   "plain",
		"\x1b[2J\ta\nb\x00\u009b": "?[2J?a?b??",
		"right\u202eleft":         "right?left",
		"bad \xff byte":           "bad ? byte",
		strings.Repeat("ü", 121):  strings.Repeat("ü", 120) + "...",
	} {
		if got := clean(text); got != want {
			t.Errorf("clean(%q) is %q, want %q", text, got, want)
		}
	}
}

// A caller compares kinds, not texts; an Error is no other Error.
func TestErrorIsItsKind(t *testing.T) {
	err := error(fail(BadName, "a", "b"))
	if !errors.Is(err, BadName) || errors.Is(err, Locked) || errors.Is(err, fail(BadName, "a", "b")) {
		t.Error("errors.Is has to find the kind and nothing else")
	}
}
