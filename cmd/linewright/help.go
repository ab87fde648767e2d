package main

import (
	"embed"
	"errors"
	"fmt"
	"io"
	"iter"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"example.org/linewright/engine/source"
)

// columns is the width of help: that of a terminal of 80, and of a printed page.
const columns = 78

// slop is how much earlier the flags are wrapped than they are told to be.
const slop = 10

//go:embed topics/*.txt
var topicFiles embed.FS

// about is what the program says of itself first.
const about = "Leads through work on the lines of a soft wing and leaves a signed record. The\n" +
	"wing's manual, local rules and licensed practice decide; it never says that a\n" +
	"wing is airworthy. If you have not been shown how to do this work, have it\n" +
	"done."

// exitWords says what the exit statuses mean.
const exitWords = "0: done. 1: the answer is no. 2: it could not be done."

func init() {
	cobra.EnableCommandSorting = false // they stand in the order in which they are used
}

// topics lists what is told by help beside the commands, in the order in which
// somebody meets it.
var topics = []string{"job", "plan", "procedure", "survey", "measuring", "record", "files"}

// topic gives the text of a topic. Its first line is its title.
func topic(name string) (title, text string, ok bool) {
	if !slices.Contains(topics, name) {
		return "", "", false
	}
	data, err := topicFiles.ReadFile("topics/" + name + ".txt")
	if err != nil {
		panic(err) // the file is part of the program
	}
	title, _, _ = strings.Cut(string(data), "\n")
	return title, string(data), true
}

// The groups of commands, by what a person wants.
const (
	toWork    = "Work on a wing"
	toPrepare = "What is worked on, and how"
	toMeasure = "Measuring"
	toProve   = "Who did it, and the proof"
	toHelp    = "This program"
)

var groups = []string{toWork, toPrepare, toMeasure, toProve, toHelp}

// group puts commands under a heading of the help.
func group(root *cobra.Command, title string, commands ...*cobra.Command) {
	root.AddGroup(&cobra.Group{ID: title, Title: title})
	for _, c := range commands {
		c.GroupID = title
		root.AddCommand(c)
	}
}

func (a *app) helpCommand() *cobra.Command {
	return &cobra.Command{
		Use: "help [TOPIC|COMMAND ...]", Short: "Tell of a topic, or of a command", Args: takes(0, 3),
		RunE: func(c *cobra.Command, args []string) error {
			root := c.Root()
			if len(args) == 1 {
				if _, text, ok := topic(args[0]); ok {
					a.line("%s", strings.TrimSuffix(text, "\n"))
					if named(root, args[0]) != nil {
						a.line("\nThe commands: linewright %s --help", args[0])
					}
					return nil
				}
			}
			about, rest, err := root.Find(args)
			if err != nil || len(rest) > 0 {
				return unknown(root, "command or topic", strings.Join(args, " "))
			}
			return about.Help()
		},
	}
}

// named finds a command right under another.
func named(c *cobra.Command, name string) *cobra.Command {
	for _, sub := range c.Commands() {
		if sub.Name() == name {
			return sub
		}
	}
	return nil
}

// usageText is what the help of a command says after its description.
func usageText(c *cobra.Command) string {
	var b strings.Builder
	b.WriteString("Usage:\n")
	if !c.HasParent() {
		fmt.Fprintf(&b, "  %-25s the bench, on a terminal\n", c.CommandPath())
	}
	if c.HasAvailableSubCommands() {
		fmt.Fprintf(&b, "  %s COMMAND\n", c.CommandPath())
	} else {
		fmt.Fprintf(&b, "  %s\n", c.UseLine())
	}
	if c.HasExample() {
		fmt.Fprintf(&b, "\nExamples:\n%s\n", c.Example)
	}
	if c.HasParent() {
		commandList(&b, "Commands", c.Commands())
	} else {
		for _, title := range groups {
			commandList(&b, title, slices.DeleteFunc(slices.Clone(c.Commands()), func(sub *cobra.Command) bool { return sub.GroupID != title }))
		}
		b.WriteString("\nTopics, told by linewright help TOPIC:\n")
		for _, name := range topics {
			title, _, _ := topic(name)
			fmt.Fprintf(&b, "  %-11s %s\n", name, title)
		}
	}
	if c.HasAvailableLocalFlags() {
		fmt.Fprintf(&b, "\nFlags:\n%s", c.LocalFlags().FlagUsagesWrapped(columns+slop))
	}
	if c.HasAvailableInheritedFlags() {
		fmt.Fprintf(&b, "\nFlags of every command:\n%s", c.InheritedFlags().FlagUsagesWrapped(columns+slop))
	}
	if c.HasAvailableSubCommands() {
		fmt.Fprintf(&b, "\nMore of a command: %s COMMAND --help\n", c.CommandPath())
	}
	if !c.HasParent() {
		fmt.Fprintf(&b, "Exit status. %s\n", exitWords)
	}
	return b.String()
}

