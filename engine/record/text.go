package record

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/wing"
)

// Text renders record.txt, edition 1. It does not look at Files, so that
// record.json can list the text.
func (c Content) Text() string {
	t := &text{c: c, labels: map[string]string{}}
	for _, task := range c.Tasks {
		for _, s := range task.Steps {
			t.labels[stepName(task.No, s.Key)] = s.label()
		}
	}
	t.firstPage()
	t.findings()
	t.orderList()
	t.data()
	t.measured()
	t.lengths()
	t.reports()
	t.steps()
	t.takenBack()
	t.notCounting()
	t.looks()
	t.parts()
	t.handedOn()
	t.notes()
	t.entry()
	return t.String()
}

type text struct {
	page
	c      Content
	labels map[string]string
	mixed  bool // the measurements were not all evaluated by one rule
}

// label is what a step is called.
func (s Step) label() string {
	name := s.Ask
	switch {
	case s.Role != "":
		name = "Signature of " + roleName(s.Role)
	case name == "":
		name = s.Action
	}
	name = strings.TrimRight(strings.TrimSpace(name), ".:")
	if s.At != "" && !strings.Contains(name, s.At) {
		name += " (" + s.At + ")"
	}
	return name
}

// named gives a step of a task by its label.
func (t *text) named(task int, key string) string {
	name := t.labels[stepName(task, key)]
	if name == "" {
		name = key
	}
	if len(t.c.Tasks) > 1 {
		return fmt.Sprintf("%s (task %d)", name, task)
	}
	return name
}

// told joins a question and its answer.
func told(ask, answer string) string {
	if strings.HasSuffix(ask, "?") {
		return ask + " " + answer
	}
	return ask + ": " + answer
}

// by gives who made an entry, when, and which. The entries of a journal stand
// on its lines, and "line" is a line of the wing here.
func (s Stamp) by() string { return fmt.Sprintf("%s, %s, entry %d", s.Who, when(s.At), s.Line) }

func (t *text) firstPage() {
	if t.c.Demo {
		t.line(0, "DEMO. SAMPLE DATA. THIS RECORD SAYS NOTHING ABOUT ANY WING.")
		t.b.WriteString("\n")
	}
	t.line(0, "RECORD OF WORK ON THE LINES OF A WING")
	t.line(0, "%s, job %d, closed %s", t.c.Wing.Name, t.c.Job, day(t.c.Closed.At))
	t.open()
	t.decisions()
	t.wing()
	t.work()
	t.result()
	t.caution()
}

func (t *text) open() {
	t.head("What is open")
	if len(t.c.Open) == 0 {
		t.line(2, "Nothing was left open in this job.")
		return
	}
	for i, o := range t.c.Open {
		grounds := ""
		if o.Grounds {
			grounds = "; THIS KEEPS THE WING ON THE GROUND"
		}
		t.item(i+1, "%s%s", sentence(o.Text), grounds)
		if o.Step != "" {
			t.line(5, "first written %s, at: %s", when(o.At), t.named(o.Task, o.Step))
		} else if o.At != "" {
			t.line(5, "first written %s, before this job", when(o.At))
		}
	}
	t.b.WriteString("\n")
	t.line(2, "What has to be settled before a flight keeps the tag on the wing until the pilot has settled it.")
}

// sentence begins a text with a capital letter.
func sentence(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(first)) + s[size:]
}

const takenHead = "Not proved by measuring, taken on a person's decision"

// decisions shows what a person took that the measurement did not prove.
func (t *text) decisions() {
	n := 0
	for _, task := range t.c.Tasks {
		for _, s := range task.Steps {
			if s.Decision == "" {
				continue
			}
			if n == 0 {
				t.head(takenHead)
			}
			n++
			t.item(n, "%s", told(t.named(task.No, s.Key), judged(s)))
			t.line(5, "%s: %s", s.Entry.by(), quoted(s.Decision))
		}
	}
	t.pathDecisions(n)
}

func (t *text) wing() {
	t.head("The wing")
	t.field("name", "%s", t.c.Wing.Name)
	t.field("wing id", "%s", t.c.Wing.ID)
	t.field("serial no.", "%s", orNotStated(t.c.Wing.Serial))
	t.field("plan", "%s", planName(t.c.Plan))
	if t.c.Hours != nil {
		t.field("flown", "%s when the job began", t.c.Hours)
	}
	t.field("why", "%s", orNotStated(t.c.Wing.Reason))
}

func orNotStated(s string) string {
	if strings.TrimSpace(s) == "" {
		return "not stated"
	}
	return s
}

