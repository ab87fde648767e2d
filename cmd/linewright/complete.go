package main

import (
	"cmp"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"example.org/linewright/engine/source"
	"example.org/linewright/engine/store"
)

// What completes an argument follows from the word that the usage line has for
// it, as in "start WING [PROCEDURE [TARGET]]"; of a flag from the word between
// back quotes in its help, which is also what the help shows for its value. The
// words stand in completers. Besides them: FILE.csv is a file with that ending,
// FILE any file, FOLDER a folder, and a|b|c is one of these values. Any other
// word is free text. Whatever goes wrong while completing is silent.

// completing gives a command and all below it their completion.
func (a *app) completing(c *cobra.Command) {
	if !c.HasSubCommands() && len(c.ValidArgs) == 0 {
		c.ValidArgsFunction = func(c *cobra.Command, args []string, typed string) ([]cobra.Completion, cobra.ShellCompDirective) {
			return a.complete(c, args, wordAt(c.Use, len(args)), typed)
		}
	}
	c.LocalFlags().VisitAll(func(f *pflag.Flag) {
		if f.NoOptDefVal != "" {
			return // takes no value
		}
		word, _ := pflag.UnquoteUsage(f)
		// An error says that the flag has its completion already.
		_ = c.RegisterFlagCompletionFunc(f.Name, func(c *cobra.Command, args []string, typed string) ([]cobra.Completion, cobra.ShellCompDirective) {
			return a.complete(c, args, word, typed)
		})
	})
	for _, sub := range c.Commands() {
		a.completing(sub)
	}
}

// wordsOf gives the words of a usage line for its arguments, and how many of the
// last repeat.
func wordsOf(use string) (words []string, repeat int) {
	tokens := strings.Fields(use)[1:]
	for i := 0; i < len(tokens); i++ {
		switch token := tokens[i]; {
		case strings.HasPrefix(strings.TrimLeft(token, "["), "-"):
			i++ // a flag and its value
		case strings.Trim(token, "[]") == "...":
		default:
			if strings.HasPrefix(token, "[") {
				repeat = 0
			}
			words, repeat = append(words, strings.Trim(token, "[]")), repeat+1
		}
	}
	if !strings.Contains(use, "...") {
		repeat = 0
	}
	return words, repeat
}

// wordAt gives the word for the argument behind n others, "" where there is none.
func wordAt(use string, n int) string {
	words, repeat := wordsOf(use)
	if over := n - len(words); over >= 0 && repeat > 0 {
		n = len(words) - repeat + over%repeat
	}
	if n >= len(words) {
		return ""
	}
	return words[n]
}

// hint is what a completer has to go by.
type hint struct {
	app   *app
	store *store.Store // nil: there is none
	cmd   *cobra.Command
	args  []string // before the one that is typed
	typed string   // of the one that is completed
}

// completers gives what can stand for a word of a usage line.
var completers map[string]func(hint) []cobra.Completion

func init() { // since they reach the commands, which reach them
	completers = map[string]func(hint) []cobra.Completion{
		"WING": hint.wings, "JOB": hint.jobs, "TASK": hint.tasks, "PERSON": hint.people,
		"PROCEDURE": hint.procedures, "TARGET": hint.targets, "LINE": hint.lines, "PLACE": hint.places, "POINT": hint.points,
		"CODE": hint.codes, "PULLEY": hint.pulleys, "LOOP": hint.loops,
		"LENGTH": among(nil), // that is typed
		"KEY":    hint.keys, "VALUE": hint.values, "KEY=VALUE": hint.settings, "ROLE=COLUMN": hint.roles,
		"LOOK": among(store.Looks), "SIGNS": among([]string{"ascii", "rich"}),
		"TOPIC": hint.topics, "COMMAND": hint.commands,
	}
}

// among completes one of some values.
func among(values []string) func(hint) []cobra.Completion {
	return func(hint) []cobra.Completion { return values }
}

// complete gives what can stand for a word.
func (a *app) complete(c *cobra.Command, args []string, word, typed string) ([]cobra.Completion, cobra.ShellCompDirective) {
	h := hint{app: a, cmd: c, args: args, typed: typed, store: a.storeHere()}
	if h.store != nil {
		defer h.store.Close()
	}
	var all []cobra.Completion
	rest := cobra.ShellCompDirectiveNoFileComp
	values := strings.Split(word, "|")
	for _, w := range values {
		ending, file := strings.CutPrefix(w, "FILE")
		switch {
		case completers[w] != nil:
			all = append(all, completers[w](h)...)
		case w == "FOLDER":
			return nil, cobra.ShellCompDirectiveFilterDirs
		case file && ending != "" && len(values) == 1:
			return []cobra.Completion{ending[1:]}, cobra.ShellCompDirectiveFilterFileExt
		case file:
			rest = cobra.ShellCompDirectiveDefault
		case len(values) > 1:
			all = append(all, w)
		}
	}
	return beginning(all, typed, rest)
}

// beginning leaves what begins with what was typed. Behind a key the value follows at
// once. The order is kept: it is that of the wing, or the newest first.
func beginning(all []cobra.Completion, typed string, rest cobra.ShellCompDirective) ([]cobra.Completion, cobra.ShellCompDirective) {
	rest |= cobra.ShellCompDirectiveKeepOrder
	var out []cobra.Completion
	seen := map[string]bool{}
	for _, one := range all {
		value, about, _ := strings.Cut(one, "\t")
		if !strings.HasPrefix(value, typed) || strings.ContainsFunc(value, source.Hidden) || seen[one] {
			continue
		}
		seen[one] = true
		if strings.HasSuffix(value, "=") {
			rest |= cobra.ShellCompDirectiveNoSpace
		}
		if about != "" {
			value = cobra.CompletionWithDesc(value, source.Clean(strings.Join(strings.Fields(about), " ")))
		}
		out = append(out, value)
	}
	return out, rest
}

// storeHere opens the store, if there is one. Completing makes none.
func (a *app) storeHere() *store.Store {
	dir, err := a.folder()
	if err != nil {
		return nil
	}
	if _, err := os.Stat(filepath.Join(dir, "store.toml")); err != nil {
		return nil
	}
	s, err := a.open()
	if err != nil {
		return nil
	}
	return s
}

// given is what was typed before for a word of the usage line, else for the flag
// of that name.
func (h hint) given(word, flag string) string {
	words, _ := wordsOf(h.cmd.Use)
	text := ""
	if i := slices.Index(words, word); i >= 0 && i < len(h.args) {
		text = h.args[i]
	}
	if f := h.cmd.Flag(flag); f != nil {
		text = cmp.Or(text, f.Value.String())
	}
	return text
}
