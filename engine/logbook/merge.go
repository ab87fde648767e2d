package logbook

import (
	"example.org/linewright/engine/job"
	"example.org/linewright/engine/wing"
)

// identity tells findings apart over all jobs, also those of a job that came from
// another store with the number of one of ours.
type identity struct {
	id, at string
	thing  wing.Ref
}

// merge makes one entry of what several jobs say about one finding. Pages come
// in the order in which their jobs were begun.
func merge(pages []Page) []Entry {
	var out []Entry
	known := map[identity]int{}
	for _, p := range pages {
		for _, f := range p.Findings {
			key := identity{f.ID, f.At, f.Thing}
			i, ok := known[key]
			if !ok {
				known[key] = len(out)
				out = append(out, Entry{Finding: f, Job: p.Job, In: []int{p.Job}})
				continue
			}
			e := &out[i]
			e.In = append(e.In, p.Job)
			if lastWord(e.Finding, f) {
				e.Finding, e.Job = f, p.Job
			}
		}
	}
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
