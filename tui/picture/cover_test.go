package picture

import (
	"strings"
	"testing"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
)

// While the target is covered, every target gives the same picture and the
// same words, and no code or name of the plan stands in them.
func TestCoveredTargetIsNotShown(t *testing.T) {
	plan := sample(t)
	for _, name := range names {
		first := ""
		for i, ref := range targets(plan) {
			card := job.Card{Picture: name, Hidden: true, Ref: ref, Target: ref.String(), Key: "x@2", Orders: []job.Stack{before, after}}
			got := strings.Join(append(Of(card, plan, 100, 44, ASCII), Facts(card, plan)...), "\n")
			if i == 0 {
				first = got
			}
			equal(t, name+" for "+ref.String(), got, first)
		}
		for _, l := range plan.Lines {
			if strings.Contains(first, l.Code) {
				t.Errorf("%s names %s", name, l.Code)
			}
		}
	}
}

func targets(plan *wing.Plan) []wing.Ref {
	var all []wing.Ref
	for _, side := range wing.Sides {
		for _, l := range plan.Lines {
			all = append(all, wing.LineRef(l.Code, side))
		}
		for _, l := range plan.Links {
			all = append(all, wing.LinkRef(l.Name, side))
		}
	}
	return all
}

// What is expected would give the line away by its length.
func TestCoveredScaleHasReadingsOnly(t *testing.T) {
	card := measured(long(2, 4), 4206, 4208)
	card.Hidden = true
	got := strings.Join(append(Of(card, nil, 60, 10, ASCII), Facts(card, nil)...), "\n")
	for _, secret := range []string{"4205", "plan", "long", "limit", "[", "+10"} {
		if strings.Contains(got, secret) {
			t.Errorf("%q in\n%s", secret, got)
		}
	}
	equal(t, "readings", strings.Contains(got, "Reading 1: 4206 mm."), true)
}

// Where an order is asked for, neither the one before nor the plan's is seen.
func TestAskedOrderIsNotShown(t *testing.T) {
	plan := sample(t)
	for _, state := range []job.AnswerState{job.Blank, job.Partial, job.Void} {
		card := job.Card{Picture: NameStack, Ref: c12, Orders: []job.Stack{before}, Fields: []job.Field{{Kind: procedure.Do}, {Kind: procedure.Order, State: state}}}
		got := strings.Join(append(Of(card, plan, 60, 20, ASCII), Facts(card, plan)...), "\n")
		equal(t, "blanks", strings.Count(got, "____"), 3)
		for _, code := range before.Codes {
			if strings.Contains(got, code) {
				t.Errorf("%s is seen:\n%s", code, got)
			}
		}
	}
}

// A number that has to be counted or measured is not offered beside its field.
func TestAskedNumberIsNotShown(t *testing.T) {
	plan := sample(t)
	gate := cards["gate_asked"]
	if got := strings.Join(append(Of(gate, plan, 60, 20, ASCII), Facts(gate, plan)...), "\n"); strings.Contains(got, "by the plan") {
		t.Errorf("the plan's turns are seen:\n%s", got)
	}
	move := cards["pulleys_lower"]
	move.Fields = append(move.Fields, job.Field{Kind: procedure.Measure})
	if got := strings.Join(Of(move, plan, 60, 20, ASCII), "\n"); got == "" || strings.Contains(got, "135") {
		t.Errorf("the plan's distance is seen:\n%s", got)
	}
}
