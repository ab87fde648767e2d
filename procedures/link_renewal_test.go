package procedures_test

import (
	"slices"
	"strings"
	"testing"

	"example.org/linewright/engine/wing"
)

// newLink changes link C left for a new one.
func newLink() answers {
	return answers{
		"may": "worn", "conditions": "good", "part_kind": "same", "part_marking": "3.5 mm, lot 12",
		"opening.retainer_before": "clip", "opening.gate_end_before": "outer", "opening.order_before": "1 2 3", "opening.turns_open": "0",
		"loops_seen":          "sound",
		"closure.order_after": "1 2 3", "closure.turns_closed": "5", "closure.gate_end_after": "outer", "closure.nut": "spanner",
		"closure.second_order": "same", "closure.second_retainer": "holds", "closure.second_gate": "home", "closure.second_free": "3",
		"all_lines": "sound", "cleared": "done", "inflation": "not_done", "look_again": "tag",
	}
}

func TestALinkIsRenewed(t *testing.T) {
	u := mustUnfold(t, "link-renewal", "link:C@left")
	b := walk(t, u, newLink())
	t.Logf("%d cards, %d keys", len(b.cards), b.keys)
	if len(b.cards) > 30 || b.keys > 120 {
		t.Errorf("%d cards and %d keys, at most 30 and 120", len(b.cards), b.keys)
	}
	for _, key := range b.met {
		if strings.Contains(key, "code") || strings.Contains(key, "joint") || strings.Contains(key, "old_") {
			t.Errorf("%s is asked where no line was exchanged", key)
		}
	}
	if hung, closed := slices.Index(b.met, "hung"), slices.Index(b.met, "closure.turns_closed"); hung < slices.Index(b.met, "opening.on_rod") || hung > closed {
		t.Error("the new link is not hung while the lines are on the rod")
	}
}

// The old link's turns are no measure for the new one, where its thread was the
// damage: they come from the plan.
func TestTurnsOfANewLinkComeFromThePlan(t *testing.T) {
	u := mustUnfold(t, "link-renewal", "link:C@left")
	turns, vals := answeredUpTo(t, u, newLink().with(answers{"opening.turns_open": "3"}), "closure.turns_closed")
	for entry, want := range map[float64]bool{5: true, 5.5: true, 3: false} {
		if got := must(t, turns, vals, entry); got != want {
			t.Errorf("%v turns: %v, want %v", entry, got, want)
		}
	}
}

func TestASoftLinkIsNotRenewedAsAScrewLink(t *testing.T) {
	plan := altered(t, linkC, "name = \"C\"\nbranch = \"C\"\nkind = \"soft\"\n")
	_, err := unfoldOn(t, plan, "link-renewal", wing.LinkRef("C", wing.Left))
	if err == nil || !strings.HasPrefix(err.Error(), "Link C is a soft link") {
		t.Errorf("%v", err)
	}
}

// While the link is off nothing is typed.
func TestHandsAreLeftAloneWhileALinkIsRenewed(t *testing.T) {
	open := false
	for _, s := range mustUnfold(t, "link-renewal", "link:C@left").Slots {
		if s.Step.Closes {
			break
		}
		if open && !slices.Contains([]string{"do", "order", "check"}, string(s.Step.Kind)) {
			t.Errorf("%s is a %s step at an open link", s.Key, s.Step.Kind)
		}
		open = open || s.Step.Opens
	}
	if !open {
		t.Error("the link is never opened")
	}
}
