package main

import (
	"context"
	"errors"
	"os"
	"strings"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"example.org/linewright/engine/session"
	"example.org/linewright/tui"
)

// bench opens the full-screen bench. Where there is no terminal for it, or one
// that cannot move its cursor, line mode is named instead.
func (a *app) bench(c *cobra.Command, _ []string) error {
	if !a.onTerminal() {
		return errors.New("the bench cannot be drawn here (no terminal, or TERM=dumb): line mode does the same work\n" +
			"begin a job: linewright job start WING PROCEDURE TARGET; go on with one: linewright job list, then linewright job walk JOB")
	}
	return a.withDesk(func(d session.Desk) error {
		return tui.Run(c.Context(), a.benchOptions(d))
	})
}

func (a *app) benchOptions(d session.Desk) tui.Options {
	return tui.Options{Desk: d, Rich: a.richSigns(), RecordJSON: recordJSON(d), In: a.stdin.(*os.File), Out: a.stdout.(*os.File)}
}

// demoWork opens the bench on the sample job with the answers offered, or feeds
// them to line mode where the bench cannot be drawn.
func (a *app) demoWork(ctx context.Context, d session.Desk, no int, list answers) error {
	if !a.onTerminal() {
		return a.demoLines(ctx, d, no, list)
	}
	o := a.benchOptions(d)
	o.Job = no
	o.Demo = &tui.Demo{Offer: list.offer}
	return tui.Run(ctx, o)
}

// onTerminal reports whether the bench can be drawn.
func (a *app) onTerminal() bool {
	in, hasIn := a.stdin.(*os.File)
	out, hasOut := a.stdout.(*os.File)
	return hasIn && hasOut && a.env("TERM") != "dumb" && term.IsTerminal(int(in.Fd())) && term.IsTerminal(int(out.Fd()))
}

// richSigns reports whether pictures may use more than ASCII: where the
// terminal is known to show it. LINEWRIGHT_SIGNS says it outright.
func (a *app) richSigns() bool {
	switch a.env("LINEWRIGHT_SIGNS") {
	case "ascii":
		return false
	case "rich":
		return true
	}
	if a.env("TERM") == "linux" {
		return false
	}
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if v := strings.ToUpper(a.env(name)); v != "" {
			return strings.Contains(v, "UTF-8") || strings.Contains(v, "UTF8")
		}
	}
	return false
}

// recordJSON builds what closing signatures are made over.
func recordJSON(d session.Desk) func(no int) ([]byte, error) {
	return func(no int) ([]byte, error) {
		r, err := build(d, no)
		return r.JSON, err
	}
}
