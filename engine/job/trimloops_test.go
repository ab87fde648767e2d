package job

import (
	"reflect"
	"strings"
	"testing"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/trim"
	"example.org/linewright/engine/wing"
)

// longC is C1.1 too long on both sides by 12 mm: one extra turn of 10 mm mends
// both.
var longC = map[string]int{"C1 left": 12, "C2 left": 12, "C1 right": 12, "C2 right": 12}

func TestLoopsAreChosen(t *testing.T) {
	r := newTrimRig(t)
	r.upTo("loops", longC)
	e := r.must(r.typing("plain"))
	if e.Text != "all plain" || e.Loops.Outcome != trim.Found || !e.Loops.Proved || !e.Loops.LoopFallback {
		t.Fatalf("%q %+v", e.Text, e.Loops)
	}
	want := []trim.LoopChange{
		{Line: wing.LineRef("C1.1", wing.Left), From: "plain", To: "wrapped", MovesMM: -10},
		{Line: wing.LineRef("C1.1", wing.Right), From: "plain", To: "wrapped", MovesMM: -10},
	}
	if !reflect.DeepEqual(r.job.LoopChanges(), want) {
		t.Errorf("%+v", r.job.LoopChanges())
	}
	c, _ := r.job.CardAt(1, "loops")
	f := c.Fields[c.At]
	if f.Loops == nil || f.Answer != "all plain. 2 loops to change: proved to be the fewest that keep all limits." {
		t.Errorf("%q", f.Answer)
	}
	r.upTo("", nil)
	r.work(wing.LineRef("C1.1", wing.Left))
	if left := r.job.LoopChanges(); len(left) != 1 || left[0].Line.Side != wing.Right {
		t.Errorf("after one was done: %+v", left)
	}
	r.must(Entry{Kind: EnterReopen, Task: 1, Key: "loops", Text: "looked at again"})
	if left := r.job.LoopChanges(); left != nil {
		t.Errorf("after the step was opened again: %+v", left)
	}
}

// A loop change that was done before the choice does not answer it.
func TestAnOlderLoopChangeDoesNotCount(t *testing.T) {
	r := newTrimRig(t)
	r.work(wing.LineRef("C1.1", wing.Left))
	r.begin("trim-test", wing.Whole())
	r.upTo("", longC)
	if left := r.job.LoopChanges(); len(left) != 2 {
		t.Errorf("%+v", left)
	}
}

// The table of the wing itself serves where somebody measured it.
func TestTheWingsOwnLoopsServe(t *testing.T) {
	own := &trim.LoopTable{Source: "measured by ann", Loops: []trim.Loop{{Code: "plain"}, {Code: "half turn", Shortens: 7 * quantity.Millimetre}}}
	r := newTrimRigWith(t, Start{Bench: *bench("I", metrology.PullWeight, 1, 500), Loops: own})
	r.upTo("loops", longC)
	e := r.must(r.typing("A1.1 half turn"))
	if e.Text != "A1.1 left half turn, A1.1 right half turn; all others plain" || e.Loops.LoopFallback || e.Loops.LoopSource != "measured by ann" {
		t.Errorf("%q %+v", e.Text, e.Loops)
	}
	if len(e.Loops.Changes) != 2 || e.Loops.Changes[0].To != "half turn" {
		t.Errorf("%+v", e.Loops.Changes)
	}
}

func TestLoopsAsTheyAreTyped(t *testing.T) {
	r := newTrimRig(t)
	for text, want := range map[string]string{
		"plain":                           "all plain",
		"C1.2 left wrapped, B1.1 hitched": "B1.1 left hitched, B1.1 right hitched, C1.2 left wrapped; all others plain",
		"plain; C1.2@right twice":         "C1.2 right twice; all others plain",
		"C1.2 R wrapped,C1.2 l hitched":   "C1.2 left hitched, C1.2 right wrapped; all others plain",
		"C1.2 plain":                      "all plain",
		"C1.2 left wrapped, C1.2 wrapped": string(OrderTwice),
		"c1.2 wrapped":                    string(LoopLine),
		"C2.1 wrapped":                    string(LoopLine),
		"Br1.1 wrapped":                   string(LoopLine),
		"C1.2@up wrapped":                 string(LoopLine),
		"C1.2 Wrapped":                    string(LoopUnknown),
		"C1.2":                            string(LoopUnknown),
		"C1.2 left":                       string(LoopUnknown),
		"wrapped":                         string(LoopLine),
		"C1.2 left wrapped B1.1 hitched":  string(LoopUnknown),
	} {
		loops, err := r.job.readLoops(text)
		got := string(code(err))
		if err == nil {
			got = r.job.loopWords(loops)
		}
		if got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

// 30 mm long on one side and right on the other: no loop serves both. That is
// an answer, and the preview does not search for it.
func TestThatNoLoopHelpsIsAnAnswer(t *testing.T) {
	r := newTrimRig(t)
	r.upTo("loops", map[string]int{"C1 left": 30, "C2 left": 30})
	text, err := r.job.Understood(r.stamp(), r.typing("plain"))
	if err != nil || text != "all plain" {
		t.Errorf("preview %q %v", text, err)
	}
	e := r.must(r.typing("plain"))
	if e.Outcome != Taken || e.Loops.Outcome != trim.Impossible || len(e.Loops.Obstacles) == 0 || r.due() != "tools" {
		t.Errorf("%+v, due %s", e.Loops, r.due())
	}
	if len(r.job.LoopChanges()) != 0 {
		t.Errorf("%+v", r.job.LoopChanges())
	}
}

// A procedure that asks for loops without a report before them has a fault.
func TestLoopsNeedAReport(t *testing.T) {
	r := newTrimRig(t)
	r.upTo("loops", nil)
	d := &decider{j: r.job, task: r.job.Tasks[0]}
	d.slot, _ = d.task.Unfolded.Slot("row@A")
	if err := d.loops("plain"); code(err) != Fault || !strings.Contains(err.Error(), "no trim was reported") {
		t.Errorf("%v", err)
	}
}
