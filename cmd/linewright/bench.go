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

// bench opens the screen on a terminal that can show one.
func (a *app) bench(c *cobra.Command, _ []string) error {
	in, out, ok := a.screen()
	if !ok {
		return errors.New("the bench needs a terminal that can be drawn on\nwork in line mode: linewright job list, then linewright job walk JOB")
	}
	return a.withDesk(func(d session.Desk) error {
		return tui.Run(c.Context(), tui.Options{Desk: d, ASCII: a.asciiOnly(), RecordJSON: recordJSON(d), In: in, Out: out})
	})
}

// demoWork leads through the sample job: on the screen, where there is one,
// with each answer offered, else through line mode with the answers fed in.
func (a *app) demoWork(ctx context.Context, d session.Desk, no int, list answers) error {
	in, out, ok := a.screen()
	if !ok {
		return a.demoLines(ctx, d, no, list)
	}
	return tui.Run(ctx, tui.Options{
		Desk: d, ASCII: a.asciiOnly(), RecordJSON: recordJSON(d), In: in, Out: out,
		Job: no, Task: 1, Demo: &tui.Demo{Offer: list.offer},
	})
}

// screen gives the terminal, if both ends are one and it can be drawn on.
func (a *app) screen() (in, out *os.File, ok bool) {
	in, isIn := a.stdin.(*os.File)
	out, isOut := a.stdout.(*os.File)
	if !isIn || !isOut || a.env("TERM") == "dumb" {
		return nil, nil, false
	}
	return in, out, term.IsTerminal(int(in.Fd())) && term.IsTerminal(int(out.Fd()))
}

// asciiOnly reports whether pictures keep to ASCII: wherever it is not known
// that the terminal shows more. LINEWRIGHT_SIGNS says it outright.
func (a *app) asciiOnly() bool {
	switch a.env("LINEWRIGHT_SIGNS") {
	case "ascii":
		return true
	case "rich":
		return false
	}
	if a.env("TERM") == "linux" {
		return true
	}
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if v := strings.ToUpper(a.env(name)); v != "" {
			return !strings.Contains(v, "UTF-8") && !strings.Contains(v, "UTF8")
		}
	}
	return true
}

// recordJSON builds what closing signatures are made over.
func recordJSON(d session.Desk) func(no int) ([]byte, error) {
	return func(no int) ([]byte, error) {
		r, err := build(d, no)
		return r.JSON, err
	}
}
