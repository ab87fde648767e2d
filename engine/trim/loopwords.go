package trim

import "fmt"

// Words says the choice for a person.
// Records print them: other words are another edition of the record.
func (c Choice) Words() []string {
	return parts(c.resultWords(), c.changeWords(), c.afterWords(), c.obstacleWords(), titled("Notes", c.Notes), c.groundWords())
}

func (c Choice) resultWords() []string {
	switch {
	case c.Outcome == Impossible:
		return []string{"No choice of loops keeps all limits: proved."}
	case c.Outcome == Undecided:
		return []string{fmt.Sprintf("Not decided: %d nodes were searched, and neither a choice nor a proof was found.", c.Nodes)}
	case !c.Proved:
		return []string{fmt.Sprintf("A choice that keeps all limits; the search stopped at its limit of %d nodes, so a better one may exist.", c.NodeLimit)}
	case len(c.Changes) == 0:
		return []string{"The loops can stay as they are: all limits are kept."}
	}
	return []string{fmt.Sprintf("%s: proved to be the fewest that keep all limits.", plural(len(c.Changes), "loop")+" to change")}
}

func (c Choice) changeWords() []string {
	var out []string
	for _, ch := range c.Changes {
		how := "shorter"
		if ch.MovesMM > 0 {
			how = "longer"
		}
		out = append(out, fmt.Sprintf("%s: from %s to %s, %s mm %s.", ch.Line, ch.From, ch.To, tenths(ch.MovesMM), how))
	}
	return titled("Change", out)
}

func (c Choice) afterWords() []string {
	if c.Outcome != Found {
		return nil
	}
	out := []string{
		fmt.Sprintf("Spread of the deviations: %s mm before, %s mm after.", tenths(c.Before.SpreadMM), tenths(c.After.SpreadMM)),
		fmt.Sprintf("Sum of their amounts: %s mm before, %s mm after.", tenths(c.Before.TotalMM), tenths(c.After.TotalMM)),
	}
	for _, r := range c.Rows {
		out = append(out, fmt.Sprintf("Row %s against A, %s: %s before, %s after.", r.Row, r.Side, long(r.BeforeMM), long(r.AfterMM)))
	}
	return append(out, "Reckoned, not measured: measure the changed paths, their twins and one untouched line afterwards.")
}

func (c Choice) obstacleWords() []string {
	var out []string
	for _, o := range c.Obstacles {
		out = append(out, fmt.Sprintf("limit %q, %s.", string(o.Limit), o.What), "  "+o.Cure+".")
	}
	return titled("In the way", out)
}

func (c Choice) groundWords() []string {
	guard := "each narrowed by the uncertainty"
	if !c.Guarded {
		guard = "taken whole"
	}
	alike := "both sides alike"
	if c.EachSide {
		alike = "each side on its own"
	}
	out := []string{
		fmt.Sprintf("Limits: path %s, sides %s, rows %s; %s.", c.Limits.Path, c.Limits.Sides, c.Limits.Rows, guard),
		fmt.Sprintf("Loop table: %s. Loops: %s.", c.LoopSource, alike),
	}
	if c.AimMM != 0 {
		out = append(out, fmt.Sprintf("Held to %s against the plan, not to the plan itself.", long(c.AimMM)))
	}
	return out
}
