package job

import (
	"slices"
	"strings"
	"testing"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
)

// lookRig has a wing and all shipped procedures.
type lookRig struct {
	*trimRig
	parts map[string][]string // SHA-256 of what a procedure includes
	cards []string            // that were answered
	keys  int                 // without those of signatures
}

func newLookRig(t testing.TB) *lookRig {
	return newLookRigOn(t, read(t, "../../procedures/sample/plan.toml"))
}

func newLookRigOn(t testing.TB, plan []byte) *lookRig {
	t.Helper()
	r := &lookRig{trimRig: &trimRig{rig: &rig{t: t, pins: memory{}, sitting: 1, who: "ann"}, shas: map[string]string{}}, parts: map[string][]string{}}
	r.job = New(r.pins)
	r.apply(Begin(r.stamp(), Start{Job: 7, WingID: "cloth", WingName: "Cloth", Plan: r.pins.pin(plan), Bench: *bench("I", metrology.PullWeight, 1, 500)}))
	for _, id := range []string{ProcSurvey, ProcRelease, ProcFirstFlight, ProcTrim, "wing-look"} {
		r.shas[id] = r.pins.pin(read(t, "../../procedures/"+id+".toml"))
	}
	r.parts[ProcSurvey] = []string{r.shas["wing-look"], r.shas[ProcTrim]}
	r.parts[ProcRelease] = []string{r.shas["wing-look"]}
	return r
}

// adding is the entry that begins a task.
func (r *lookRig) adding(id string, target wing.Ref) Entry {
	return Entry{Kind: EnterAdd, Add: &Add{Procedure: id, Edition: "1", SHA256: r.shas[id], Parts: r.parts[id], Target: target}}
}

// on begins a task on the whole wing.
func (r *lookRig) on(id string) int {
	r.t.Helper()
	r.must(r.adding(id, wing.Whole()))
	return len(r.job.Tasks)
}

// signers are the people of these tests.
var signers = map[procedure.Role]string{procedure.Doer: "ann", procedure.Second: "bea", procedure.Pilot: "cal"}

// until answers the newest task until a step is due: with what is given for its
// key, else with the right answer or the first; all that is looked at is sound.
func (r *lookRig) until(key string, given map[string]string) {
	r.t.Helper()
	no := len(r.job.Tasks)
	task := r.job.Tasks[no-1]
	for r.due() != key && r.due() != "" {
		slot, _ := task.Unfolded.Slot(r.due())
		if slot.Card.By == procedure.Second && task.looker == "" {
			r.must(Entry{Kind: EnterLook, Task: no, Text: signers[procedure.Second]})
		}
		if !slices.Contains(r.cards, slot.CardKey) {
			r.cards = append(r.cards, slot.CardKey)
		}
		text, said := given[slot.Key]
		switch {
		case slot.Step.Kind == procedure.Sign:
			name := signers[slot.Step.Role]
			r.sign(no, slot.Key, name, "SHA256:"+name)
			continue
		case slot.Step.Kind == procedure.Lengths:
			r.row(nil)
			continue
		case !said:
			text = r.right(task, slot)
		}
		r.keys += len(text) + 1
		if e := r.must(r.typing(text)); e.Outcome != Taken {
			r.t.Fatalf("%s: %q is noted: %+v", slot.Key, text, e.Why)
		}
	}
}

// right is the answer that lets a step go on.
func (r *lookRig) right(task *Task, slot *procedure.Slot) string {
	switch slot.Step.Kind {
	case procedure.Inspect, procedure.Choose:
		return "1"
	case procedure.Check:
		i := slices.IndexFunc(slot.Step.Options, func(o procedure.Option) bool { return o.Right })
		return slot.Step.Options[i].ID
	case procedure.Count:
		if strings.HasPrefix(slot.Key, "second") {
			return procedure.Print(float64(len(task.damaged())))
		}
		return "15"
	case procedure.Code:
		if slot.Step.ID == "second_mark" {
			return task.damagedLines()[0]
		}
		return r.job.Plan.Lines[0].Code
	case procedure.Note:
		return "hedge at launch"
	}
	return ""
}

// finds marks something in the step that is due.
func (r *lookRig) finds(thing, rule, place string) *Finding {
	r.t.Helper()
	ref, err := wing.ParseRef(thing)
	if err != nil {
		r.t.Fatal(err)
	}
	e := r.must(Entry{Kind: EnterFinding, Task: len(r.job.Tasks), Seen: &Seen{Thing: ref, Rule: rule, Place: place}})
	f, ok := r.job.Finding(e.Finding)
	if !ok {
		r.t.Fatalf("%s is not kept", e.Finding)
	}
	return f
}

// noted types a text that must be noted and not taken, with a reason.
func (r *lookRig) noted(text string, want Code) {
	r.t.Helper()
	e, err := r.try(text)
	if err != nil || e.Outcome != Open || e.Why == nil || e.Why.Code != want {
		r.t.Errorf("%s: %q gives %+v %v, want it noted as %s", r.due(), text, e.Why, err, want)
	}
}

// swap exchanges a line of the left side, as short as can be.
func (r *lookRig) swap(code string) int {
	r.t.Helper()
	no := len(r.job.Tasks) + 1
	r.must(Entry{Kind: EnterAdd, Add: &Add{Procedure: ProcSwap, Edition: "1", SHA256: r.pins.pin(tiny(ProcSwap)), Target: wing.LineRef(code, wing.Left)}})
	r.must(Entry{Kind: EnterOn, Task: no})
	return no
}

// blockers are what keeps the wing on the ground, as the newest task is told.
func (r *lookRig) blockers() string {
	var out []string
	for _, it := range r.job.Blocking(len(r.job.Tasks), r.stamp().At) {
		out = append(out, it.Text)
	}
	return strings.Join(out, "\n")
}
