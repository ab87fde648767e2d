package job

import (
	"slices"
	"strings"
	"testing"

	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/trim"
	"example.org/linewright/engine/wing"
)

const loopFitting = `
linewright_procedure = 1
id = "fitting"
edition = "1"
title.en = "Fitting"
target = "line"
[[phase]]
id = "fit"
title.en = "Fit"
[[phase.card]]
id = "before"
action.en = "LOOK"
reason.en = "So."
[[phase.card.step]]
id = "loop_before"
kind = "choose"
ask.en = "Loop"
option = [{ id = "plain", text.en = "plain" }, { id = "wrapped", text.en = "wrapped" }, { id = "sewn", text.en = "sewn" }]
[[phase.card.step]]
id = "twin_mm"
kind = "measure"
quantity = "length"
state = "installed"
ask.en = "Twin"
[[phase.card.step]]
id = "new_installed"
kind = "measure"
quantity = "length"
state = "installed"
ask.en = "New"
[[phase.card.step]]
id = "loop_after"
kind = "choose"
ask.en = "Loop now"
option = [{ id = "plain", text.en = "plain" }, { id = "wrapped", text.en = "wrapped" }]
`

// fitted measures twin and new line on a line and gives the advice at the loop.
func fitted(t *testing.T, line, loop, twin, fresh string, table *trim.LoopTable) *LoopFit {
	t.Helper()
	r := newRig(t)
	r.job.Start.Loops = table
	ref, err := wing.ParseRef(line)
	if err != nil {
		t.Fatal(err)
	}
	r.must(Entry{Kind: EnterAdd, Add: &Add{Procedure: "fitting", Edition: "1", SHA256: r.pins.pin([]byte(loopFitting)), Target: ref}})
	for _, text := range []string{loop, twin, fresh} {
		r.must(Entry{Kind: EnterAnswer, Text: text})
	}
	c, err := r.job.Card(1, 1)
	if err != nil || c.Key != loopAfterStep {
		t.Fatalf("due: %s, %v", c.Key, err)
	}
	return c.Fields[c.At].LoopFit
}

// By hand, with the fallback 0, 10, 15 and 20 mm: what is left is the new line
// less its twin less what the loop takes more than the one that was on.
func TestTheLoopThatFitsANewLine(t *testing.T) {
	for _, c := range []struct{ loop, twin, fresh, best, each string }{
		{"plain", "4180", "4192", "wrapped fits best: it leaves the new line 2 mm long", "wrapped 2 mm long; hitched 3 mm short; twice 8 mm short; plain 12 mm long"},
		{"plain", "4180", "4180", "plain fits best: it leaves the new line 0 mm off", "plain 0 mm off; wrapped 10 mm short; hitched 15 mm short; twice 20 mm short"},
		{"plain", "4180", "4173", "plain fits best: it leaves the new line 7 mm short", "plain 7 mm short; wrapped 17 mm short; hitched 22 mm short; twice 27 mm short"},
		{"wrapped", "4180", "4171", "plain fits best: it leaves the new line 1 mm long", "plain 1 mm long; wrapped 9 mm short; hitched 14 mm short; twice 19 mm short"},
	} {
		words := strings.Join(fitted(t, "line:C1.2@left", c.loop, c.twin, c.fresh, nil).Words(), "\n")
		for _, want := range []string{c.best, "Each leaves: " + c.each + ".", "Loop table: " + trim.FallbackSource, "You decide"} {
			if !strings.Contains(words, want) {
				t.Errorf("%s, twin %s, new %s: %q is not in\n%s", c.loop, c.twin, c.fresh, want, words)
			}
		}
		if got, want := strings.Contains(words, "No loop makes it longer"), c.fresh == "4173"; got != want {
			t.Errorf("new %s: said that nothing makes it longer: %v", c.fresh, got)
		}
	}
}

// A loop that may stay is named beside one that fits better.
func TestALoopThatMayStayIsNamed(t *testing.T) {
	table := trim.LoopTable{Source: "ann, on this wing", Loops: []trim.Loop{{Code: "plain"}, {Code: "wrapped", Shortens: 6 * quantity.Millimetre}}}
	f := fitted(t, "line:C1.2@left", "plain", "4180", "4184", &table)
	want, err := trim.FitNew(table, "plain", 4*quantity.Millimetre, []quantity.Length{0})
	if err != nil || !slices.Equal(f.Fitting.Fits, want.Fits) {
		t.Errorf("%+v, want %+v %v", f.Fitting.Fits, want.Fits, err)
	}
	words := strings.Join(f.Words(), "\n")
	for _, part := range []string{"wrapped fits best: it leaves the new line 2 mm short", "With plain as before it stays within", "Loop table: ann, on this wing."} {
		if !strings.Contains(words, part) {
			t.Errorf("%q is not in\n%s", part, words)
		}
	}
}

// Where nothing can be reckoned, one line says why.
func TestWhyNoLoopIsReckoned(t *testing.T) {
	for line, c := range map[string]struct{ loop, mm, want string }{
		"line:C2.3@left": {"plain", "1508", "this is no lowest line"},
		"line:C1.2@left": {"sewn", "4180", `the loop "sewn" is not in the table`},
	} {
		words := fitted(t, line, c.loop, c.mm, c.mm, nil).Words()
		if len(words) != 1 || !strings.Contains(words[0], c.want) {
			t.Errorf("%s: %q", line, words)
		}
	}
}

// What a person saw when they chose goes into the event. Measured a second time
// nobody knows with which loop, and that is what stands there.
func TestTheLoopFitGoesIntoTheEvent(t *testing.T) {
	r := newRig(t)
	r.must(Entry{Kind: EnterAdd, Add: &Add{Procedure: "fitting", Edition: "1", SHA256: r.pins.pin([]byte(loopFitting)), Target: wing.LineRef("C1.2", wing.Left)}})
	for _, text := range []string{"plain", "4180", "4192"} {
		r.must(Entry{Kind: EnterAnswer, Text: text})
	}
	e := r.must(Entry{Kind: EnterAnswer, Text: "wrapped"})
	if f := e.LoopFit; f == nil || f.On != "plain" || f.Fitting.NewMM != 12 || f.Fitting.Fits[0].Loop != "wrapped" || f.Fitting.Fits[0].LeftMM != 2 {
		t.Fatalf("%+v", e.LoopFit)
	}
	raw, err := Encode(e)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Decode(raw); err != nil {
		t.Errorf("%v: %s", err, raw)
	}
	r.must(Entry{Kind: EnterReopen, Key: "new_installed", Text: "another loop"})
	r.must(Entry{Kind: EnterAnswer, Text: "4181"})
	e = r.must(Entry{Kind: EnterAnswer, Text: "wrapped"})
	if f := e.LoopFit; f == nil || !strings.Contains(f.Missing, "measured a second time") || f.Fitting.Fits != nil {
		t.Errorf("second fitting: %+v", f)
	}
	raw, err = Encode(e)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Decode(raw); err != nil || strings.Contains(string(raw), "fitting") {
		t.Errorf("%v: %s", err, raw)
	}
}
