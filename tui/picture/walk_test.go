package picture

import (
	"testing"

	"example.org/linewright/engine/wing"
)

func TestWalk(t *testing.T) {
	plan := sample(t)
	for _, c := range []struct {
		from string
		side wing.Side
		d    Direction
		want string
	}{
		{"C1.2", wing.Left, Left, "C1.3 left"}, // the tip is on the left
		{"C1.2", wing.Right, Left, "C1.1 right"},
		{"C1.2", wing.Left, Right, "C1.1 left"},
		{"C1.1", wing.Left, Right, "C1.1 right"}, // over the centre
		{"C1.1", wing.Right, Left, "C1.1 left"},
		{"C1.3", wing.Left, Left, "C1.3 left"}, // the tip
		{"C1.3", wing.Right, Right, "C1.3 right"},
		{"C2.4", wing.Left, Left, "C2.5 left"}, // over to the next tree
		{"C1.2", wing.Left, Up, "C2.3 left"},
		{"C2.3", wing.Right, Up, "C3.5 right"},
		{"C3.5", wing.Left, Down, "C2.3 left"},
		{"C3.5", wing.Left, Up, "B1.2 left"}, // the foot of the row in front
		{"B1.2", wing.Left, Down, "C3.6 left"},
		{"A3.1", wing.Left, Up, "A3.1 left"},     // nothing in front of A
		{"Br1.1", wing.Left, Down, "Br1.1 left"}, // nothing behind the brakes
		{"C1.2", wing.Left, Front, "B1.2 left"},
		{"C1.2", wing.Left, Rear, "D1.2 left"},
		{"S1.1", wing.Right, Rear, "Br1.1 right"},
		{"s2.1", wing.Left, Right, "S2.1 left"}, // case tells them apart
		{"D2.4", wing.Left, Front, "C2.4 left"},
		{"A2.1", wing.Left, Front, "A2.1 left"},
	} {
		got := Walk(plan, wing.LineRef(c.from, c.side), c.d)
		equal(t, c.from+" "+string(c.side), got.String(), c.want)
	}
}

func TestWalkFromNowhere(t *testing.T) {
	plan := sample(t)
	equal(t, "nowhere", Walk(plan, wing.Ref{}, Up), wing.LineRef("A1.1", wing.Left))
	equal(t, "right side", Walk(plan, wing.Ref{Side: wing.Right}, Up), wing.LineRef("A1.1", wing.Right))
	equal(t, "a link", Walk(plan, wing.LinkRef("C", wing.Right), Up), wing.LineRef("A1.1", wing.Right))
	equal(t, "no plan", Walk(nil, wing.Ref{}, Up), wing.Ref{})
	equal(t, "no lines", Walk(&wing.Plan{}, wing.LineRef("A", wing.Left), Up), wing.Ref{})
	equal(t, "no direction", Walk(plan, wing.LineRef("C1.2", wing.Left), 99), wing.LineRef("C1.2", wing.Left))
}

// With the four arrows alone every line of both sides can be reached.
func TestWalkReachesEveryLine(t *testing.T) {
	for _, plan := range []*wing.Plan{sample(t), large(t)} {
		seen := map[wing.Ref]bool{}
		todo := []wing.Ref{Walk(plan, wing.Ref{}, Up)}
		for len(todo) > 0 {
			at := todo[0]
			todo = todo[1:]
			if seen[at] {
				continue
			}
			seen[at] = true
			for _, d := range []Direction{Left, Right, Up, Down} {
				todo = append(todo, Walk(plan, at, d))
			}
		}
		equal(t, "reached", len(seen), 2*len(plan.Lines))
	}
}

// There and back along the span.
func TestWalkBack(t *testing.T) {
	plan := sample(t)
	for _, side := range wing.Sides {
		for _, l := range plan.Lines {
			at := wing.LineRef(l.Code, side)
			for d, back := range map[Direction]Direction{Left: Right, Right: Left} {
				if to := Walk(plan, at, d); to != at {
					equal(t, at.String(), Walk(plan, to, back), at)
				}
			}
			if len(plan.Carries(l.Code)) > 0 {
				equal(t, at.String()+" up", Walk(plan, Walk(plan, at, Up), Down), at)
			}
		}
	}
}

func TestNextInRow(t *testing.T) {
	plan := sample(t)
	for _, c := range []struct {
		from   string
		side   wing.Side
		dx, dy int
		want   string
	}{
		{"C1.2", wing.Left, -1, 0, "C1.3"}, // the tip is on the left
		{"C1.2", wing.Right, -1, 0, "C1.1"},
		{"C1.1", wing.Left, 1, 0, "C1.1"}, // at the centre it stays on its side
		{"C1.3", wing.Left, -1, 0, "C1.3"},
		{"C3.12", wing.Right, 1, 0, "C3.12"}, // the end of a storey is not the next one's begin
		{"C1.2", wing.Left, 0, 1, "C2.3"},
		{"C2.3", wing.Left, 0, 1, "C3.5"},
		{"C3.6", wing.Left, 0, -1, "C2.3"},
		{"C3.6", wing.Left, 0, 1, "C3.6"},  // the canopy
		{"C1.1", wing.Left, 0, -1, "C1.1"}, // the riser, and no other row
		{"s2.1", wing.Left, 0, 1, "S3.3"},  // carries nothing: the nearest of the next storey
		{"s2.1", wing.Left, 0, -1, "S1.1"},
		{"C1.2", wing.Left, 0, 0, "C1.2"},
		{"none", wing.Left, 1, 0, "C1.1"},
		{"A1.1", wing.Left, 1, 0, "C1.1"}, // not of this row
	} {
		row := "C"
		if c.from == "s2.1" {
			row = "S"
		}
		equal(t, c.from+" "+string(c.side), NextInRow(plan, c.side, row, c.from, c.dx, c.dy), c.want)
	}
	equal(t, "no row", NextInRow(plan, wing.Left, "X", "C1.1", 1, 0), "")
	equal(t, "no plan", NextInRow(nil, wing.Left, "C", "C1.1", 1, 0), "")
}

// Every line of a row is reached, and none of another row: also where a line
// hangs on one of another row.
func TestNextInRowReachesTheRow(t *testing.T) {
	mixed := lines(t,
		[5]string{"A1", "A", "lower", "link:A", "1"}, [5]string{"A2", "A", "lower", "link:A", "2"},
		[5]string{"A3", "A", "middle", "A1", "1"}, [5]string{"B1", "B", "middle", "A1", "2"},
		[5]string{"A4", "A", "upper", "B1", "1"}, [5]string{"B2", "B", "upper", "B1", "2"}, [5]string{"B3", "B", "lower", "link:B", "1"})
	for _, plan := range []*wing.Plan{sample(t), large(t), mixed} {
		for _, side := range wing.Sides {
			for _, row := range plan.Rows() {
				want, got := plan.LineThings(row, side), reached(plan, side, row)
				equal(t, "reached in row "+row, len(got), len(want))
				for _, ref := range want {
					equal(t, ref.String(), got[ref.Code], true)
				}
			}
		}
	}
}

func reached(plan *wing.Plan, side wing.Side, row string) map[string]bool {
	seen := map[string]bool{}
	for todo := []string{NextInRow(plan, side, row, "", 0, 0)}; len(todo) > 0; todo = todo[1:] {
		if at := todo[0]; !seen[at] {
			seen[at] = true
			for _, d := range [][2]int{{-1, 0}, {1, 0}, {0, 1}, {0, -1}} {
				todo = append(todo, NextInRow(plan, side, row, at, d[0], d[1]))
			}
		}
	}
	return seen
}
