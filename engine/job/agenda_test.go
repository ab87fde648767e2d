package job

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
)

// todo says the agenda in one line each: procedure and target, or the words of
// what is no task, and when.
func (r *surveyRig) todo() []string {
	var out []string
	for _, t := range r.job.Agenda() {
		what := t.What
		if t.Procedure != "" {
			what = t.Procedure + " " + t.Target.Text()
		}
		out = append(out, what+": "+string(t.State))
	}
	return out
}

func (r *surveyRig) wantTodo(when string, want ...string) {
	r.t.Helper()
	if got := r.todo(); !slices.Equal(got, want) {
		r.t.Errorf("%s:\n  %s\nwant:\n  %s", when, strings.Join(got, "\n  "), strings.Join(want, "\n  "))
	}
}

// withFindings is a job with findings of an earlier one, each on its thing.
func withFindings(t *testing.T, plan []byte, by procedure.Disposition, on ...string) *surveyRig {
	t.Helper()
	var s Start
	for i, thing := range on {
		s.Carried = append(s.Carried, carried(fmt.Sprintf("3/%d-a", i+1), thing, by))
	}
	return newSurveyRigOn(t, plan, s)
}

// have puts parts for things on the list and takes them in.
func (r *surveyRig) have(things ...string) {
	r.t.Helper()
	for _, text := range things {
		r.must(list(text))
		no, ref := len(r.job.Parts()), thing(r.t, text)
		r.must(move(PartRead, no, ref.Code))
		r.must(move(PartOrder, 0, ""))
		if ref.Kind == wing.KindLine {
			r.do(ProcReceipt, text)
			continue
		}
		r.must(move(PartTaken, no, "new, soft, fits"))
	}
}

// One cut line from the first look to the first flight.
func TestTheAgendaOfOneLine(t *testing.T) {
	r := newSurveyRig(t)
	r.wantTodo("nothing done", "damage-survey wing: can be done now")
	r.begin(ProcSurvey, wing.Whole())
	r.wantTodo("survey begun", "damage-survey wing: under way", "release wing: later")
	r.find("line:A1.1@left", "cut")
	r.pass("")
	const swap, later = "line-swap line:A1.1@left: waits for a part", "release wing: later"
	r.wantTodo("survey done", "Put 2 parts on the order list: can be done now", swap, later)

	r.must(list("line:A1.1@left"))
	r.must(list("retainer:A@left"))
	r.wantTodo("listed", "Read back and order 2 parts: can be done now", swap, later)
	r.must(move(PartRead, 1, "A1.1"))
	r.must(move(PartRead, 2, "A"))
	r.must(move(PartOrder, 0, ""))
	r.wantTodo("ordered", "part-receipt line:A1.1@left: waits for a part", "Receive retainer of link A left: waits for a part", swap, later)
	r.must(move(PartTaken, 2, "new, soft, fits"))
	r.do(ProcReceipt, "line:A1.1@left")
	r.wantTodo("received", "line-swap line:A1.1@left: can be done now", later)
	r.must(move(PartReturn, 1, "10 mm long"))
	r.wantTodo("sent back", "Read back and order 1 part: can be done now", swap, later)
	r.must(move(PartRead, 1, "A1.1"))
	r.must(move(PartOrder, 0, ""))
	r.do(ProcReceipt, "line:A1.1@left")

	r.begin(ProcSwap, wing.LineRef("A1.1", wing.Left))
	r.wantTodo("swap begun", "line-swap line:A1.1@left: under way", later)
	r.pass("")
	r.wantTodo("swapped", "trim-after wing: can be done now", later)
	r.do(ProcTrimAfter, "wing")
	r.wantTodo("measured", "release wing: can be done now")
	r.do(ProcRelease, "wing")
	r.wantTodo("released", "first-flight wing: can be done now")
	r.do(ProcFirstFlight, "wing")
	r.wantTodo("flown")

	r.do(ProcSwap, "line:C1.1@left")
	r.wantTodo("worked on again", "trim-after wing: can be done now", later)
	r.do(ProcTrim, "wing")
	r.wantTodo("measured whole", "release wing: can be done now")
	r.do(ProcRelease, "wing")
	r.wantTodo("released again", "first-flight wing: can be done now")
}

