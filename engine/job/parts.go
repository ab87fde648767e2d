package job

import (
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

// PartOp says how the order list moves on.
type PartOp string

// The moves of the order list.
const (
	PartList   PartOp = "list"      // a part is wanted
	PartDrop   PartOp = "drop"      // it is not wanted after all
	PartRead   PartOp = "read_back" // its code was read back from the plan or the old line
	PartOrder  PartOp = "order"     // all that is listed and read back is ordered: final
	PartTaken  PartOp = "receive"   // it came, and is right; lines are received by a task of their own
	PartReturn PartOp = "return"    // it came, and is wrong: it goes back on the list
)

// PartMove is one move of the order list, as it is entered and written. No is
// the part's number on the list, from 1; List gives a new one.
type PartMove struct {
	Op   PartOp `json:"op"`
	No   int    `json:"no,omitempty"`
	Text string `json:"text,omitempty"` // read_back: the code as it was read
	Part *Part  `json:"part,omitempty"` // list
}

// Part is what is ordered: as much as a maker or a workshop needs.
type Part struct {
	Thing    wing.Ref        `json:"thing"` // a line, a link or a retainer
	Count    int             `json:"count"`
	Length   quantity.Length `json:"length_um,omitempty"`
	LengthOf string          `json:"length_source,omitempty"` // "plan: …" or "copy of its twin: …"
	Material string          `json:"material,omitempty"`
	Diameter quantity.Length `json:"diameter_um,omitempty"`
	Loops    string          `json:"loops,omitempty"` // both ends, as they are made
	Why      string          `json:"why,omitempty"`   // the finding, or why it is one of a pair
	Finding  string          `json:"finding,omitempty"`
	Price    string          `json:"price,omitempty"` // as the maker states it
	Note     string          `json:"note,omitempty"`
}
