package record

import (
	"fmt"
	"slices"
	"strings"
)

// looks lists what was signed at the bench, and the looks that came to no
// signature.
func (t *text) looks() {
	t.head("Looks and signatures")
	holds := t.holds()
	inForce, came := len(holds), map[int]bool{}
	for i, h := range append(holds, t.c.Superseded...) {
		t.signed(i+1, h)
		if i >= inForce {
			t.line(5, "SUPERSEDED: %s", superseded(h.VoidBy))
		}
		if look, ok := t.lookOf(h); ok {
			came[look.Line] = true
		}
	}
	n := inForce + len(t.c.Superseded)
	for _, look := range t.c.Looks {
		if !came[look.Line] {
			n++
			t.unsigned(n, look)
		}
	}
	if n == 0 {
		t.line(2, "Nothing was signed at the bench.")
	}
	t.b.WriteString("\n")
	t.line(2, "The record as a whole is signed in files of their own beside it, named record.json.<role>.sig.")
}

// holds lists the signatures that are in force.
func (t *text) holds() []HoldAt {
	var all []HoldAt
	for _, task := range t.c.Tasks {
		for _, s := range task.Steps {
			if s.Hold != nil {
				all = append(all, HoldAt{Stamp: *s.Entry, Task: task.No, Step: s.Key, Hold: *s.Hold})
			}
		}
	}
	return all
}

// lookBefore gives the look in which an entry of a task was made.
func (t *text) lookBefore(task, line int) (Look, bool) {
	for _, k := range slices.Backward(t.c.Looks) {
		if k.Task == task && k.Line < line {
			return k, true
		}
	}
	return Look{}, false
}

// lookOf gives the look that a second person's signature closed.
func (t *text) lookOf(h HoldAt) (Look, bool) {
	if h.Hold.Role != "second" {
		return Look{}, false
	}
	return t.lookBefore(h.Task, h.Line)
}

// unsigned writes a look that came to no signature.
func (t *text) unsigned(n int, look Look) {
	t.item(n, "%s, as the second person: looked and did not sign", look.Name)
	t.line(5, "looked from %s, entry %d, at: %s", when(look.At), look.Line, t.named(look.Task, look.Step))
	for _, x := range t.c.Disagreements {
		if own, ok := t.lookBefore(x.Task, x.Line); ok && own.Line == look.Line {
			t.line(5, "not agreed %s, entry %d: %s", when(x.At), x.Line, quoted(x.Reason))
		}
	}
}

func superseded(by int) string {
	said := "the work was opened again"
	if by > 0 {
		said += fmt.Sprintf(" by entry %d", by)
	}
	return said + "; it stays good for what it signed."
}

// roleName gives a role as a person reads it.
func roleName(role string) string {
	if role == "second" {
		return "the second person"
	}
	return "the " + role
}

func (t *text) signed(n int, h HoldAt) {
	t.item(n, "%s, as %s: %s", h.Hold.Name, roleName(h.Hold.Role), quoted(h.Hold.States))
	if look, ok := t.lookOf(h); ok {
		t.line(5, "looked from %s, entry %d", when(look.At), look.Line)
	}
	t.line(5, "signed %s, entry %d, over entry %d and all before it", when(h.At), h.Line, h.Hold.OverLine)
	t.line(5, "key %s, %s", h.Hold.Fingerprint, custody(h.Hold.Custody))
}

// custody says how a key was kept when it signed.
func custody(c string) string {
	switch c {
	case "pass phrase":
		return "kept with a pass phrase"
	case "unencrypted":
		return "KEPT WITHOUT A PASS PHRASE: whoever could read its file could sign"
	case "agent":
		return "held by an agent; how its file is kept is not known"
	}
	return "kept " + orNotStated(c)
}

func (t *text) parts() {
	t.head("Parts")
	for i, p := range t.c.Parts {
		t.item(i+1, "%s", told(t.named(p.Task, p.Step), p.Answer))
		t.line(5, "%s", p.by())
	}
	if len(t.c.Parts) == 0 {
		t.line(2, "Nothing was entered about the parts.")
	}
}

func (t *text) notes() {
	if len(t.c.Notes) == 0 {
		return
	}
	t.head("Notes")
	for i, n := range t.c.Notes {
		struck := ""
		if n.Struck != "" {
			struck = "; STRUCK: " + quoted(n.Struck)
		}
		t.item(i+1, "%s%s", quoted(n.Text), struck)
		t.line(5, "%s", n.by())
	}
}

// entry carries what rules on maintenance records ask for: 14 CFR 43.9(a)(1)
// to (4), and the data used after EASA M.A.803(d).
func (t *text) entry() {
	t.head("Maintenance entry")
	t.line(2, "These are the items that 14 CFR 43.9(a)(1) to (4) and EASA M.A.803(d) name. Whether such a rule holds for this wing is not said here. "+
		"The person who approves fills in (4) by hand where it is asked for.")
	t.b.WriteString("\n")
	completed := day(t.c.Closed.At)
	switch {
	case !t.c.complete():
		completed += "; NOT ALL OF IT, see what is open"
	case len(t.c.Open) > 0:
		completed += "; something was left open, see what is open"
	}
	var work, data []string
	for _, task := range t.c.Tasks {
		work = append(work, task.sentence())
	}
	data = append(data, "plan "+t.c.Plan.Name+" "+t.c.Plan.Size)
	for _, p := range t.procedures() {
		data = append(data, p.ID+" edition "+p.Edition)
	}
	row := func(label, format string, args ...any) {
		t.hang(fmt.Sprintf("  %-20s", label), fmt.Sprintf(format, args...))
	}
	row("(1) work done", "%s", orNotStated(strings.Join(work, "; ")))
	row("    data used", "%s", strings.Join(data, "; "))
	row("(2) completed on", "%s", completed)
	row("(3) done by", "%s", strings.Join(t.c.People, ", "))
	row("    looked at by", "%s", orNobody(t.c.SecondPeople))
	row("(4) approved by", "not stated ______________________________")
	row("    signature", "not stated ______________________________")
	row("    certificate no.", "not stated ______________________________")
	row("    its kind", "not stated ______________________________")
	t.b.WriteString("\n")
	t.line(2, "The journal has %d entries, each on the line of its number; the last one has the SHA-256", t.c.Journal.Lines)
	t.line(2, "%s", t.c.Journal.Hash)
}

func orNobody(people []string) string {
	if len(people) == 0 {
		return "nobody as a second person"
	}
	return strings.Join(people, ", ")
}

// complete reports whether every task came to its end, or was done in place of
// one that was given up.
func (c Content) complete() bool {
	for i, task := range c.Tasks {
		again := func(later Task) bool {
			return later.State == "done" && later.Procedure.ID == task.Procedure.ID && later.Target == task.Target
		}
		if task.State != "done" && !slices.ContainsFunc(c.Tasks[i+1:], again) {
			return false
		}
	}
	return true
}
