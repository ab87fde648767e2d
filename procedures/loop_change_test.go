package procedures_test

import (
	"slices"
	"strings"
	"testing"

	"example.org/linewright/engine/procedure"
)

// wrapped shortens C1.2 left by one turn, as it is on the right already.
func wrapped() answers {
	return answers{
		"why": "report", "conditions": "good", "saw_side": "left", "saw_branch": "C", "saw_place": "2", "saw_joints": "0",
		"loop_here": "plain", "loop_there": "wrapped", "way": "shorter", "loop_wanted": "wrapped", "shift": "10", "shift_from": "table",
		"pair_plan": "same", "here_mm": "4206 4206", "there_same": "4197 4197",
		"opening.retainer_before": "clip", "opening.gate_end_before": "outer", "opening.order_before": "1 2 3", "opening.turns_open": "5",
		"closure.order_after": "1 2 3", "closure.turns_closed": "5", "closure.gate_end_after": "outer",
		"closure.changed_alike": "4196 4196", "closure.loop_took": "as_said", "closure.nut": "spanner",
		"closure.second_code": "C1.2", "closure.second_order": "same", "closure.second_loop": "wrapped",
		"closure.second_retainer": "holds", "closure.second_gate": "home", "closure.second_free": "3",
		"there_again": "4197", "paths_again": "later", "all_lines": "sound", "inflation": "clean", "look_again": "pilot",
	}
}

// unwrapped lengthens C1.2 left again; the other side keeps its turn for now.
func unwrapped() answers {
	return wrapped().with(answers{
		"loop_here": "wrapped", "way": "longer", "loop_wanted": "plain", "pair_plan": "task",
		"here_mm": "4196 4196", "there_same": "-", "there_mm": "4197 4197", "closure.second_loop": "plain",
		"closure.changed_alike": "-", "closure.changed_mm": "4206 4206",
	})
}

func TestALoopIsChangedEitherWay(t *testing.T) {
	u := mustUnfold(t, "loop-change", "line:C1.2@left")
	b := walk(t, u, wrapped())
	t.Logf("%d cards, %d keys", len(b.cards), b.keys)
	if len(b.cards) > 28 || b.keys > 155 {
		t.Errorf("%d cards and %d keys, at most 28 and 155", len(b.cards), b.keys)
	}
	for _, key := range []string{"opening.loop_before", "closure.second_joint@1", "closure.new_installed", "closure.old_loose"} {
		if slices.Contains(b.met, key) {
			t.Errorf("%s is asked, but no line was exchanged", key)
		}
	}
	s, _ := u.Slot("loop_set")
	if v, ok := s.Value("should", b.vals); !ok || v != 4196.0 {
		t.Errorf("one turn of 10 mm: should be %v (%v), want 4196", v, ok)
	}
	b = walk(t, u, unwrapped())
	if v, _ := s.Value("should", b.vals); v != 4206.0 {
		t.Errorf("one turn of 10 mm undone: should be %v, want 4206", v)
	}
	walk(t, mustUnfold(t, "loop-change", "line:C1.2@right"), unwrapped().with(answers{"saw_side": "right", "pair_plan": "alone"}))
}

// While the link is open nothing is typed but the order of its lines.
func TestHandsAreLeftAloneWhileALoopIsSet(t *testing.T) {
	open := false
	for _, s := range mustUnfold(t, "loop-change", "line:C1.2@left").Slots {
		if s.Step.Closes {
			break
		}
		if open && s.Step.Kind != procedure.Do && s.Step.Kind != procedure.Order {
			t.Errorf("%s is a %s step at an open link", s.Key, s.Step.Kind)
		}
		open = open || s.Step.Opens
	}
	if !open {
		t.Error("the link is never opened")
	}
}

// What is plain cannot get longer, and the loop that is there is no new one.
func TestOnlyALoopThatDoesWhatIsWantedIsOffered(t *testing.T) {
	u := mustUnfold(t, "loop-change", "line:C1.2@left")
	way, _ := u.Slot("way")
	want, _ := u.Slot("loop_wanted")
	pair, _ := u.Slot("pair_plan")
	for here, ways := range map[string]string{
		"plain": "shorter no_longer", "wrapped": "shorter longer", "hitched": "shorter longer", "twice": "longer no_shorter",
	} {
		if got := strings.Join(offered(way, values{"loop_here": here}), " "); got != ways {
			t.Errorf("%s: offered %s, want %s", here, got, ways)
		}
	}
	for _, o := range way.Offered(values{"loop_here": "plain"}) {
		if stops := !o.Stop.Empty(); stops != (o.ID == "no_longer") {
			t.Errorf("plain, %s: stops %v", o.ID, stops)
		}
	}
	for _, c := range []struct{ here, way, want string }{
		{"plain", "shorter", "wrapped hitched twice unsure"},
		{"wrapped", "shorter", "hitched twice unsure"},
		{"wrapped", "longer", "plain hitched unsure"},
		{"hitched", "longer", "plain wrapped unsure"},
		{"twice", "longer", "plain wrapped hitched unsure"},
	} {
		if got := strings.Join(offered(want, values{"loop_here": c.here, "way": c.way}), " "); got != c.want {
			t.Errorf("%s, %s: offered %s, want %s", c.here, c.way, got, c.want)
		}
	}
	for there, want := range map[string]string{"wrapped": "same unlike", "plain": "task alone"} {
		if got := strings.Join(offered(pair, values{"loop_there": there, "loop_wanted": "wrapped"}), " "); got != want {
			t.Errorf("%s there: offered %s, want %s", there, got, want)
		}
	}
}

