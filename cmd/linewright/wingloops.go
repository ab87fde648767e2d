package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"github.com/spf13/cobra"

	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/session"
	"example.org/linewright/engine/trim"
	"example.org/linewright/tui/prompt"
)

func (a *app) wingLoopsCommand() *cobra.Command {
	var ask, asTOML bool
	c := &cobra.Command{
		Use: "loops WING [FILE.toml]", Short: "What each loop on a link takes on a wing", Args: takes(1, 2),
		Example: "  linewright wing loops barn\n" +
			"  linewright wing loops barn --ask\n" +
			"  linewright wing loops barn --toml > loops.toml\n" +
			"  linewright wing loops barn loops.toml",
		Long: "What each loop on a link shortens a line by on this wing. Alone it shows the\n" +
			"table in force: the wing's own, or a fallback that says so. With a file or\n" +
			"--ask it stores one, for jobs that begin from then on. Measure it on the wing:\n" +
			"fit the loop, pull, read; each against the plain loop.",
		RunE: func(c *cobra.Command, args []string) error {
			switch {
			case ask && (asTOML || len(args) == 2), asTOML && len(args) == 2:
				return usage(c, "it is used so: a FILE, or --ask, or --toml")
			case ask:
				return a.askLoops(c.Context(), args[0])
			case len(args) == 2:
				return a.loopsFromFile(args[0], args[1])
			}
			return a.showLoops(args[0], asTOML)
		},
	}
	c.Flags().BoolVar(&ask, "ask", false, "be asked loop by loop")
	c.Flags().BoolVar(&asTOML, "toml", false, "print the table as a file to fill in")
	return c
}

// wingLoops is the table in force of a wing.
func wingLoops(d session.Desk, id string) (trim.LoopTable, error) {
	if _, err := d.Store.Wing(id); err != nil {
		return trim.LoopTable{}, err
	}
	data, err := d.Store.WingLoops(id)
	if err != nil || data == nil {
		return trim.FallbackLoops(), err
	}
	return trim.ParseLoops(d.Store.WingLoopsPath(id), data)
}

func (a *app) showLoops(id string, asTOML bool) error {
	return a.withDesk(func(d session.Desk) error {
		t, err := wingLoops(d, id)
		switch {
		case err != nil:
			return err
		case asTOML:
			_, err = a.out.Write(encodeLoops(t))
			return err
		}
		return a.sayLoops(id, t)
	})
}

func (a *app) sayLoops(id string, t trim.LoopTable) error {
	return a.result(t, func() {
		a.line("A loop on wing %s shortens a line against the plain one by:", id)
		for _, l := range t.Loops {
			a.line("  %s: %s", l.Code, l.Shortens)
		}
		a.line("Source: %s", t.Source)
		if t.Fallback {
			a.line("Nobody measured this wing's. Measure it: linewright wing loops %s --ask", id)
		}
	})
}

func (a *app) loopsFromFile(id, file string) error {
	data, err := readFile(file)
	if err != nil {
		return err
	}
	return a.keepLoops(id, filepath.Clean(file), data)
}

// keepLoops stores a table that is sound, and says how it was understood. A
// refusal leaves the table that was there.
func (a *app) keepLoops(id, name string, data []byte) error {
	t, err := trim.ParseLoops(name, data)
	if err != nil {
		return err
	}
	return a.withDesk(func(d session.Desk) error {
		if err := d.Store.WriteWingLoops(id, data); err != nil {
			return err
		}
		if err := a.sayLoops(id, t); err != nil || a.json {
			return err
		}
		a.line("Saved. Jobs that are under way keep the table that they began with.")
		return nil
	})
}

// askLoops asks for who measured and for each loop, and then stores the table:
// what is broken off changes nothing.
func (a *app) askLoops(ctx context.Context, id string) error {
	known := trim.LoopTable{}
	if err := a.withDesk(func(d session.Desk) (err error) {
		known, err = wingLoops(d, id)
		return err
	}); err != nil {
		return err
	}
	t, err := a.askTable(ctx, known)
	if err != nil {
		return err
	}
	return a.keepLoops(id, "what was answered", encodeLoops(t))
}