func printUsage(c *cobra.Command) error {
	_, err := io.WriteString(c.OutOrStderr(), usageText(c))
	return err
}

func commandList(b *strings.Builder, title string, commands []*cobra.Command) {
	for _, c := range commands {
		if !c.IsAvailableCommand() && c.Name() != "help" {
			continue
		}
		if title != "" {
			fmt.Fprintf(b, "\n%s:\n", title)
			title = ""
		}
		fmt.Fprintf(b, "  %-11s %s\n", c.Name(), c.Short)
	}
}

// unknown refuses what is no command and names those that were perhaps meant:
// near in spelling, or of that name elsewhere in the tree.
func unknown(c *cobra.Command, what, name string) error {
	var meant []string
	for in, distance := range near(c) {
		in.SuggestionsMinimumDistance = distance
		for _, found := range in.SuggestionsFor(name) {
			meant = append(meant, in.CommandPath()+" "+found)
		}
	}
	text := fmt.Sprintf("there is no %s %q", what, source.Clean(name))
	if len(meant) == 0 {
		return usage(c, text)
	}
	return fmt.Errorf("%s\nperhaps %s; %s --help shows all", text, strings.Join(meant, " or "), c.CommandPath())
}

// near gives where a command can be looked for that is not there, and by how
// many letters its name may differ: in its place, then elsewhere.
func near(c *cobra.Command) iter.Seq2[*cobra.Command, int] {
	return func(yield func(*cobra.Command, int) bool) {
		if !yield(c, 2) {
			return
		}
		for _, other := range c.Root().Commands() {
			if other != c && !yield(other, 1) {
				return
			}
		}
	}
}

// flagError says what is wrong with a flag, in our words.
func flagError(c *cobra.Command, err error) error {
	var no *pflag.NotExistError
	var empty *pflag.ValueRequiredError
	var bad *pflag.InvalidValueError
	switch {
	case errors.As(err, &no) && no.GetSpecifiedShortnames() == "":
		return unknownFlag(c, no.GetSpecifiedName())
	case errors.As(err, &empty):
		word, _ := pflag.UnquoteUsage(empty.GetFlag())
		return usage(c, fmt.Sprintf("--%s: a value is missing, %s", empty.GetFlag().Name, word))
	case errors.As(err, &bad):
		return usage(c, fmt.Sprintf("--%s: %q is not what it takes, %s", bad.GetFlag().Name, bad.GetValue(), kinds[bad.GetFlag().Value.Type()]))
	}
	return usage(c, err.Error())
}

// kinds names what a flag takes that reads its value.
var kinds = map[string]string{"int": "a whole number", "float64": "a number", "bool": "true or false"}

// unknownFlag refuses what is no flag of a command and names one that begins so.
func unknownFlag(c *cobra.Command, name string) error {
	text, meant := fmt.Sprintf("there is no flag --%s", source.Clean(name)), ""
	c.Flags().VisitAll(func(f *pflag.Flag) {
		if meant == "" && (strings.HasPrefix(f.Name, name) || strings.HasPrefix(name, f.Name)) {
			meant = f.Name
		}
	})
	if meant == "" {
		return usage(c, text)
	}
	return fmt.Errorf("%s\nperhaps --%s; %s --help shows all", text, meant, c.CommandPath())
}

// topics completes the name of a topic.
func (h hint) topics() []cobra.Completion {
	var out []cobra.Completion
	for _, name := range topics {
		if title, _, _ := topic(name); len(h.args) == 0 {
			out = append(out, cobra.CompletionWithDesc(name, title))
		}
	}
	return out
}

// commands completes the name of a command behind those before.
func (h hint) commands() []cobra.Completion {
	c := h.cmd.Root()
	for _, name := range h.args {
		if c = named(c, name); c == nil {
			return nil
		}
	}
	var out []cobra.Completion
	for _, sub := range c.Commands() {
		if _, _, also := topic(sub.Name()); sub.IsAvailableCommand() && (!also || len(h.args) > 0) {
			out = append(out, cobra.CompletionWithDesc(sub.Name(), sub.Short))
		}
	}
	return out
}
