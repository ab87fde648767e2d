package tui

import (
	"fmt"
	"strings"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/wing"
)

// startsJob starts a job on the first wing, with the task that follows, if one
// does at once.
func (x *hand) startsJob(e *job.Event) {
	x.t.Helper()
	x.press("0", "enter") // from the list of jobs
	x.takes(e.Start.WingName)
	var add *job.Add
	if next := x.next(1); next != nil && next.Kind == job.Added {
		add = next.Add
	}
	x.laysOut(add)
	if h := e.Start.Hours; h != nil {
		x.press("tab").types("many").press("enter").sees("is no number of flying hours")
		x.press("ctrl+u").types(strings.TrimSuffix(h.String(), " h")).press("enter").sees("Flying hours of the wing: 123.5.")
	}
	x.types(e.Start.Reason).press("enter")
}

// addsTask adds a task: from the agenda, where that asks for it, or anew.
func (x *hand) addsTask(e *job.Event) {
	x.t.Helper()
	x.list("a")
	p := x.m.top().(*agendaPage)
	for i, t := range p.todos {
		if t.Task != 0 || t.Procedure != e.Add.Procedure || t.Target != e.Add.Target {
			continue
		}
		x.marks(&p.list, i).press("enter")
		if t.State == job.TodoLater {
			x.press("enter")
		}
		x.types(e.Reason).press("enter")
		return
	}
	x.press("n")
	x.laysOut(e.Add)
	x.types(e.Reason).press("enter")
}

// laysOut chooses a procedure and its target; nil: no task yet.
func (x *hand) laysOut(add *job.Add) {
	x.t.Helper()
	if add == nil {
		x.takes("no task yet")
		return
	}
	proc, _ := x.library.Get(add.Procedure)
	if p := x.m.top().(*choosePage); p.title != "Choose a procedure" {
		x.takes(proc.Shelf.Words())
	}
	x.takes(proc.Title.In("en"))
	target := add.Target
	switch target.Kind {
	case wing.KindLine:
		x.takes(string(target.Side))
		x.types(target.Code).press("enter")
	case wing.KindLink:
		x.takes(string(target.Side))
		x.takes("link " + target.Code + ",")
	}
}

// next is what line mode wrote so many lines behind the one that is due.
func (x *hand) next(n int) *job.Event {
	if at := x.written() + n; at < x.at.to {
		return x.at.want[at]
	}
	return nil
}

// doesToTask does what is reached through the overview of a task.
func (x *hand) doesToTask(e *job.Event) {
	x.t.Helper()
	if e.Task != 0 {
		x.goesTo(e.Task)
	}
	if e.Task == 0 && e.Kind == job.Noted {
		x.list("a").press("w").types(e.Text).press("enter")
		return
	}
	switch e.Kind {
	case job.TakenUp:
		x.press("enter")
	case job.Dropped:
		x.press("tab", "7").types(e.Reason).press("enter")
	case job.LaidDown:
		x.press("tab", "6")
		x.safely(e.Safe).types(e.Reason).press("enter")
	case job.Noted:
		x.press("tab", "1").types(e.Text).press("enter")
	case job.Disagreed:
		x.press("tab", "5").types(e.Reason).press("enter")
	case job.Struck:
		x.press("tab", "2")
		x.takes(struckWords(e)).types(e.Reason).press("enter")
	case job.Decided:
		x.decides(e)
	case job.Reopened:
		x.press("tab")
		p := x.m.top().(*overviewPage)
		for range len(p.rows) {
			x.press("up")
		}
		for p.rows[p.at].Key != e.Key {
			x.press("down")
		}
		x.press("3").types(e.Reason).press("enter")
	}
}

// struckWords are how an entry stands in the list of those that can be struck.
func struckWords(e *job.Event) string {
	if e.Path != nil {
		return e.Path.String() + ", "
	}
	return fmt.Sprintf("entry %d", e.Line)
}

