package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/session"
	"example.org/linewright/tui/prompt"
)

func (a *app) benchCommand() *cobra.Command {
	var file string
	set := &cobra.Command{
		Use: "set [KEY VALUE] ...", Short: "Change the bench profile", Args: takes(0, mostValues),
		Example: "  linewright bench set tape_class I pull_how \"hung weight\"\n" +
			"  linewright bench set --file bench.toml",
		Long: "Change the bench profile of the store: keys with their values, or a whole\n" +
			"file. An empty value is the fallback. linewright bench show --toml names the\n" +
			"keys.",
		RunE: func(c *cobra.Command, args []string) error {
			if (file == "") == (len(args) == 0) || len(args)%2 != 0 {
				return usage(c, "it is used so: bench set KEY VALUE ..., or bench set --file FILE")
			}
			return a.setBench(file, args)
		},
	}
	set.Flags().StringVar(&file, "file", "", "take the profile `FILE.toml`")
	var asTOML bool
	show := &cobra.Command{
		Use: "show", Short: "With what, and how, lengths are measured", Args: takes(0, 0),
		RunE: func(*cobra.Command, []string) error { return a.showBench(asTOML) },
	}
	show.Flags().BoolVar(&asTOML, "toml", false, "print the profile as a file to fill in")
	return noun("bench", "The bench profile: with what, and how, lengths are measured", show, set,
		&cobra.Command{Use: "ask", Short: "Be asked for the bench, question by question", Args: takes(0, 0), RunE: func(c *cobra.Command, _ []string) error {
			return a.askBench(c.Context())
		}},
	)
}

// storedBench is the bench of the store, or the default where nobody described
// one. A store that is not there is not made for it.
func (a *app) storedBench() (metrology.Bench, error) {
	dir, err := a.folder()
	if err != nil {
		return metrology.Bench{}, err
	}
	if _, err := os.Stat(dir); errors.Is(err, os.ErrNotExist) {
		return metrology.DefaultBench(), nil
	}
	b := metrology.Bench{}
	err = a.withDesk(func(d session.Desk) error {
		b, err = d.Bench()
		return err
	})
	return b, err
}

// readBench reads a profile that a person named.
func readBench(file string) (metrology.Bench, error) {
	data, err := readFile(file)
	if err != nil {
		return metrology.Bench{}, err
	}
	return metrology.ParseBench(filepath.Clean(file), data)
}

// benchJSON is a bench as --json prints it.
type benchJSON struct {
	metrology.Bench
	Words []string `json:"words"`
}

func (a *app) sayBench(b metrology.Bench) error {
	return a.result(benchJSON{b, b.Words()}, func() {
		for _, l := range b.Words() {
			a.line("%s", l)
		}
	})
}

func (a *app) showBench(asTOML bool) error {
	b, err := a.storedBench()
	if err != nil {
		return err
	}
	if asTOML {
		_, err := a.out.Write(metrology.EncodeBench(b))
		return err
	}
	if err := a.sayBench(b); err != nil || a.json {
		return err
	}
	if b.Default {
		a.line("Describe yours: linewright bench ask")
	}
	return a.foresee(b)
}

// foresee says what the bench can do, by an example.
func (a *app) foresee(b metrology.Bench) error {
	line := metrology.Object{Nominal: 4 * quantity.Metre, Strength: 1000 * quantity.Newton, State: metrology.StateLoose}
	out, err := metrology.Foresee(line, 1, b, 5*quantity.Millimetre)
	if err != nil {
		return prompt.Cured(err)
	}
	a.line("A loose line of 4 m that bears 1000 N, read once, against 5 mm:")
	for _, l := range out.Words() {
		a.line("  %s", l)
	}
	return nil
}

func (a *app) setBench(file string, pairs []string) error {
	return a.withDesk(func(d session.Desk) error {
		var b metrology.Bench
		var err error
		if file != "" {
			b, err = readBench(file)
		} else {
			b, err = d.Bench()
		}
		if err != nil {
			return err
		}
		for i := 0; i < len(pairs); i += 2 {
			if b, err = metrology.Answer(b, pairs[i], pairs[i+1]); err != nil {
				return prompt.Cured(err)
			}
		}
		return a.keepBench(d, b)
	})
}

// keepBench writes a profile that is whole, and says it.
func (a *app) keepBench(d session.Desk, b metrology.Bench) error {
	if err := d.SaveBench(b); err != nil {
		return prompt.Cured(err)
	}
	return a.sayBench(b)
}

// askBench asks all questions and then writes the profile: what is broken off
// changes nothing.
func (a *app) askBench(ctx context.Context) error {
	return a.withDesk(func(d session.Desk) error {
		b, err := d.Bench()
		if err != nil {
			return err
		}
		a.say(prompt.BenchTalkRule)
		a.say(prompt.ReplyRule)
		talk := prompt.NewBenchTalk(b)
		for q, more := talk.Next(); more; q, more = talk.Next() {
			if err := a.askOne(ctx, talk, q); err != nil {
				return err
			}
		}
		a.say("")
		return a.keepBench(d, talk.Bench)
	})
}

// askOne asks until the answer is taken, or the question before it is due again;
// without a terminal nobody can mend one, so that the first refusal ends it.
func (a *app) askOne(ctx context.Context, talk *prompt.BenchTalk, q metrology.Question) error {
	say := func() { a.sayOne(talk, q) }
	say()
	for {
		text, r, err := a.reply(ctx, say)
		if how, ended := over(r, err); ended {
			return fmt.Errorf("%s at question %d; the profile is as it was\nstart again: linewright bench ask", how, talk.No())
		}
		switch {
		case err != nil:
			return err
		case r == prompt.GoBack:
			talk.Back()
			return nil
		}
		if err = talk.Take(q, text); err == nil || !a.in.Terminal() {
			return err
		}
		a.report(err)
	}
}

func (a *app) sayOne(talk *prompt.BenchTalk, q metrology.Question) {
	a.say("")
	for i, l := range talk.Words(q) {
		if i > 0 {
			l = "   " + l
		}
		a.say("%s", l)
	}
}
