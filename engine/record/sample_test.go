package record

import (
	"testing"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

// fallbackBench is a bench that nobody described, by the simple rule.
func fallbackBench() metrology.Bench {
	return metrology.Bench{
		Name: "test bench", Default: true, Note: "a fallback, invented for tests: tape class II, 1 mm graduation",
		Rule: metrology.RuleSimple, TapeClass: "II", Graduation: quantity.Millimetre, Pull: 50 * quantity.Newton,
	}
}

// describedBench has every key that a profile can have, a fallback in some, so
// that the golden record keeps how each of them is said.
func describedBench() metrology.Bench {
	return metrology.Bench{
		Name: "room under the stairs", Note: "invented for tests", Fallback: []string{"air_error_c", "repeatability_dof"},
		Rule: metrology.RuleBudget, TapeClass: metrology.ClassCalibrated, Graduation: quantity.Millimetre,
		Pull: 52 * quantity.Newton, PullHow: metrology.PullBalance, PullError: quantity.Newton,
		Balance:      &metrology.BalanceCheck{Known: 50 * quantity.Newton, Shown: 51500 * quantity.Millinewton, Date: "2026-04-30"},
		TapeMaterial: "glass fibre", TapeExpansionPerC: 8e-6,
		Calibration: &metrology.Calibration{ErrorUMPerM: 40, U: 300 * quantity.Micrometre, Date: "2026-03-15"},
		TapeRun: &metrology.TapeRun{
			Hangs: true, Pull: 40 * quantity.Newton, PullError: 5 * quantity.Newton, ReferencePull: 20 * quantity.Newton,
			WeightNPerM: 0.1, SectionMM2: 2.6, ModulusGPa: 40,
		},
		Pin: 6 * quantity.Millimetre, AirC: 12, AirErrorC: 5,
		Repeatability: 700 * quantity.Micrometre, RepeatabilityDoF: 10,
	}
}

// sample is a job in which everything happens that a record has to tell: a
// wrong code, an implausible and a struck reading, an interruption, the bench
// described anew, a look that did not agree, a step opened again after its
// signature, a value that is not proved and was taken, an open item, a task
// laid down.
func sample(t testing.TB, demo bool) *walk {
	t.Helper()
	w := newWalk(t, demo)
	w.add("C1", wing.Left, "sheath cut near the link")
	w.on(1)
	w.say(1, "1")
	w.photo(1, "not really a picture")
	w.say(1, "c1")
	w.say(1, "C1")
	w.say(1, "420,5")
	odd := w.say(1, "4290")
	w.enter(job.Entry{Kind: job.EnterStrike, Line: odd, Text: "read at the wrong loop"})
	w.say(1, "420.6 cm")
	w.say(1, "4207")
	w.on(1)
	w.say(1, "5")
	w.say(1, "C1 C2 c3")
	w.say(1, "5.25")
	w.enter(job.Entry{Kind: job.EnterNote, Task: 1, Text: "wind got up, wing packed for the night; the retainer is new"})
	w.day, w.min, w.sit = 3, 8*60, 2
	w.on(1)
	bench := describedBench()
	w.enter(job.Entry{Kind: job.EnterBench, Bench: &bench})
	w.measureInstalled("4198", "4202")
	w.look(1, "bea.example")
	w.say(1, "2")
	w.enter(job.Entry{Kind: job.EnterDisagree, Task: 1, Text: "C2 goes round the back of C1"})
	w.say(1, "C1 C2 c3")
	w.say(1, "5")
	w.measureInstalled("4198", "4202")
	w.look(1, "bea.example")
	w.say(1, "1")
	w.sign(1, "bea.example")
	w.enter(job.Entry{Kind: job.EnterReopen, Task: 1, Key: "closing.twin_length", Text: "the twin was not at the pull"})
	w.measureInstalled("4199", "4203")
	w.look(1, "bea.example")
	w.say(1, "1")
	w.sign(1, "bea.example")
	w.say(1, "2 too much wind")
	w.sign(1, "ann.example")
	w.add("C1", wing.Right, "the pair of C1 left")
	w.on(2)
	w.enter(job.Entry{Kind: job.EnterLayDown, Task: 2, Text: "waiting for the part; link never opened, tag on"})
	w.enter(job.Entry{Kind: job.EnterClose, Text: "C1 left is in; C1 right waits for its part"})
	return w
}

// twists is a job in which what was done is turned over more than once: an
// answer that stood twice and was then given anew, two people who looked and
// never signed, a look in an interrupted task.
func twists(t testing.TB) *walk {
	t.Helper()
	w := newWalk(t, false)
	w.add("C2", wing.Left, "")
	w.on(1)
	w.say(1, "1")
	for range 2 {
		w.enter(job.Entry{Kind: job.EnterReopen, Task: 1, Key: "tagged", Text: "the tag had fallen off"})
		w.on(1)
		w.enter(job.Entry{Kind: job.EnterStands, Task: 1})
	}
	w.enter(job.Entry{Kind: job.EnterReopen, Task: 1, Key: "tagged", Text: "again"})
	w.on(1)
	w.say(1, "1")
	w.on(1)
	for _, typed := range []string{"C2", "4229", "4230"} {
		w.say(1, typed)
	}
	w.on(1)
	for _, typed := range []string{"5", "C1 C2 c3", "5", "4229"} {
		w.say(1, typed)
	}
	n := w.enter(job.Entry{Kind: job.EnterNote, Task: 1, Text: "the left riser is worn"})
	w.enter(job.Entry{Kind: job.EnterStrike, Line: n, Text: "it was the right one"})
	w.say(1, "4230")
	w.on(1)
	w.look(1, "bea.example")
	w.look(1, "cas.example")
	w.say(1, "2")
	w.enter(job.Entry{Kind: job.EnterLayDown, Task: 1, Text: "dark; gate closed, tag on"})
	w.sit = 2
	w.enter(job.Entry{Kind: job.EnterTakeUp, Task: 1})
	w.on(1)
	w.look(1, "bea.example")
	w.enter(job.Entry{Kind: job.EnterLayDown, Task: 1, Text: "too cold"})
	w.enter(job.Entry{Kind: job.EnterClose, Text: "the second look is still to come"})
	return w
}

// toSecondLook goes straight on to the hold of the second person.
func (w *walk) toSecondLook() {
	w.t.Helper()
	w.add("C1", wing.Left, "")
	w.on(1)
	w.say(1, "1")
	w.on(1)
	w.say(1, "C1")
	w.say(1, "4205")
	w.say(1, "4206")
	w.on(1)
	for _, typed := range []string{"5", "C1 C2 c3", "5", "4200"} {
		w.say(1, typed)
	}
	w.say(1, "4201")
	w.on(1)
	w.look(1, "bea.example")
	w.say(1, "1")
}

// measureInstalled measures the twin and the new line beside it, which is not
// proved on the described bench, and takes it by decision.
func (w *walk) measureInstalled(twin, line string) {
	w.t.Helper()
	w.say(1, twin)
	w.say(1, line)
	w.on(1)
	w.enter(job.Entry{Kind: job.EnterDecide, Task: 1, Text: "the set is 200 h old, its neighbours are as short"})
}
