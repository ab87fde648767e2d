package record

import (
	"fmt"
	"strings"
)

// looks lists what was signed at the bench.
func (t *text) looks() {
	t.head("Looks and signatures")
	n := 0
	for _, task := range t.c.Tasks {
		for _, s := range task.Steps {
			if s.Hold != nil {
				n++
				t.signed(n, task.No, s.Key, *s.Entry, *s.Hold)
			}
		}
	}
	for _, h := range t.c.Superseded {
		n++
		t.signed(n, h.Task, h.Step, h.Stamp, h.Hold)
		t.line(5, "SUPERSEDED: %s", superseded(h.VoidBy))
	}
	if n == 0 {
		t.line(2, "Nothing was signed at the bench.")
	}
	t.b.WriteString("\n")
	t.line(2, "The record as a whole is signed in files of their own beside it, named record.json.<role>.sig.")
}

func superseded(by int) string {
	said := "the work was opened again"
	if by > 0 {
		said += fmt.Sprintf(" by line %d", by)
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

func (t *text) signed(n, task int, key string, at Stamp, h Hold) {
	t.item(n, "%s, as %s: %s", h.Name, roleName(h.Role), quoted(h.States))
	t.line(5, "%s, line %d; signed is line %d and all before it", when(at.At), at.Line, h.OverLine)
	t.line(5, "key %s, %s", h.Fingerprint, custody(h.Custody))
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
		t.item(i+1, "%s, %s", p.Code, t.named(p.Task, p.Step))
		t.line(5, "%s", p.by())
	}
	if len(t.c.Parts) == 0 {
		t.line(2, "No code of a part was entered.")
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
	row("(4) approved by", "not stated ______________________________")
	row("    signature", "not stated ______________________________")
	row("    certificate no.", "not stated ______________________________")
	row("    its kind", "not stated ______________________________")
	t.b.WriteString("\n")
	t.line(2, "The journal has %s; the last one has the SHA-256", count(t.c.Journal.Lines, "line"))
	t.line(2, "%s", t.c.Journal.Hash)
}

// complete reports whether every task came to its end.
func (c Content) complete() bool {
	for _, task := range c.Tasks {
		if task.State != "done" {
			return false
		}
	}
	return true
}
