package procedures_test

import (
	"maps"
	"strings"
	"testing"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
)

// lowered moves both pulleys from the higher place to the lower one.
func lowered() answers {
	a := answers{
		"may": "manual", "conditions": "good", "hang_point": "high", "place_new": "second",
		"distance_left": "135 135", "distance_right": "136 136",
		"brake_length_left": "700 701", "brake_length_right": "701 701",
		"second_places": "second", "second_knots": "alike", "second_tails": "itself", "second_run": "free",
		"play_how": "not_done", "look_again": "pilot",
	}
	for side, moved := range map[string]string{"left": "135", "right": "136"} {
		maps.Copy(a, answers{
			"place_found@" + side: "first", "knot_found@" + side: "bowline", "tail_found@" + side: "250",
			"play_known@" + side: "not_known", "spare_state@" + side: "enough", "route@" + side: "straight",
			"knot_moved@" + side: moved, "mark_lies@" + side: "between", "tail_after@" + side: "115",
			"tail_secured@" + side: "itself", "propeller@" + side: "clear",
		})
	}
	return a
}

// Common practice, no source: pulleys 135 mm apart, the knot moves 135 mm;
// pulley lower, toward the tail.
func TestKnotMovesByTheDistanceOfItsOwnSide(t *testing.T) {
	u := mustUnfold(t, "pulley-relocation", "brakes")
	b := walk(t, u, lowered())
	said(t, u, b.vals, "spare_state@left", map[string]any{"shift": 135.0, "way": "toward the tail", "tail_then": 115.0, "missing": -65.0, "distance_plan": 135.0})
	said(t, u, b.vals, "spare_state@right", map[string]any{"shift": 136.0, "way": "toward the tail", "tail_then": 114.0})
}

func said(t *testing.T, u *procedure.Unfolded, vals values, key string, want map[string]any) {
	t.Helper()
	s, _ := u.Slot(key)
	for name, w := range want {
		if got, ok := s.Value(name, vals); !ok || got != w {
			t.Errorf("%s: %s = %v (%v), want %v", key, name, got, ok, w)
		}
	}
}

func TestPulleyHigherKnotAwayFromTheTail(t *testing.T) {
	u := mustUnfold(t, "pulley-relocation", "brakes")
	a := lowered().with(answers{"place_new": "first", "second_places": "first"})
	for _, side := range []string{"left", "right"} {
		a = a.with(answers{"place_found@" + side: "second", "mark_lies@" + side: "tail", "tail_after@" + side: "385"})
	}
	b := walk(t, u, a)
	said(t, u, b.vals, "spare_state@left", map[string]any{"shift": -135.0, "way": "away from the tail", "tail_then": 385.0})
	// the sign check by eye: the old mark now lies in the tail
	s, _ := u.Slot("mark_lies@left")
	if must(t, s, b.vals, "between") {
		t.Error("a knot that went the wrong way is taken")
	}
}

func TestASideFoundRightIsMeasuredNotTied(t *testing.T) {
	a := lowered().with(answers{
		"place_found@right": "second", "knot_moved@right": "-", "mark_lies@right": "-", "tail_found@right": "90",
	})
	b := walk(t, mustUnfold(t, "pulley-relocation", "brakes"), a)
	met := strings.Join(b.met, " ")
	for _, key := range []string{"marked@right", "knot_undone@right", "pulley_moved@right", "knot_tied@right"} {
		if strings.Contains(met, key) {
			t.Errorf("%s is asked on a side that is right already", key)
		}
	}
	for _, key := range []string{"route@right", "tail_after@right", "brake_length_right", "knot_tied@left"} {
		if !strings.Contains(met, key) {
			t.Errorf("%s is not asked", key)
		}
	}
}

func TestALineTooShortIsRefusedBeforeAnythingIsUndone(t *testing.T) {
	u := mustUnfold(t, "pulley-relocation", "brakes")
	s, vals := answeredUpTo(t, u, lowered(), "spare_state@left")
	vals["tail_found@left"] = 170.0 // 170 - 135 = 35, least tail of the sample plan 50
	var ids []string
	for _, o := range s.Offered(vals) {
		ids = append(ids, o.ID)
		if o.ID == "short" {
			want := "The left brake line is 15 mm too short for this pulley place. Undo nothing. " +
				"Fit longer brake mains, both sides as a pair, or leave the pulleys where they are."
			if got := s.Say(o.Stop, "en", vals); got != want {
				t.Errorf("%s", got)
			}
		}
	}
	if strings.Join(ids, " ") != "short wrong" {
		t.Errorf("offered: %v, want short and wrong", ids)
	}
	for _, other := range u.Slots[:s.Index] {
		if other.Step.Alters {
			t.Errorf("%s stands before the spare is known", other.Key)
		}
	}
	vals["tail_found@left"] = 185.0 // exactly the least tail
	if o := s.Offered(vals); o[0].ID != "enough" {
		t.Errorf("exactly the least tail is refused")
	}
}

