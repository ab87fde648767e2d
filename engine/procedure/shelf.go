package procedure

import "slices"

// Shelf is where a procedure stands in lists: a person who does not know the
// procedures by name finds one by what the wing needs.
type Shelf string

// The shelves.
const (
	ShelfLook    Shelf = "look"
	ShelfParts   Shelf = "parts"
	ShelfMend    Shelf = "mend"
	ShelfMeasure Shelf = "measure"
	ShelfBack    Shelf = "back"
	ShelfOther   Shelf = "" // a file that does not say
)

// Shelves lists the shelves in the order of a whole job.
var Shelves = []Shelf{ShelfLook, ShelfParts, ShelfMend, ShelfMeasure, ShelfBack, ShelfOther}

var shelfWords = map[Shelf]string{
	ShelfLook:    "Look at the wing: after an incident, or when it is doubtful",
	ShelfParts:   "Receive and look at new parts",
	ShelfMend:    "Mend: lines, links, brakes, loops",
	ShelfMeasure: "Measure the whole wing, or what work changed",
	ShelfBack:    "Give the wing back: release, first flight",
	ShelfOther:   "Other procedures of this bench",
}

// Words says what the procedures of a shelf are for.
func (s Shelf) Words() string { return shelfWords[s] }

func (s Shelf) rank() int { return slices.Index(Shelves, s) }

// On lists the procedures of a shelf in their own order.
func (l *Library) On(s Shelf) []*Procedure {
	var out []*Procedure
	for _, id := range l.IDs() {
		if p := l.byID[id]; p.Shelf == s {
			out = append(out, p)
		}
	}
	return out
}
