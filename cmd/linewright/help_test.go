package main

import (
	"context"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
	"example.org/linewright/procedures"
)

func tree() *cobra.Command {
	return (&app{env: func(string) string { return "" }}).root()
}

func each(c *cobra.Command, do func(*cobra.Command)) {
	do(c)
	for _, sub := range c.Commands() {
		each(sub, do)
	}
}

func TestHelpFitsATerminal(t *testing.T) {
	each(tree(), func(c *cobra.Command) {
		for line := range strings.Lines(c.Long + "\n" + usageText(c)) {
			if n := utf8.RuneCountInString(strings.TrimRight(line, "\n")); n > 88 {
				t.Errorf("%s --help: %d columns: %s", c.CommandPath(), n, line)
			}
		}
		for line := range strings.Lines(c.Long) {
			if n := utf8.RuneCountInString(strings.TrimRight(line, "\n")); n > columns+2 {
				t.Errorf("%s: %d columns: %s", c.CommandPath(), n, line)
			}
		}
		if c.HasParent() && c.Parent() == c.Root() && c.GroupID == "" {
			t.Errorf("%s stands in no group", c.Name())
		}
	})
}

// free are the words of usage lines that stand for what nothing can complete.
var free = regexp.MustCompile(`^(ID|NAME|WORDS|HOURS|SERIAL|SIZE|DATE|NUMBER|NODES|FOLDER|FILE(\.[a-z]+)?|READING|FIRST|SEGMENT|LENGTH|TORQUE|THREAD|mm|N|N·m|kg|°|[a-z ]*length|count|number|turns)$`)

// TestEveryArgumentIsKnown keeps usage lines and help to words that are
// completed, or that nothing can complete.
func TestEveryArgumentIsKnown(t *testing.T) {
	known := func(c *cobra.Command, word string) {
		for _, w := range strings.Split(word, "|") {
			if !strings.Contains(word, "|") && completers[w] == nil && !free.MatchString(w) {
				t.Errorf("%s: the word %q has no completion; give it one in complete.go", c.CommandPath(), w)
			}
		}
	}
	each(tree(), func(c *cobra.Command) {
		words, _ := wordsOf(c.Use)
		for _, w := range words {
			if len(c.ValidArgs) == 0 {
				known(c, w)
			}
		}
		c.LocalFlags().VisitAll(func(f *pflag.Flag) {
			if word, _ := pflag.UnquoteUsage(f); f.NoOptDefVal == "" {
				known(c, word)
			}
		})
	})
}

func TestWordsOfUsageLines(t *testing.T) {
	for use, want := range map[string][]string{
		"start WING [PROCEDURE [TARGET]]": {"WING", "PROCEDURE", "TARGET", "", ""},
		"set [KEY VALUE] ...":             {"KEY", "VALUE", "KEY", "VALUE", "KEY"},
		"show WING [PLACE ...]":           {"WING", "PLACE", "PLACE", "PLACE", "PLACE"},
		"loops FILE.csv --on LOOP":        {"FILE.csv", "", "", "", ""},
		"found [-o FILE.toml]":            {"", "", "", "", ""},
		"list":                            {"", "", "", "", ""},
	} {
		for n, w := range want {
			if got := wordAt(use, n); got != w {
				t.Errorf("%s, argument %d: %q, want %q", use, n, got, w)
			}
		}
	}
}

var (
	commandInText = regexp.MustCompile(`linewright((?: --as [a-z]+)?(?: [a-z]+)*)`)
	flagInText    = regexp.MustCompile(`--[a-z-]+`)
	lineCommand   = regexp.MustCompile(`(?:^|[ (])(:[a-z][a-z-]*)`)
)

