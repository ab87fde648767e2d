package procedures_test

import (
	"os"
	"slices"
	"strings"
	"testing"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
)

// onTab unfolds riser-line on the wing whose stabilo hangs on a tab.
func onTab(t *testing.T, code string) (*procedure.Unfolded, error) {
	t.Helper()
	data, err := os.ReadFile("testdata/riser-tab.toml")
	if err != nil {
		t.Fatal(err)
	}
	plan, err := wing.ParsePlan(data, "riser-tab.toml")
	if err != nil {
		t.Fatal(err)
	}
	return unfoldOn(t, plan, "riser-line", wing.LineRef(code, wing.Left))
}

func mustOnTab(t *testing.T, code string) *procedure.Unfolded {
	t.Helper()
	u, err := onTab(t, code)
	if err != nil {
		t.Fatal(err)
	}
	return u
}

// tabS11 exchanges S1.1 left, the inner of two lines on tab T, whose lower end
// comes off first.
func tabS11() answers {
	return answers{
		"may": "one_line", "conditions": "good",
		"saw_side": "left", "saw_branch": "T", "saw_place": "1", "saw_joints": "0", "saw_carries": "3", "saw_row": "S", "saw_tab": "1",
		"damage_seen": "sheath", "hitch": "catch", "comes_off": "tab", "picture": "",
		"part.part_seen": "sewn", "part.part_code": "S1.1", "part.new_mm": "3022 3023", "twin_mm": "3015",
		"hitch_after": "catch", "place_after": "1", "old_loose": "3018", "new_installed": "3017", "carries": "alike",
		"second_code": "S1.1", "second_joint@1": "same", "second_hitch": "catch", "second_place": "1", "second_free": "2",
		"all_lines": "sound", "inflation": "not_done", "cleared": "done", "look_again": "tag",
	}
}

func TestRiserLineStaysSmall(t *testing.T) {
	b := walk(t, mustOnTab(t, "S1.1"), tabS11())
	t.Logf("%d cards, %d keys", len(b.cards), b.keys)
	if len(b.cards) > 30 || b.keys > 120 {
		t.Errorf("%d cards and %d keys; at most 30 and 120", len(b.cards), b.keys)
	}
}

// A hitch comes apart only where an end is free to pass: the order of the work
// follows from the end that comes off.
func TestTheEndThatComesOffComesFirst(t *testing.T) {
	for off, want := range map[string]string{
		"tab":   "off freed@1 gathered@1 joint_done@1 beside_done fastened hitch_after",
		"joint": "opened_above passed_out at_tab_done gathered@1 joint_done@1 beside_done hitch_after",
	} {
		b := walk(t, mustOnTab(t, "S1.1"), tabS11().with(answers{"comes_off": off}))
		var done []string
		for _, key := range b.met {
			if strings.Contains(" "+want+" ", " "+key+" ") || strings.HasPrefix(key, "freed") {
				done = append(done, key)
			}
		}
		if got := strings.Join(done, " "); got != want {
			t.Errorf("%s first: %s\nwant %s", off, got, want)
		}
	}
}

func TestAnUpperLineOnATabComesOutFromBelow(t *testing.T) {
	u := mustOnTab(t, "S2.2")
	b := walk(t, u, tabS11().with(answers{
		"saw_joints": "1", "saw_fork_1": "2", "saw_carries": "0", "saw_tab": "2", "damage_seen": "strands",
		"part.part_code": "S2.2", "part.new_mm": "1051 1051", "twin_mm": "1049", "old_loose": "1047", "new_installed": "1050",
		"second_code": "S2.2", "second_joint@2": "same",
	}))
	var joints []string
	for _, key := range b.met {
		if strings.HasPrefix(key, "freed") || strings.HasPrefix(key, "gathered") {
			joints = append(joints, key)
		}
	}
	if got := strings.Join(joints, " "); got != "freed@1 freed@2 gathered@2 gathered@1" {
		t.Errorf("joints in the order %s", got)
	}
	s, _ := u.Slot("comes_off")
	for _, o := range s.Offered(values{}) {
		if o.ID == "joint" {
			t.Error("its lower joint is said to open while the line below is fast")
		}
	}
}

