package main

import (
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/trim"
	"example.org/linewright/engine/wing"
	"example.org/linewright/tui/prompt"
)

// loopFlags are what a choice of loops takes beside its sheet.
type loopFlags struct {
	table  string
	on     []string
	free   []string
	aim    string
	demand trim.Demand
}

func (a *app) loopsCommand() *cobra.Command {
	var o sheetFlags
	var l loopFlags
	c := &cobra.Command{
		Use: "loops FILE.csv --on LOOP", Short: "The loops on the links that bring the wing inside its limits", Args: takes(1, 1),
		Example: "  linewright reckon loops paths.csv --wing barn --on plain --on C1.2@left=wrapped",
		Long: "The loops on the links that bring the wing inside its limits, with the fewest\n" +
			"changes. The file is a sheet of path lengths as for reckon trim. --on says\n" +
			"which loop the lines have now. The exit status is 1 where no choice was found.",
		RunE: func(_ *cobra.Command, args []string) error {
			env, set, err := a.sheetEnv(o)
			if err != nil {
				return err
			}
			p, err := a.sheet(args[0], env, set)
			if err != nil {
				return err
			}
			return a.chooseLoops(p, l, o.why)
		},
	}
	o.add(c)
	flags := c.Flags()
	flags.StringVar(&l.table, "loops", "", "table `FILE.toml` of what each loop takes, measured on this wing (else a fallback: plain, wrapped, hitched, twice)")
	flags.StringArrayVar(&l.on, "on", nil, "`LOOP` that the lines have now, as plain, or that of one line, as C1.2@left=wrapped; can be given again")
	flags.StringArrayVar(&l.free, "free", nil, "`LINE` whose loop may change, as C1.2@left (else all whose loop is known); can be given again")
	flags.BoolVar(&l.demand.EachSide, "each-side", false, "left and right may get unlike loops")
	flags.BoolVar(&l.demand.Whole, "whole", false, "take the limits whole, not narrowed by the uncertainty")
	flags.StringVar(&l.aim, "aim", "", "deviation that the paths are held to, `LENGTH|offset`: offset for the common offset (else 0, the plan)")
	flags.IntVar(&l.demand.NodeLimit, "node-limit", trim.DefaultNodeLimit, "`NODES` after which the search gives up the proof")
	return c
}

func (a *app) chooseLoops(p paths, l loopFlags, why bool) error {
	loops, err := l.loops()
	if err != nil {
		return err
	}
	for _, r := range p.set.Paths {
		if r.Disagree {
			return fmt.Errorf("the readings of %s lie too far apart to choose by\nmeasure that path again", r.PathRef)
		}
	}
	report, err := trim.NewReport(p.Plan, p.set, trim.ChordOf(p.Plan))
	if err != nil {
		return prompt.Cured(err)
	}
	if l.demand.Free, err = targets(l.free); err != nil {
		return err
	}
	if l.demand.Aim, err = l.aimOf(report); err != nil {
		return err
	}
	choice, err := trim.Choose(p.Plan, report, loops, l.demand)
	if err != nil {
		return prompt.Cured(err)
	}
	var ground []string
	if why {
		ground = loopsWhy(choice, loops.Table)
	}
	answer := choice.Outcome == trim.Found
	return a.sheetResult(struct {
		sheetJSON
		trim.Choice
	}{sheetRow("loops", answer, p.Bench), choice}, answer, p.Bench, choice.Words(), ground)
}

// loops gives the table and what is on the links now. What is there is not
// guessed: a wrong start makes a wrong instruction.
func (l loopFlags) loops() (trim.Loops, error) {
	loops := trim.Loops{Table: trim.FallbackLoops(), On: map[wing.Ref]string{}}
	if l.table != "" {
		data, err := readFile(l.table)
		if err != nil {
			return loops, err
		}
		if loops.Table, err = trim.ParseLoops(filepath.Clean(l.table), data); err != nil {
			return loops, err
		}
	}
	if len(l.on) == 0 {
		return loops, fmt.Errorf("--on: it is not known which loops the lines have now\nlook at the links; give --on plain if all are plain, and --on C1.2@left=wrapped for each that is not")
	}
	for _, text := range l.on {
		line, code, one := strings.Cut(text, "=")
		switch {
		case one:
			ref, err := prompt.Target(wing.KindLine, line)
			if err != nil {
				return loops, err
			}
			if _, twice := loops.On[ref]; twice {
				return loops, fmt.Errorf("--on: two loops are given for %s\ngive the one that it has now", ref)
			}
			loops.On[ref] = strings.TrimSpace(code)
		case loops.Others != "":
			return loops, fmt.Errorf("--on: two loops are given for all lines\ngive one, and the others as C1.2@left=%s", text)
		default:
			loops.Others = text
		}
	}
	return loops, nil
}

// aimOf gives the deviation that paths are held to.
func (l loopFlags) aimOf(r trim.Report) (quantity.Length, error) {
	switch {
	case l.aim == "":
		return 0, nil
	case l.aim != "offset":
		return signedLength("aim", l.aim)
	case r.Offset == nil:
		return 0, fmt.Errorf("--aim offset: no path of the rows was measured, so there is no common offset\ngive the aim in mm")
	}
	return quantity.LengthFromMM(r.Offset.MeanMM)
}

// loopsWhy shows what the choice rests on: the rule, the table and each path.
func loopsWhy(c trim.Choice, table trim.LoopTable) []string {
	out := []string{"Rule: " + c.Rule + ".", "", "Each loop shortens a line against the plain one by (" + table.Source + "):"}
	for _, l := range table.Loops {
		out = append(out, fmt.Sprintf("  %s: %s", l.Code, l.Shortens))
	}
	if len(c.Paths) > 0 {
		out = append(out, "", "Each path, deviation in mm: before, after.")
	}
	for _, p := range c.Paths {
		out = append(out, fmt.Sprintf("  %-10s %+9.3f %+9.3f", p.PathRef, p.BeforeMM, p.AfterMM))
	}
	return append(out, "", fmt.Sprintf("Searched: %d nodes, at most %d.", c.Nodes, c.NodeLimit))
}