// One side alone stands in the record with words.
func TestOneSideAloneWantsAReason(t *testing.T) {
	u := mustUnfold(t, "loop-change", "line:C1.2@left")
	s, _ := u.Slot("pair_plan")
	for _, o := range s.Step.Options {
		if unlike := o.ID == "alone" || o.ID == "unlike"; o.Reason != unlike {
			t.Errorf("%s: wants a reason %v", o.ID, o.Reason)
		}
		if (o.ID == "task") != !o.Open.Empty() {
			t.Errorf("%s: stays open %v", o.ID, !o.Open.Empty())
		}
	}
}

func TestWhatTheLoopTookIsHeldAgainstTheTable(t *testing.T) {
	u := mustUnfold(t, "loop-change", "line:C1.2@left")
	s, vals := answeredUpTo(t, u, wrapped(), "closure.loop_took")
	for mm, want := range map[float64]string{4196: "as_said wrong", 4191: "as_said wrong", 4190: "other wrong", 4206: "other wrong"} {
		vals["closure.changed_alike"] = mm
		if got := strings.Join(offered(s, vals), " "); got != want {
			t.Errorf("%v mm against 4196: offered %s, want %s", mm, got, want)
		}
	}
	if must(t, s, vals, "wrong") {
		t.Error("a loop that is not the wanted one is taken")
	}
	for key, want := range map[string]string{"closure.changed_mm": "here_mm", "closure.changed_alike": "there_same"} {
		s, _ := u.Slot(key)
		if got, ok := s.KeyOf(s.Step.Against); !ok || got != want {
			t.Errorf("%s is compared with %q, want %q", key, got, want)
		}
	}
	alike, _ := u.Slot("closure.changed_alike")
	if limit, ok, err := alike.Limit(vals); !ok || err != nil || limit != 5 {
		t.Errorf("left and right: limit %v %v %v, want 5 mm", limit, ok, err)
	}
	again, vals := answeredUpTo(t, u, wrapped(), "there_again")
	if must(t, again, vals, 4203.0) {
		t.Error("an untouched line that reads 6 mm otherwise is taken")
	}
}

func TestTheSecondPersonNamesTheLoop(t *testing.T) {
	u := mustUnfold(t, "loop-change", "line:C1.2@left")
	s, vals := answeredUpTo(t, u, wrapped(), "closure.second_loop")
	for loop, want := range map[string]bool{"wrapped": true, "plain": false, "hitched": false, "twice": false, "poor": false} {
		if got := must(t, s, vals, loop); got != want {
			t.Errorf("%s: taken %v, want %v", loop, got, want)
		}
	}
	if text := s.Say(s.Card.Detail, "en", vals) + s.Say(s.Step.Ask, "en", vals); strings.Contains(text, "wrapped") {
		t.Errorf("the second person is told: %s", text)
	}
}

// C1.2 carries the tabs C5 to C8 of the sample plan.
func TestThePathsToMeasureAgainAreNamed(t *testing.T) {
	u := mustUnfold(t, "loop-change", "line:C1.2@left")
	s, _ := u.Slot("paths_again")
	for _, o := range s.Step.Options {
		want := "Measure the paths C5 C6 C7 C8 on both sides, and one that nobody touched, before any flight: the loop of C1.2 left was changed."
		if got := s.Say(o.Open, "en", values{}); o.ID == "later" && got != want {
			t.Error(got)
		}
	}
}

func TestLinesWithoutALoopOnALink(t *testing.T) {
	for target, want := range map[string]string{
		"line:C2.3@left": "C2.3 hangs on C1.2, not on a link: only the loop of a lowest line can be changed.\n" +
			"  Choose C1.2: its loop moves every path above it. One path alone wants another line.",
		"line:Br1.1@left": "Br1.1 is the brake main line: it is tied to the handle and has no loop on a link.\n" +
			"  A brake is set at its knot, both sides alike: take pulley-relocation where the pulley moves, else ask a workshop.",
		"line:Br3.2@left": "Br3.2 hangs above the brake handle: it has no loop on a link.\n" +
			"  A brake is set at its knot, both sides alike; what is wrong in its fan wants a new line.",
	} {
		if _, err := unfold(t, "loop-change", target); err == nil || err.Error() != want {
			t.Errorf("%s: %v\nwant %s", target, err, want)
		}
	}
}
