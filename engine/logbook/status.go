package logbook

import (
	"fmt"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/metrology"
)

// Status is what stands written about whether the wing is on the ground. It is
// no statement that the wing may fly.
type Status struct {
	Tagged   bool       `json:"tagged"`
	Why      []string   `json:"why"`                // what keeps it on the ground
	Released *ReleaseIn `json:"released,omitempty"` // the last one, by a pilot
}

// ReleaseIn is a release with its job.
type ReleaseIn struct {
	Release
	Job int `json:"job"`
}

// status folds what keeps the wing on the ground.
func (b *Book) status() Status {
	s := Status{Why: []string{}, Released: b.lastRelease()}
	for _, u := range b.Unread {
		if u.OfWing {
			s.Why = append(s.Why, fmt.Sprintf("job %d cannot be read", u.Job))
		}
	}
	for _, p := range b.Jobs {
		s.Why = append(s.Why, p.openWork(s.Released)...)
	}
	s.Why = append(append(s.Why, b.groundingFindings()...), b.groundingLengths()...)
	if no := b.unreleased(s.Released); no > 0 {
		s.Why = append(s.Why, fmt.Sprintf("no release followed the work of job %d", no))
	}
	s.Tagged = len(s.Why) > 0
	return s
}

func (b *Book) lastRelease() *ReleaseIn {
	var last *ReleaseIn
	for _, p := range b.Jobs {
		for _, r := range p.Released {
			if last == nil || r.At >= last.At {
				last = &ReleaseIn{r, p.Job}
			}
		}
	}
	return last
}

// settled reports whether a later job released the wing after a closed one: its
// pilot had before them what that one left, and nothing can be added to it any
// more.
func (p Page) settled(last *ReleaseIn) bool {
	return p.Closed && last != nil && last.Job != p.Job && last.At >= p.Last
}

// openWork lists what a job left open that keeps the wing on the ground, until
// a release settles it. Only closing it settles an open link.
func (p Page) openWork(last *ReleaseIn) []string {
	of := fmt.Sprintf(" (job %d)", p.Job)
	var out []string
	if p.LinkOpen != "" {
		out = append(out, p.LinkOpen+" is open"+of)
	}
	if p.settled(last) {
		return out
	}
	if p.OneSide {
		out = append(out, "one side of a pair is done, the other is not"+of)
	}
	for _, t := range p.Tasks {
		going := t.State == job.Running || t.State == job.Waiting
		if going && (t.Changes || len(p.Released) == 0) { // a first flight follows the release
			out = append(out, fmt.Sprintf("%s, %s, is %s%s", t.Title, t.On, unfinished(t), of))
		}
	}
	for _, it := range p.Open {
		if it.Grounds {
			out = append(out, it.Text+of)
		}
	}
	return out
}

func unfinished(t Task) string {
	if t.State == job.Waiting {
		return "laid down: " + t.Why
	}
	return "not finished"
}

func (b *Book) groundingFindings() []string {
	var out []string
	for _, e := range b.Open {
		then := "mend it, or carry it over with a reason and a limit"
		if e.Disposition.Grounds() {
			then = string(e.Disposition)
		}
		out = append(out, fmt.Sprintf("%s: %s, found %s: %s (job %d)", e.Thing, e.Text, day(e.At), then, e.Job))
	}
	for _, e := range b.Deferred {
		if e.RunOut == Past {
			out = append(out, b.dueDeferral(e).Text+fmt.Sprintf(" (job %d)", e.Job))
		}
	}
	return out
}

// groundingLengths lists what was outside, or not proved, when it was measured
// for the last time. Only a tape can end that, so no release does.
func (b *Book) groundingLengths() []string {
	var out []string
	for _, place := range b.Places() {
		list := b.Lengths[place]
		l := list[len(list)-1]
		if l.Verdict == metrology.Outside || l.Verdict == metrology.NotProved && l.Decided == "" {
			out = append(out, fmt.Sprintf("%s: %s (job %d, %s)", place, l.words(), l.Job, day(l.At)))
		}
	}
	return out
}

// unreleased is the last job that no release followed; 0 where there is none.
func (b *Book) unreleased(last *ReleaseIn) int {
	for i := len(b.Jobs) - 1; i >= 0; i-- {
		p := b.Jobs[i]
		began := last == nil || p.Job != last.Job && p.Begun >= last.At
		if began && p.did() || p.workedAfter(last) {
			return p.Job
		}
	}
	return 0
}

// did reports whether a job has to do with the state of the wing: it has a task
// that was not dropped, or found something.
func (p Page) did() bool {
	for _, t := range p.Tasks {
		if t.State != job.Gone {
			return true
		}
	}
	for _, f := range p.Findings {
		if f.Task != 0 && f.State != job.StateStruck {
			return true
		}
	}
	return false
}

// workedAfter reports whether a job changed the wing after a release.
func (p Page) workedAfter(r *ReleaseIn) bool {
	for _, t := range p.Tasks {
		switch {
		case t.Work == nil:
		case r == nil, r.Job != p.Job && t.Work.At > r.At, r.Job == p.Job && t.Work.Line > r.Line:
			return true
		}
	}
	return false
}

// Words says the status in lines: never that the wing may fly.
func (s Status) Words() []string {
	var out []string
	switch {
	case s.Tagged:
		out = append(out, "TAGGED: DO NOT FLY. What keeps it on the ground:")
		for _, w := range s.Why {
			out = append(out, "  - "+w)
		}
		if s.Released != nil {
			out = append(out, "Before that: "+s.Released.words())
		}
	case s.Released != nil:
		out = append(out, s.Released.words())
	default:
		out = append(out, "No job here keeps it on the ground, and none released it.")
	}
	return out
}

func (r ReleaseIn) words() string {
	return fmt.Sprintf("Released by %s on %s for the state written there (job %d).", r.Name, day(r.At), r.Job)
}
