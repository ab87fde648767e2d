package picture

import (
	"fmt"
	"strings"
)

// beyond counts the lines of the row that are not drawn, by where they lie from
// the line in hand: "not drawn: 36 more toward the tip, 20 toward the centre".
func (p *plot) beyond(from *node) string {
	drawn := map[*node]bool{}
	for _, foot := range p.feet {
		foot.each(func(t *twig) { drawn[t.node] = true })
	}
	tip, centre := 0, 0
	for _, n := range p.row.nodes {
		switch {
		case drawn[n]:
		case n.span > from.span:
			tip++
		default:
			centre++
		}
	}
	var parts []string
	if tip > 0 {
		parts = append(parts, fmt.Sprintf("%d more toward the tip", tip))
	}
	if centre > 0 {
		parts = append(parts, fmt.Sprintf("%d more toward the centre", centre))
	}
	if len(parts) == 0 {
		return ""
	}
	return "not drawn: " + strings.Join(parts, ", ")
}

// each goes over the lines of a twig, and not over what they hang on.
func (t *twig) each(do func(*twig)) {
	if t.node != nil {
		do(t)
	}
	for _, k := range t.kids {
		k.each(do)
	}
}
