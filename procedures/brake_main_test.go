package procedures_test

import (
	"maps"
	"strings"
	"testing"

	"example.org/linewright/engine/procedure"
)

// mainLeft renews the sample's left brake main, worn at the pulley, from the
// old one; it is not inflated that day.
func mainLeft() answers {
	return answers{
		"may": "main", "conditions": "good", "saw_side": "left", "saw_branch": "brake", "saw_joints": "0", "saw_carries": "3",
		"damage_seen": "sheath", "pulleys_alike": "alike", "knot_form": "bowline", "tail_this": "250", "tail_twin": "252",
		"play_known": "not_known", "knot_this": "4990", "knot_twin": "4991",
		"part_seen": "sewn", "part_code": "Br1.1", "part_end": "smooth", "new_mm": "5340 5341",
		"route": "straight", "tail_after": "245", "tail_secured": "itself",
		"knot_new": "4990", "runs": "free", "propeller": "clear",
		"second_code": "Br1.1", "second_joint": "same", "second_run": "free", "second_form": "bowline",
		"second_tail": "244", "second_secured": "itself",
		"all_lines": "sound", "play_how": "not_done", "cleared": "done", "other_main": "new", "look_again": "pilot",
	}
}

func TestBrakeMainStaysSmall(t *testing.T) {
	b := walk(t, mustUnfold(t, "brake-main", "line:Br1.1@left"), mainLeft())
	t.Logf("%d cards, %d keys", len(b.cards), b.keys)
	if len(b.cards) > 32 || b.keys > 130 {
		t.Errorf("%d cards and %d keys; at most 32 and 130", len(b.cards), b.keys)
	}
	for _, key := range []string{"old_marked", "new_marked"} {
		if !strings.Contains(strings.Join(b.met, " "), key) {
			t.Errorf("%s is not asked where the old line is whole", key)
		}
	}
}

func TestBrakeMainFitsTheBrakeMainOnly(t *testing.T) {
	for target, want := range map[string]string{
		"line:C1.2@left": "C1.2 is not the brake main line, which is tied to the handle (in this plan: Br1.1).\n" +
			"  Take line-swap for a line on a link, riser-line for one on a riser tab; lines of the brake fan are for a workshop.",
		"line:Br2.1@right": "Br2.1 is not the brake main line, which is tied to the handle (in this plan: Br1.1).\n" +
			"  Take line-swap for a line on a link, riser-line for one on a riser tab; lines of the brake fan are for a workshop.",
		"brakes": "Renew a brake main line works on a line, not on both brakes.\n  Choose another procedure, or another target.",
	} {
		if _, err := unfold(t, "brake-main", target); err == nil || err.Error() != want {
			t.Errorf("%s: %v\nwant %s", target, err, want)
		}
	}
}

func TestBrakeMainIsFoundFromBothEnds(t *testing.T) {
	u := mustUnfold(t, "brake-main", "line:Br1.1@left")
	fan, seen := answeredUpTo(t, u, mainLeft(), "saw_carries")
	if !must(t, fan, seen, 3.0) {
		t.Error("the left brake main is not taken for itself")
	}
	if must(t, fan, seen, 2.0) {
		t.Error("a line with another fan is taken for it")
	}
	for name, change := range map[string]values{"mirrored side": {"saw_side": "right"}, "a line of the fan": {"saw_joints": 1.0}} {
		wrong := maps.Clone(seen)
		maps.Copy(wrong, change)
		if must(t, fan, wrong, 3.0) {
			t.Errorf("%s is not noticed", name)
		}
	}
	end, seen := answeredUpTo(t, u, mainLeft(), "saw_branch")
	if must(t, end, seen, "no_handle") {
		t.Error("a line that leads to a link is taken")
	}
}

// The new line is marked from the old one where that is a reference, and by
// the length of the other side where it is none.
func TestWhereTheNewKnotGoes(t *testing.T) {
	u := mustUnfold(t, "brake-main", "line:Br1.1@left")
	for _, c := range []struct {
		name    string
		change  answers
		wanted  float64
		fromOld bool
	}{
		{"old line whole", nil, 4990, true},
		{"severed", answers{"damage_seen": "severed", "knot_this": "-"}, 4991, false},
		{"core bare", answers{"damage_seen": "bare_core", "knot_this": "-"}, 4991, false},
		{"sides unequal as found", answers{"knot_this": "4980", "pattern": "twin"}, 4991, false},
	} {
		b := walk(t, u, mainLeft().with(c.change))
		met := " " + strings.Join(b.met, " ") + " "
		if got := strings.Contains(met, " new_marked "); got != c.fromOld {
			t.Errorf("%s: marked from the old line: %v", c.name, got)
		}
		if got := strings.Contains(met, " length_marked "); got == c.fromOld {
			t.Errorf("%s: marked by the other side: %v", c.name, got)
		}
		said(t, u, b.vals, "new_mm", map[string]any{"knot_wanted": c.wanted})
	}
}

