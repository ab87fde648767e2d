package job

import (
	"fmt"

	"example.org/linewright/engine/wing"
)

// SuggestParts lists what the open findings ask for and what is not on the
// order list yet: the damaged part, its twin where the two are renewed
// together, and a retainer for each link that will be opened.
func (j *Job) SuggestParts() []Part {
	s := &suggester{job: j, asked: map[wing.Ref]bool{}}
	for _, f := range j.findings {
		if state, _ := j.StateOf(f); state == StateOpen && j.asksNew(f) {
			s.forFinding(f)
		}
	}
	return s.parts
}

type suggester struct {
	job   *Job
	asked map[wing.Ref]bool
	parts []Part
}

func (s *suggester) forFinding(f *Finding) {
	why := fmt.Sprintf("%s, found %s", f.Text, day(f.At))
	part := s.job.renewal(f.Thing)
	if part != f.Thing {
		why = f.Thing.String() + ": " + why
	}
	s.add(part, why, f.ID)
	if reason := s.job.Paired(part); reason != "" {
		s.add(part.Twin(), "pair of "+part.String()+": "+reason, f.ID)
	}
	if link, ok := s.job.link(part); ok {
		s.add(wing.Ref{Kind: wing.KindRetainer, Code: link.Code, Side: link.Side}, "the "+link.String()+" is opened: its retainer may not go on again", f.ID)
	}
}

// renewal is the part by which a thing is renewed: itself, or for the knot of a
// brake the line that it is tied in.
func (j *Job) renewal(thing wing.Ref) wing.Ref {
	if thing.Kind == wing.KindKnot && j.Plan.Brake != nil {
		return wing.LineRef(j.Plan.Brake.Main, thing.Side)
	}
	return thing
}

// add suggests a part, unless it is on the list or was received already.
func (s *suggester) add(thing wing.Ref, why, finding string) {
	if s.asked[thing] || s.job.Have(thing) {
		return
	}
	if _, listed := s.job.Wanted(thing); listed {
		return
	}
	s.asked[thing] = true
	p := s.job.PartFor(thing, why)
	p.Finding = finding
	s.parts = append(s.parts, p)
}

// PartFor gives a thing as the order list has it, with what the plan says.
func (j *Job) PartFor(thing wing.Ref, why string) Part {
	p := Part{Thing: thing, Count: 1, Why: why}
	l, ok := j.Plan.LineAt(thing)
	if !ok || thing.Kind != wing.KindLine {
		return p
	}
	p.Length, p.Material, p.Diameter = l.Length, l.Material, l.Diameter
	if l.Length > 0 {
		p.LengthOf = planLength + j.Plan.Source.Text
	}
	p.Loops = "both ends as on the old line"
	if l.Sewn {
		p.Loops = "one end sewn into its tab: for a workshop"
	}
	return p
}

// Paired says why a line is renewed together with its twin, "" where it is not.
// Common practice, no source.
func (j *Job) Paired(thing wing.Ref) string {
	l, ok := j.Plan.LineAt(thing)
	switch {
	case !ok:
		return ""
	case j.Plan.Brake != nil && j.Plan.Brake.Main == l.Code:
		return "both brake main lines stretch and wear alike (common practice, no source)"
	case l.Row == stabilo:
		return "a stabilo line is long, thin and lightly loaded: a new one beside an old one turns the tip (common practice, no source)"
	}
	return ""
}

// stabilo is the row of the tip lines.
const stabilo = "S"

// LengthChoice explains to whoever orders what a length can be taken from.
const LengthChoice = "A copy of the twin suits a used wing: the neighbours have shrunk or stretched with the years, and a line made to the plan lies 10 to 20 mm long beside them. The plan suits a new set. (common practice, no source)"
