package wing

import (
	"fmt"
	"slices"
	"strings"

	"example.org/linewright/engine/quantity"
)

// RowPlace says where a row sits along the chord and what it carries.
type RowPlace struct {
	Row    string
	At     quantity.Length // rearward from one point for all rows, such as the leading edge
	Load   float64         // share of the load, in one unit for all rows; 0 = not given for any
	Source string
}

// MainRow says whether a row is compared with row A: A to E, also A' and the
// like. Stabilo, brakes and tip lines are apart.
func MainRow(row string) bool {
	switch strings.TrimRight(row, "'") {
	case "A", "B", "C", "D", "E":
		return true
	}
	return false
}

// maxChordMM is the longest way along the chord that a row can sit at, in mm.
const maxChordMM = 10000

// rowPlaces reads the places of the rows: of all main rows or of none, since
// an incidence over some of them looks like one over all.
func (b *builder) rowPlaces(tables []rowTable) {
	known := b.mainRows()
	loads := slices.ContainsFunc(tables, func(t rowTable) bool { return t.LoadWeight != nil })
	placed := map[string]bool{}
	for i, t := range tables {
		at := fmt.Sprintf("row[%d]", i)
		b.plan.Places = append(b.plan.Places, b.rowPlace(at, t, loads))
		placed[t.Name] = true
		if b.name(at+".name", t.Name, "A") && b.unique("row", t.Name, at+".name", "give each row one place") && !slices.Contains(known, t.Name) {
			b.doc.Add(at+".name", fmt.Sprintf("%s is no row of this plan that is compared with row A", t.Name), "leave it out: only rows A to E that the plan has make the incidence")
		}
	}
	for _, row := range known {
		if len(tables) > 0 && !placed[row] {
			b.doc.Add("row[0]", fmt.Sprintf("row %s has no place, others have", row), "add its [[row]], or leave all of them out")
		}
	}
}

// mainRows are the rows of lines and stated paths that are compared with A.
func (b *builder) mainRows() []string {
	rows := b.plan.Rows()
	for _, l := range b.plan.Loose {
		rows = append(rows, l.Row)
	}
	for _, s := range b.plan.Stated {
		rows = append(rows, s.Row)
	}
	var main []string
	for _, row := range rows {
		if MainRow(row) && !slices.Contains(main, row) {
			main = append(main, row)
		}
	}
	return main
}

// rowPlace reads one place; loads says that some row of the file has its load.
func (b *builder) rowPlace(at string, t rowTable, loads bool) RowPlace {
	if t.ChordMM == nil {
		b.missing(at+".chord_mm", fmt.Sprintf("give it in mm, 0 to %d rearward from one point for all rows", maxChordMM))
	}
	if t.LoadWeight == nil && loads {
		b.missing(at+".load_weight", "give the load of every row, or of none")
	}
	load, _ := b.number(at+".load_weight", t.LoadWeight, 0.001, 1000, "")
	return RowPlace{
		Row: t.Name, At: b.length(at+".chord_mm", t.ChordMM, 0, maxChordMM), Load: load,
		Source: b.text(at+".source", t.Source, "say who gives the place and the load"),
	}
}
