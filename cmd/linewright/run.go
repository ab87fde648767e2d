package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"runtime/debug"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"example.org/linewright/engine/source"
	"example.org/linewright/engine/store"
	"example.org/linewright/tui/prompt"
)

// The exit statuses.
const (
	statusDone = 0
	statusNo   = 1 // the answer is no: not verified, not right yet, a file with faults
	statusFail = 2 // it could not be done
)

// errNo ends a command whose printed result is a no.
var errNo = errors.New("the answer is no")

// app is what all commands share.
type app struct {
	in   *prompt.Input
	out  io.Writer
	errs io.Writer
	env  func(string) string

	stdin, stdout any // as given, for the bench, which needs real files

	storeDir  string
	as        string
	json      bool
	lookFlag  string
	signsFlag string
}

// Run runs the command line and gives the exit status.
func Run(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer, env func(string) string) int {
	a := &app{in: prompt.NewInput(stdin), out: stdout, errs: stderr, env: env, stdin: stdin, stdout: stdout}
	root := a.root()
	if slices.Contains(args, cobra.ShellCompRequestCmd) || slices.Contains(args, cobra.ShellCompNoDescRequestCmd) {
		a.completing(root) // a look at every flag, which no other start has to wait for
	}
	root.SetArgs(args)
	root.SetIn(stdin)
	root.SetOut(stdout)
	root.SetErr(stderr)
	err := root.ExecuteContext(ctx)
	a.report(err)
	return status(err)
}

func (a *app) root() *cobra.Command {
	root := &cobra.Command{
		Use:           "linewright",
		Short:         "Leads through work on the lines of a soft wing and leaves a signed record",
		Long:          about,
		Version:       version(),
		Args:          takes(0, 0),
		RunE:          a.bench,
		SilenceUsage:  true,
		SilenceErrors: true,
	}
	root.SetVersionTemplate("linewright {{.Version}}\n")
	root.CompletionOptions.DisableDefaultCmd = true
	root.SetFlagErrorFunc(func(c *cobra.Command, err error) error { return flagError(c, err) })
	flags := root.PersistentFlags()
	flags.StringVar(&a.storeDir, "store", "", "`FOLDER` with wings, jobs and keys (else $LINEWRIGHT_STORE, else the user's data folder)")
	flags.StringVar(&a.as, "as", "", "`PERSON` at the bench (else $LINEWRIGHT_AS, else the only one with a key here, else the user)")
	flags.BoolVar(&a.json, "json", false, "print the result as JSON")
	flags.StringVar(&a.lookFlag, "look", "", "`LOOK` of the bench: "+strings.Join(store.Looks, ", ")+" (else $LINEWRIGHT_LOOK, else as kept)")
	flags.StringVar(&a.signsFlag, "signs", "", "`SIGNS` of pictures: ascii or rich (else $LINEWRIGHT_SIGNS, else rich where it is known to work)")
	help := a.helpCommand()
	group(root, toWork, a.demoCommand(), a.whichCommand(), a.jobCommand())
	group(root, toPrepare, a.wingCommand(), a.procedureCommand())
	group(root, toMeasure, a.benchCommand(), a.reckonCommand())
	group(root, toProve, a.signerCommand(), a.recordCommand())
	group(root, toHelp, help, a.lookCommand(), a.completionCommand(), a.manCommand())
	root.SetHelpCommand(help)
	root.SetUsageFunc(printUsage)
	return root
}

func version() string {
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" {
		return info.Main.Version
	}
	return "(devel)"
}

// takes checks the number of arguments and says in its error what is wanted.
func takes(least, most int) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		switch {
		case len(args) > 0 && c.HasSubCommands() && most == 0:
			return unknown(c, "command", args[0])
		case len(args) < least || len(args) > most:
			return usage(c, "it is used so: "+c.UseLine())
		}
		return nil
	}
}

// noun makes a command that only holds others.
func noun(use, short string, verbs ...*cobra.Command) *cobra.Command {
	c := &cobra.Command{Use: use, Short: short, Args: takes(0, 0), RunE: func(c *cobra.Command, _ []string) error {
		return usage(c, "a command is wanted: "+strings.Join(namesOf(c), ", "))
	}}
	c.AddCommand(verbs...)
	return c
}

func namesOf(c *cobra.Command) []string {
	var names []string
	for _, sub := range c.Commands() {
		names = append(names, sub.Name())
	}
	return names
}

func usage(c *cobra.Command, what string) error {
	return fmt.Errorf("%s\n%s --help shows how", what, c.CommandPath())
}

// report prints an error: one line what, the next line what to do. A file with
// several faults has such a pair for each.
func (a *app) report(err error) {
	if err == nil || errors.Is(err, errNo) {
		return
	}
	if errors.Is(err, context.Canceled) {
		err = errors.New("interrupted; what was saved is kept")
	}
	var lines []string
	for _, line := range strings.Split(source.Clean(err.Error()), "\n") {
		if line = strings.TrimSpace(line); line != "" {
			lines = append(lines, line)
		}
	}
	fmt.Fprintf(a.errs, "linewright: %s\n", strings.Join(lines, "\n  "))
}

func status(err error) int {
	var notTaken *prompt.NotTaken
	switch {
	case err == nil:
		return statusDone
	case errors.Is(err, errNo), errors.As(err, &notTaken) && notTaken.Written:
		return statusNo
	}
	return statusFail
}
