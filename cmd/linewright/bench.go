package main

import (
	"context"
	"errors"

	"github.com/spf13/cobra"

	"example.org/linewright/engine/session"
)

// bench names line mode: there is no other front end yet.
func (a *app) bench(_ *cobra.Command, _ []string) error {
	return errors.New("there is no bench yet\nwork in line mode: linewright job list, then linewright job walk JOB")
}

func (a *app) demoWork(ctx context.Context, d session.Desk, no int, list answers) error {
	return a.demoLines(ctx, d, no, list)
}

// recordJSON builds what closing signatures are made over.
func recordJSON(d session.Desk) func(no int) ([]byte, error) {
	return func(no int) ([]byte, error) {
		r, err := build(d, no)
		return r.JSON, err
	}
}
