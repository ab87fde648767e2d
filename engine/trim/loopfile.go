package trim

import (
	"fmt"
	"strings"

	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/source"
)

// LoopEdition is the edition of the loop table's file: the value of the key
// linewright_loops.
const LoopEdition = 1

type loopFile struct {
	Edition *int       `toml:"linewright_loops"`
	Source  string     `toml:"source"`
	Loops   []loopLine `toml:"loop"`
}

type loopLine struct {
	Code       string   `toml:"code"`
	ShortensMM *float64 `toml:"shortens_mm"`
}

// ParseLoops reads a loop table: linewright_loops, source and a [[loop]] with
// code and shortens_mm for each. name is how the file is called in faults. The
// error is a source.Faults with every fault; no table is returned then.
func ParseLoops(name string, data []byte) (LoopTable, error) {
	var f loopFile
	d := source.Decode(name, data, &f)
	if d.Unread {
		return LoopTable{}, d.Faults.Err()
	}
	if f.Edition == nil || *f.Edition != LoopEdition {
		d.Add("linewright_loops", "this is no loop table that is known", fmt.Sprintf("begin the file with linewright_loops = %d", LoopEdition))
		return LoopTable{}, d.Faults.Err()
	}
	if strings.TrimSpace(f.Source) == "" || strings.Contains(f.Source, "\n") {
		d.Add("source", "it is not said who measured the loops", "write who, and when, on one line")
	}
	t := LoopTable{Source: f.Source}
	for i, l := range f.Loops {
		t.Loops = append(t.Loops, loopOf(d, fmt.Sprintf("loop[%d]", i), l, t))
	}
	if len(t.Loops) == 0 || len(t.Loops) > mostLoops {
		d.Add("loop", fmt.Sprintf("a table of %s cannot be", plural(len(t.Loops), "loop")), fmt.Sprintf("give 1 to %d loops, the plain one among them", mostLoops))
	}
	if err := d.Faults.Err(); err != nil {
		return LoopTable{}, err
	}
	return t, nil
}

// loopOf reads one loop; before holds those that stand above it.
func loopOf(d *source.Doc, at string, l loopLine, before LoopTable) Loop {
	if l.Code == "" || strings.ContainsAny(l.Code, "\n=") || before.index(l.Code) >= 0 {
		d.Add(at+".code", fmt.Sprintf("%q is no name for a loop, or is there twice", l.Code), "give each loop a name of its own, on one line and without =, such as plain")
	}
	if l.ShortensMM == nil || *l.ShortensMM < 0 || *l.ShortensMM > MostShortens.MM() {
		d.Add(at+".shortens_mm", "what this loop shortens a line by is missing or cannot be", fmt.Sprintf("give 0 to %s against the plain loop, measured on this wing", MostShortens))
		return Loop{Code: l.Code}
	}
	shortens, err := quantity.LengthFromMM(*l.ShortensMM)
	if err != nil {
		d.Add(at+".shortens_mm", err.Error(), "give a plain decimal number")
	}
	return Loop{l.Code, shortens}
}
