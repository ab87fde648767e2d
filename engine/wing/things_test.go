package wing

import (
	"fmt"
	"os"
	"testing"
)

func samplePlan(t *testing.T) *Plan {
	t.Helper()
	data, err := os.ReadFile("../../procedures/sample/plan.toml")
	if err != nil {
		t.Fatal(err)
	}
	p, err := ParsePlan(data, "plan.toml")
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestEveryThingIsOfThePlanAndCanBeWritten(t *testing.T) {
	p := samplePlan(t)
	seen := map[Ref]bool{}
	for _, side := range Sides {
		all := append(p.ClothThings(side), p.FittingThings(side)...)
		for _, row := range p.Rows() {
			all = append(all, p.LineThings(row, side)...)
		}
		for _, ref := range all {
			if back, err := ParseRef(ref.Text()); err != nil || back != ref || !p.Has(ref) || seen[ref] {
				t.Errorf("%v: read back as %v, %v; in the plan %v; twice %v", ref, back, err, p.Has(ref), seen[ref])
			}
			seen[ref] = true
		}
	}
	lines := 0
	for ref := range seen {
		if ref.Kind == KindLine {
			lines++
		}
	}
	if lines != 2*len(p.Lines) {
		t.Errorf("%d lines to look at, the plan has %d a side", lines, len(p.Lines))
	}
}

// The twin, and the lines beside it on the link and in the joint.
func TestKin(t *testing.T) {
	p := samplePlan(t)
	for _, c := range []struct{ of, want string }{
		{"line:C1.2@left", "[C1.2 right C1.1 left C1.3 left]"},
		{"link:C@right", fmt.Sprint(append([]Ref{LinkRef("C", Left)}, refs(p.OnLink("C"), Right)...))},
		{"pulley@left", "[brake pulley right]"},
	} {
		of, err := ParseRef(c.of)
		if err != nil {
			t.Fatal(err)
		}
		if got := fmt.Sprint(p.Kin(of)); got != c.want {
			t.Errorf("%s: %s, want %s", c.of, got, c.want)
		}
	}
}

func refs(lines []Line, side Side) []Ref {
	var out []Ref
	for _, l := range lines {
		out = append(out, LineRef(l.Code, side))
	}
	return out
}
