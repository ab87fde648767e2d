package tui

import (
	"errors"
	"fmt"

	"example.org/linewright/engine/source"
	"example.org/linewright/engine/store"
)

// manyFaults gives the faults of files that an error holds.
func manyFaults(err error) (source.Faults, bool) {
	var faults source.Faults
	ok := errors.As(err, &faults) && len(faults) > 0
	return faults, ok
}

// faultsPage lists faults of files, each with its place, what is wrong and the
// cure. still says what goes on all the same.
func faultsPage(title string, faults source.Faults, still string) page {
	files := map[string]bool{}
	for _, f := range faults {
		files[f.File] = true
	}
	text := []string{fmt.Sprintf("%s in %s. Nothing was changed in them.", count(len(faults), "fault"), count(len(files), "file"))}
	if still != "" {
		text = append(text, still)
	}
	for _, f := range faults {
		text = append(text, "", faultAt(f))
		text = append(text, "   "+sentence(f.What), "   "+sentence(f.Cure))
	}
	return &textPage{title: title, text: text}
}

// faultAt says where a fault stands: file, line and key.
func faultAt(f source.Fault) string {
	place := f.File
	if f.Line > 0 {
		place = fmt.Sprintf("%s:%d", f.File, f.Line)
	}
	if f.Key != "" {
		place += "  " + f.Key
	}
	return place
}

// notStarted says why no job can begin on a wing: its plan has faults, or a file
// cannot be read.
func notStarted(w store.Wing, said, err error) page {
	title := "A job on " + w.Name + " cannot be started"
	others := "The other wings can be worked on, and every job that was begun keeps the plan it began with."
	if faults, ok := manyFaults(err); ok {
		return faultsPage(title, faults, others)
	}
	what, do := explain(said)
	return &notice{title: title, head: "THE PLAN OF THIS WING CANNOT BE READ", says: []saying{
		{saysWhat, sentence(what)}, {saysSafe, nothingWritten + " " + others}, {saysNow, sentence(do)},
	}}
}