// askTable asks for who measured, then for each loop, from the one before again
// where somebody goes back.
func (a *app) askTable(ctx context.Context, known trim.LoopTable) (trim.LoopTable, error) {
	a.say(prompt.ReplyRule)
	t := trim.LoopTable{Loops: []trim.Loop{{Code: known.Loops[0].Code}}}
	asked, took := loopsAsked(known), map[string]quantity.Length{}
	for at := -1; at < len(asked); {
		var back bool
		var err error
		if at < 0 {
			t.Source, back, err = a.askSource(ctx)
		} else {
			back, err = a.askLoop(ctx, asked[at].Code, t.Loops[0].Code, took)
		}
		switch {
		case err != nil:
			return t, err
		case !back:
			at++
		case at >= 0:
			at--
		}
	}
	for _, l := range asked {
		if shortens, given := took[l.Code]; given {
			t.Loops = append(t.Loops, trim.Loop{Code: l.Code, Shortens: shortens})
		}
	}
	return t, nil
}

// askSource asks who measured.
func (a *app) askSource(ctx context.Context) (source string, back bool, err error) {
	say := func() { a.say("Who measured the loops on this wing, and when?") }
	say()
	source, back, err = a.replied(ctx, say, "who, and when")
	if err == nil && !back && source == "" {
		err = errors.New("it is not said who measured the loops; nothing was written\nsay who, and when, on one line")
	}
	return source, back, err
}

// loopsAsked lists the loops to ask for behind the first: those of the table in
// force, then the usual ones that it lacks.
func loopsAsked(known trim.LoopTable) []trim.Loop {
	out := slices.Clone(known.Loops[1:])
	for _, l := range trim.FallbackLoops().Loops {
		if !slices.Contains(known.Codes(), l.Code) {
			out = append(out, l)
		}
	}
	return out
}

// askLoop asks what a loop takes until that is understood, or left out; without
// a terminal nobody can mend an answer.
func (a *app) askLoop(ctx context.Context, code, plain string, took map[string]quantity.Length) (back bool, err error) {
	say := func() { a.say("%s: how many mm shorter than %s? An empty line leaves this loop out.", code, plain) }
	say()
	for {
		text, back, err := a.replied(ctx, say, "what this loop takes in mm, or an empty line")
		if err != nil || back {
			return back, err
		}
		delete(took, code)
		if text == "" {
			return false, nil
		}
		l, err := quantity.ParseLength(text)
		if err != nil {
			err = prompt.Cured(err)
		} else if l < 0 || l > trim.MostShortens {
			err = fmt.Errorf("a loop that takes %s cannot be\ngive 0 to %s", l, trim.MostShortens)
		}
		if err == nil {
			took[code] = l
			return false, nil
		}
		if !a.in.Terminal() {
			return false, err
		}
		a.report(err)
	}
}

// replied reads an answer, or back; the end of the questions is an error that
// says what was wanted.
func (a *app) replied(ctx context.Context, say func(), wanted string) (text string, back bool, err error) {
	text, r, err := a.reply(ctx, say)
	if how, ended := over(r, err); ended {
		err = fmt.Errorf("%s; nothing was written\nwanted: %s", how, wanted)
	}
	return text, r == prompt.GoBack, err
}

// encodeLoops writes a table as its file. What the source says of a fallback
// goes as a comment: a file has to say who measured.
func encodeLoops(t trim.LoopTable) []byte {
	var b bytes.Buffer
	b.WriteString("# What each loop shortens a line by, in mm against the plain loop. Measure it on\n# this wing: fit, pull, read.\n")
	fmt.Fprintf(&b, "linewright_loops = %d\n", trim.LoopEdition)
	if t.Fallback {
		fmt.Fprintf(&b, "# Who measured, and when. The numbers below are a %s.\nsource = \"\"\n", t.Source)
	} else {
		fmt.Fprintf(&b, "source = %s\n", basic(t.Source))
	}
	for _, l := range t.Loops {
		fmt.Fprintf(&b, "\n[[loop]]\ncode = %s\nshortens_mm = %s\n", basic(l.Code), strconv.FormatFloat(l.Shortens.MM(), 'f', -1, 64))
	}
	return b.Bytes()
}

// basic writes a text as a basic string of TOML.
func basic(text string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range text {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case unicode.IsControl(r):
			fmt.Fprintf(&b, "\\u%04X", r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
