package procedures_test

import (
	"strings"
	"testing"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
)

// stretched has a rubber ring renewed over the closed link.
func stretched() answers {
	return answers{
		"state_seen": "worn", "conditions": "good", "pattern": "crossed", "part_kind": "ring", "way_taken": "over",
		"order_before": "1 2 3", "loops_over": "sound", "order_after": "1 2 3",
		"lies_as": "alike", "slides": "held", "sticks": "free",
		"second_order": "same", "second_retainer": "holds", "second_gate": "home",
		"all_lines": "sound", "cleared": "done", "look_again": "pilot",
	}
}

// unlocked has a clip renewed with the gate open and the lines on a rod.
func unlocked() answers {
	return stretched().with(answers{
		"pattern": "clip", "part_kind": "clip", "way_taken": "open",
		"order_before": "-", "loops_over": "-", "order_after": "-", "second_order": "-", "second_retainer": "-", "second_gate": "-",
		"opening.retainer_before": "clip", "opening.gate_end_before": "outer", "opening.order_before": "1 2 3", "opening.turns_open": "5",
		"loops_open":          "sound",
		"closure.order_after": "1 2 3", "closure.turns_closed": "5", "closure.gate_end_after": "outer", "closure.nut": "spanner",
		"closure.second_order": "same", "closure.second_retainer": "holds", "closure.second_gate": "home", "closure.second_free": "3",
	})
}

func TestARetainerOverTheClosedLink(t *testing.T) {
	b := walk(t, mustUnfold(t, "retainer-renewal", "link:C@left"), stretched())
	t.Logf("%d cards, %d keys", len(b.cards), b.keys)
	if len(b.cards) > 15 || b.keys > 60 {
		t.Errorf("%d cards and %d keys, at most 15 and 60", len(b.cards), b.keys)
	}
	for _, key := range b.met {
		if strings.HasPrefix(key, "opening.") || strings.HasPrefix(key, "closure.") {
			t.Errorf("%s is asked with the gate closed", key)
		}
	}
}

func TestARetainerWithTheGateOpen(t *testing.T) {
	b := walk(t, mustUnfold(t, "retainer-renewal", "link:C@left"), unlocked())
	t.Logf("%d cards, %d keys", len(b.cards), b.keys)
	if len(b.cards) > 21 || b.keys > 90 {
		t.Errorf("%d cards and %d keys, at most 21 and 90", len(b.cards), b.keys)
	}
	met := strings.Join(b.met, " ")
	for _, key := range []string{"opening.turns_open", "closure.order_after", "closure.turns_closed", "closure.second_sign", "closure.marked"} {
		if !strings.Contains(met, key) {
			t.Errorf("%s is not asked", key)
		}
	}
}

func TestARetainerOnASoftLink(t *testing.T) {
	u, err := unfoldOn(t, softPlan(t), "retainer-renewal", wing.LinkRef("A", wing.Left))
	if err != nil {
		t.Fatal(err)
	}
	walk(t, u, unlocked().with(answers{
		"opening.gate_end_before": "-", "opening.turns_open": "-", "opening.passes_before": "2",
		"closure.turns_closed": "-", "closure.gate_end_after": "-", "closure.nut": "-", "closure.second_gate": "-",
		"closure.passes_after": "2", "closure.knob": "home", "closure.cord": "sound", "closure.second_knob": "home",
	}))
}

// The new one is of the kind on the other side; nothing is shrunk on.
func TestTheNewRetainerIsOfTheSameKind(t *testing.T) {
	u := mustUnfold(t, "retainer-renewal", "link:C@left")
	for pattern, kind := range map[string]string{"crossed": "ring", "straight": "ring", "clip": "clip", "sleeve": "sleeve"} {
		s, vals := answeredUpTo(t, u, stretched().with(answers{"pattern": pattern, "part_kind": kind}), "part_kind")
		for _, other := range []string{"ring", "clip", "sleeve"} {
			if got := must(t, s, vals, other); got != (other == kind) {
				t.Errorf("%s there, %s here: taken %v", pattern, other, got)
			}
		}
		for _, o := range s.Offered(vals) {
			if o.ID == "shrink" && o.Stop.Empty() {
				t.Error("a tube that has to be shrunk is taken")
			}
		}
	}
	walk(t, u, stretched().with(answers{"pattern": "manual", "part_kind": "sleeve"}))
}

// A second person who finds no retainer where one was just set has to say so.
func TestNoRetainerIsNoAnswerWhereOneWasRenewed(t *testing.T) {
	u := mustUnfold(t, "retainer-renewal", "link:C@left")
	s, vals := answeredUpTo(t, u, unlocked(), "closure.second_retainer")
	if got := strings.Join(offered(s, vals), " "); got != "slipped holds on_gate" {
		t.Errorf("offered: %s", got)
	}
	own, _ := mustUnfold(t, "link-reclosure", "link:C@left").Slot("second_retainer")
	if got := strings.Join(offered(own, values{}), " "); got != "slipped holds none on_gate" {
		t.Errorf("offered when a link is closed alone: %s", got)
	}
}

func TestALineThatSlidStaysOpenInTheRecord(t *testing.T) {
	u := mustUnfold(t, "retainer-renewal", "link:C@left")
	s, _ := u.Slot("state_seen")
	for _, o := range s.Offered(values{}) {
		text := procedure.Text(o.Open)
		if (o.ID == "slid") != strings.Contains(s.Say(text, "en", values{}), "measure the paths of this link") {
			t.Errorf("%s leaves open: %q", o.ID, s.Say(text, "en", values{}))
		}
	}
}
