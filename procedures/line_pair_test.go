package procedures_test

import (
	"strings"
	"testing"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
)

// pairS11 renews the stabilo S1.1 of both sides, the left one first. Its
// lengths are moved to where the plan has the line by fittedPair.
func pairS11() answers {
	a := answers{
		"may": "one_line", "conditions": "good",
		"saw_side": "left", "saw_branch": "B", "saw_place": "4", "saw_joints": "0", "saw_carries": "2", "saw_row": "S", "saw_tab": "1",
		"damage_seen": "sheath", "twin_damage": "sound", "loop_this": "plain", "loop_twin": "plain",
		"this_mm": "3994", "twin_mm": "3995", "alike": "alike", "first_home": "home",
		"closure.new_installed": "3996", "twin_closure.new_installed": "3997",
		"neighbours": "alike", "pair_code": "S1.1", "pair_loops": "same", "pair_home": "2", "pair_free": "8",
		"all_lines": "sound", "inflation": "clean", "cleared": "done", "look_again": "pilot",
	}
	side := answers{
		"part.part_seen": "sewn", "part.part_code": "S1.1", "part.new_mm": "4001 4002",
		"opening.retainer_before": "clip", "opening.gate_end_before": "outer", "opening.order_before": "B1.1 B1.2 B1.3 S1.1",
		"opening.turns_open":  "5",
		"closure.order_after": "B1.1 B1.2 B1.3 S1.1", "closure.turns_closed": "5", "closure.gate_end_after": "outer",
		"closure.old_loose": "3997", "closure.loop_after": "plain", "closure.nut": "spanner",
		"closure.second_code": "S1.1", "closure.second_joint@1": "same", "closure.second_order": "same",
		"closure.second_retainer": "holds", "closure.second_gate": "home", "closure.second_free": "4",
	}
	for key, text := range side {
		a[key], a["twin_"+key] = text, text
	}
	return a
}

// fittedPair moves lengths to where the plan has the line.
func fittedPair(t *testing.T, u *procedure.Unfolded, a answers) answers {
	t.Helper()
	plan := u.Facts["line.length_mm"].(float64)
	out := a.with(nil)
	for key, text := range a {
		if id := key[strings.LastIndexByte(key, '.')+1:]; !strings.HasSuffix(id, "_mm") && id != "old_loose" && id != "new_installed" {
			continue
		}
		var moved []string
		for _, r := range strings.Fields(text) {
			moved = append(moved, procedure.Print(number(t, r)-4000+plan))
		}
		out[key] = strings.Join(moved, " ")
	}
	return out
}

func walkPair(t *testing.T, target string, a answers) (*procedure.Unfolded, *bench) {
	t.Helper()
	u := mustUnfold(t, "line-pair", target)
	return u, walk(t, u, fittedPair(t, u, a))
}

// Two swaps in one task, on a link whose codes have to be typed whole, and the
// look at both.
func TestPairStaysSmall(t *testing.T) {
	_, b := walkPair(t, "line:S1.1@left", pairS11())
	t.Logf("%d cards, %d keys", len(b.cards), b.keys)
	if len(b.cards) > 60 || b.keys > 290 {
		t.Errorf("%d cards and %d keys; at most 60 and 290", len(b.cards), b.keys)
	}
}

func TestEachSideOfAPairIsItsOwn(t *testing.T) {
	u, b := walkPair(t, "line:S1.1@right", pairS11().with(answers{"saw_side": "right"}))
	for _, s := range u.Slots {
		want := wing.Right
		if strings.HasPrefix(s.Key, "twin_") && strings.Contains(s.Key, ".") {
			want = wing.Left
		}
		if s.Target != wing.LineRef("S1.1", want) {
			t.Errorf("%s is about %s, want the %s side", s.Key, s.Target, want)
		}
		if text := s.Say(s.Card.Detail, "en", b.vals); strings.Contains(text, "Link B, "+string(want.Other())) {
			t.Errorf("%s says %q", s.Key, text)
		}
	}
	action := func(key string) string { s, _ := u.Slot(key); return s.Say(s.Card.Detail, "en", b.vals) }
	if first, second := action("closure.new_installed"), action("twin_closure.new_installed"); !strings.HasPrefix(first, "S1.1 right") || !strings.HasPrefix(second, "S1.1 left") {
		t.Errorf("first %q, then %q", first, second)
	}
}

// What differs on one side by the plan is what its new line is held against.
func TestAnExceptionOfTheTwinCountsForTheTwin(t *testing.T) {
	plan := altered(t, "[[line]]\ncode = \"A1.1\"", "[[exception]]\nside = \"right\"\ncode = \"S1.1\"\nlength_mm = 3950\n\n[[line]]\ncode = \"A1.1\"")
	u, err := unfoldOn(t, plan, "line-pair", wing.LineRef("S1.1", wing.Left))
	if err != nil {
		t.Fatal(err)
	}
	this, _ := u.Slot("part.new_mm")
	twin, _ := u.Slot("twin_part.new_mm")
	if a, _, _ := this.Expect(values{}); a == 3950 {
		t.Error("the exception of the right counts for the left")
	}
	if b, _, _ := twin.Expect(values{}); b != 3950 {
		t.Errorf("the right line is held against %v mm, want 3950", b)
	}
}

