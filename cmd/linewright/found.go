package main

import (
	"context"
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"example.org/linewright/engine/session"
	"example.org/linewright/engine/store"
	"example.org/linewright/engine/wing"
	"example.org/linewright/tui/prompt"
)

func (a *app) foundCommand() *cobra.Command {
	var head wing.FoundHead
	var output string
	c := &cobra.Command{
		Use: "found [-o FILE.toml]", Short: "Make a plan of the wing as found, where there are no papers", Args: takes(0, 0),
		Long: "Make a plan of the wing as found, question by question: the lines of one link,\n" +
			"what they carry, and the lengths of the twins of those that are to be worked\n" +
			"on. Every record says afterwards that the plan is not the maker's. :back takes\n" +
			"the last answer back.",
		RunE: func(c *cobra.Command, _ []string) error {
			return a.withBench(func(d session.Desk) error { return a.askFound(c.Context(), d, head, output) })
		},
	}
	c.Flags().StringVar(&head.Name, "name", "", "`NAME` of the wing, as it stands on it")
	c.Flags().StringVar(&head.Size, "size", "", "its `SIZE`")
	c.Flags().StringVarP(&output, "output", "o", "found.toml", "`FILE.toml` to write the plan to")
	return c
}

// askFound asks all questions and then writes the plan: what is broken off
// leaves nothing behind.
func (a *app) askFound(ctx context.Context, d session.Desk, head wing.FoundHead, output string) error {
	if err := absent(output); err != nil {
		return err
	}
	head.By, head.Date = d.Who, d.Clock().Format(time.DateOnly)
	f := wing.NewFound(head)
	a.say("The wing is asked, not its maker.")
	a.say(prompt.ReplyRule)
	for q, more := f.Ask(); more; q, more = f.Ask() {
		say := func() { a.sayFound(q) }
		say()
		text, r, err := a.reply(ctx, say)
		if how, ended := over(r, err); ended {
			return fmt.Errorf("%s; nothing was written\nwanted: the answer to question %d", how, q.No)
		}
		switch {
		case err != nil:
			return err
		case r == prompt.GoBack:
			f = f.Back()
			continue
		}
		next, err := f.Answer(text)
		if err != nil {
			if !a.in.Terminal() {
				return err
			}
			a.report(err)
			continue
		}
		f = next
	}
	text, p, err := f.Plan()
	if err != nil {
		return err
	}
	if err := store.WriteFile(output, text); err != nil {
		return notWritten(output, err)
	}
	return a.madeFound(p, f.Answers(), output)
}

func (a *app) sayFound(q wing.FoundQuestion) {
	a.say("")
	a.say("%d. %s", q.No, q.Ask)
	a.say("   %s", q.Hint)
	for i, o := range q.Options {
		if q.Kind == wing.FoundChoice {
			a.say("   %d %s: %s", i+1, o.Word, o.Text)
			continue
		}
		a.say("   %s: %s", o.Word, o.Text)
	}
}

func (a *app) madeFound(p *wing.Plan, answers int, file string) error {
	row := madeRow(p)
	return a.result(struct {
		Plan    string `json:"plan_file"`
		Source  string `json:"source"`
		Answers int    `json:"answers"`
		madeJSON
	}{file, p.Source.Text, answers, row}, func() {
		a.line("")
		for _, l := range p.Lines {
			a.line("%s: row %s, %s tier, on %s, place %d%s", l.Code, l.Row, l.Tier, l.On, l.Pos, lengthWords(l))
		}
		a.line("Source: %s", p.Source.Text)
		a.sayMade(row, file)
	})
}

func lengthWords(l wing.Line) string {
	if l.Length == 0 {
		return ""
	}
	return ", " + l.Length.String()
}
