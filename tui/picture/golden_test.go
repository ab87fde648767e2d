package picture

import (
	"fmt"
	"strings"
	"testing"
)

// sizes are the room that the bench gives beside a card of 80, 120 and 200
// columns, and a small one.
var sizes = [][2]int{{20, 9}, {32, 14}, {48, 20}, {100, 44}}

// pageSizes are the room that a page of its own gives at 80 and 120 columns,
// what it leaves beside a text, and a small one.
var pageSizes = [][2]int{{30, 8}, {38, 12}, {76, 12}, {110, 30}}

// sheets shows a picture at the sizes of a page, with its words.
func sheets(draw func(w, h int, signs Signs) []string, facts []string) string {
	var b strings.Builder
	for _, s := range pageSizes {
		for signs, called := range []string{"ASCII", "richer"} {
			fmt.Fprintf(&b, "---- %d x %d, %s\n", s[0], s[1], called)
			for _, line := range draw(s[0], s[1], Signs(signs)) {
				b.WriteString(line + "\n")
			}
		}
	}
	b.WriteString("---- in words\n")
	for _, fact := range facts {
		b.WriteString(fact + "\n")
	}
	return b.String()
}

func TestGoldens(t *testing.T) {
	plan := sample(t)
	for name, card := range cards {
		var b strings.Builder
		for _, s := range sizes {
			for signs, called := range []string{"ASCII", "richer"} {
				fmt.Fprintf(&b, "---- %d x %d, %s\n", s[0], s[1], called)
				for _, line := range Of(card, plan, s[0], s[1], Signs(signs)) {
					b.WriteString(line + "\n")
				}
			}
		}
		b.WriteString("---- in words\n")
		for _, fact := range Facts(card, plan) {
			b.WriteString(fact + "\n")
		}
		golden(t, name+".txt", b.String())
	}
}
