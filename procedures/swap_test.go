package procedures_test

import (
	"slices"
	"strings"
	"testing"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/procedures"
)

// swapC12 is the sample swap: C1.2 left, a whole line with a cut sheath.
func swapC12() answers {
	return answers{
		"may": "one_line", "conditions": "good",
		"saw_side": "left", "saw_branch": "C", "saw_place": "2", "saw_joints": "0",
		"saw_carries": "2", "saw_row": "C", "saw_tab": "5",
		"damage_seen":    "sheath",
		"part.part_seen": "sewn", "part.part_code": "C1.2", "part.new_mm": "4206 4207", "twin_mm": "4198",
		"opening.retainer_before": "clip", "opening.gate_end_before": "outer", "opening.order_before": "1 2 3",
		"opening.loop_before": "plain", "opening.turns_open": "5",
		"closure.order_after": "1 2 3", "closure.turns_closed": "5", "closure.gate_end_after": "outer",
		"closure.old_loose": "4196", "closure.new_installed": "4199", "closure.loop_after": "plain", "closure.nut": "spanner",
		"closure.second_code": "C1.2", "closure.second_joint@1": "same", "closure.second_order": "same",
		"closure.second_retainer": "holds", "closure.second_gate": "home", "closure.second_free": "3",
		"all_lines": "sound", "inflation": "clean", "cleared": "done", "look_again": "pilot",
	}
}

func TestSampleSwapStaysSmall(t *testing.T) {
	b := walk(t, mustUnfold(t, "line-swap", "line:C1.2@left"), swapC12())
	t.Logf("%d cards, %d keys", len(b.cards), b.keys)
	if len(b.cards) > 30 || b.keys > 120 {
		t.Errorf("%d cards and %d keys; a workshop needs minutes: at most 30 and 120", len(b.cards), b.keys)
	}
}

// The demo's answers as they are typed: the same bound, counted from the file.
func TestSampleAnswersStaySmall(t *testing.T) {
	data, err := procedures.Sample.ReadFile("sample/answers.txt")
	if err != nil {
		t.Fatal(err)
	}
	u := mustUnfold(t, "line-swap", "line:C1.2@left")
	var cards []string
	keys := 0
	for line := range strings.Lines(string(data)) {
		key, text, ok := strings.Cut(line, "=")
		s, found := u.Slot(strings.TrimSpace(key))
		if !ok || !found || s.Step.Role == procedure.Doer {
			continue // a remark, or a closing signature
		}
		if !slices.Contains(cards, s.CardKey) {
			cards = append(cards, s.CardKey)
		}
		text = strings.TrimSpace(text)
		if keys += len(text) + 1; s.Step.Kind == procedure.Sign {
			keys += 1 - len(text) // unlock and sign
		}
	}
	t.Logf("%d cards, %d keys", len(cards), keys)
	if len(cards) < 25 || len(cards) > 30 || keys > 120 {
		t.Errorf("%d cards and %d keys, at most 30 and 120", len(cards), keys)
	}
}
