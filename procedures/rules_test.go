package procedures_test

import (
	"slices"
	"strings"
	"testing"

	"example.org/linewright/engine/procedure"
)

// answered walks the sample swap up to a step and gives what was answered.
func answeredUpTo(t *testing.T, u *procedure.Unfolded, typed answers, key string) (*procedure.Slot, values) {
	t.Helper()
	b := walk(t, u, typed)
	at, ok := u.Slot(key)
	if !ok {
		t.Fatalf("no slot %s", key)
	}
	for _, s := range u.Slots[at.Index:] {
		delete(b.vals, s.Key)
	}
	return at, b.vals
}

// must judges one entry at a step of the sample swap.
func must(t *testing.T, s *procedure.Slot, vals values, entry any) bool {
	t.Helper()
	ok, err := s.Must(vals, map[string]any{"value": entry})
	if err != nil {
		t.Fatalf("%s: %v", s.Key, err)
	}
	return ok
}

func TestWhatIsSeenHasToLeadToTheTarget(t *testing.T) {
	u := mustUnfold(t, "line-swap", "line:C1.2@left")
	tab, seen := answeredUpTo(t, u, swapC12(), "saw_tab")
	if !must(t, tab, seen, 5.0) {
		t.Error("C1.2 left is not taken for itself")
	}
	if must(t, tab, seen, 1.0) {
		t.Error("the tab of C1.1 is taken for that of C1.2")
	}
	for name, change := range map[string]values{
		"mirrored side":     {"saw_side": "right"},
		"another row":       {"saw_branch": "B", "saw_row": "B"},
		"another place":     {"saw_place": 1.0},
		"jumped on the way": {"saw_row": "B"},
		"another tier":      {"saw_joints": 1.0, "saw_fork_1": 1.0},
	} {
		wrong := values{}
		for k, v := range seen {
			wrong[k] = v
		}
		for k, v := range change {
			wrong[k] = v
		}
		if must(t, tab, wrong, 5.0) {
			t.Errorf("%s is not noticed", name)
		}
	}
}

func TestAnAnswerThatFitsNoLineIsNoticedAtOnce(t *testing.T) {
	u := mustUnfold(t, "line-swap", "line:C1.2@left")
	branch, seen := answeredUpTo(t, u, swapC12(), "saw_branch")
	for entry, want := range map[string]bool{"C": true, "A": true, "brake": true, "c": false, "X": false} {
		if got := must(t, branch, seen, entry); got != want {
			t.Errorf("branch %q: %v, want %v", entry, got, want)
		}
	}
	place, seen := answeredUpTo(t, u, swapC12(), "saw_place")
	for entry, want := range map[float64]bool{1: true, 3: true, 4: false, 0: false} {
		if got := must(t, place, seen, entry); got != want {
			t.Errorf("place %v: %v, want %v", entry, got, want)
		}
	}
	seen["saw_branch"] = "brake"
	if !must(t, place, seen, 0.0) {
		t.Error("the handle has no link: 0 is right there")
	}
}

// A hint of the target before the person has found the line would be read
// into what they see.
func TestNothingNamesTheTargetBeforeItIsFound(t *testing.T) {
	u := mustUnfold(t, "line-swap", "line:C1.2@left")
	for _, s := range u.Slots {
		if u.Phases[s.Phase].Title.In("en") == "Part in hand" {
			return
		}
		texts := []string{s.Say(s.Card.Action, "en", values{}), s.Say(s.Card.Detail, "en", values{}), s.Say(s.Step.Ask, "en", values{}), s.Say(s.Step.Else, "en", values{})}
		if all := strings.Join(texts, " "); strings.Contains(all, "C1.2") {
			t.Errorf("%s names the target: %s", s.Key, all)
		}
	}
}

// While the hands hold an open link nothing is typed but what says that a
// joint is done, and the order of the lines.
func TestHandsAreLeftAloneWhileTheLinkIsOpen(t *testing.T) {
	for _, target := range []string{"line:C1.2@left", "line:C2.3@left"} {
		open := false
		for _, s := range mustUnfold(t, "line-swap", target).Slots {
			if s.Step.Closes {
				open = false
			}
			if open && s.Step.Kind != procedure.Do && s.Step.Kind != procedure.Order {
				t.Errorf("%s asks for a %s while the link is open", s.Key, s.Step.Kind)
			}
			open = open || s.Step.Opens
		}
		if open {
			t.Errorf("%s: the link stays open", target)
		}
	}
}

func TestTurnsAgreeWithinHalfATurn(t *testing.T) {
	u := mustUnfold(t, "line-swap", "line:C1.2@left")
	turns, vals := answeredUpTo(t, u, swapC12(), "closure.turns_closed")
	for entry, want := range map[float64]bool{5: true, 4.5: true, 5.5: true, 4.25: false, 6: false} {
		if got := must(t, turns, vals, entry); got != want {
			t.Errorf("opened 5, closed %v: %v, want %v", entry, got, want)
		}
	}
	vals["opening.turns_open"] = 0.0 // lost count: thread length over pitch, 3 mm / 0.6 mm
	if must(t, turns, vals, 4.25) || !must(t, turns, vals, 5.0) {
		t.Error("a lost count is not replaced by thread length over pitch")
	}
}