func (x *hand) decides(e *job.Event) {
	x.t.Helper()
	if e.Path == nil {
		x.press("tab", "4").types(e.Reason).press("enter")
		return
	}
	x.press("tab", "d")
	x.takes(e.Path.String() + ":").types(e.Reason).press("enter")
}

// safely answers the questions for the safe state, if they are asked.
func (x *hand) safely(safe []string) *hand {
	x.t.Helper()
	for range safe {
		p, ok := x.m.top().(*safePage)
		if !ok {
			x.t.Fatalf("the safe state is not asked for:\n%s", x.view())
		}
		given := x.safeTyped(p, safe)
		if len(p.list.items) > 0 {
			x.press(given, "enter")
			continue
		}
		x.types(given).press("enter")
	}
	return x
}

// safeTyped finds what is typed for the answer that a journal has.
func (x *hand) safeTyped(p *safePage, safe []string) string {
	said := safe[len(p.given)]
	for i, o := range p.question().Options {
		if strings.HasSuffix(said, o) {
			return fmt.Sprint(i + 1)
		}
	}
	_, typed, _ := strings.Cut(said, ": ")
	return typed
}

func (x *hand) handsOn(e *job.Event) {
	x.t.Helper()
	x.list("a").press("h")
	x.safely(e.Safe).types(e.To).press("enter").types(e.Text).press("enter")
}

// endsFinding carries a finding over, or says that it is over.
func (x *hand) endsFinding(e *job.Event) {
	x.t.Helper()
	x.list("f")
	p := x.m.top().(*findingsPage)
	for i, f := range p.all {
		if f.ID == e.Finding {
			x.marks(&p.list, i).press("enter")
		}
	}
	if e.Kind == job.Deferring {
		limit := e.Deferral.Until
		if limit == "" {
			limit = e.Deferral.Hours.String()
		}
		x.takes("carried over").types(limit + " " + e.Reason).press("enter")
		return
	}
	x.takes(map[job.Way]string{job.ByLength: "measured here", job.ByLooking: "looked at again", job.ByWorkshop: "workshop"}[e.Way])
	x.types(e.Reason).press("enter")
}

// movesPart moves the order list on.
func (x *hand) movesPart(e *job.Event) {
	x.t.Helper()
	mv := e.Part
	x.list("p")
	p := x.m.top().(*partsPage)
	switch mv.Op {
	case job.PartList:
		x.listsPart(p, mv.Part)
		return
	case job.PartOrder:
		x.press("o", "1", "enter")
		return
	}
	for i, l := range p.listed {
		if l.No == mv.No {
			x.marks(&p.list, i).press("enter")
		}
	}
	x.takes(map[job.PartOp]string{
		job.PartRead: "read its code back", job.PartTaken: "it is right", job.PartReturn: "it is wrong", job.PartDrop: "not wanted",
	}[mv.Op])
	x.types(mv.Text + e.Reason).press("enter") // a code, or what was seen of the part
}

// listsPart puts a part on the list, with its length, price and note.
func (x *hand) listsPart(p *partsPage, part *job.Part) {
	x.t.Helper()
	suggested := -1
	for i, w := range p.wanted {
		if w.Thing == part.Thing {
			suggested = len(p.listed) + i
		}
	}
	if suggested >= 0 {
		x.marks(&p.list, suggested).press("enter")
	} else {
		x.press("n").types(part.Thing.Text()).press("enter")
	}
	form := x.m.top().(*partPage)
	if strings.HasPrefix(part.LengthOf, "copy of its twin") {
		x.fills(form, partTwin, fmt.Sprint(part.Length.MM()))
	}
	x.fills(form, partPrice, part.Price)
	x.fills(form, partNote, part.Note)
	x.marks(&form.list, partTake).press("enter")
}

func (x *hand) fills(form *partPage, item int, text string) {
	if text != "" {
		x.marks(&form.list, item).press("enter").types(text).press("enter")
	}
}
