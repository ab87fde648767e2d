package trim

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

// Chord says where the rows sit along the chord of the wing, and what share of
// the load they carry: by the plan, see ChordOf, or measured on the canopy.
// Without it no incidence is reckoned.
type Chord struct {
	Rows   []RowPlace
	Source string // of both
}

// RowPlace is the place of one row.
type RowPlace struct {
	Row string
	// At counts rearward from any one point, such as the leading edge.
	At quantity.Length
	// Load is the row's share of the load, in any one unit; 0: not given. It
	// serves only where every row of the chord has one.
	Load float64
}

// ChordOf gives the places that the plan states; an empty Chord where it states
// none.
func ChordOf(plan *wing.Plan) Chord {
	var c Chord
	var sources []string
	for _, p := range plan.Places {
		c.Rows = append(c.Rows, RowPlace{p.Row, p.At, p.Load})
		if !slices.Contains(sources, p.Source) {
			sources = append(sources, p.Source)
		}
	}
	c.Source = strings.Join(sources, "; ")
	return c
}

func (c Chord) check() error {
	seen := map[string]bool{}
	for _, r := range c.Rows {
		if seen[r.Row] {
			return refuse(fmt.Sprintf("row %s has two places along the chord", r.Row), "give each row once")
		}
		seen[r.Row] = true
		if r.At.Abs() > 10*quantity.Metre {
			return refuse(fmt.Sprintf("row %s cannot sit at %s along the chord", r.Row, r.At), "give the distance rearward from one point, up to 10 m")
		}
		if math.IsNaN(r.Load) || r.Load < 0 || r.Load > 1e6 {
			return refuse(fmt.Sprintf("row %s cannot carry a load of %v", r.Row, r.Load), "give its share of the load, above 0, or none for all rows")
		}
	}
	return printable(c.Source)
}

// loaded says whether the rows have their loads.
func (c Chord) loaded() bool {
	for _, r := range c.Rows {
		if r.Load == 0 {
			return false
		}
	}
	return len(c.Rows) > 0
}

// load gives the weight of a row: 1 where loads are not given.
func (c Chord) load(row string) float64 {
	for _, r := range c.Rows {
		if r.Row == row && c.loaded() {
			return r.Load
		}
	}
	return 1
}

func (c Chord) place(row string) (RowPlace, bool) {
	for _, r := range c.Rows {
		if r.Row == row {
			return r, true
		}
	}
	return RowPlace{}, false
}
