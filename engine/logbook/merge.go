package logbook

import (
	"fmt"
	"strings"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/wing"
)

// identity tells findings apart over all jobs. Number and line alone would not
// do: a job that came from another store can have the number of one of ours.
type identity struct {
	id, at, who string
	thing       wing.Ref
	rule        string
}

// again marks an ID that stands for a second finding.
const again = "~"

func identify(f Finding) identity {
	id, _, _ := strings.Cut(f.ID, again)
	return identity{id, f.At, f.Who, f.Thing, f.Rule}
}

// merge makes one entry of what several jobs say about one finding. Pages come
// in the order in which their jobs were begun.
func merge(pages []Page) []Entry {
	var out []Entry
	known := map[identity]int{}
	for _, p := range pages {
		for _, f := range p.Findings {
			key := identify(f)
			i, ok := known[key]
			if !ok {
				known[key] = len(out)
				out = append(out, Entry{Finding: f, Job: p.Job, In: []int{p.Job}})
				continue
			}
			e := &out[i]
			e.In = append(e.In, p.Job)
			id := e.ID
			if lastWord(e.Finding, f) {
				e.Finding, e.Job = f, p.Job
			}
			e.ID = max(id, f.ID) // the one that was told apart, if either was
		}
	}
	distinguish(out)
	return out
}

// lastWord reports whether what a second job says about a finding counts, not
// what a first one said. A job that knew the first word when it began has the
// later one, whatever the clocks say; else the later time counts, and of two
// at one time the job that was begun later.
func lastWord(first, second Finding) bool {
	switch {
	case second.Said.Line == 0: // stands there as it was carried in
		return false
	case first.Said.Line == 0, knew(second, first):
		return true
	case knew(first, second):
		return false
	}
	return second.Said.At >= first.Said.At
}

// knew reports whether a job took a finding in as another job has it now.
func knew(later, earlier Finding) bool {
	if later.Task != 0 {
		return false // it was found there
	}
	switch earlier.State {
	case job.StateOpen:
		return later.Before == nil
	case job.StateDeferred:
		return later.Before != nil && sameDeferral(*later.Before, *earlier.Deferred)
	}
	return false
}

func sameDeferral(a, b job.Deferral) bool {
	return a.At == b.At && a.Job == b.Job && a.Until == b.Until && a.Hours == b.Hours && a.Reason == b.Reason
}

// distinguish gives two findings with one ID two, so that a job that carries
// both can end each. What was told apart before stays as it is.
func distinguish(all []Entry) {
	taken := map[string]bool{}
	for _, e := range all {
		if strings.Contains(e.ID, again) {
			taken[e.ID] = true
		}
	}
	for i := range all {
		e := &all[i]
		if strings.Contains(e.ID, again) {
			continue
		}
		id := e.ID
		for n := 2; taken[e.ID]; n++ {
			e.ID = fmt.Sprintf("%s%s%d", id, again, n)
		}
		taken[e.ID] = true
	}
}