// TestTopicsAreTrue holds each topic against the program: what it names exists,
// and what it shows is taken.
func TestTopicsAreTrue(t *testing.T) {
	inLineMode := lineModeCommands(t)
	root := tree()
	flags := map[string]bool{}
	each(root, func(c *cobra.Command) {
		c.LocalFlags().VisitAll(func(f *pflag.Flag) { flags["--"+f.Name] = true })
	})
	for _, name := range topics {
		title, text, _ := topic(name)
		if n := strings.Count(text, "\n"); n > 60 || title == "" {
			t.Errorf("%s: %d lines, title %q", name, n, title)
		}
		flat := strings.Join(strings.Fields(text), " ")
		for _, must := range []string{"manual", "airworthy", "have it done"} {
			if !strings.Contains(flat, must) {
				t.Errorf("%s does not say %q", name, must)
			}
		}
		for line := range strings.Lines(text) {
			if utf8.RuneCountInString(strings.TrimRight(line, "\n")) > columns {
				t.Errorf("%s: too wide: %s", name, line)
			}
			for _, m := range commandInText.FindAllStringSubmatch(line, -1) {
				words := strings.Fields(m[1])
				if len(words) > 1 && words[0] == "--as" {
					words = words[2:]
				}
				if len(words) > 0 && named(root, words[0]) == nil && !strings.Contains(line, "share/linewright") {
					t.Errorf("%s: there is no command %q: %s", name, words[0], line)
				}
				if c := named(root, first(words)); c != nil && c.HasSubCommands() && named(c, first(words[1:])) == nil {
					t.Errorf("%s: there is no command %v: %s", name, words, line)
				}
			}
			for _, f := range flagInText.FindAllString(line, -1) {
				if !flags[f] {
					t.Errorf("%s: there is no flag %s", name, f)
				}
			}
			for _, m := range lineCommand.FindAllStringSubmatch(line, -1) {
				if !slices.Contains(inLineMode, m[1]) {
					t.Errorf("%s: line mode has no command %s", name, m[1])
				}
			}
		}
	}
}

func first(words []string) string {
	if len(words) == 0 {
		return ""
	}
	return words[0]
}

// lineModeCommands are those that :help lists.
func lineModeCommands(t *testing.T) []string {
	t.Helper()
	d, s := sampleJob(t)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	Run(context.Background(), []string{"--store", d.Store.Dir(), "--as", "ann", "job", "walk", "1"}, strings.NewReader(":help all\n:quit\n"), &out, &out, func(string) string { return "" })
	all := regexp.MustCompile(`(?m)^(:[a-z-]+)`).FindAllString(out.String(), -1)
	if len(all) < 20 {
		t.Fatalf(":help all lists %v", all)
	}
	return all
}

// inTopic gives the file that a topic shows.
func inTopic(t *testing.T, name, begin string) []byte {
	t.Helper()
	_, text, _ := topic(name)
	var out strings.Builder
	for line := range strings.Lines(text) {
		if out.Len() == 0 && !strings.HasPrefix(line, "    "+begin) {
			continue
		}
		if !strings.HasPrefix(line, "    ") {
			break
		}
		out.WriteString(line[4:])
	}
	return []byte(out.String())
}

func TestFilesInTopicsAreSound(t *testing.T) {
	if p, err := wing.ParsePlan(inTopic(t, "plan", "linewright_plan"), "plan"); err != nil || len(p.Lines) != 2 {
		t.Errorf("the plan of the topic: %v", err)
	}
	own := procedure.File{Name: "tab-look.toml", Data: inTopic(t, "procedure", "linewright_procedure")}
	lib, err := procedure.NewLibrary(append(procedures.Files(), own))
	if _, ok := lib.Get("tab-look"); err != nil || !ok {
		t.Errorf("the procedure of the topic: %v", err)
	}
	schema, err := os.ReadFile(filepath.Join("..", "..", "engine", "procedure", "schema.go"))
	if err != nil {
		t.Fatal(err)
	}
	_, text, _ := topic("procedure")
	for _, m := range regexp.MustCompile(`Kind += "([a-z]+)"`).FindAllStringSubmatch(string(schema), -1) {
		if !regexp.MustCompile(`(?m)(^  |  )` + m[1] + ` {2,}`).MatchString(text) {
			t.Errorf("the topic does not tell of the kind %s", m[1])
		}
	}
}
