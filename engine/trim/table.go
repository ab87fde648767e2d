package trim

import (
	"fmt"

	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

// LoopTable says what each loop on a link shortens a line by. That depends on
// the wire of the link and on the line: it is measured for each wing (fit,
// pull, read) and belongs to it.
type LoopTable struct {
	Loops    []Loop `json:"loops"`
	Source   string `json:"source"`             // who measured it, and when
	Fallback bool   `json:"fallback,omitempty"` // nobody did
}

// Loop is one way to put a line on a link.
type Loop struct {
	Code     string          `json:"code"`        // "plain", "wrapped", "hitched", "twice"
	Shortens quantity.Length `json:"shortens_um"` // against the plain loop of this wing, 0 to 100 mm
}

// FallbackLoops is the table that stands in until somebody measures the wing's
// own. One extra turn takes half to one whole π·(D+d), some 8 to 16 mm for a
// wire of 3.5 mm and a line of 1.5 mm; a hitch lies between one turn and two.
func FallbackLoops() LoopTable {
	return LoopTable{
		Loops: []Loop{
			{"plain", 0},
			{"wrapped", 10 * quantity.Millimetre},
			{"hitched", 15 * quantity.Millimetre},
			{"twice", 20 * quantity.Millimetre},
		},
		Source: FallbackSource, Fallback: true,
	}
}

// mostLoops keeps a table to what a person can tell apart on a link.
const mostLoops = 8

// MostShortens is far above what any loop takes: a table with more is refused.
const MostShortens = 100 * quantity.Millimetre

func (t LoopTable) check() error {
	if len(t.Loops) == 0 || len(t.Loops) > mostLoops {
		return refuse(fmt.Sprintf("a table of %s cannot be", plural(len(t.Loops), "loop")), fmt.Sprintf("give 1 to %d loops, the plain one among them", mostLoops))
	}
	seen := map[string]bool{}
	for _, l := range t.Loops {
		if err := printable(l.Code); err != nil {
			return err
		}
		if l.Code == "" || seen[l.Code] {
			return refuse(fmt.Sprintf("loop %q is without a name or there twice", l.Code), "give each loop one name and one line")
		}
		seen[l.Code] = true
		if l.Shortens < 0 || l.Shortens > MostShortens {
			return refuse(fmt.Sprintf("a loop that takes %s cannot be", l.Shortens), "give 0 to 100 mm; a loop only shortens")
		}
	}
	return printable(t.Source)
}

// Codes names the loops, in the order of the table.
func (t LoopTable) Codes() []string {
	codes := make([]string, len(t.Loops))
	for i, l := range t.Loops {
		codes[i] = l.Code
	}
	return codes
}

// index finds a loop by its code; -1 where the table lacks it.
func (t LoopTable) index(code string) int {
	for i, l := range t.Loops {
		if l.Code == code {
			return i
		}
	}
	return -1
}

// Loops is what the choice of loops starts from.
type Loops struct {
	Table LoopTable
	// On is the code of the loop that each lower line has now.
	On map[wing.Ref]string
	// Others is the code of the loop of the lines that On does not name; empty:
	// not known, and such a line keeps its loop.
	Others string
}

func (l Loops) check(plan *wing.Plan) error {
	if err := l.Table.check(); err != nil {
		return err
	}
	for ref, code := range l.On {
		if !plan.Has(ref) || ref.Kind != wing.KindLine {
			return refuse(fmt.Sprintf("there is no line %s in the plan", ref), "correct code and side; C1 and c1 are two codes")
		}
		if l.Table.index(code) < 0 {
			return refuse(fmt.Sprintf("the loop %q of %s is not in the table", code, ref), "measure what that loop shortens, and add it")
		}
	}
	if l.Others != "" && l.Table.index(l.Others) < 0 {
		return refuse(fmt.Sprintf("the loop %q is not in the table", l.Others), "measure what that loop shortens, and add it")
	}
	return nil
}

// on gives the loop that a line has now, as an index into the table; -1: not known.
func (l Loops) on(ref wing.Ref) int {
	if code, ok := l.On[ref]; ok {
		return l.Table.index(code)
	}
	if l.Others != "" {
		return l.Table.index(l.Others)
	}
	return -1
}
