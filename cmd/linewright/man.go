package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"example.org/linewright/engine/store"
)

func (a *app) manCommand() *cobra.Command {
	return &cobra.Command{
		Use: "man FOLDER", Short: "Write the manual pages to a folder", Args: takes(1, 1),
		Long: "Write the manual pages to a folder, one for each command and one for each\n" +
			"topic of help; pages that are there are written anew. They bear the date in\n" +
			"SOURCE_DATE_EPOCH, or none.",
		Example: "  linewright man ~/.local/share/man\n  man linewright-job-walk",
		RunE: func(c *cobra.Command, args []string) error {
			day, err := a.manDay()
			if err != nil {
				return err
			}
			n, err := writePages(args[0], pages(c.Root(), day))
			if err != nil {
				return err
			}
			a.line("%s in %s. Look at one: man -l %s", count(n, "page is", "pages are"), args[0], filepath.Join(args[0], "man1", "linewright.1"))
			return nil
		},
	}
}

// manDay is the day that the pages bear. It is not that of writing: the same
// program gives the same pages.
func (a *app) manDay() (string, error) {
	text := a.env("SOURCE_DATE_EPOCH")
	if text == "" {
		return "", nil
	}
	seconds, err := strconv.ParseInt(text, 10, 64)
	if err != nil {
		return "", fmt.Errorf("SOURCE_DATE_EPOCH is %q\nset it to seconds since 1970, or to nothing", text)
	}
	return time.Unix(seconds, 0).UTC().Format(time.DateOnly), nil
}

// page is a manual page with the name of its file, in the folder of its section.
type page struct{ name, text string }

func writePages(dir string, all []page) (int, error) {
	for _, p := range all {
		file := filepath.Join(dir, "man"+p.name[len(p.name)-1:], p.name)
		err := os.MkdirAll(filepath.Dir(file), 0o755)
		if err = errors.Join(err, store.WriteFile(file, []byte(p.text))); err != nil {
			return 0, notWritten(file, err)
		}
	}
	return len(all), nil
}

// pages are those of a command and all below it, and those of the topics.
func pages(root *cobra.Command, day string) []page {
	head := func(name, section string) string {
		return fmt.Sprintf(".TH %s %s %q %q %q\n", roff(strings.ToUpper(name)), section, day, "linewright "+version(), "linewright")
	}
	var out []page
	var add func(c *cobra.Command)
	add = func(c *cobra.Command) {
		name := manName(c)
		out = append(out, page{name + ".1", head(name, "1") + commandPage(c)})
		for _, sub := range c.Commands() {
			if sub.IsAvailableCommand() {
				add(sub)
			}
		}
	}
	add(root)
	for _, name := range topics {
		title, text, _ := topic(name)
		out = append(out, page{"linewright-" + name + ".7", head("linewright-"+name, "7") +
			section("NAME", roff("linewright-"+name)+` \- `+roff(title)) + section("DESCRIPTION", ".nf\n"+roff(text)+".fi")})
	}
	return out
}

func manName(c *cobra.Command) string { return strings.ReplaceAll(c.CommandPath(), " ", "-") }

func commandPage(c *cobra.Command) string {
	about := c.Long
	if about == "" {
		about = c.Short + "."
	}
	use := c.UseLine()
	if c.HasAvailableSubCommands() {
		use = c.CommandPath() + " COMMAND"
	}
	text := section("NAME", roff(manName(c))+` \- `+roff(c.Short)) + section("SYNOPSIS", `\fB`+roff(use)+`\fR`) +
		section("DESCRIPTION", ".nf\n"+roff(about)+"\n.fi")
	var commands, also strings.Builder
	for _, sub := range c.Commands() {
		if sub.IsAvailableCommand() {
			fmt.Fprintf(&commands, ".TP\n\\fB%s\\fR\n%s\n", roff(sub.Name()), roff(sub.Short))
			fmt.Fprintf(&also, "%s(1) ", roff(manName(sub)))
		}
	}
	if c.HasParent() {
		also.WriteString(roff(manName(c.Parent())) + "(1)")
	} else {
		for _, name := range topics {
			fmt.Fprintf(&also, "%s(7) ", roff("linewright-"+name))
		}
	}
	text += section("COMMANDS", commands.String()) + section("OPTIONS", options(c.LocalFlags())) +
		section("OPTIONS OF EVERY COMMAND", options(c.InheritedFlags()))
	if c.HasExample() {
		text += section("EXAMPLES", ".nf\n"+roff(c.Example)+"\n.fi")
	}
	return text + section("EXIT STATUS", roff(exitWords)) + section("SEE ALSO", strings.TrimSpace(also.String()))
}

// section is a part of a page; one without text is left out.
func section(title, text string) string {
	if text = strings.TrimRight(text, "\n"); text == "" {
		return ""
	}
	return ".SH " + title + "\n" + text + "\n"
}

func options(flags *pflag.FlagSet) string {
	var b strings.Builder
	flags.VisitAll(func(f *pflag.Flag) {
		if f.Hidden {
			return
		}
		value, text := pflag.UnquoteUsage(f)
		b.WriteString(".TP\n")
		if f.Shorthand != "" {
			fmt.Fprintf(&b, `\fB\-%s\fR, `, roff(f.Shorthand))
		}
		fmt.Fprintf(&b, `\fB\-\-%s\fR`, roff(f.Name))
		if value != "" {
			fmt.Fprintf(&b, ` \fI%s\fR`, roff(value))
		}
		fmt.Fprintf(&b, "\n%s\n", roff(text))
	})
	return b.String()
}

// roff writes a text so that nothing in it is taken for a command of roff.
func roff(text string) string {
	var b strings.Builder
	for _, line := range strings.SplitAfter(text, "\n") {
		if strings.HasPrefix(line, ".") || strings.HasPrefix(line, "'") {
			b.WriteString(`\&`)
		}
		for _, r := range line {
			switch {
			case r == '\\':
				b.WriteString(`\e`)
			case r == '-':
				b.WriteString(`\-`)
			case r == '\'':
				b.WriteString(`\(aq`)
			case r == '`':
				b.WriteString(`\(ga`)
			case r == '~':
				b.WriteString(`\(ti`)
			case r == '^':
				b.WriteString(`\(ha`)
			case r > 126:
				fmt.Fprintf(&b, `\[u%04X]`, r)
			default:
				b.WriteRune(r)
			}
		}
	}
	return b.String()
}
