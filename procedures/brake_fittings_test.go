package procedures_test

import (
	"maps"
	"strings"
	"testing"
)

// fittings has pulleys and handles renewed on the sides that are given.
func fittings(sides string) answers {
	a := answers{
		"may": "fitting", "conditions": "good", "renew": "both", "sides": sides, "part_pulley": "same", "part_handle": "same",
		"brake_length_left": "700 701", "brake_length_right": "701 701",
		"second_pulleys": "alike", "second_handles": "hold", "second_knots": "right", "second_tails": "itself", "second_run": "free",
		"play_how": "not_done", "look_again": "pilot",
	}
	for _, side := range []string{"left", "right"} {
		maps.Copy(a, answers{
			"place_found@" + side: "first", "height_found@" + side: "420", "knot_found@" + side: "bowline", "tail_found@" + side: "250",
			"play_known@" + side: "not_known", "route@" + side: "straight", "parks@" + side: "holds", "propeller@" + side: "clear",
			"second_form@" + side: "bowline",
		})
		if sides == "both" || sides == side {
			maps.Copy(a, answers{
				"spare_state@" + side: "enough", "pulley_runs@" + side: "free", "height_new@" + side: "421",
				"knot_off@" + side: "2", "tail_after@" + side: "249", "tail_secured@" + side: "itself",
			})
		}
	}
	return a
}

func TestFittingsOfOneSideAndOfBoth(t *testing.T) {
	u := mustUnfold(t, "brake-fittings", "brakes")
	one, both := walk(t, u, fittings("left")), walk(t, u, fittings("both"))
	t.Logf("one side %d cards, %d keys; both %d cards, %d keys", len(one.cards), one.keys, len(both.cards), both.keys)
	if len(one.cards) > 29 || one.keys > 130 || len(both.cards) > 37 || both.keys > 170 {
		t.Error("at most 29 and 37 cards, 130 and 170 keys")
	}
	met := strings.Join(one.met, " ")
	for _, key := range []string{"knot_undone@right", "knot_tied@right", "pulley_in@right"} {
		if strings.Contains(met, key) {
			t.Errorf("%s is asked on a side that stays tied", key)
		}
	}
	for _, key := range []string{"height_found@right", "tail_found@right", "route@right", "parks@right", "brake_length_right"} {
		if !strings.Contains(met, key) {
			t.Errorf("%s is not asked", key)
		}
	}
}

func TestAPulleyAloneAndAHandleAlone(t *testing.T) {
	u := mustUnfold(t, "brake-fittings", "brakes")
	walk(t, u, fittings("both").with(answers{"renew": "pulley", "part_handle": "-"}))
	walk(t, u, fittings("right").with(answers{
		"renew": "handle", "part_pulley": "-", "pulley_runs@right": "-", "height_new@right": "-",
	}))
}

func TestFreePlayAfterNewFittings(t *testing.T) {
	u := mustUnfold(t, "brake-fittings", "brakes")
	a := fittings("both").with(answers{"play_how": "all", "edge": "clean"})
	for _, side := range []string{"left", "right"} {
		a = a.with(answers{
			"play_known@" + side: "measured", "play_found@" + side: "120",
			"play_closed@" + side: "120", "play_open@" + side: "110", "play_speed@" + side: "105",
		})
	}
	b := walk(t, u, a)
	s, _ := u.Slot("play_speed@right")
	for play, want := range map[float64]bool{99: false, 100: true, 116: false} { // left 105, least 100, 10 apart
		if got := must(t, s, b.vals, play); got != want {
			t.Errorf("free play %v mm: taken %v, want %v", play, got, want)
		}
	}
}

// Nothing is undone before it is known that tail and parts are good.
func TestNothingIsUndoneOnATailTooShort(t *testing.T) {
	u := mustUnfold(t, "brake-fittings", "brakes")
	s, vals := answeredUpTo(t, u, fittings("left"), "spare_state@left")
	vals["tail_found@left"] = 45.0 // least tail of the sample plan 50
	if got := strings.Join(offered(s, vals), " "); got != "short wrong" {
		t.Errorf("offered: %s", got)
	}
	for _, o := range s.Offered(vals) {
		want := "The left tail is 5 mm too short. Undo nothing. Fit longer brake mains, both sides as a pair, and the new parts with them."
		if got := s.Say(o.Stop, "en", vals); o.ID == "short" && got != want {
			t.Error(got)
		}
	}
	for _, other := range u.Slots[:s.Index] {
		if other.Step.Alters {
			t.Errorf("%s stands before the tail is known", other.Key)
		}
	}
	knot, _ := u.Slot("knot_found@right")
	if got := strings.Join(offered(knot, vals), " "); got != "bowline overhand other sewn_other" {
		t.Errorf("a sewn loop on the side that stays tied: offered %s", got)
	}
}

func TestWrongAnswersAtTheFittingsAreNotTaken(t *testing.T) {
	u := mustUnfold(t, "brake-fittings", "brakes")
	for key, wrong := range map[string]any{
		"part_pulley": "size", "part_handle": "rough", "place_found@right": "second", "height_found@right": 426.0,
		"knot_off@left": 6.0, "tail_after@right": 49.0, "second_form@right": "overhand",
	} {
		s, vals := answeredUpTo(t, u, fittings("both"), key)
		if must(t, s, vals, wrong) {
			t.Errorf("%s takes %v", key, wrong)
		}
	}
	for key, want := range map[string]string{"height_new@left": "height_found@left", "brake_length_right": "brake_length_left"} {
		s, _ := u.Slot(key)
		if got, ok := s.KeyOf(s.Step.Against); !ok || got != want {
			t.Errorf("%s is compared with %q, want %q", key, got, want)
		}
		if limit, ok, err := s.Limit(values{}); !ok || err != nil || limit != 5 {
			t.Errorf("%s: limit %v %v %v, want 5 mm", key, limit, ok, err)
		}
	}
}
