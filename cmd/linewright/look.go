package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"example.org/linewright/engine/session"
	"example.org/linewright/engine/store"
	"example.org/linewright/tui"
)

func (a *app) lookCommand() *cobra.Command {
	return &cobra.Command{
		Use: "look [NAME]", Short: "How the bench looks: " + strings.Join(store.Looks, ", "), Args: takes(0, 1),
		Long: "How the bench looks. With a name it is kept in the store for every sitting\n" +
			"from here on. --look NAME or LINEWRIGHT_LOOK set it for one; NO_COLOR, if it is\n" +
			"set, goes before what is kept. The terminal is not asked whether it is dark or\n" +
			"light: choose dark, light or sun where its own colours are hard to read.",
		ValidArgs: store.Looks,
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 1 {
				return a.keepLook(args[0])
			}
			return a.showLook()
		},
	}
}

// look says how the bench looks, and what named it where that is not the store.
func (a *app) look(kept func() (store.Settings, error)) (look, from string, err error) {
	for _, said := range []struct{ from, look string }{{"--look", a.lookFlag}, {"LINEWRIGHT_LOOK", a.env("LINEWRIGHT_LOOK")}} {
		if said.look == "" {
			continue
		}
		if err := store.CheckLook(said.look); err != nil {
			return "", "", fmt.Errorf("%s: %w", said.from, err)
		}
		return said.look, said.from, nil
	}
	if a.env("NO_COLOR") != "" { // https://no-color.org: set and not empty
		return "plain", "NO_COLOR", nil
	}
	set, err := kept()
	if err == nil && set.Look == "" {
		set.Look = store.Looks[0]
	}
	return set.Look, "", err
}

// keptLook reads the settings of a store that need not be there; none is made.
func (a *app) keptLook() (set store.Settings, err error) {
	dir, err := a.folder()
	if err != nil {
		return set, err
	}
	if _, err := os.Stat(dir); errors.Is(err, fs.ErrNotExist) {
		return set, nil
	}
	folder, err := store.Open(dir)
	if err != nil {
		return set, err
	}
	set, err = folder.Settings()
	return set, errors.Join(err, folder.Close())
}

func (a *app) keepLook(name string) error {
	return a.withDesk(func(d session.Desk) error {
		if err := d.Store.WriteSettings(store.Settings{Look: name}); err != nil {
			return err
		}
		return a.showLook()
	})
}

// lookJSON is a look as --json prints it.
type lookJSON struct {
	Look  string   `json:"look"`
	From  string   `json:"from"` // --look, LINEWRIGHT_LOOK or NO_COLOR; empty: the store, or the default
	Looks []string `json:"looks"`
}

func (a *app) showLook() error {
	look, from, err := a.look(a.keptLook)
	if err != nil {
		return err
	}
	return a.result(lookJSON{look, from, store.Looks}, func() {
		for _, name := range store.Looks {
			mark := " "
			if name == look {
				mark = ">"
			}
			a.line("%s %-6s %s", mark, name, tui.LookWords(name))
		}
		if from != "" {
			a.line("%s says so; what the store keeps waits.", from)
		}
	})
}

// The signs of pictures.
const (
	asciiSigns = "ascii"
	richSigns  = "rich"
)

// rich reports whether pictures may use more than ASCII: where somebody said
// so, or where the terminal is known to show each of these signs in one column.
func (a *app) rich() (bool, error) {
	for _, said := range []struct{ from, signs string }{{"--signs", a.signsFlag}, {"LINEWRIGHT_SIGNS", a.env("LINEWRIGHT_SIGNS")}} {
		switch said.signs {
		case "":
		case asciiSigns, richSigns:
			return said.signs == richSigns, nil
		default:
			return false, fmt.Errorf("%s: there are no signs %q\nchoose one of %s, %s", said.from, said.signs, asciiSigns, richSigns)
		}
	}
	if !slices.ContainsFunc(knownTerms, func(term string) bool { return strings.HasPrefix(a.env("TERM"), term) }) {
		return false, nil
	}
	return narrow(a.locale()), nil
}

// knownTerms begin the names of the terminals that draw with box signs. The
// Linux console (TERM=linux) is none: its font may lack them.
var knownTerms = []string{"xterm", "screen", "tmux", "alacritty", "foot", "kitty", "wezterm", "contour", "rio", "rxvt-unicode", "vte", "gnome", "konsole", "st-"}

// locale is the name of the character set in force, after POSIX: the first of
// the three that is set.
func (a *app) locale() string {
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if v := a.env(name); v != "" {
			return v
		}
	}
	return ""
}

// narrow reports whether a locale is one of UTF-8 in which a box sign takes one
// column. Unicode has its width as ambiguous: where Chinese, Japanese or Korean
// is written a terminal may give it two (Unicode Standard Annex 11).
func narrow(locale string) bool {
	name := strings.ToUpper(locale)
	for _, wide := range []string{"ZH", "JA", "KO"} {
		if strings.HasPrefix(name, wide) {
			return false
		}
	}
	return strings.Contains(name, "UTF-8") || strings.Contains(name, "UTF8")
}