// Equal within the limit of the plan: nobody is asked which side is right.
func TestUnequalSidesHaveToBeDecidedBeforeAnythingIsUndone(t *testing.T) {
	u := mustUnfold(t, "brake-main", "line:Br1.1@left")
	s, vals := answeredUpTo(t, u, mainLeft(), "pattern")
	for knot, asked := range map[float64]bool{4986: false, 4985: true, 4996: false, 4997: true} {
		vals["knot_this"] = knot
		if skip, err := s.Skipped(vals); err != nil || skip == asked {
			t.Errorf("this side %v, other 4991: skipped %v (%v)", knot, skip, err)
		}
	}
	vals["knot_this"] = 4980.0
	stops := map[string]bool{}
	for _, o := range s.Offered(vals) {
		stops[o.ID] = !o.Stop.Empty()
	}
	if stops["twin"] || !stops["this"] || !stops["unknown"] {
		t.Errorf("stops: %v", stops)
	}
}

func TestANewMainHasToLeaveATail(t *testing.T) {
	u := mustUnfold(t, "brake-main", "line:Br1.1@left")
	s, vals := answeredUpTo(t, u, mainLeft(), "new_mm")
	// 4990 to the knot, about 100 for loop and knot, 50 of tail by the sample plan
	if must(t, s, vals, 5139.0) || !must(t, s, vals, 5140.0) {
		t.Error("the spare is not judged by knot, loop and least tail")
	}
	undone, _ := u.Slot("knot_undone")
	if undone.Index < s.Index {
		t.Error("the knot is undone before the spare is known")
	}
	tail, vals := answeredUpTo(t, u, mainLeft(), "tail_after")
	if must(t, tail, vals, 49.0) || !must(t, tail, vals, 50.0) {
		t.Error("the least tail of the plan is not judged")
	}
}

func TestSecondLookAtABrakeMainAnswersWithValues(t *testing.T) {
	u := mustUnfold(t, "brake-main", "line:Br1.1@left")
	form, vals := answeredUpTo(t, u, mainLeft(), "second_form")
	for entry, want := range map[string]bool{"bowline": true, "overhand": false, "other": false, "differ": false} {
		if got := must(t, form, vals, entry); got != want {
			t.Errorf("knot %s: %v, want %v", entry, got, want)
		}
	}
	tail, vals := answeredUpTo(t, u, mainLeft(), "second_tail")
	for entry, want := range map[float64]bool{245: true, 255: true, 235: true, 256: false, 234: false} {
		if got := must(t, tail, vals, entry); got != want {
			t.Errorf("tail measured as 245, then %v: %v, want %v", entry, got, want)
		}
	}
	sign, _ := u.Slot("second_sign")
	if key, ok := sign.KeyOf(sign.Step.Covers); !ok || key != "gathered" {
		t.Errorf("the second look sends the work back to %q", key)
	}
	for _, other := range u.Slots {
		if other.Card.By == procedure.Second && other.Step.Kind == procedure.Do {
			t.Errorf("%s is answered by a bare Enter", other.Key)
		}
	}
}

func TestBothKnotsAreComparedByTheLimitForKnots(t *testing.T) {
	u := mustUnfold(t, "brake-main", "line:Br1.1@right")
	s, _ := u.Slot("knot_new")
	if key, ok := s.KeyOf(s.Step.Against); !ok || key != "knot_twin" {
		t.Errorf("compared with %q", key)
	}
	if limit, ok, err := s.Limit(values{}); !ok || err != nil || limit != 5 {
		t.Errorf("limit %v %v %v, want 5 mm", limit, ok, err)
	}
}

func TestFreePlayOfBothBrakesIsMeasuredWhenInflated(t *testing.T) {
	a := mainLeft().with(answers{"play_known": "measured", "play_this": "130", "play_twin": "128", "play_how": "all", "edge": "clean"})
	for _, side := range []string{"left", "right"} {
		a = a.with(answers{"play_closed@" + side: "125", "play_open@" + side: "115", "play_speed@" + side: "104"})
	}
	u := mustUnfold(t, "brake-main", "line:Br1.1@left")
	walk(t, u, a)
	s, vals := answeredUpTo(t, u, a, "play_closed@right")
	if must(t, s, vals, 99.0) || must(t, s, vals, 136.0) || !must(t, s, vals, 135.0) {
		t.Error("the least play, or the difference of the sides, is not judged")
	}
}
