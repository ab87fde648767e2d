package store

import (
	"errors"
	"os"
	"strings"
	"testing"
)

func TestSettingsAreKept(t *testing.T) {
	s := newStore(t)
	if got, err := s.Settings(); err != nil || got != (Settings{}) {
		t.Fatalf("a new store has the settings %v, %v", got, err)
	}
	for _, look := range append(Looks, "") {
		if err := s.WriteSettings(Settings{Look: look}); err != nil {
			t.Fatal(err)
		}
		if got, err := s.Settings(); err != nil || got.Look != look {
			t.Errorf("%q is kept as %v, %v", look, got, err)
		}
	}
}

// The bytes of edition 1.
func TestSettingsOfEdition1(t *testing.T) {
	s := newStore(t)
	if err := s.WriteSettings(Settings{Look: "sun"}); err != nil {
		t.Fatal(err)
	}
	written, err := os.ReadFile(s.path("settings.toml"))
	if err != nil {
		t.Fatal(err)
	}
	if want := "linewright_settings = 1\nlook = \"sun\"\n"; string(written) != want {
		t.Errorf("written\n%s\nwanted\n%s", written, want)
	}
}

func TestSettingsThatAreRefused(t *testing.T) {
	for text, want := range map[string]string{
		"look = \"sun\"\n":                                 "settings.toml: the key linewright_settings with the edition is missing",
		"linewright_settings = 1\nlook = \"moon\"\n":       "settings.toml:2: look: there is no look \"moon\"\nchoose one of own, dark, light, sun, plain",
		"linewright_settings = 1\nLook = \"sun\"\n":        "settings.toml:2: Look: the key is not known here",
		"linewright_settings = 1\n\nlook = 3\n":            "settings.toml:3: look: found the number 3\ngive a text in quotes",
		"linewright_settings = 1\nlook = \"\\u001b[2J\"\n": "settings.toml:2: look: the text has a control character (U+001B)",
	} {
		s := newStore(t)
		put(t, s, "settings.toml", text)
		if _, err := s.Settings(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q gives\n%v\nwanted\n%s", text, err, want)
		}
	}
	s := newStore(t)
	put(t, s, "settings.toml", "linewright_settings = 2\n")
	var other *EditionError
	if _, err := s.Settings(); !errors.As(err, &other) {
		t.Errorf("another edition gives %v", err)
	}
	if err := s.WriteSettings(Settings{Look: "moon"}); err == nil {
		t.Error("a look that is none is written")
	}
	if err := CheckLook("moon"); err == nil || err.Error() != "there is no look \"moon\"\nchoose one of own, dark, light, sun, plain" {
		t.Errorf("the refusal is %v", err)
	}
}