func TestALineAloneOnItsTabHasNoPlace(t *testing.T) {
	walk(t, mustOnTab(t, "K1"), tabS11().with(answers{
		"saw_branch": "U", "saw_place": "0", "saw_carries": "0", "saw_row": "K", "saw_tab": "1", "damage_seen": "severed",
		"part.part_code": "K1", "part.new_mm": "5201 5202", "twin_mm": "5198", "old_loose": "-", "new_installed": "5199",
		"place_after": "-", "second_place": "-", "second_code": "K1", "second_free": "1",
	}))
}

func TestWhatDoesNotComeOffIsForAWorkshop(t *testing.T) {
	u := mustOnTab(t, "S1.1")
	for key, options := range map[string]string{"hitch": "sewn", "comes_off": "neither"} {
		s, _ := u.Slot(key)
		at := slices.IndexFunc(s.Step.Options, func(o procedure.Option) bool { return o.ID == options })
		if stop := s.Step.Options[at].Stop.In("en"); !strings.HasPrefix(stop, "Workshop. ") {
			t.Errorf("%s %s: %q", key, options, stop)
		}
		first, _ := u.Slot("off")
		if s.Index > first.Index {
			t.Errorf("%s is asked after the line was taken off", key)
		}
	}
}

func TestTheHitchHasToComeBackAsItWas(t *testing.T) {
	u := mustOnTab(t, "S1.1")
	for _, key := range []string{"hitch_after", "second_hitch"} {
		s, vals := answeredUpTo(t, u, tabS11(), key)
		if !must(t, s, vals, "catch") || must(t, s, vals, "own_loop") {
			t.Errorf("%s: the form as found is not asked for", key)
		}
	}
	for _, key := range []string{"place_after", "second_place"} {
		s, vals := answeredUpTo(t, u, tabS11(), key)
		if must(t, s, vals, 2.0) {
			t.Errorf("%s: crossed lines are taken", key)
		}
	}
	free, vals := answeredUpTo(t, u, tabS11(), "second_free")
	if must(t, free, vals, 1.0) || must(t, free, vals, 3.0) {
		t.Error("the lines of the tab are not counted")
	}
	sign, _ := u.Slot("second_sign")
	if key, ok := sign.KeyOf(sign.Step.Covers); !ok || key != "at_tab_done" {
		t.Errorf("the second look sends the work back to %q", key)
	}
}

func TestTargetsThatHangOnNoTab(t *testing.T) {
	for target, want := range map[string]string{
		"line:C1.2@left":   "C1.2 hangs on link C, not on a riser tab.\n  Take line-swap, which opens the link.",
		"line:Br1.1@left":  "Br1.1 belongs to the brake: it ends at the handle, not at a riser tab.\n  For the brake main (Br1.1) take brake-main; lines of the brake fan are for a workshop.",
		"line:Br3.2@right": "Br3.2 belongs to the brake: it ends at the handle, not at a riser tab.\n  For the brake main (Br1.1) take brake-main; lines of the brake fan are for a workshop.",
	} {
		if _, err := unfold(t, "riser-line", target); err == nil || err.Error() != want {
			t.Errorf("%s: %v\nwant %s", target, err, want)
		}
	}
	if _, err := onTab(t, "S2.3"); err == nil || !strings.HasPrefix(err.Error(), "S2.3 is sewn into its tab") {
		t.Errorf("%v", err)
	}
}

// received are the answers of a task whose part was received in another one.
type received struct{ values }

func (received) Beyond(name string, _ wing.Ref) (any, bool) { return true, name == "received" }

func TestAPartThatWasReceivedIsNotLookedAtAgain(t *testing.T) {
	u := mustOnTab(t, "S1.1")
	_, vals := answeredUpTo(t, u, tabS11(), "part.part_seen")
	for _, s := range u.Slots {
		want := strings.HasPrefix(s.Key, "part.") || s.Key == "old_loose"
		if skip, err := s.Skipped(received{vals}); err != nil || want && !skip {
			t.Errorf("%s is asked for a part that was received (%v)", s.Key, err)
		}
	}
	twin, _ := u.Slot("twin_mm")
	if skip, err := twin.Skipped(received{vals}); err != nil || skip {
		t.Errorf("its twin is not measured (%v)", err)
	}
}

func TestABlankSheetLeavesRoomForTheTab(t *testing.T) {
	p, _ := library(t).Get("riser-line")
	sheet := p.Sheet("en", procedure.Plain)
	if !strings.Contains(sheet, "LOOK AT TAB ______ ON BOTH SIDES") {
		t.Error("the name of the tab is not left blank")
	}
}
