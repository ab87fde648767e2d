package job

import (
	"strings"
	"testing"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/trim"
	"example.org/linewright/engine/wing"
)

// shippedRig has the sample wing and the shipped procedures of measuring.
func shippedRig(t testing.TB) *trimRig {
	t.Helper()
	r := &trimRig{rig: &rig{t: t, pins: memory{}, sitting: 1, who: "ann"}, shas: map[string]string{}}
	r.job = New(r.pins)
	plan := r.pins.pin(read(t, "../../procedures/sample/plan.toml"))
	r.apply(Begin(r.stamp(), Start{Job: 7, WingID: "cloth", WingName: "Cloth", Plan: plan, Bench: *bench("I", metrology.PullWeight, 1, 500)}))
	for id, file := range map[string]string{
		ProcTrim: "../../procedures/trim-measure.toml", ProcTrimAfter: "../../procedures/trim-after.toml", ProcLoop: "testdata/loop.toml",
	} {
		r.shas[id] = r.pins.pin(read(t, file))
	}
	return r
}

// say answers the newest task up to a step; what is not given takes the first
// answer.
func (r *trimRig) say(key string, given map[string]string, off map[string]int) {
	r.t.Helper()
	for {
		r.upTo(key, off, given)
		if r.due() == key || r.due() == "" {
			return
		}
		no := len(r.job.Tasks)
		r.sign(no, r.due(), "ann", "SHA256:ann")
	}
}

// The sample wing as a club would do it: measured, two loops proposed, one
// line worked on, and what that changed measured again.
func TestTheShippedMeasuringOfTheSampleWing(t *testing.T) {
	r := shippedRig(t)
	r.begin(ProcTrim, wing.Whole())
	off := map[string]int{}
	for _, point := range r.job.Plan.Points("C1.2") {
		off[point+" left"], off[point+" right"] = 13, 12
	}
	r.say("closing", map[string]string{"follows": "loops"}, off)
	if c, err := r.job.Card(1, r.sitting); err != nil || len(c.Items) != 1 || !strings.HasPrefix(c.Items[0].Text, "paths outside: ") {
		t.Errorf("to be signed for: %+v %v", c.Items, err)
	}
	r.say("", nil, nil)
	if n := len(r.job.PathLengths()); n != 108 {
		t.Errorf("%d lengths of 108 paths", n)
	}
	changes := r.job.LoopChanges()
	if len(changes) != 2 || changes[0].Line != wing.LineRef("C1.2", wing.Left) || changes[0].To != "wrapped" {
		t.Fatalf("%+v", changes)
	}
	if blocked := r.job.blockingLengths(); len(blocked) != len(off) {
		t.Errorf("%d paths keep the wing on the ground, want %d", len(blocked), len(off))
	}
	for _, c := range changes {
		r.work(c.Line)
	}
	after := map[string]int{}
	for path, mm := range off {
		after[path] = mm - 10
	}
	no := r.begin(ProcTrimAfter, wing.Whole())
	r.say("", nil, after)
	c, err := r.job.CardAt(no, "report")
	if err != nil {
		t.Fatal(err)
	}
	f := c.Fields[0]
	if f.Move == nil || !f.Move.Trusted || len(f.Move.Lacking) != 0 || len(f.Trim.Paths) != 108 {
		t.Fatalf("%q %+v", f.Answer, f.Move)
	}
	for _, p := range f.Move.Paths {
		if want := map[trim.Role]float64{trim.RoleChanged: -10}[p.Role]; p.MovedMM != want {
			t.Errorf("%s, %s: moved by %v mm, want %v", p.PathRef, p.Role, p.MovedMM, want)
		}
	}
	if blocked := r.job.blockingLengths(); len(blocked) != 0 {
		t.Errorf("still on the ground: %+v", blocked)
	}
	if len(r.job.LoopChanges()) != 0 {
		t.Errorf("still to change: %+v", r.job.LoopChanges())
	}
	if r.job.Tasks[0].State() != Done || r.job.Tasks[no-1].State() != Done {
		t.Errorf("not done: due %s", r.due())
	}
}
