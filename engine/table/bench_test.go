package table

import (
	"fmt"
	"strings"
	"testing"

	"example.org/linewright/engine/wing"
)

// bigTable has 2 000 lines: links of four lower lines, each forked twice.
func bigTable() string {
	var b strings.Builder
	b.WriteString("Leine;Hängt an;Platz;Punkt;Länge [cm];Gesamtlänge [cm] link;Material;Farbe;Durchmesser;Bruchlast [daN];Mantel\r\n")
	n := 0
	line := func(code, on, point string, pos int) {
		path := ""
		if point != "" {
			path = "645,75"
		}
		fmt.Fprintf(&b, "%s;%s;%d;%s;215,25;%s;aramid;red;1,1;130;ja\r\n", code, on, pos, point, path)
		n++
	}
	for stem := 0; n < wing.MaxLines; stem++ {
		lower := fmt.Sprintf("A%d", stem)
		line(lower, fmt.Sprintf("link:L%d", stem/4), "", stem%4+1)
		for fork := 0; fork < 2 && n < wing.MaxLines; fork++ {
			mid := fmt.Sprintf("%s.%d", lower, fork)
			line(mid, lower, "", fork+1)
			for top := 0; top < 2 && n < wing.MaxLines; top++ {
				line(fmt.Sprintf("%s.%d", mid, top), mid, fmt.Sprintf("A%d", n), top+1)
			}
		}
	}
	return b.String()
}

// Read, guess, check, ask and make the plan: all that an import does.
func BenchmarkImport2000(b *testing.B) {
	text := []byte(bigTable())
	b.ReportAllocs()
	for b.Loop() {
		s, err := Read("big.csv", text, Layout{})
		if err != nil {
			b.Fatal(err)
		}
		im, err := s.Guess(nil)
		if err != nil {
			b.Fatal(err)
		}
		if err := im.Check(); err != nil {
			b.Fatal(err)
		}
		r, err := im.Plan(answer(b, im))
		if err != nil {
			b.Fatal(err)
		}
		if n := len(r.Plan.Lines); n != wing.MaxLines {
			b.Fatal(n)
		}
	}
}

func BenchmarkExport2000(b *testing.B) {
	im := guessed(b, "big.csv", bigTable())
	r, err := im.Plan(answer(b, im))
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		Export(r.Plan)
	}
}