// Two lines on one link: it is opened once, and what is left on it comes first
// until it is closed.
func TestTheAgendaOfTwoLinesOnOneLink(t *testing.T) {
	r := withFindings(t, screwed(t), procedure.Replace, "line:A1.1@left", "line:C1.1@left", "line:A2.3@left")
	r.have("line:A1.1@left", "line:A2.3@left", "line:C1.1@left", "retainer:A@left", "retainer:C@left")
	const swap, later = "line-swap line:C1.1@left: can be done now", "release wing: later"
	r.wantTodo("found",
		"link-opening link:A@left: can be done now", "line-exchange line:A1.1@left: later", "line-exchange line:A2.3@left: later", "link-reclosure link:A@left: later",
		swap, later)

	r.do(ProcOpening, "link:A@left")
	after := "trim-after wing: later"
	r.wantTodo("open",
		"line-exchange line:A1.1@left: can be done now", "line-exchange line:A2.3@left: can be done now", "link-reclosure link:A@left: later",
		swap, after, later)
	r.begin(ProcExchange, wing.LineRef("A1.1", wing.Left))
	r.wantTodo("one under way",
		"line-exchange line:A1.1@left: under way", "line-exchange line:A2.3@left: can be done now", "link-reclosure link:A@left: later",
		swap, after, later)
	r.pass("")
	r.do(ProcExchange, "line:A2.3@left")
	r.wantTodo("both exchanged", "link-reclosure link:A@left: can be done now", swap, after, later)
	r.do(ProcClosing, "link:A@left")
	r.wantTodo("closed", swap, after, later)
	r.do(ProcSwap, "line:C1.1@left")
	r.wantTodo("all done", "trim-after wing: can be done now", later)
}

// While one part is missing the link stays closed.
func TestALinkIsNotOpenedForAPartThatIsNotThere(t *testing.T) {
	r := withFindings(t, screwed(t), procedure.Replace, "line:A1.1@left", "line:A2.3@left")
	r.have("line:A1.1@left", "retainer:A@left")
	r.wantTodo("one part is missing", "Put 1 part on the order list: can be done now",
		"link-opening link:A@left: waits for a part", "line-exchange line:A1.1@left: later", "line-exchange line:A2.3@left: later", "link-reclosure link:A@left: later",
		"release wing: later")
	r.do(ProcOpening, "link:A@left")
	if got := r.todo()[1]; got != "line-exchange line:A2.3@left: waits for a part" {
		t.Errorf("opened all the same: %s", got)
	}
}

// Each thing goes to the procedure that renews it, or that puts it right.
func TestTheAgendaNamesTheProcedure(t *testing.T) {
	onRiser := []byte(strings.Replace(string(screwed(t)), "on = \"link:B\"\npos = 3", "on = \"riser:B\"\npos = 1", 1))
	soft := read(t, "../trim/testdata/small.toml")
	sewn := []byte(strings.Replace(string(screwed(t)), "code = \"C2.4\"", "code = \"C2.4\"\nsewn = true", 1))
	for _, c := range []struct {
		plan []byte
		on   string
		by   procedure.Disposition
		want string
	}{
		{screwed(t), "line:C1.1@left", procedure.Replace, "line-swap line:C1.1@left"},
		{screwed(t), "line:Br1.1@left", procedure.Replace, "brake-main line:Br1.1@left"},
		{screwed(t), "line:Br2.1@left", procedure.Replace, "Give Br2.1 left to a workshop"},
		{sewn, "line:C2.4@left", procedure.Replace, "Give C2.4 left to a workshop"},
		{onRiser, "line:S1.1@left", procedure.Replace, "riser-line line:S1.1@left"},
		{screwed(t), "retainer:C@left", procedure.Replace, "retainer-renewal link:C@left"},
		{screwed(t), "retainer:C@left", procedure.Mend, "retainer-renewal link:C@left"},
		{screwed(t), "link:C@left", procedure.Mend, "link-reclosure link:C@left"},
		{screwed(t), "link:C@left", procedure.Replace, "link-renewal link:C@left"},
		{soft, "link:C@left", procedure.Replace, "soft-link link:C@left"},
		{screwed(t), "pulley@left", procedure.Replace, "brake-fittings brakes"},
		{screwed(t), "handle@left", procedure.Replace, "brake-fittings brakes"},
		{screwed(t), "parking@left", procedure.Replace, "brake-fittings brakes"},
		{screwed(t), "knot@left", procedure.Mend, "pulley-relocation brakes"},
		{screwed(t), "knot@left", procedure.Replace, "brake-main line:Br1.1@left"},
		{screwed(t), "riser:C@left", procedure.Workshop, "Give riser C left to a workshop"},
		{screwed(t), "cloth@left", procedure.Workshop, "Give cloth left to a workshop"},
		{screwed(t), "line:C1.1@left", procedure.ByLength, "trim-measure wing"},
		{screwed(t), "line:C1.1@left", procedure.Watch, "Say what becomes of 1 finding that may wait"},
	} {
		r := withFindings(t, c.plan, c.by, c.on)
		if !slices.ContainsFunc(r.todo(), func(text string) bool { return strings.HasPrefix(text, c.want+":") }) {
			t.Errorf("%s, %s: %q, want %q", c.on, c.by, r.todo(), c.want)
		}
	}
}

