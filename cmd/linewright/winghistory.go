package main

import (
	"fmt"
	"strings"

	"example.org/linewright/engine/logbook"
	"example.org/linewright/engine/metrology"
	"example.org/linewright/tui/picture"
)

// The size of a chart: it fits on a printed page.
const (
	chartWidth  = 76
	chartHeight = 12
)

// charts chooses what is drawn over time. Where nothing is asked for it is every
// line with several lengths, and of the paths those that are not inside now: a
// wing has hundreds. rest says how many more there are.
func charts(b logbook.Book, asked []string) (drawn []logbook.Series, rest int, err error) {
	wanted := map[string]bool{}
	for _, text := range asked {
		wanted[bare(text)] = true
	}
	found := map[string]bool{}
	for _, place := range b.Places() {
		name := bare(place.String())
		for _, s := range b.Series(place) {
			path := name != place.String()
			switch {
			case wanted[name]:
				drawn, found[name] = append(drawn, s), true
			case len(asked) > 0 || len(s.Lengths) < 2:
			case path && s.Last().Verdict == metrology.Inside:
				rest++
			default:
				drawn = append(drawn, s)
			}
		}
	}
	for _, text := range asked {
		if !found[bare(text)] {
			return nil, 0, fmt.Errorf("the logbook has no length of %q that could be drawn\nwrite it as it stands under Lengths, as C1.2@left for a line or C7@left for a path", text)
		}
	}
	return drawn, rest, nil
}

// bare is the name of a line or path as a person may write it.
func bare(place string) string {
	return strings.TrimPrefix(strings.ReplaceAll(place, "@", " "), "path ")
}

// sayCharts draws lengths over time.
func (a *app) sayCharts(wing string, drawn []logbook.Series, rest int) {
	if len(drawn)+rest > 0 {
		a.line("")
		a.line("Lengths over time")
	}
	for _, s := range drawn {
		a.line("")
		a.line("  %s", s)
		points := pointsOf(s)
		for _, l := range picture.History(points, chartWidth, chartHeight, picture.ASCII) {
			a.line("%s", strings.TrimRight("  "+l, " "))
		}
		if facts := picture.HistoryFacts(points); len(points) > 1 {
			a.line("  %s", facts[len(facts)-1])
		}
		for _, f := range s.New {
			a.line("  New: %s, %s (job %d).", f.Thing, f.Moment.Day(), f.Job)
		}
	}
	if rest > 0 {
		a.line("  %s inside now, measured several times: linewright wing show %s PATH draws one.", count(rest, "path is", "paths are"), wing)
	}
}

func pointsOf(s logbook.Series) []picture.LengthAt {
	var out []picture.LengthAt
	for _, l := range s.Lengths {
		out = append(out, picture.LengthAt{
			Label: l.Moment.Day(), Deviation: l.Deviation, U: l.U, Limit: l.Limit,
			Fallback: strings.HasPrefix(l.LimitOf, "fallback"),
		})
	}
	return out
}
