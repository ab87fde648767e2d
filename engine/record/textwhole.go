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

// found counts the findings by what became of them; "" where there are none.
func (t *text) found() string {
	n := map[job.FindingState]int{}
	for _, f := range t.c.Findings {
		n[job.FindingState(f.State)]++
	}
	var parts []string
	for _, x := range []struct {
		state job.FindingState
		words string
	}{
		{job.StateOpen, "OPEN"}, {job.StateDeferred, "carried over"}, {job.StateMended, "mended"},
		{job.StateCleared, "over"}, {job.StateSound, "of no consequence"}, {job.StateStruck, "struck"},
	} {
		if n[x.state] > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n[x.state], x.words))
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return count(len(t.c.Findings), "finding") + ": " + strings.Join(parts, ", ") + "."
}

func (t *text) orderList() {
	if len(t.c.Order) == 0 {
		return
	}
	t.head("Order list")
	for _, p := range t.c.Order {
		t.item(p.No, "%d x %s: %s", p.Count, p.ThingAs, p.State)
		for _, l := range p.about() {
			t.line(5, "%s", l)
		}
		for _, m := range p.Moves {
			t.line(5, "%s%s; %s", orderWords[m.Op], behind(m.Text), m.by())
		}
	}
}

// about says what is ordered, and for what, as far as it was entered.
func (p OrderItem) about() []string {
	var out []string
	if p.Length > 0 {
		out = append(out, fmt.Sprintf("length: %s (%s)", p.Length, p.LengthOf))
	}
	if p.Diameter > 0 {
		out = append(out, "thickness: "+p.Diameter.String())
	}
	for _, x := range []struct{ label, text string }{
		{"material", p.Material}, {"loops", p.Loops}, {"for", p.Why}, {"price", p.Price}, {"note", p.Note},
	} {
		if x.text != "" {
			out = append(out, x.label+": "+x.text)
		}
	}
	return out
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
	t.line(2, "The last length of each path that counts; sides as the pilot sits. Held against the sum of its lines in the plan, or where that is said against what the papers state.")
	var limits names
	for _, l := range t.c.Lengths {
		if l.Limit > 0 {
			limits.add(fmt.Sprintf("Limit %s either way: %s.", l.Limit, orNotStated(l.LimitOf)))
		}
	}
	t.lines(limits.list)
	for _, l := range t.c.Lengths {
		t.hang(fmt.Sprintf("  %-12s", l.PathRef), l.text(len(limits.list) > 1))
	}
}

// text says a length with its verdict, and with its limit where there are
// several.
func (l LengthAt) text(several bool) string {
	said := l.Value.String()
	if l.Expected > 0 {
		of := l.Expected.String()
		if l.Stated {
			of += " stated"
		}
		said += fmt.Sprintf(" of %s: %s", of, l.off())
	}
	if several && l.Limit > 0 {
		said += ", limit " + l.Limit.String()
	}
	switch {
	case l.Verdict == "":
		return said + ", no limit judged"
	case l.Decided != "":
		return said + ": not proved, TAKEN BY DECISION: " + quoted(l.Decided)
	}
	return said + ": " + verdictWord(l.Verdict)
}

// off says how far a path is off.
func (l LengthAt) off() string {
	within := sure(l.U)
	if l.Verdict != "" {
		within = sureOf(&metrology.Judgement{Deviation: l.Deviation, U: l.U, Limit: l.Limit, Verdict: l.Verdict})
	}
	how := "no deviation"
	if l.Deviation != 0 {
		how = deviation(l.Deviation)
	}
	return how + ", sure within " + within
}

func verdictWord(v metrology.Verdict) string {
	if v == metrology.Outside {
		return "OUTSIDE"
	}
	return strings.ToLower(string(v))
}

// pathDecisions goes on with the paths that were taken on a decision; n others
// stand before them.
func (t *text) pathDecisions(n int) {
	for _, l := range t.c.Lengths {
		if l.Decided == "" {
			continue
		}
		if n == 0 {
			t.head(takenHead)
		}
		n++
		t.item(n, "Path %s: %s, limit %s: NOT PROVED", l.PathRef, l.off(), l.Limit)
		t.line(5, "%s; measured by %s", quoted(l.Decided), l.by())
	}
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

// lines writes the words of a report; those below a title are set in.
func (t *text) lines(all []string) {
	for _, l := range all {
		t.line(2+len(l)-len(strings.TrimLeft(l, " ")), "%s", l)
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