// No link is opened before the other one is closed, looked at and marked.
func TestOneSideOfAPairIsFinishedBeforeTheOtherIsOpened(t *testing.T) {
	u := mustUnfold(t, "line-pair", "line:S1.1@left")
	open := wing.Ref{}
	var order []string
	for _, s := range u.Slots {
		switch {
		case s.Step.Opens && open != wing.Ref{} && open != s.Target:
			t.Errorf("%s while %s is open", s.Key, open)
		case s.Step.Opens:
			open = s.Target
			order = append(order, "open "+string(s.Target.Side))
		case s.Step.Closes:
			open = wing.Ref{}
			order = append(order, "close "+string(s.Target.Side))
		case s.Step.Kind == procedure.Sign:
			order = append(order, string(s.Step.Role))
		}
	}
	want := "open left, close left, second, open right, close right, second, second, doer"
	if got := strings.Join(order, ", "); got != want {
		t.Errorf("%s\nwant %s", got, want)
	}
	for _, key := range []string{"this_mm", "twin_mm", "loop_this", "loop_twin", "part.new_mm", "twin_part.new_mm", "alike"} {
		s, _ := u.Slot(key)
		if first, _ := u.Slot("opening.turns_open"); s.Index > first.Index {
			t.Errorf("%s is asked after a link was opened", key)
		}
	}
}

func TestTheSecondLineIsHeldAgainstTheFirst(t *testing.T) {
	u := mustUnfold(t, "line-pair", "line:S1.1@left")
	for key, want := range map[string]string{
		"closure.new_installed": "twin_mm", "twin_closure.new_installed": "closure.new_installed",
		"closure.old_loose": "part.new_mm", "twin_closure.old_loose": "twin_part.new_mm",
	} {
		s, _ := u.Slot(key)
		if got, ok := s.KeyOf(s.Step.Against); !ok || got != want {
			t.Errorf("%s is held against %q, want %q", key, got, want)
		}
	}
	for key, want := range map[string]string{
		"closure.second_sign": "opening.on_rod", "twin_closure.second_sign": "twin_opening.on_rod", "pair_sign": "neighbours",
	} {
		s, _ := u.Slot(key)
		if got, ok := s.KeyOf(s.Step.Covers); !ok || got != want {
			t.Errorf("%s sends the work back to %q, want %q", key, got, want)
		}
	}
}

func TestAnUnlikePairOfNewLinesIsNotTaken(t *testing.T) {
	u := mustUnfold(t, "line-pair", "line:S1.1@left")
	s, vals := answeredUpTo(t, u, fittedPair(t, u, pairS11()), "alike")
	vals["twin_part.new_mm"] = vals["part.new_mm"].(float64) + 6 // limit of the sample plan: 5 mm
	for _, o := range s.Offered(vals) {
		if o.Right {
			t.Error("new lines that differ by more than the limit are called alike")
		}
	}
}

func TestLookAtBothAnswersWithValues(t *testing.T) {
	u := mustUnfold(t, "line-pair", "line:S1.1@left")
	a := fittedPair(t, u, pairS11())
	loops, vals := answeredUpTo(t, u, a, "pair_loops")
	if !must(t, loops, vals, "same") || must(t, loops, vals, "differ") {
		t.Error("two plain loops are not the same")
	}
	vals["twin_closure.loop_after"] = "wrapped"
	if must(t, loops, vals, "same") || !must(t, loops, vals, "differ") {
		t.Error("a plain and a wrapped loop are the same")
	}
	home, vals := answeredUpTo(t, u, a, "pair_home")
	if must(t, home, vals, 1.0) || !must(t, home, vals, 2.0) {
		t.Error("one gate at home is enough")
	}
	free, vals := answeredUpTo(t, u, a, "pair_free")
	if must(t, free, vals, 7.0) || !must(t, free, vals, 8.0) {
		t.Error("the lines on both links are not counted")
	}
}

func TestPairOfMiddleLines(t *testing.T) {
	walkPair(t, "line:C2.3@left", pairS11().with(answers{
		"saw_branch": "C", "saw_place": "2", "saw_joints": "1", "saw_fork_1": "1", "saw_row": "C", "saw_tab": "5",
		"part.part_code": "C2.3", "twin_part.part_code": "C2.3", "pair_code": "C2.3", "pair_free": "6",
		"opening.order_before": "1 2 3", "twin_opening.order_before": "1 2 3", "closure.order_after": "1 2 3", "twin_closure.order_after": "1 2 3",
		"closure.second_code": "C2.3", "twin_closure.second_code": "C2.3", "closure.second_joint@2": "same", "twin_closure.second_joint@2": "same",
		"closure.second_free": "3", "twin_closure.second_free": "3",
	}))
}

func TestPairsThatCannotBeRenewedHere(t *testing.T) {
	for target, want := range map[string]string{
		"line:Br1.1@left": "Br1.1 is the brake main line", "line:S3.3@left": "S3.3 is sewn into its tab", "link:C@left": "Renew a pair of lines works on a line",
	} {
		if _, err := unfold(t, "line-pair", target); err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%s: %v", target, err)
		}
	}
}
