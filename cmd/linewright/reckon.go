package main

import (
	"cmp"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/reckon"
	"example.org/linewright/engine/session"
	"example.org/linewright/tui/prompt"
)

// reckonFlags are what every bench sum takes beside its own fields.
type reckonFlags struct {
	why       bool
	wing      string
	benchFile string
	set       []string
}

func (a *app) reckonCommand() *cobra.Command {
	var verbs []*cobra.Command
	for _, s := range reckon.Sums() {
		verbs = append(verbs, a.sumCommand(s))
	}
	c := noun("reckon", "Bench sums without a job", append(verbs, a.trimCommand(), a.loopsCommand())...)
	c.Long = "Bench sums without a job. Lengths are judged with the bench of the store, see\n" +
		"linewright bench. Any accepted unit is taken; a bare number is in mm, N or\n" +
		"N·m. The exit status is 1 where the answer is no: outside, not proved, too\n" +
		"short, too weak."
	return c
}

// sumCommand makes the command of one sum: a flag for each field.
func (a *app) sumCommand(s reckon.Sum) *cobra.Command {
	var o reckonFlags
	use, most := s.ID, 0
	for _, f := range s.Fields {
		if f.First {
			use, most = use+" ["+strings.ToUpper(f.Name)+"]", 1
			if f.Many {
				use, most = use+" ...", mostValues
			}
		}
	}
	c := &cobra.Command{Use: use, Short: s.Title, Long: strings.Join(reckon.Fold([]string{s.Title + ". " + s.Purpose}), "\n"), Args: takes(0, most)}
	flags := c.Flags()
	given := map[string]*typed{}
	for _, f := range s.Fields {
		given[f.Name] = &typed{takes: f}
		flags.Var(given[f.Name], flagName(f.Name), fieldHelp(f))
	}
	flags.BoolVar(&o.why, "why", false, "show the sum term by term")
	flags.StringVar(&o.wing, "wing", "", "`WING` of the store, whose plan gives what is left out")
	flags.StringVar(&o.benchFile, "bench", "", "bench profile `FILE.toml` to measure with, instead of the store's")
	flags.StringArrayVar(&o.set, "set", nil, "`KEY=VALUE` of the bench for this sum, as in bench set; can be given again")
	c.RunE = func(_ *cobra.Command, args []string) error {
		values := reckon.Values{}
		for _, f := range s.Fields {
			texts := given[f.Name].texts
			if f.First {
				texts = append(texts, args...)
			}
			if len(texts) > 0 {
				values[f.Name] = texts
			}
		}
		return a.reckon(s, values, o)
	}
	return c
}

// typed is a flag that keeps what was typed for a field, each time it is given.
type typed struct {
	takes reckon.Field
	texts []string
}

func (t *typed) String() string { return strings.Join(t.texts, "; ") }

func (t *typed) Set(text string) error {
	t.texts = append(t.texts, text)
	return nil
}

// fieldWords says how the help names what fields take that can be completed.
var fieldWords = map[string]string{
	"line": "LINE", "point": "POINT", "code": "CODE", "from": "LENGTH|PULLEY", "to": "LENGTH|PULLEY",
	"material": "WORDS", "source": "WORDS",
}

// Type stands in the help for what the flag takes.
func (t *typed) Type() string {
	return cmp.Or(fieldWords[t.takes.Name], strings.Join(t.takes.Options, "|"), t.takes.Unit, string(t.takes.Kind))
}

// mostValues is far above any list that a person types.
const mostValues = 1000

func flagName(field string) string { return strings.ReplaceAll(field, "_", "-") }

func fieldHelp(f reckon.Field) string {
	// A back quote would be read as the name of the value.
	text := strings.ReplaceAll(f.Ask, "`", "'")
	if f.Fallback != "" {
		text += " (else " + f.Fallback + ")"
	}
	if f.Many {
		text += "; can be given again"
	}
	if f.Plan {
		text += "; with --wing"
	}
	return text
}

func (a *app) reckon(s reckon.Sum, values reckon.Values, o reckonFlags) error {
	env, err := a.reckonEnv(o)
	if err != nil {
		return err
	}
	r, err := s.Do(values, env)
	if err != nil {
		return err
	}
	err = a.result(r.JSON, func() {
		for _, l := range r.Lines() {
			a.line("%s", l)
		}
		if o.why {
			a.line("")
			for _, l := range r.Why {
				a.line("%s", l)
			}
		}
	})
	if err == nil && !r.Answer {
		return errNo
	}
	return err
}

// reckonEnv finds the bench and the plan that a sum is reckoned with.
func (a *app) reckonEnv(o reckonFlags) (env reckon.Env, err error) {
	if o.benchFile != "" {
		env.Bench, err = readBench(o.benchFile)
	} else {
		env.Bench, err = a.storedBench()
	}
	if err == nil {
		env.Bench, err = altered(env.Bench, o.set)
	}
	if err != nil || o.wing == "" {
		return env, err
	}
	return env, a.withDesk(func(d session.Desk) error {
		_, env.Plan, err = loadWing(d, o.wing)
		return err
	})
}

// altered is the bench with "key=value" answers of this one sum.
func altered(b metrology.Bench, set []string) (metrology.Bench, error) {
	for _, text := range set {
		key, value, ok := strings.Cut(text, "=")
		if !ok {
			return b, fmt.Errorf("--set %s: a value is missing\nwrite it as --set pull_error_n=5", text)
		}
		var err error
		if b, err = metrology.Answer(b, strings.TrimSpace(key), value); err != nil {
			return b, prompt.Cured(err)
		}
	}
	if len(set) == 0 {
		return b, nil
	}
	return b, prompt.Cured(b.Validate())
}