func TestGateHasToComeBackWhereItWas(t *testing.T) {
	u := mustUnfold(t, "line-swap", "line:C1.2@left")
	end, vals := answeredUpTo(t, u, swapC12(), "closure.gate_end_after")
	for entry, want := range map[string]bool{"outer": true, "centre": false, "stiff": false, "worn": false} {
		if got := must(t, end, vals, entry); got != want {
			t.Errorf("gate %s: %v, want %v", entry, got, want)
		}
	}
}

func TestALoopOnTheLinkCannotSetAMiddleLine(t *testing.T) {
	lower, vals := answeredUpTo(t, mustUnfold(t, "line-swap", "line:C1.2@left"), swapC12(), "closure.loop_after")
	if !must(t, lower, vals, "wrapped") || must(t, lower, vals, "none") {
		t.Error("the loop of a lower line has to be free to choose, but must fit")
	}
	vals["opening.loop_before"] = "plain"
	middle, _ := mustUnfold(t, "line-swap", "line:C2.3@left").Slot("closure.loop_after")
	if must(t, middle, vals, "wrapped") || !must(t, middle, vals, "plain") {
		t.Error("the loop below a middle line has to stay as it was")
	}
}

func TestWordsForDamageDifferBySheath(t *testing.T) {
	ids := func(target string) []string {
		s, _ := mustUnfold(t, "line-swap", target).Slot("damage_seen")
		var out []string
		for _, o := range s.Offered(values{}) {
			out = append(out, o.ID)
		}
		return out
	}
	sheathed, bare := ids("line:C1.2@left"), ids("line:C3.6@left")
	if !slices.Contains(sheathed, "bare_core") || slices.Contains(sheathed, "strands") {
		t.Errorf("sheathed: %v", sheathed)
	}
	if slices.Contains(bare, "sheath") || !slices.Contains(bare, "strands") {
		t.Errorf("bare: %v", bare)
	}
}

func TestABareCoreThatDoesNotRepeatIsNoReference(t *testing.T) {
	u := mustUnfold(t, "line-swap", "line:C1.2@left")
	walk(t, u, swapC12().with(answers{"damage_seen": "bare_core", "closure.old_repeats": "agree", "closure.old_loose": "-", "closure.old_bare": "4196 4196"}))
	walk(t, u, swapC12().with(answers{"damage_seen": "bare_core", "closure.old_repeats": "differ", "closure.old_loose": "-"}))
	walk(t, u, swapC12().with(answers{"damage_seen": "severed", "closure.old_loose": "-"}))
}

func TestHoldsSendTheWorkBack(t *testing.T) {
	for _, c := range []struct{ id, target, hold, want string }{
		{"line-swap", "line:C1.2@left", "closure.second_sign", "opening.on_rod"},
		{"line-swap", "line:C1.2@left", "closing", "all_lines"},
		{"link-reclosure", "link:C@left", "second_sign", "order_after"}, // no line_back: more than one line
		{"pulley-relocation", "brakes", "second_sign", "marked@left"},
	} {
		s, _ := mustUnfold(t, c.id, c.target).Slot(c.hold)
		if got, ok := s.KeyOf(s.Step.Covers); !ok || got != c.want {
			t.Errorf("%s %s covers %q (%v), want %q", c.id, c.hold, got, ok, c.want)
		}
	}
}

func TestALooseLinkIsClosedByThePatternOfTheOtherSide(t *testing.T) {
	u := mustUnfold(t, "link-reclosure", "link:C@left")
	b := walk(t, u, answers{
		"how_found": "loose", "air": "good", "order_pattern": "1 2 3", "gate_end_pattern": "outer",
		"order_after": "1 2 3", "turns_closed": "5", "gate_end_after": "outer", "nut": "spanner",
		"second_order": "same", "second_retainer": "holds", "second_gate": "home", "second_free": "3",
		"all_lines": "sound", "inflation": "not_done", "look_again": "tag",
	})
	if s, _ := u.Slot("order_pattern"); s.Step.SameAs != "link.order" {
		t.Errorf("the pattern is held against %q: read mirrored it would be built mirrored", s.Step.SameAs)
	}
	for _, key := range b.met {
		if strings.Contains(key, "code") || strings.Contains(key, "joint") || strings.Contains(key, "old") {
			t.Errorf("%s is asked where no line was exchanged", key)
		}
	}
	turns, vals := answeredUpTo(t, u, answers{
		"how_found": "loose", "air": "good", "order_pattern": "1 2 3", "gate_end_pattern": "outer",
		"order_after": "1 2 3", "turns_closed": "5", "gate_end_after": "outer", "nut": "spanner",
		"second_order": "same", "second_retainer": "holds", "second_gate": "home", "second_free": "3",
		"all_lines": "sound", "inflation": "not_done", "look_again": "tag",
	}, "turns_closed")
	if must(t, turns, vals, 4.0) {
		t.Error("4 turns are taken where thread length over pitch gives 5")
	}
}
