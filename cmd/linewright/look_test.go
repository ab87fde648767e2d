package main

import (
	"strings"
	"testing"

	"example.org/linewright/engine/store"
)

// environment is an app with these variables.
func environment(env map[string]string) *app {
	return &app{env: func(name string) string { return env[name] }}
}

func TestWhatDecidesTheLook(t *testing.T) {
	kept := func(look string) func() (store.Settings, error) {
		return func() (store.Settings, error) { return store.Settings{Look: look}, nil }
	}
	for _, x := range []struct {
		flag       string
		env        map[string]string
		kept       string
		look, from string
	}{
		{"", nil, "", "own", ""},
		{"", nil, "sun", "sun", ""},
		{"", map[string]string{"NO_COLOR": "1"}, "sun", "plain", "NO_COLOR"},
		{"", map[string]string{"NO_COLOR": ""}, "sun", "sun", ""},
		{"", map[string]string{"NO_COLOR": "1", "LINEWRIGHT_LOOK": "dark"}, "sun", "dark", "LINEWRIGHT_LOOK"},
		{"light", map[string]string{"NO_COLOR": "1", "LINEWRIGHT_LOOK": "dark"}, "sun", "light", "--look"},
	} {
		a := environment(x.env)
		a.lookFlag = x.flag
		if look, from, err := a.look(kept(x.kept)); err != nil || look != x.look || from != x.from {
			t.Errorf("%+v gives %q from %q, %v", x, look, from, err)
		}
	}
	a := environment(map[string]string{"LINEWRIGHT_LOOK": "moon"})
	if _, _, err := a.look(kept("")); err == nil || !strings.HasPrefix(err.Error(), "LINEWRIGHT_LOOK: there is no look \"moon\"\nchoose one of own, ") {
		t.Errorf("a look that is none gives %v", err)
	}
}

func TestRichSignsWhereTheyAreKnownToWork(t *testing.T) {
	for _, x := range []struct {
		flag string
		env  map[string]string
		want bool
	}{
		{"", nil, false},
		{"", map[string]string{"TERM": "xterm-256color", "LANG": "en_GB.UTF-8"}, true},
		{"", map[string]string{"TERM": "tmux-256color", "LC_CTYPE": "C.utf8", "LANG": "C"}, true},
		{"", map[string]string{"TERM": "xterm-256color", "LANG": "en_GB.UTF-8", "LC_ALL": "C"}, false},
		{"", map[string]string{"TERM": "xterm-256color", "LANG": "de_DE.ISO-8859-1"}, false},
		{"", map[string]string{"TERM": "xterm-256color", "LANG": "ja_JP.UTF-8"}, false},
		{"", map[string]string{"TERM": "linux", "LANG": "en_GB.UTF-8"}, false},
		{"", map[string]string{"TERM": "vt220", "LANG": "en_GB.UTF-8"}, false},
		{"", map[string]string{"TERM": "linux", "LINEWRIGHT_SIGNS": "rich"}, true},
		{"ascii", map[string]string{"TERM": "xterm", "LANG": "C.UTF-8", "LINEWRIGHT_SIGNS": "rich"}, false},
		{"rich", nil, true},
	} {
		a := environment(x.env)
		a.signsFlag = x.flag
		if got, err := a.rich(); err != nil || got != x.want {
			t.Errorf("%+v gives %v, %v", x, got, err)
		}
	}
	a := environment(nil)
	a.signsFlag = "fancy"
	if _, err := a.rich(); err == nil || err.Error() != "--signs: there are no signs \"fancy\"\nchoose one of ascii, rich" {
		t.Errorf("signs that are none give %v", err)
	}
}
