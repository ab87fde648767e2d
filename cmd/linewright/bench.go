package main

import (
	"context"
	"errors"
	"os"
	"runtime"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"example.org/linewright/engine/session"
	"example.org/linewright/tui"
)

// bench opens the full-screen bench. Where there is no terminal for it, or one
// that cannot move its cursor, line mode is named instead.
func (a *app) bench(c *cobra.Command, _ []string) error {
	if !a.onTerminal() {
		return errors.New("the bench cannot be drawn here (no terminal, or TERM is dumb or not set): line mode does the same work\n" +
			"begin a job: linewright job start WING PROCEDURE TARGET; go on with one: linewright job list, then linewright job walk JOB")
	}
	return a.withDesk(func(d session.Desk) error {
		o, err := a.benchOptions(d)
		if err != nil {
			return err
		}
		return tui.Run(c.Context(), o)
	})
}

func (a *app) benchOptions(d session.Desk) (tui.Options, error) {
	rich, err := a.rich()
	if err != nil {
		return tui.Options{}, err
	}
	look, from, err := a.look(d.Store.Settings)
	return tui.Options{Desk: d, Rich: rich, Look: look, LookFrom: from, RecordJSON: recordJSON(d),
		In: a.stdin.(*os.File), Out: a.stdout.(*os.File)}, err
}

// demoWork opens the bench on the sample job with the answers offered, or feeds
// them to line mode where the bench cannot be drawn.
func (a *app) demoWork(ctx context.Context, d session.Desk, no int, list answers) error {
	if !a.onTerminal() {
		return a.demoLines(ctx, d, no, list)
	}
	o, err := a.benchOptions(d)
	if err != nil {
		return err
	}
	o.Job = no
	o.Demo = &tui.Demo{Offer: list.offer}
	return tui.Run(ctx, o)
}

// onTerminal reports whether the bench can be drawn.
func (a *app) onTerminal() bool {
	in, hasIn := a.stdin.(*os.File)
	out, hasOut := a.stdout.(*os.File)
	return hasIn && hasOut && a.movesCursor() && term.IsTerminal(int(in.Fd())) && term.IsTerminal(int(out.Fd()))
}

// movesCursor reports whether the terminal says that it can. The console of
// Windows says nothing and can.
func (a *app) movesCursor() bool {
	kind := a.env("TERM")
	return kind != "dumb" && (kind != "" || runtime.GOOS == "windows")
}

// recordJSON builds what closing signatures are made over.
func recordJSON(d session.Desk) func(no int) ([]byte, error) {
	return func(no int) ([]byte, error) {
		r, err := build(d, no)
		return r.JSON, err
	}
}
