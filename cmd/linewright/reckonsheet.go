package main

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/reckon"
	"example.org/linewright/engine/trim"
	"example.org/linewright/engine/wing"
	"example.org/linewright/tui/prompt"
)

// sheetFlags are what a sheet of path lengths is read with.
type sheetFlags struct {
	reckonFlags
	plan, from, trimmers, speed, joint string
}

func (o *sheetFlags) add(c *cobra.Command) {
	flags := c.Flags()
	flags.StringVar(&o.wing, "wing", "", "`WING` of the store, whose plan the paths are of")
	flags.StringVar(&o.plan, "plan", "", "plan `FILE.toml`, instead of a wing of the store")
	flags.StringVar(&o.from, "from", "", "where the tape had its zero, `link|riser` (else as the plan states its paths)")
	flags.StringVar(&o.trimmers, "trimmers", "", "where the trimmers stood, in `WORDS`")
	flags.StringVar(&o.speed, "speed-system", "", "where the speed system stood, in `WORDS`")
	flags.StringVar(&o.joint, "joint", "", "`mm` that each joint of this wing adds to the sum of its lines (else nothing)")
	flags.StringVar(&o.benchFile, "bench", "", "bench profile `FILE.toml` to measure with, instead of the store's")
	flags.StringArrayVar(&o.set, "set", nil, "`KEY=VALUE` of the bench, as in bench set; can be given again")
	flags.BoolVar(&o.why, "why", false, "show what the result rests on")
}

// paths is a sheet that was read, with the plan and bench it is judged by.
type paths struct {
	reckon.Env
	set  trim.Set
	rows []trim.Row
}

// readings are those of one path.
func (p paths) readings(ref trim.PathRef) []metrology.Reading {
	var out []metrology.Reading
	for _, r := range p.rows {
		if r.PathRef == ref {
			out = append(out, r.Reading)
		}
	}
	return out
}

// sheetEnv finds plan and bench, and in a set without paths what is common to
// all of them.
func (a *app) sheetEnv(o sheetFlags) (env reckon.Env, set trim.Set, err error) {
	if (o.wing == "") == (o.plan == "") {
		return env, set, fmt.Errorf("one plan is wanted\ngive --wing ID or --plan FILE")
	}
	if env, err = a.reckonEnv(o.reckonFlags); err != nil {
		return env, set, err
	}
	if o.plan != "" {
		data, err := readFile(o.plan)
		if err != nil {
			return env, set, err
		}
		if env.Plan, err = wing.ParsePlan(data, filepath.Clean(o.plan)); err != nil {
			return env, set, err
		}
	}
	set = trim.Set{From: wing.From(o.from), Trimmers: o.trimmers, SpeedSystem: o.speed}
	if o.from == "" {
		set.From = env.Plan.PathsFrom
	}
	if !slices.Contains(wing.Froms, set.From) {
		return env, set, fmt.Errorf("--from: it is not known where the tape had its zero\ngive --from link (inside of the link) or --from riser (loop for the carabiner)")
	}
	if o.joint != "" {
		if set.Joint, err = signedLength("joint", o.joint); err != nil {
			return env, set, err
		}
		set.JointSource = "as given"
	}
	return env, set, nil
}

// sheet reads a sheet of path lengths into the set.
func (a *app) sheet(file string, env reckon.Env, set trim.Set) (paths, error) {
	data, err := readFile(file)
	if err != nil {
		return paths{}, err
	}
	p := paths{Env: env, set: set}
	if p.rows, err = trim.ReadCSV(env.Plan, filepath.Clean(file), data); err != nil {
		return paths{}, err
	}
	p.set.Paths, err = trim.Evaluate(env.Plan, set.From, p.rows, env.Bench)
	return p, prompt.Cured(err)
}

// signedLength reads a length that may be below zero.
func signedLength(flag, text string) (quantity.Length, error) {
	rest, below := strings.CutPrefix(strings.TrimSpace(text), "-")
	l, err := quantity.ParseLength(rest)
	if err != nil {
		return 0, fmt.Errorf("--%s: %w", flag, prompt.Cured(err))
	}
	if below {
		l = -l
	}
	return l, nil
}

// sheetJSON is what both results on a sheet have beside their own.
type sheetJSON struct {
	Sum      string   `json:"sum"`
	Answer   bool     `json:"answer"`
	Bench    string   `json:"bench"`
	Default  bool     `json:"bench_default"`
	Fallback []string `json:"bench_fallback"`
}

func sheetRow(sum string, answer bool, b metrology.Bench) sheetJSON {
	return sheetJSON{sum, answer, b.Name, b.Default, append([]string{}, b.Fallback...)}
}

// sheetResult prints a result on a sheet; a no ends with its status.
func (a *app) sheetResult(value any, answer bool, b metrology.Bench, words, why []string) error {
	bench := b.Name
	if assumed := b.Assumed(); assumed != "" {
		bench += "; " + assumed
	}
	words = append(words, "Bench: "+bench+".")
	if len(why) > 0 {
		words = append(append(words, ""), why...)
	}
	err := a.result(value, func() {
		for _, l := range reckon.Fold(words) {
			a.line("%s", l)
		}
	})
	if err == nil && !answer {
		return errNo
	}
	return err
}
