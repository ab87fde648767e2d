package record

import (
	"fmt"
	"strings"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/procedure"
)

// The parts of record.txt that do not belong to one task. Each is left out of
// a record that has nothing for it.

func (t *text) findings() {
	if len(t.c.Findings) == 0 {
		return
	}
	t.head("Findings")
	for i, f := range t.c.Findings {
		t.item(i+1, "%s: %s%s; %s", f.ThingAs, f.Text, f.where(), becomes[f.Disposition])
		if f.Note != "" {
			t.line(5, "note: %s", quoted(f.Note))
		}
		t.line(5, "by the rule: %s", f.Reason)
		if n := len(f.Photos); n > 0 {
			t.line(5, "%s", count(n, "photo"))
		}
		t.line(5, "first written %s by %s, finding %s%s", when(f.At), f.Who, f.ID, f.carried())
		t.line(5, "%s", f.end())
	}
}

var becomes = map[procedure.Disposition]string{
	procedure.Replace: "to be replaced", procedure.Mend: "to be put right", procedure.ByLength: "its length decides", procedure.Workshop: "for a workshop",
	procedure.Watch: "to be watched", procedure.Sound: "sound",
}

func (f Finding) where() string {
	if f.Place == nil {
		return ""
	}
	return ", " + f.Place.String() + " from its lower end"
}

func (f Finding) carried() string {
	if f.Carried {
		return ", carried over into this job"
	}
	return ""
}

// end says what became of a finding.
func (f Finding) end() string {
	switch job.FindingState(f.State) {
	case job.StateMended:
		return fmt.Sprintf("mended by task %d", f.MendedBy)
	case job.StateCleared:
		return fmt.Sprintf("over, %s: %s; %s", f.Cleared.Way, quoted(f.Cleared.Reason), f.Cleared.by())
	case job.StateDeferred:
		return fmt.Sprintf("CARRIED OVER until %s by %s, %s: %s", f.Deferred.Limit(), f.Deferred.Who, day(f.Deferred.At), quoted(f.Deferred.Reason))
	case job.StateStruck:
		return "struck: " + quoted(f.Struck)
	case job.StateSound:
		return "nothing follows"
	}
	if f.Disposition.Grounds() {
		return "OPEN: the wing stays on the ground"
	}
	return "OPEN"
}

func (t *text) orderList() {
	if len(t.c.Order) == 0 {
		return
	}
	t.head("Order list")
	for _, p := range t.c.Order {
		said := fmt.Sprintf("%d x %s", p.Count, p.ThingAs)
		if p.Length > 0 {
			said += fmt.Sprintf(", %s (%s)", p.Length, p.LengthOf)
		}
		t.item(p.No, "%s: %s", said, p.State)
		if p.Why != "" {
			t.line(5, "for: %s", p.Why)
		}
		for _, m := range p.Moves {
			t.line(5, "%s%s; %s", orderWords[m.Op], behind(m.Text), m.by())
		}
	}
}

var orderWords = map[job.PartOp]string{
	job.PartList: "listed", job.PartDrop: "dropped", job.PartRead: "code read back", job.PartOrder: "ordered",
	job.PartTaken: "received", job.PartReturn: "SENT BACK",
}

// behind puts words behind a move, if there are any.
func behind(words string) string {
	if words == "" {
		return ""
	}
	return ": " + quoted(words)
}

// lengths lists the paths as they were measured last.
func (t *text) lengths() {
	if len(t.c.Lengths) == 0 {
		return
	}
	t.head("Lengths of paths")
	t.line(2, "The last length of each path that counts; sides as the pilot sits; plus is long.")
	for _, l := range t.c.Lengths {
		said := l.Value.String()
		if l.Expected > 0 {
			said += fmt.Sprintf(", %+.1f mm of %s, sure within %.1f mm", l.Deviation.MM(), l.Expected, l.U.MM())
		}
		switch {
		case l.Verdict == "":
			said += ", no limit judged"
		case l.Decided != "":
			said += fmt.Sprintf(", limit %s: not proved, TAKEN BY DECISION: %s", l.Limit, quoted(l.Decided))
		default:
			said += fmt.Sprintf(", limit %s: %s", l.Limit, verdictWord(l.Verdict))
		}
		t.hang(fmt.Sprintf("  %-12s", l.PathRef), said)
	}
}

func verdictWord(v metrology.Verdict) string {
	if v == metrology.Outside {
		return "OUTSIDE"
	}
	return strings.ToLower(string(v))
}

// reports prints trim reports, what work moved, and choices of loops.
func (t *text) reports() {
	for _, task := range t.c.Tasks {
		for _, s := range task.Steps {
			if s.Trim != nil {
				t.head(fmt.Sprintf("Trim, task %d, %s", task.No, day(s.Entry.At)))
				t.lines(s.Trim.Words())
			}
			if s.Move != nil {
				t.head(fmt.Sprintf("What the work moved, task %d", task.No))
				t.lines(s.Move.Words())
			}
			if s.Loops != nil {
				t.head(fmt.Sprintf("Choice of loops, task %d", task.No))
				t.lines(s.Loops.Words())
			}
		}
	}
}

func (t *text) lines(all []string) {
	for _, l := range all {
		t.line(2, "%s", l)
	}
}

func (t *text) handedOn() {
	if len(t.c.Handovers) == 0 {
		return
	}
	t.head("Handed on")
	for i, h := range t.c.Handovers {
		if h.To == "" {
			t.item(i+1, "Taken over by %s", h.Who)
		} else {
			t.item(i+1, "Handed on to %s%s", h.To, behind(h.Text))
		}
		for _, state := range h.Safe {
			t.line(5, "as it was left: %s", state)
		}
		t.line(5, "%s", h.by())
	}
}