// A stabilo line and a brake main are renewed with their twins.
func TestTheAgendaOfAPair(t *testing.T) {
	r := withFindings(t, screwed(t), procedure.Replace, "line:S1.1@right", "line:Br1.1@left")
	r.have("line:S1.1@right", "line:S1.1@left", "line:Br1.1@left", "retainer:B@right")
	r.must(list("line:Br1.1@right"))
	r.wantTodo("found",
		"Read back and order 1 part: can be done now", "brake-main line:Br1.1@left: can be done now",
		"line-pair line:S1.1@left: can be done now", "brake-main line:Br1.1@right: waits for a part", "release wing: later")
	r.do(ProcPair, "line:S1.1@left")
	if f := r.job.Findings()[0]; r.state(f) != StateMended {
		t.Errorf("the finding on the twin is %s", r.state(f))
	}
}

// What was begun says how it stands.
func TestTheAgendaOfWhatWasBegun(t *testing.T) {
	r := newSurveyRig(t)
	swap := r.begin(ProcSwap, wing.LineRef("A1.1", wing.Left))
	r.must(Entry{Kind: EnterLayDown, Task: swap, Text: "dark"})
	fittings := r.begin(ProcFittings, wing.Brakes())
	r.types("1")
	r.begin(ProcSurvey, wing.Whole())
	r.find("line:A1.1@left", "stain")
	r.pass("fittings@left")
	r.must(Entry{Kind: EnterReopen, Task: 3, Key: "row@C.left", Text: "again"})
	dropped := r.begin(ProcSwap, wing.LineRef("C1.1", wing.Left))
	r.must(Entry{Kind: EnterDrop, Task: dropped, Text: "not it"})
	r.wantTodo("begun", "line-swap line:A1.1@left: laid down", "brake-fittings brakes: under way", "damage-survey wing: void", "release wing: later")
	list := r.job.Agenda()
	for i, why := range []string{"dark", "one side of the pair is done, the other is not", "answers in it no longer count"} {
		if list[i].Why != why {
			t.Errorf("why %q, want %q", list[i].Why, why)
		}
	}
	if list[1].Task != fittings {
		t.Errorf("task %d", list[1].Task)
	}
}

// A task that has its link open comes first and says so, laid down or not.
func TestAnOpenLinkComesFirst(t *testing.T) {
	r := withTask(t)
	r.to("turns_closed")
	first := r.job.Agenda()[0]
	if first.Task != 1 || first.Why != "link C left IS OPEN" || first.State != TodoHere {
		t.Errorf("%+v", first)
	}
	r.must(Entry{Kind: EnterLayDown, Text: "wind", Safe: []string{"1", "3", "1", "1"}})
	if first := r.job.Agenda()[0]; first.State != TodoLaid || first.Why != "link C left IS OPEN; wind" {
		t.Errorf("laid down: %+v", first)
	}
}

// Work that ends after the measuring began is measured again.
func TestWorkAfterTheMeasuringIsMeasuredAgain(t *testing.T) {
	r := newSurveyRig(t)
	r.do(ProcSwap, "line:A1.1@left")
	late := r.begin(ProcSwap, wing.LineRef("C1.1", wing.Left))
	r.do(ProcTrimAfter, "wing")
	r.must(Entry{Kind: EnterOn, Task: late})
	r.wantTodo("the second swap ended last", "trim-after wing: can be done now", "release wing: later")
}

// A finding for which a length decides is measured, then cleared by a person.
func TestTheAgendaOfALength(t *testing.T) {
	r := withFindings(t, screwed(t), procedure.ByLength, "line:A1.1@left", "line:C1.1@left")
	r.begin(ProcTrim, wing.Whole())
	r.upTo("", map[string]int{"C1 left": 15})
	r.wantTodo("C1 is outside", "Put 2 parts on the order list: can be done now",
		"line-swap line:C1.1@left: waits for a part", "Clear the finding on A1.1 left: can be done now", "release wing: later")
	if why := r.job.Agenda()[1].Why; why != "a path through it was measured outside" {
		t.Errorf("it is swapped because %q", why)
	}
	r.have("line:C1.1@left", "retainer:C@left")
	r.do(ProcSwap, "line:C1.1@left")
	r.wantTodo("renewed", "Clear the finding on A1.1 left: can be done now", "trim-after wing: can be done now", "release wing: later")
}

// Work that a survey asks for is put off until it has looked everywhere; what
// is begun all the same is asked about with its reason.
func TestTheAgendaDuringASurvey(t *testing.T) {
	r := newSurveyRig(t)
	r.begin(ProcSurvey, wing.Whole())
	r.find("line:A1.1@left", "cut")
	r.wantTodo("a line was found cut", "damage-survey wing: under way", "Put 2 parts on the order list: can be done now",
		"line-swap line:A1.1@left: later", "release wing: later")
	want := []string{"", "", "This comes later: after the survey. The part for A1.1 left is not at hand", "This comes later: refused while anything keeps the wing on the ground"}
	for i, todo := range r.job.Agenda() {
		if todo.Wait() != want[i] {
			t.Errorf("%s waits: %q, want %q", todo.What, todo.Wait(), want[i])
		}
	}
}
