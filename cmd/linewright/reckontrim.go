package main

import (
	"fmt"
	"math"

	"github.com/spf13/cobra"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/reckon"
	"example.org/linewright/engine/trim"
	"example.org/linewright/engine/wing"
	"example.org/linewright/tui/prompt"
)

func (a *app) trimCommand() *cobra.Command {
	var o sheetFlags
	var before string
	var worked []string
	c := &cobra.Command{
		Use: "trim FILE.csv", Short: "The trim of the whole wing", Args: takes(1, 1),
		Example: "  linewright reckon trim paths.csv --wing barn\n" +
			"  linewright reckon trim after.csv --wing barn --before paths.csv --worked C1.2@left",
		Long: "The trim of the whole wing. The file is a sheet of path lengths: a line of\n" +
			"titles, point, side, mm or point, left, right; then a line for each path. A\n" +
			"path may stand there again. The exit status is 1 where a path, a side or a row\n" +
			"is outside or not proved.",
		RunE: func(_ *cobra.Command, args []string) error {
			env, set, err := a.sheetEnv(o)
			if err != nil {
				return err
			}
			p, err := a.sheet(args[0], env, set)
			switch {
			case err != nil:
				return err
			case before != "":
				return a.compareTrim(before, p, worked, set, o.why)
			case len(worked) > 0:
				return fmt.Errorf("--worked: it is not known what the wing was before\ngive the sheet of then with --before")
			}
			return a.reckonTrim(p, o.why)
		},
	}
	o.add(c)
	c.Flags().StringVar(&before, "before", "", "sheet `FILE.csv` from before the work, all measured the same way: says what the work moved")
	c.Flags().StringArrayVar(&worked, "worked", nil, "`TARGET` that was worked on since: a line as C1.2@left, a link as link:C@left, or brakes; can be given again")
	return c
}

func (a *app) reckonTrim(p paths, why bool) error {
	r, err := trim.NewReport(p.Plan, p.set, trim.ChordOf(p.Plan))
	if err != nil {
		return prompt.Cured(err)
	}
	var ground []string
	if why {
		ground = trimWhy(r, p)
	}
	return a.sheetResult(struct {
		sheetJSON
		Rule string `json:"decision_rule"`
		trim.Report
	}{sheetRow("trim", r.Inside(), p.Bench), metrology.DecisionRule, r}, r.Inside(), p.Bench, append(r.Words(), ""), ground)
}

// compareTrim says what work moved; p is what was measured since.
func (a *app) compareTrim(before string, p paths, worked []string, set trim.Set, why bool) error {
	then, err := a.sheet(before, p.Env, set)
	if err != nil {
		return err
	}
	refs, err := targets(worked)
	if err != nil {
		return err
	}
	m, err := trim.Compare(p.Plan, then.set, p.set, trim.ChordOf(p.Plan), refs)
	if err != nil {
		return prompt.Cured(err)
	}
	var ground []string
	if why {
		ground = trimWhy(m.After, p)
	}
	answer := m.Trusted && len(m.Lacking) == 0 && m.After.Inside()
	words := append(append(m.Words(), "", "The wing as it is now", ""), m.After.Words()...)
	return a.sheetResult(struct {
		sheetJSON
		Rule string `json:"decision_rule"`
		trim.Move
	}{sheetRow("trim", answer, p.Bench), metrology.DecisionRule, m}, answer, p.Bench, append(words, ""), ground)
}

// targets reads what was worked on; a bare code is that of a line.
func targets(texts []string) ([]wing.Ref, error) {
	var refs []wing.Ref
	for _, text := range texts {
		ref, err := prompt.Target(wing.KindLine, text)
		if err != nil {
			return nil, err
		}
		refs = append(refs, ref)
	}
	return refs, nil
}

// trimWhy shows every path that was measured here, and for the one that
// deviates most how its length and its uncertainty came about.
func trimWhy(r trim.Report, p paths) []string {
	out := []string{"Each path, mm: expected, measured, deviation, sure within."}
	measured := map[trim.PathRef]metrology.Measurement{}
	for _, m := range p.set.Paths {
		measured[m.PathRef] = m.Measurement
	}
	most, found := trim.PathTrim{}, false
	for _, t := range r.Paths {
		if _, ok := measured[t.PathRef]; !ok {
			continue
		}
		out = append(out, fmt.Sprintf("  %-10s %10.3f %10.3f %+9.3f %7.3f  %s", t.PathRef, t.ExpectedMM, t.MeasuredMM, t.DeviationMM, t.UMM, expectedBy(t)))
		if !found || math.Abs(t.DeviationMM) > math.Abs(most.DeviationMM) {
			most, found = t, true
		}
	}
	if found {
		out = append(out, "", fmt.Sprintf("%s, which deviates most; every other path goes the same way:", most.PathRef))
		out = append(out, reckon.Budget(measured[most.PathRef], p.readings(most.PathRef), p.Bench)...)
	}
	return append(out, "", "In a mean or a difference what its paths share counts once, chance averages out.", "Rule: "+metrology.DecisionRule+".")
}

func expectedBy(t trim.PathTrim) string {
	if t.Stated {
		return "stated"
	}
	return "sum of lines"
}
