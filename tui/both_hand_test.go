package tui

import (
	"fmt"
	"slices"
	"strings"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/procedure"
)

// hand does at the bench what an event says, with keys that a person has.
type hand struct {
	*user
	at      done // the sitting
	library *procedure.Library
}

// does does one event. A new job is one deed with its first task.
func (x *hand) does(e *job.Event) {
	x.t.Helper()
	switch e.Kind {
	case job.Started:
		x.startsJob(e)
	case job.Added:
		x.addsTask(e)
	case job.Dropped, job.LaidDown, job.TakenUp, job.Reopened, job.Struck, job.Noted, job.Decided, job.Disagreed:
		x.doesToTask(e)
	case job.Parted:
		x.movesPart(e)
	case job.Deferring, job.Clearing:
		x.endsFinding(e)
	case job.HandedOn:
		x.handsOn(e)
	case job.TakenOver:
		x.press("t", "1", "enter")
	case job.Closed:
		x.list("a").press("c").types(e.Text).press("enter", "1", "enter")
	default:
		x.goesTo(e.Task).answers(e)
	}
}

// signsRecord signs the record of a closed job as the sitting says.
func (x *hand) signsRecord() {
	x.t.Helper()
	if x.m.session.Job().Closed == nil {
		return
	}
	for _, typed := range x.at.Typed {
		role, name, _ := strings.Cut(typed, " ")
		if !slices.Contains(bothPeople, name) {
			continue
		}
		switch procedure.Role(role) {
		case procedure.Doer:
			x.press("1", "enter")
		case procedure.Second, procedure.Pilot:
			x.press("2", "enter")
			if p := x.m.top().(*choosePage); p.title == "Sign the record" {
				x.takes(role)
			}
			x.takes(name)
		}
	}
}

// list goes to a list of the job by its letter: agenda, findings, parts, tasks.
func (x *hand) list(letter string) *hand {
	x.t.Helper()
	here := ""
	switch x.m.top().(type) {
	case *agendaPage:
		here = "a"
	case *findingsPage:
		here = "f"
	case *partsPage:
		here = "p"
	case *jobPage:
		here = "t"
	default:
		x.press("tab")
	}
	if here != letter {
		x.press(letter)
	}
	return x
}

// marks walks to an item of a list with the arrows.
func (x *hand) marks(l *list, i int) *hand {
	x.t.Helper()
	for range 2 * len(l.items) {
		switch {
		case l.at == i:
			return x
		case l.at > i:
			x.press("up")
		default:
			x.press("down")
		}
	}
	x.t.Fatalf("item %d of %d cannot be marked:\n%s", i+1, len(l.items), x.view())
	return x
}

// takes takes the item with a text from a list of choices.
func (x *hand) takes(text string) *hand {
	x.t.Helper()
	p, ok := x.m.top().(*choosePage)
	if !ok {
		x.t.Fatalf("nothing is to be chosen, wanted %q:\n%s", text, x.view())
	}
	for i, it := range p.list.items {
		if strings.Contains(it.text, text) {
			x.marks(&p.list, i).press("enter")
			return x
		}
	}
	x.t.Fatalf("%q is not offered:\n%s", text, x.view())
	return x
}

// goesTo goes to a task, unless its step is on the screen.
func (x *hand) goesTo(task int) *hand {
	x.t.Helper()
	switch x.m.top().(type) {
	case *agendaPage, *findingsPage, *partsPage, *jobPage:
	default:
		if x.m.task == task {
			return x
		}
	}
	x.list("t")
	p := x.m.top().(*jobPage)
	x.marks(&p.list, task-1).press("enter")
	return x
}

// answers answers the step that is due.
func (x *hand) answers(e *job.Event) {
	x.t.Helper()
	x.readFirst()
	if e.Kind == job.Sheeted {
		x.press("tab", "c").types(bothSheet).press("enter", "1", "enter")
		return
	}
	switch p := x.m.top().(type) {
	case *confirmPage:
		x.press("enter")
	case *trimPage:
		x.toEnd().press("enter")
	case *clearPage:
		x.press("enter")
	case *lookerPage:
		x.chooses(&p.list, e.Text)
	case *holdPage:
		x.chooses(&p.list, e.Sign.Name)
	case *cardPage:
		x.answersCard(p, e)
	case *surveyPage:
		x.inspects(e)
	case *lengthsPage:
		x.types(e.Typed).press("enter")
	case *loopsPage:
		x.types(e.Typed).press("enter").toEnd().press("enter")
	default:
		x.t.Fatalf("no step is due for %q of task %d:\n%s", e.Kind, e.Task, x.view())
	}
}

// chooses takes a name from a list by its digit.
func (x *hand) chooses(l *list, name string) {
	x.t.Helper()
	for _, it := range l.items {
		if it.text == name {
			x.press(fmt.Sprint(it.digit), "enter")
			return
		}
	}
	x.t.Fatalf("%s is not offered:\n%s", name, x.view())
}

// answersCard answers a card: a text, a number of an option, or nothing.
func (x *hand) answersCard(p *cardPage, e *job.Event) {
	x.t.Helper()
	switch {
	case e.Kind == job.Stands && !p.entry.listed():
		x.press("tab", "e")
	case e.Kind == job.Stands:
		x.press("0", "enter")
	case e.Photo != nil:
		x.types(bothPhoto).press("enter")
	case p.entry.chooses():
		number, words, more := strings.Cut(e.Typed, " ")
		x.press(strings.Split(number, "")...)
		if more {
			x.press("enter").types(words)
		}
		x.press("enter")
	case p.entry.listed() && p.at().Kind == procedure.Do:
		x.press("1", "enter")
	default:
		x.types(e.Typed).press("enter")
		if e.FarFrom != "" {
			x.sees("Type it again").types(e.Typed).press("enter")
		}
	}
}

// inspects says what was found on a thing, or that all the rest is sound.
func (x *hand) inspects(e *job.Event) {
	x.t.Helper()
	if e.Kind != job.FoundOne {
		x.types(e.Typed).press("enter")
		return
	}
	x.types(e.Found.Thing.String()).press("enter")
	p, ok := x.m.top().(*findingPage)
	if !ok {
		x.t.Fatalf("nothing is asked about %s:\n%s", e.Found.Thing, x.view())
	}
	for i, r := range p.thing.Rules {
		if r.ID == e.Found.Rule {
			x.marks(&p.list, i).press("enter")
			if r.Place {
				x.types(placeTyped(e.Found)).press("enter")
			}
			break
		}
	}
	x.types(e.Found.Note).press("enter")
	for range e.Found.Photos {
		x.types(bothPhoto).press("enter")
	}
	x.press("enter", "enter") // no more photos; write it
}

func placeTyped(f *job.Found) string {
	if f.Place == nil {
		return ""
	}
	return fmt.Sprint(f.Place.MM())
}

// bothSheet is the sheet that both take.
const bothSheet = "testdata/both-sheet.csv"

// bothPhoto is the picture that both take.
const bothPhoto = "testdata/photo.png"
