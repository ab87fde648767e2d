package main

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"example.org/linewright/engine/session"
	"example.org/linewright/engine/wing"
	"example.org/linewright/tui/prompt"
)

func (a *app) whichCommand() *cobra.Command {
	var side string
	var why bool
	c := &cobra.Command{
		Use: "which WING", Short: "Find out which line one is, from what you see of it", Args: takes(1, 1),
		Example: "  linewright which barn --side left",
		Long: "Find out which line one is, from what you see of it: the question comes first\n" +
			"that is expected to end the search soonest with the least effort. The line is\n" +
			"named when a last look has confirmed it. The exit status is 1 where several\n" +
			"lines are left, or none.",
		RunE: func(c *cobra.Command, args []string) error {
			s := wing.Side(side)
			if side != "" && s.Other() == "" {
				return usage(c, fmt.Sprintf("%q is no side; write left or right", side))
			}
			return a.withDesk(func(d session.Desk) error { return a.which(c.Context(), d, args[0], s, why) })
		},
	}
	c.Flags().StringVar(&side, "side", "", "side of the line, `left|right` as the pilot sits, where it is known (else both)")
	c.Flags().BoolVar(&why, "why", false, "say how many questions were to be expected, and the least there can be")
	return c
}

// whichJSON is the outcome of a search as --json prints it.
type whichJSON struct {
	Wing      string             `json:"wing"`
	Line      *wing.Ref          `json:"line"` // null unless found
	State     wing.FinderState   `json:"state"`
	Left      []wing.Ref         `json:"left"`
	Seen      []wing.Observation `json:"seen"`
	Asked     int                `json:"questions_asked"`
	Expected  float64            `json:"expected_questions"`
	Worst     int                `json:"worst_questions"`
	Exact     bool               `json:"exact"`
	Lines     int                `json:"lines_searched"`
	Bits      float64            `json:"information_bits"`
	Bound     float64            `json:"least_questions"`
	Doubt     *wing.Doubt        `json:"doubt,omitempty"`
	LookAgain []wing.Observation `json:"look_again,omitempty"`
}

func (a *app) which(ctx context.Context, d session.Desk, id string, side wing.Side, why bool) error {
	_, plan, err := loadWing(d, id)
	if err != nil {
		return err
	}
	talk := prompt.NewLineTalk(plan, side)
	if err := a.askLine(ctx, talk); err != nil {
		return err
	}
	a.say("")
	ref, found := talk.Found()
	err = a.result(whichRow(id, talk), func() {
		for _, l := range talk.Result() {
			a.line("%s", l)
		}
		if why {
			a.line("%s", talk.Worth())
		}
		if found {
			a.line("Work on it: linewright job start %s PROCEDURE %s@%s", id, ref.Code, ref.Side)
		}
	})
	if err == nil && !found {
		return errNo
	}
	return err
}

func whichRow(id string, talk *prompt.LineTalk) whichJSON {
	now, first := talk.Question(), talk.First()
	row := whichJSON{
		Wing: id, State: now.State, Left: now.Left, Seen: talk.Seen(), Asked: len(talk.Seen()),
		Expected: first.Expected, Worst: first.Worst, Exact: first.Exact, Lines: len(first.Left), Bits: first.Bits, Bound: first.Bound,
		Doubt: now.Doubt, LookAgain: now.LookAgain,
	}
	if ref, ok := talk.Found(); ok {
		row.Line = &ref
	}
	return row
}

// askLine asks until nothing is left to ask, or the answers end.
func (a *app) askLine(ctx context.Context, talk *prompt.LineTalk) error {
	a.say(prompt.LineTalkRule)
	a.say(prompt.ReplyRule)
	for !talk.Over() {
		say := func() {
			a.say("")
			for _, l := range talk.Words() {
				a.say("%s", l)
			}
		}
		say()
		text, r, err := a.reply(ctx, say)
		if _, ended := over(r, err); ended {
			return nil
		}
		switch {
		case err != nil:
			return err
		case r == prompt.GoBack:
			talk.Back()
			continue
		}
		if err := talk.Take(text); err != nil {
			if !a.in.Terminal() {
				return err
			}
			a.report(err)
		}
	}
	return nil
}