func planName(p Plan) string {
	name := fmt.Sprintf("%s, size %s", p.Name, p.Size)
	if p.Partial {
		name += "; a partial plan: some lines are not in it"
	}
	if p.AsFound {
		name += "; MADE FROM THE WING AS IT WAS FOUND, not from its maker's papers"
	}
	return name
}

func (t *text) work() {
	t.head("The work")
	t.line(2, "Begun by %s", t.c.Begun.by())
	for _, task := range t.c.Tasks {
		t.item(task.No, "%s", task.sentence())
		if task.Why != "" {
			t.line(5, "%s: %s", task.State, quoted(task.Why))
		}
		if task.OneSide {
			t.line(5, "%s", task.oneSide())
		}
	}
	if len(t.c.Tasks) == 0 {
		t.line(2, "No task was begun.")
	}
}

// sentence says what a task was and how far it came.
func (task Task) sentence() string {
	state := task.State
	if state == "done" {
		state = "all steps done"
	} else {
		state += fmt.Sprintf(" after %d of %s", task.Done, count(task.Of, "step"))
	}
	return fmt.Sprintf("%s, on %s: %s", task.Procedure.Title, task.TargetAs, state)
}

func (t *text) result() {
	t.head("The result")
	if found := t.found(); found != "" {
		t.line(2, "%s", found)
	}
	t.line(2, "%s", t.verdicts())
	t.line(2, "%s", t.lookedAt())
	t.line(2, "Closed by %s: %s", t.c.Closed.by(), quoted(t.c.Closed.Statement))
}

// oneSide says of a pair that one of it is done and the other is not.
func (task Task) oneSide() string {
	if task.Target == string(wing.KindBrakes) {
		return "ONE BRAKE IS MOVED, THE OTHER IS NOT."
	}
	return "ONE LINE OF THE PAIR IS RENEWED, ITS TWIN IS NOT."
}

// verdicts counts what was judged. A value that counts is never outside, but
// one in a task that was laid down can be.
func (t *text) verdicts() string {
	var values, paths tally
	for _, task := range t.c.Tasks {
		for _, s := range task.Steps {
			if s.Judgement != nil {
				values.add(s.Judgement.Verdict)
			}
		}
	}
	for _, l := range t.c.Lengths {
		if l.Verdict != "" {
			paths.add(l.Verdict)
		}
	}
	switch {
	case values.all+paths.all == 0:
		return "No value was measured against a limit."
	case paths.all == 0:
		return values.words("value") + "."
	case values.all == 0:
		return paths.words("path") + "."
	}
	return values.words("value") + ". " + paths.words("path") + "."
}

// tally counts verdicts.
type tally struct {
	all   int
	found map[metrology.Verdict]int
}

func (n *tally) add(v metrology.Verdict) {
	if n.found == nil {
		n.found = map[metrology.Verdict]int{}
	}
	n.found[v]++
	n.all++
}

func (n tally) words(noun string) string {
	return fmt.Sprintf("%s measured against a limit: %d inside, %d not proved, %d outside",
		count(n.all, noun), n.found[metrology.Inside], n.found[metrology.NotProved], n.found[metrology.Outside])
}

// lookedAt says who signed at the bench, and as what.
func (t *text) lookedAt() string {
	var second, doer, pilot names
	for _, task := range t.c.Tasks {
		for _, s := range task.Steps {
			if s.Hold == nil {
				continue
			}
			by := &doer
			switch s.Hold.Role {
			case "second":
				by = &second
			case "pilot":
				by = &pilot
			}
			by.add(s.Hold.Name + bareKey(s.Hold.Custody))
		}
	}
	said := "No second person has signed a look at this work."
	if len(second.list) > 0 {
		said = "Second look signed by " + strings.Join(second.list, " and ") + "."
	}
	if len(doer.list) > 0 {
		said = "Work signed by " + strings.Join(doer.list, " and ") + ". " + said
	}
	if len(pilot.list) > 0 {
		said += " Signed as the pilot by " + strings.Join(pilot.list, " and ") + "."
	}
	return said
}

// bareKey says where a key could be used by others.
func bareKey(custody string) string {
	if custody == "unencrypted" {
		return " (key kept without a pass phrase)"
	}
	return ""
}

func (t *text) caution() {
	t.head("What this record is not")
	if t.c.Demo {
		t.line(2, "THIS IS A DEMO WITH SAMPLE DATA. NO SUCH WING EXISTS.")
	}
	t.line(2, "This is no statement of airworthiness. It says what was done, measured and signed, with which data and by whom. "+
		"Whether the wing may fly is decided by its own manual, the rules of the place, and where they ask for it a licensed workshop. "+
		"The tag is taken off by the pilot, not by a program and not by this record.")
	t.line(2, "A signature proves a key, not a person. Times are those of the writer's own clock.")
}
