package procedures_test

import (
	"os"
	"strings"
	"testing"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
)

// softPlan is a small plan whose links are soft: A with three lines, T with one.
func softPlan(t testing.TB) *wing.Plan {
	t.Helper()
	data, err := os.ReadFile("testdata/soft.toml")
	if err != nil {
		t.Fatal(err)
	}
	plan, err := wing.ParsePlan(data, "soft.toml")
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

func softLink(t *testing.T, link string) *procedure.Unfolded {
	t.Helper()
	u, err := unfoldOn(t, softPlan(t), "soft-link", wing.LinkRef(link, wing.Left))
	if err != nil {
		t.Fatal(err)
	}
	return u
}

// reclosed closes a sound soft link again whose knob had not slipped.
func reclosed() answers {
	return answers{
		"how_found": "closed", "air": "good", "cord_seen": "sound", "spare": "none",
		"read_from": "this", "order_before": "1 2 3", "passes_before": "2", "riser_before": "1", "end_before": "tucked",
		"cord_open":   "sound",
		"order_after": "1 2 3", "passes_after": "2", "riser_after": "1",
		"knob_home": "home", "cord_lies": "flat", "end_after": "tucked", "hand_pull": "home", "full_pull": "home",
		"second_order": "same", "second_passes": "2", "second_riser": "1", "second_knob": "home", "second_cord": "sound", "second_free": "3",
		"all_lines": "sound", "inflation": "clean", "each_day": "pilot",
	}
}

// renewed has a worn soft link replaced by one that is 2 mm longer.
func renewed() answers {
	return reclosed().with(answers{
		"cord_seen": "fuzzed", "spare": "same", "cord_open": "-",
		"part_label": "size 2, no. 17", "part_like": "same", "new_mm": "82 82.5", "old_can": "whole", "old_mm": "80",
		"cleared": "done", "other_link": "young",
	})
}

func TestASoftLinkIsClosedAgain(t *testing.T) {
	b := walk(t, softLink(t, "A"), reclosed())
	t.Logf("%d cards, %d keys", len(b.cards), b.keys)
	if len(b.cards) > 20 || b.keys > 100 {
		t.Errorf("%d cards and %d keys, at most 20 and 100", len(b.cards), b.keys)
	}
	for _, key := range b.met {
		if strings.Contains(key, "turns") || strings.Contains(key, "torque") || strings.Contains(key, "part") {
			t.Errorf("%s is asked of a sound soft link", key)
		}
	}
}

func TestASoftLinkIsRenewed(t *testing.T) {
	b := walk(t, softLink(t, "A"), renewed())
	t.Logf("%d cards, %d keys", len(b.cards), b.keys)
	if len(b.cards) > 23 || b.keys > 130 {
		t.Errorf("%d cards and %d keys, at most 23 and 130", len(b.cards), b.keys)
	}
}

func TestAnyDamageOfASoftLinkEndsInANewOne(t *testing.T) {
	for _, damage := range []string{"age", "flat", "fuzzed", "glazed", "knob"} {
		walk(t, softLink(t, "A"), renewed().with(answers{"cord_seen": damage}))
		if damage != "age" { // seen only when it is open
			walk(t, softLink(t, "A"), renewed().with(answers{"cord_seen": "sound", "cord_open": damage}))
		}
	}
}

func TestALineAloneOnASoftLink(t *testing.T) {
	b := walk(t, softLink(t, "T"), reclosed().with(answers{
		"order_before": "-", "order_after": "-", "second_order": "-", "second_free": "1",
		"how_found": "slipped", "read_from": "other",
	}))
	if !strings.Contains(strings.Join(b.met, " "), "line_back") {
		t.Error("nobody asks whether the line is back")
	}
}

// A worn soft link stays closed until a new one lies beside it; one that
// slipped is no pattern of how it was closed.
func TestWhatASoftLinkOffers(t *testing.T) {
	u := softLink(t, "A")
	spare, _ := u.Slot("spare")
	from, _ := u.Slot("read_from")
	for _, c := range []struct {
		at   *procedure.Slot
		vals values
		want string
	}{
		{spare, values{"cord_seen": "sound"}, "same none"},
		{spare, values{"cord_seen": "glazed"}, "same wanting"},
		{from, values{"how_found": "closed"}, "this other sheet"},
		{from, values{"how_found": "open"}, "other sheet"},
	} {
		if got := strings.Join(offered(c.at, c.vals), " "); got != c.want {
			t.Errorf("%s with %v offers %s, want %s", c.at.Key, c.vals, got, c.want)
		}
	}
	for _, s := range u.Slots {
		if s.Step.Opens && s.Index < spare.Index {
			t.Errorf("%s opens the link before a new one is known to be there", s.Key)
		}
	}
}

func offered(s *procedure.Slot, vals values) []string {
	var ids []string
	for _, o := range s.Offered(vals) {
		ids = append(ids, o.ID)
	}
	return ids
}

func TestWrongAnswersAtASoftLinkAreNotTaken(t *testing.T) {
	u := softLink(t, "A")
	for key, wrong := range map[string]any{
		"passes_after": 1.0, "riser_after": 2.0, "end_after": "short", "part_like": "thinner",
		"second_passes": 3.0, "second_riser": 0.0, "second_free": 2.0,
	} {
		s, vals := answeredUpTo(t, u, renewed(), key)
		if must(t, s, vals, wrong) {
			t.Errorf("%s takes %v", key, wrong)
		}
	}
	s, vals := answeredUpTo(t, u, renewed(), "old_mm")
	if limit, ok, err := s.Limit(vals); !ok || err != nil || limit != 5 {
		t.Errorf("old and new are held within %v %v %v, want 5 mm of the plan", limit, ok, err)
	}
}

func TestAScrewLinkIsNoSoftLink(t *testing.T) {
	_, err := unfold(t, "soft-link", "link:C@left")
	want := "Link C is a screw link: it has a gate and turns, no knob.\n  Take link-reclosure to close it."
	if err == nil || err.Error() != want {
		t.Errorf("%v, want %s", err, want)
	}
}
