package job

import (
	"os"
	"path/filepath"
	"testing"

	"example.org/linewright/engine/wing"
)

// swapTask adds the shipped line swap on the sample wing.
func swapTask(t testing.TB) *rig {
	t.Helper()
	r := newRig(t)
	add := &Add{Procedure: "line-swap", Edition: "1", Target: wing.LineRef("C1.2", wing.Left)}
	files, err := filepath.Glob("../../procedures/*.toml")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		sha := r.pins.pin(read(t, f))
		switch filepath.Base(f) {
		case "line-swap.toml":
			add.SHA256 = sha
		case "link-opening.toml", "line-exchange.toml", "link-reclosure.toml", "part-check.toml":
			add.Parts = append(add.Parts, sha)
		}
	}
	r.must(Entry{Kind: EnterAdd, Add: add})
	return r
}

func BenchmarkAddSwap(b *testing.B) {
	r := swapTask(b)
	add := r.job.Tasks[0].Add.clone()
	for b.Loop() {
		if _, err := Decide(r.job, r.stamp(), Entry{Kind: EnterAdd, Add: add}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCard(b *testing.B) {
	r := swapTask(b)
	for b.Loop() {
		if _, err := r.job.Card(1, 1); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkUnderstood(b *testing.B) {
	r := swapTask(b)
	for b.Loop() {
		if _, err := r.job.Understood(r.stamp(), Entry{Kind: EnterAnswer, Task: 1, Text: "1"}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkReplay(b *testing.B) {
	plan, err := os.ReadFile("../../procedures/sample/plan.toml")
	if err != nil {
		b.Fatal(err)
	}
	b.SetBytes(int64(len(plan)))
	for b.Loop() {
		swapTask(b)
	}
}

// The first order read off a link is held against the plan: a slip there would
// lead to a crossed pair at the end.
func TestTheFirstOrderIsHeldAgainstThePlan(t *testing.T) {
	r := swapTask(t)
	task, _ := r.job.Task(1)
	slot, ok := task.Unfolded.Slot("opening.order_before")
	if !ok {
		t.Fatal("the swap has no first order")
	}
	d := &decider{j: r.job, st: r.stamp(), task: task, slot: slot}
	if err := d.order("1 3 2"); err != nil || d.ev.Outcome != Open || d.ev.Why.Code != OrderOffPlan {
		t.Errorf("%v %+v", err, d.ev)
	}
	d = &decider{j: r.job, st: r.stamp(), task: task, slot: slot}
	if err := d.order("1 2 3"); err != nil || d.ev.Outcome == Open {
		t.Errorf("the order of the plan: %v %+v", err, d.ev)
	}
}
