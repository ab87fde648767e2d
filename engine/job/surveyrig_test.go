package job

import (
	"fmt"
	"strings"
	"testing"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
)

// tinies are the procedures that an agenda names, one step each: what stands in
// the head, and what in the step.
var tinies = map[string]struct{ head, step string }{
	ProcReceipt:     {`target = "line"` + "\nreceives = true", `kind = "do"`},
	ProcSwap:        {`target = "line"` + "\n" + `mends = ["line"]` + "\n" + `puts_right = ["link", "retainer"]`, `kind = "do"`},
	ProcOpening:     {`target = "link"`, `kind = "do"` + "\nopens = true"},
	ProcExchange:    {`target = "line"` + "\n" + `mends = ["line"]`, `kind = "do"`},
	ProcClosing:     {`target = "link"` + "\n" + `puts_right = ["link", "retainer"]`, `kind = "do"` + "\ncloses = true"},
	ProcRenewLink:   {`target = "link"` + "\n" + `mends = ["link"]`, `kind = "do"`},
	ProcRetainer:    {`target = "link"` + "\n" + `mends = ["retainer"]`, `kind = "do"`},
	ProcSoftLink:    {`target = "link"` + "\n" + `mends = ["link"]`, `kind = "do"`},
	ProcBrakeMain:   {`target = "line"` + "\n" + `mends = ["line", "knot"]`, `kind = "do"`},
	ProcPulleys:     {`target = "brakes"` + "\n" + `puts_right = ["knot"]` + "\npair = true", `kind = "do"` + "\n" + `each = "side"` + "\nalters = true"},
	ProcFittings:    {`target = "brakes"` + "\n" + `mends = ["pulley"]` + "\npair = true", `kind = "choose"` + "\n" + `each = "side"` + "\nalters = true\n" + `mends = "pulley"` + "\n" + `option = [{ id = "a", text.en = "a" }, { id = "b", text.en = "b" }]`},
	ProcFirstFlight: {`target = "wing"`, `kind = "do"`},
	ProcPair:        {`target = "line"` + "\n" + `mends = ["line"]` + "\npair = true", `kind = "do"`},
}

func tiny(id string) []byte {
	p := tinies[id]
	return fmt.Appendf(nil, `linewright_procedure = 1
id = %q
edition = "1"
title.en = %q
%s
[[phase]]
id = "work"
title.en = "Work"
[[phase.card]]
id = "work"
action.en = "WORK"
reason.en = "So."
[[phase.card.step]]
id = "done"
ask.en = "Worked"
%s
`, id, id, p.head, p.step)
}

// surveyRig is a rig on the small plan with all procedures that an agenda
// names, and no task yet.
type surveyRig struct{ *trimRig }

func newSurveyRig(t testing.TB) *surveyRig {
	return newSurveyRigOn(t, read(t, "../trim/testdata/small.toml"), Start{})
}

func newSurveyRigOn(t testing.TB, plan []byte, s Start) *surveyRig {
	t.Helper()
	r := &surveyRig{&trimRig{rig: &rig{t: t, pins: memory{}, sitting: 1, who: "ann"}, shas: map[string]string{}}}
	r.job = New(r.pins)
	s.Job, s.WingID, s.WingName, s.Plan = 7, "napkin", "Napkin", r.pins.pin(plan)
	s.Bench = *bench("I", metrology.PullWeight, 1, 500)
	r.apply(Begin(r.stamp(), s))
	for id := range tinies {
		r.shas[id] = r.pins.pin(tiny(id))
	}
	for id, file := range map[string]string{ProcSurvey: "survey", ProcRelease: "release", ProcTrim: "trim", ProcTrimAfter: "after", ProcLoop: "loop"} {
		text := strings.NewReplacer(`"trim-test"`, `"trim-measure"`, `"after-test"`, `"trim-after"`).Replace(string(read(t, "testdata/"+file+".toml")))
		r.shas[id] = r.pins.pin([]byte(text))
	}
	return r
}

// surveyed has a survey under way as its first task.
func surveyed(t testing.TB) *surveyRig {
	r := newSurveyRig(t)
	r.begin(ProcSurvey, wing.Whole())
	return r
}

// pass answers the newest task until a step is due: all that is looked at is
// sound, first answers are taken, and every hold is signed.
func (r *surveyRig) pass(key string) {
	r.t.Helper()
	task := r.job.Tasks[len(r.job.Tasks)-1]
	for due := r.due(); due != key && due != ""; due = r.due() {
		slot, _ := task.Unfolded.Slot(due)
		if slot.Card.By == procedure.Second && task.looker == "" {
			r.must(Entry{Kind: EnterLook, Task: task.No, Text: "bea"})
		}
		switch slot.Step.Kind {
		case procedure.Inspect, procedure.Choose:
			r.types("1")
		case procedure.Count:
			r.types(fmt.Sprint(len(task.damaged())))
		case procedure.Lengths:
			r.row(nil)
		case procedure.Loops:
			r.types(plainLoop)
		case procedure.Sign:
			name := map[procedure.Role]string{procedure.Doer: "ann", procedure.Second: "bea", procedure.Pilot: "pat"}[slot.Step.Role]
			r.sign(task.No, due, name, "SHA256:"+name)
		default:
			r.types("")
		}
	}
}

// do begins a task, does all of it and gives its number.
func (r *surveyRig) do(id, target string) int {
	r.t.Helper()
	no := r.begin(id, thing(r.t, target))
	r.pass("")
	return no
}

func thing(t testing.TB, text string) wing.Ref {
	t.Helper()
	ref, err := wing.ParseRef(text)
	if err != nil {
		t.Fatal(err)
	}
	return ref
}

// seen is a finding as it is entered in the newest task; place may be "".
func (r *surveyRig) seen(on, rule, place string) Entry {
	return Entry{Kind: EnterFinding, Task: len(r.job.Tasks), Seen: &Seen{Thing: thing(r.t, on), Rule: rule, Place: place}}
}

// find walks to the step that looks at a thing and enters a finding there.
func (r *surveyRig) find(on, rule string) *Finding {
	r.t.Helper()
	ref := thing(r.t, on)
	key := "fittings@" + string(ref.Side)
	if l, ok := r.job.Plan.LineAt(ref); ok && ref.Kind == wing.KindLine {
		key = "row@" + l.Row + "." + string(ref.Side)
	}
	r.pass(key)
	e := r.must(r.seen(on, rule, ""))
	f, _ := r.job.Finding(e.Finding)
	return f
}

// state says what became of a finding.
func (r *surveyRig) state(f *Finding) FindingState {
	s, _ := r.job.StateOf(f)
	return s
}
