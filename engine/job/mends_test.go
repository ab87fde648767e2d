package job

import (
	"strings"
	"testing"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
)

// screwed is the small plan with screw links.
func screwed(t testing.TB) []byte {
	return []byte(strings.ReplaceAll(string(read(t, "../trim/testdata/small.toml")), `kind = "soft"`, `kind = "screw"`))
}

// What a task ends once it is done, by the thing that was found and by what
// becomes of it: a part that has to be new, or one that is only put right.
func TestWorkMendsWhatItSays(t *testing.T) {
	for _, c := range []struct {
		on   string
		by   procedure.Disposition
		work string
		at   string
		want FindingState
	}{
		{"line:C1.2@left", procedure.Replace, ProcSwap, "line:C1.2@left", StateMended},
		{"line:C1.2@left", procedure.ByLength, ProcSwap, "line:C1.2@left", StateMended},
		{"line:C1.2@right", procedure.Replace, ProcSwap, "line:C1.2@left", StateOpen},
		{"line:C1.1@left", procedure.Replace, ProcSwap, "line:C1.2@left", StateOpen},
		{"line:C1.2@right", procedure.Replace, ProcPair, "line:C1.2@left", StateMended},
		{"line:C1.2@left", procedure.Replace, ProcExchange, "line:C1.2@left", StateMended},
		{"line:C1.2@left", procedure.Replace, ProcClosing, "link:C@left", StateOpen},

		{"link:C@left", procedure.Replace, ProcSoftLink, "link:C@left", StateMended},
		{"link:C@left", procedure.Mend, ProcSoftLink, "link:C@left", StateMended},
		{"link:C@left", procedure.Mend, ProcClosing, "link:C@left", StateMended},
		{"link:C@left", procedure.Replace, ProcClosing, "link:C@left", StateOpen},
		{"link:C@left", procedure.Replace, ProcRenewLink, "link:C@left", StateMended},
		{"link:C@left", procedure.Mend, ProcSwap, "line:C1.2@left", StateMended},
		{"link:B@left", procedure.Mend, ProcSwap, "line:C1.2@left", StateOpen},

		{"retainer:C@left", procedure.Replace, ProcRetainer, "link:C@left", StateMended},
		{"retainer:C@right", procedure.Replace, ProcRetainer, "link:C@left", StateOpen},
		{"retainer:C@left", procedure.Mend, ProcSwap, "line:C1.2@left", StateMended},
		{"retainer:C@left", procedure.Replace, ProcSwap, "line:C1.2@left", StateOpen},

		{"pulley@right", procedure.Replace, ProcFittings, "brakes", StateMended},
		{"handle@right", procedure.Replace, ProcFittings, "brakes", StateOpen},
		{"knot@left", procedure.Mend, ProcPulleys, "brakes", StateMended},
		{"knot@left", procedure.Replace, ProcPulleys, "brakes", StateOpen},
		{"knot@left", procedure.Replace, ProcBrakeMain, "line:Br1.1@left", StateMended},
		{"knot@right", procedure.Replace, ProcBrakeMain, "line:Br1.1@left", StateOpen},
	} {
		r := newSurveyRigOn(t, screwed(t), Start{Carried: []Carried{carried("3/1-a", c.on, c.by)}})
		f := r.job.Findings()[0]
		if got := r.state(f); got != StateOpen {
			t.Fatalf("%s is %s before the work", c.on, got)
		}
		no := r.begin(c.work, thing(t, c.at))
		if got := r.state(f); got != StateOpen {
			t.Errorf("%s is %s as soon as %s is begun", c.on, got, c.work)
		}
		r.pass("")
		got, by := r.job.StateOf(f)
		if got != c.want || (by != nil) != (c.want == StateMended) || by != nil && by.No != no {
			t.Errorf("%s, %s, after %s on %s: %s by %v, want %s", c.on, c.by, c.work, c.at, got, by, c.want)
		}
	}
}

// Of both brakes only what a step renewed on that side is mended.
func TestBrakeFittingsAreMendedSideBySide(t *testing.T) {
	r := newSurveyRigOn(t, screwed(t), Start{Carried: []Carried{
		carried("3/1-a", "pulley@left", procedure.Replace), carried("3/2-a", "pulley@right", procedure.Replace),
	}})
	task := r.job.Tasks[r.begin(ProcFittings, wing.Brakes())-1]
	r.types("1")
	for i, want := range []bool{true, false} {
		if got := task.mendedOn(r.job.Findings()[i].Thing); got != want {
			t.Errorf("one side done, %s: %v", r.job.Findings()[i].Thing, got)
		}
	}
}

// What is found while a task is under way is not mended by it: the new line
// itself may be the one that is damaged.
func TestWorkBegunBeforeMendsNothing(t *testing.T) {
	r := newSurveyRig(t)
	swap := r.begin(ProcSwap, wing.LineRef("A1.1", wing.Left))
	r.begin(ProcSurvey, wing.Whole())
	f := r.find("line:A1.1@left", "cut")
	r.pass("")
	r.must(Entry{Kind: EnterOn, Task: swap})
	if task := r.job.Tasks[swap-1]; task.State() != Done || r.state(f) != StateOpen {
		t.Errorf("the task is %s, the finding %s", task.State(), r.state(f))
	}
	r.do(ProcSwap, "line:A1.1@left")
	if r.state(f) != StateMended {
		t.Errorf("after a swap begun later: %s", r.state(f))
	}
	r.must(Entry{Kind: EnterReopen, Task: len(r.job.Tasks), Key: "done", Text: "crossed"})
	if r.state(f) != StateOpen {
		t.Errorf("the swap was opened again: %s", r.state(f))
	}
}

// A finding of an earlier job comes with its name, its date and its deferral.
func TestCarriedFindings(t *testing.T) {
	was := carried("3/9-ab12", "line:A1.1@left", procedure.Watch)
	was.Deferred = &Deferral{Until: "2026-06-01", Reason: "light", At: was.At, Who: "cal", Job: 3}
	r := newSurveyRigOn(t, screwed(t), Start{Carried: []Carried{was}})
	f, ok := r.job.Finding("3/9")
	if !ok || f.Line != 0 || f.Task != 0 || f.Who != "cal" || r.state(f) != StateDeferred {
		t.Fatalf("%+v, %s", f, r.state(f))
	}
	en := clearing(ByLooking)
	en.Finding = "3/9"
	r.must(en)
	if r.state(f) != StateCleared || f.Clear.Reason != "paper 12" {
		t.Errorf("%s: %+v", r.state(f), f.Clear)
	}
}