func TestSidesOfTheRiserAreCompared(t *testing.T) {
	u := mustUnfold(t, "pulley-relocation", "brakes")
	s, _ := u.Slot("distance_right")
	if key, ok := s.KeyOf(s.Step.Against); !ok || key != "distance_left" {
		t.Errorf("compared with %q", key)
	}
	if limit, ok, err := s.Limit(values{}); !ok || err != nil || limit != 5 {
		t.Errorf("limit %v %v %v, want 5 mm", limit, ok, err)
	}
}

// The plan of the sample wing has 135 mm between its places; a side that sits
// right already is held to the way of the other.
func TestTheDistanceIsHeldAgainstThePlan(t *testing.T) {
	u := mustUnfold(t, "pulley-relocation", "brakes")
	vals := values{"place_found@left": "second", "place_found@right": "first", "place_new": "second"}
	left, _ := u.Slot("distance_left")
	if want, ok, err := left.Expect(vals); !ok || err != nil || want != 135 {
		t.Errorf("expected %v %v %v, want 135 mm", want, ok, err)
	}
	right, _ := u.Slot("distance_right")
	if must(t, right, vals, 141.0) || !must(t, right, vals, 139.0) {
		t.Error("the right riser is not held against the plan")
	}
	p, _ := library(t).Get("pulley-relocation")
	u, err := procedure.Unfold(p, altered(t, "name = \"Sample", "partial = true\nname = \"Sample", "below_mm = 135", ""), wing.Brakes())
	if err != nil {
		t.Fatal(err)
	}
	left, _ = u.Slot("distance_left")
	_, ok, fault := left.Expect(vals)
	if _, limit, _ := left.Limit(vals); ok || limit || fault != nil {
		t.Errorf("without the plan's distance something is expected: %v", fault)
	}
}

func TestNothingIsMovedWhereBothSitRight(t *testing.T) {
	u := mustUnfold(t, "pulley-relocation", "brakes")
	s, _ := u.Slot("place_new")
	vals := values{"place_found@left": "second", "place_found@right": "second"}
	if must(t, s, vals, "second") || !must(t, s, vals, "first") {
		t.Error("the place where both pulleys sit is taken for a new one")
	}
}

// What readings of the brakes should lie near, by the first that is there.
func TestWhatReadingsOfTheBrakesShouldLieNear(t *testing.T) {
	u := mustUnfold(t, "pulley-relocation", "brakes")
	vals := values{
		"tail_found@left": 165.0, "play_found@left": 120.0, "distance_left": 135.0, "place_found@left": "first", "place_new": "second",
	}
	for _, c := range []struct {
		key    string
		value  float64
		is     float64
		within float64
		where  string
	}{
		{"tail_found@left", 4.1, 250, 150, "the plan has 250 mm as made"},
		{"tail_found@right", 16, 165, 40, "the left side has 165 mm"},
		{"play_found@left", 1, 100, 0, "the least free play is 100 mm"},
		{"distance_right", 13, 135, 0, "the left riser has 135 mm"},
		{"knot_moved@left", 107, 135, 25, "it is to be 135 mm"},
		{"tail_after@left", 300, 30, 40, "it is reckoned as 30 mm"},
		{"play_closed@left", 12, 120, 0, "it was 120 mm before the move"},
	} {
		s, _ := u.Slot(c.key)
		is, within, where, ok := s.Near(vals, c.value)
		if !ok || is != c.is || within != c.within || where != c.where {
			t.Errorf("%s, %v: %v %v %q %v, want %v %v %q", c.key, c.value, is, within, where, ok, c.is, c.within, c.where)
		}
	}
}

func TestInflatedPlayIsAskedForEachSettingOfTheWing(t *testing.T) {
	a := lowered().with(answers{"play_how": "trimmers", "edge": "clean"})
	for _, side := range []string{"left", "right"} {
		a = a.with(answers{"play_closed@" + side: "120", "play_open@" + side: "105"})
	}
	u := mustUnfold(t, "pulley-relocation", "brakes")
	b := walk(t, u, a)
	s, _ := u.Slot("play_open@left")
	if must(t, s, b.vals, 95.0) {
		t.Error("free play below the least of the plan is taken")
	}
}

func TestOnePulleyPlaceIsNothingToMoveBetween(t *testing.T) {
	plan := altered(t, "[[brake.pulley]]\nname = \"low\"\nbelow_mm = 135\n", "")
	p, _ := library(t).Get("pulley-relocation")
	_, err := procedure.Unfold(p, plan, wing.Brakes())
	if err == nil || !strings.HasPrefix(err.Error(), "By the plan this riser has one place for the pulley only.") {
		t.Errorf("%v", err)
	}
}
