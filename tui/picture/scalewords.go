package picture

import (
	"fmt"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/quantity"
)

// scaleFacts says in words what the scale shows.
func scaleFacts(s *job.Scale) []string {
	g := gaugeOf(s, mostWidth, ASCII)
	if g == nil {
		return nil
	}
	unit := g.kind.Unit()
	if unit != "" {
		unit = " " + unit
	}
	var out []string
	if s.HasValue {
		out = append(out, fmt.Sprintf("%s %s%s.", procedure.Capital(g.s.Holds()), g.number(g.centre), unit))
	}
	if g.limited() {
		out = append(out, fmt.Sprintf("Limit %s%s either way.", g.number(g.limit()), unit))
	}
	if s.Covered && len(s.Readings) > 0 {
		return append(out, fmt.Sprintf("Readings so far: %d of %d, covered until the last is in.", len(s.Readings), s.Need))
	}
	for _, p := range g.points {
		text := fmt.Sprintf("Reading %d: %s%s", p.no, g.number(p.at), unit)
		if s.HasValue {
			text += ", " + g.against(p.at-g.centre, unit)
		}
		out = append(out, text+".")
	}
	if g.valued() {
		out = append(out, g.valueFact(unit))
	}
	return out
}

// against says a deviation in words.
func (g *gauge) against(deviation int64, unit string) string {
	switch {
	case deviation == 0:
		return "exact"
	case g.kind != quantity.KindLength:
		return g.signed(deviation) + unit
	case deviation > 0:
		return g.number(deviation) + unit + " long"
	}
	return g.number(-deviation) + unit + " short"
}

func (g *gauge) valueFact(unit string) string {
	text := "Value " + g.number(bounded(int64(g.s.Value.Value))) + unit
	if g.s.Judgement != nil {
		return text + ": " + g.s.Judgement.Words() + "."
	}
	return text + ", sure within " + g.number(up(g.u())) + unit + "."
}
