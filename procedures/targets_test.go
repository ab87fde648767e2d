package procedures_test

import (
	"errors"
	"flag"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
	"example.org/linewright/procedures"
)

// with gives answers with some replaced; a "-" takes one out.
func (a answers) with(other answers) answers {
	out := maps.Clone(a)
	for key, text := range other {
		if out[key] = text; text == "-" {
			delete(out, key)
		}
	}
	return out
}

func TestSwapsOfOtherLines(t *testing.T) {
	for _, c := range []struct {
		target string
		change answers
	}{
		{"line:C2.3@left", answers{ // a middle line: two joints
			"saw_joints": "1", "saw_fork_1": "1", "saw_carries": "2", "saw_tab": "5",
			"part.part_code": "C2.3", "part.new_mm": "1508 1509", "twin_mm": "1507",
			"closure.old_loose": "1505", "closure.new_installed": "1508",
			"closure.second_code": "C2.3", "closure.second_joint@2": "same",
		}},
		{"line:C3.6@right", answers{ // an upper line: three joints, the last at its tab
			"saw_side": "right", "saw_joints": "2", "saw_fork_1": "1", "saw_fork_2": "2", "saw_carries": "0", "saw_tab": "6",
			"part.part_code": "C3.6", "part.new_mm": "605 606", "twin_mm": "604", "damage_seen": "severed", "closure.old_loose": "-",
			"closure.new_installed": "605", "closure.second_code": "C3.6", "closure.second_joint@2": "same", "closure.second_joint@3": "same",
		}},
		{"line:S1.1@left", answers{ // the stabilo: fourth on the link of the B lines
			"saw_branch": "B", "saw_place": "4", "saw_carries": "2", "saw_row": "S", "saw_tab": "1",
			"part.part_code": "S1.1", "part.new_mm": "4000 4001", "twin_mm": "4000",
			"opening.order_before": "B1.1 B1.2 B1.3 S1.1", "closure.order_after": "B1.1 B1.2 B1.3 S1.1",
			"closure.old_loose": "3995", "closure.new_installed": "4001",
			"closure.second_code": "S1.1", "closure.second_free": "4",
		}},
		{"line:s2.1@left", answers{ // differs from S2.1 by its case alone
			"saw_branch": "B", "saw_place": "4", "saw_joints": "1", "saw_fork_1": "2", "saw_carries": "0", "saw_row": "S", "saw_tab": "4",
			"part.part_code": "s2.1", "part.new_mm": "1000 1001", "twin_mm": "1000",
			"opening.order_before": "B1.1 B1.2 B1.3 S1.1", "closure.order_after": "B1.1 B1.2 B1.3 S1.1",
			"closure.old_loose": "995", "closure.new_installed": "1001",
			"closure.second_code": "s2.1", "closure.second_free": "4", "closure.second_joint@2": "same",
		}},
	} {
		t.Run(c.target, func(t *testing.T) {
			u := mustUnfold(t, "line-swap", c.target)
			walk(t, u, fitted(t, u, swapC12().with(c.change)))
		})
	}
}

// fitted moves lengths to where the plan has the line, so that the tests above
// do not depend on the sample's numbers.
func fitted(t *testing.T, u *procedure.Unfolded, a answers) answers {
	t.Helper()
	plan := u.Facts["line.length_mm"].(float64)
	first := number(t, strings.Fields(a["part.new_mm"])[0])
	out := maps.Clone(a)
	for _, key := range []string{"part.new_mm", "twin_mm", "closure.old_loose", "closure.new_installed"} {
		var moved []string
		for _, r := range strings.Fields(a[key]) {
			moved = append(moved, procedure.Print(number(t, r)-first+plan))
		}
		if len(moved) > 0 {
			out[key] = strings.Join(moved, " ")
		}
	}
	return out
}

func TestTargetsThatCannotBeSwapped(t *testing.T) {
	for target, want := range map[string]string{
		"line:S3.3@left": "S3.3 is sewn into its tab: it cannot be looped out at the bench.\n" +
			"  Keep the tag on and give the wing to a workshop that sews lines in.",
		"line:Br1.1@left": "Br1.1 is the brake main line: its lower end is tied to the handle, it hangs on no link.\n" +
			"  Take brake-main, a task for each side: both mains are renewed as a pair; to move only the knots take pulley-relocation.",
		"line:Br3.2@right": "Br3.2 hangs above the brake handle: its joint opens only when the brake main is untied and drawn through the pulley.\n" +
			"  Keep the tag on and give the lines of the fan to a workshop; brake-main renews the main below them.",
		"line:C9.9@left": "The plan has no C9.9 left.\n  Choose one that the plan shows; codes are case-sensitive.",
		"line:c1.2@left": "The plan has no c1.2 left.\n  Choose one that the plan shows; codes are case-sensitive.",
		"link:C@left":    "Line swap works on a line, not on link C left.\n  Choose another procedure, or another target.",
		"brakes":         "Line swap works on a line, not on both brakes.\n  Choose another procedure, or another target.",
	} {
		_, err := unfold(t, "line-swap", target)
		var bar *procedure.BarError
		if !errors.As(err, &bar) || err.Error() != want {
			t.Errorf("%s: %v\nwant %s", target, err, want)
		}
	}
}

// altered is the sample plan with some text replaced.
func altered(t *testing.T, pairs ...string) *wing.Plan {
	t.Helper()
	data, err := procedures.Sample.ReadFile("sample/plan.toml")
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	for i := 0; i < len(pairs); i += 2 {
		if !strings.Contains(text, pairs[i]) {
			t.Fatalf("the sample plan has no %q", pairs[i])
		}
		text = strings.ReplaceAll(text, pairs[i], pairs[i+1])
	}
	plan, err := wing.ParsePlan([]byte(text), "altered")
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

func unfoldOn(t *testing.T, plan *wing.Plan, id string, target wing.Ref) (*procedure.Unfolded, error) {
	t.Helper()
	p, _ := library(t).Get(id)
	return procedure.Unfold(p, plan, target)
}

const linkC = "name = \"C\"\nbranch = \"C\"\nkind = \"screw\"\nwire_mm = 3.5\npitch_mm = 0.6\nthread_mm = 3\nsource = \"sample plan, invented\"\ntorque_nm = 1\ntorque_source = \"sample plan, invented\"\n"

func TestSoftLinkHasItsOwnSteps(t *testing.T) {
	plan := altered(t, linkC, "name = \"C\"\nbranch = \"C\"\nkind = \"soft\"\n")
	u, err := unfoldOn(t, plan, "line-swap", wing.LineRef("C1.2", wing.Left))
	if err != nil {
		t.Fatal(err)
	}
	b := walk(t, u, swapC12().with(answers{
		"opening.gate_end_before": "-", "opening.turns_open": "-", "opening.passes_before": "2",
		"closure.turns_closed": "-", "closure.gate_end_after": "-", "closure.nut": "-", "closure.second_gate": "-",
		"closure.passes_after": "2", "closure.knob": "home", "closure.cord": "sound", "closure.second_knob": "home",
	}))
	for _, key := range b.met {
		if strings.Contains(key, "turns") || strings.Contains(key, "torque") || strings.Contains(key, "marked") {
			t.Errorf("%s is asked for a soft link", key)
		}
	}
}

func TestTorqueIsAskedWhenAWrenchWasUsed(t *testing.T) {
	u := mustUnfold(t, "line-swap", "line:C1.2@left")
	walk(t, u, swapC12().with(answers{"closure.nut": "wrench", "closure.torque": "1"}))
	sl, _ := u.Slot("closure.torque")
	if want, ok, err := sl.Expect(values{}); !ok || err != nil || want != 1 {
		t.Errorf("expected torque %v %v %v, want 1 N·m of the plan", want, ok, err)
	}
}

func TestALineAloneOnItsLinkHasNoOrder(t *testing.T) {
	plan, err := wing.ParsePlan([]byte(`linewright_plan = 1
name = "One"
size = "S"
partial = true
source = { text = "as found", date = "2026-03-01" }
[[riser]]
branch = "T"
[[link]]
name = "T"
branch = "T"
kind = "screw"
[[line]]
code = "T1"
row = "T"
tier = "lower"
on = "link:T"
point = "T1"
sheathed = false
`), "one")
	if err != nil {
		t.Fatal(err)
	}
	u, err := unfoldOn(t, plan, "line-swap", wing.LineRef("T1", wing.Left))
	if err != nil {
		t.Fatal(err)
	}
	// the turns are not known to the plan and the count is lost: the twin link
	b := walk(t, u, swapC12().with(answers{
		"saw_branch": "T", "saw_place": "1", "saw_carries": "0", "saw_row": "T", "saw_tab": "1",
		"damage_seen": "strands", "part.part_code": "T1",
		"opening.gate_end_before": "-", "opening.order_before": "-", "closure.order_after": "-",
		"opening.turns_open": "0", "closure.turns_twin": "5.5",
		"closure.second_order": "-", "closure.second_code": "T1", "closure.second_free": "1",
	}))
	if !slices.Contains(b.met, "closure.line_back") {
		t.Error("nobody asks whether the line is back on the link")
	}
	// a plan without a length judges nothing by it
	sl, _ := u.Slot("part.new_mm")
	for name, f := range map[string]func(procedure.Values) (float64, bool, error){"expect": sl.Expect, "limit": sl.Limit, "low": sl.Low} {
		if v, ok, err := f(values{}); ok || err != nil {
			t.Errorf("%s: %v %v %v without a length in the plan", name, v, ok, err)
		}
	}
}

func TestALineOnARiserTabIsRefused(t *testing.T) {
	plan := altered(t, "code = \"A1.1\"\nrow = \"A\"\ntier = \"lower\"\non = \"link:A\"", "code = \"A1.1\"\nrow = \"A\"\ntier = \"lower\"\non = \"riser:A\"",
		"on = \"link:A\"\npos = 2", "on = \"link:A\"\npos = 1", "on = \"link:A\"\npos = 3", "on = \"link:A\"\npos = 2")
	_, err := unfoldOn(t, plan, "line-swap", wing.LineRef("A2.1", wing.Right))
	if err == nil || !strings.HasPrefix(err.Error(), "A2.1 hangs on a riser tab without a link") {
		t.Errorf("%v", err)
	}
}

// The keys of the slots stand in journals: a change of one is a new edition.
func TestSlotKeys(t *testing.T) {
	var all strings.Builder
	for _, c := range [][2]string{
		{"line-swap", "line:C1.2@left"}, {"line-swap", "line:C2.3@left"}, {"line-swap", "line:C3.6@right"}, {"line-swap", "line:S1.1@left"},
		{"link-opening", "link:C@left"}, {"line-exchange", "line:C1.2@left"}, {"link-reclosure", "link:C@right"}, {"pulley-relocation", "brakes"},
		{"brake-main", "line:Br1.1@left"}, {"line-pair", "line:S1.1@right"},
		{"loop-change", "line:C1.2@left"}, {"brake-fittings", "brakes"}, {"retainer-renewal", "link:C@left"},
		{"trim-measure", "wing"}, {"trim-after", "wing"},
		{"link-renewal", "link:C@left"}, {"damage-survey", "wing"}, {"release", "wing"}, {"first-flight", "wing"},
	} {
		all.WriteString(keys(mustUnfold(t, c[0], c[1])))
	}
	all.WriteString(keys(mustOnTab(t, "S2.2")))
	all.WriteString(keys(softLink(t, "A")))
	golden(t, "slots.golden", all.String())
}

// keys lists the slots of a procedure on a target, card by card.
func keys(u *procedure.Unfolded) string {
	var b strings.Builder
	b.WriteString("# " + u.Procedure.ID + " " + u.Target.Text() + "\n")
	card := ""
	for _, s := range u.Slots {
		if s.CardKey != card {
			card = s.CardKey
			b.WriteString(card + "\n")
		}
		b.WriteString("    " + s.Key + " " + string(s.Step.Kind) + "\n")
	}
	return b.String()
}

var update = flag.Bool("update", false, "write golden files; read them before you commit them")

func golden(t *testing.T, name, got string) {
	t.Helper()
	path := "testdata/" + name
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("%s differs; run with -update and read it\n%s", name, diff)
	}
}

func TestUnfoldingIsTheSameEveryTime(t *testing.T) {
	for _, id := range library(t).IDs() {
		first, second := fitting(t, id), fitting(t, id)
		if diff := cmp.Diff(laid(first), laid(second)); diff != "" {
			t.Errorf("%s: %s", id, diff)
		}
		if diff := cmp.Diff(map[string]any(first.Facts), map[string]any(second.Facts)); diff != "" {
			t.Errorf("%s: %s", id, diff)
		}
	}
}

// fitting unfolds a procedure on a target that it fits.
func fitting(t *testing.T, id string) *procedure.Unfolded {
	t.Helper()
	switch id {
	case "brake-main":
		return mustUnfold(t, id, "line:Br1.1@left")
	case "riser-line":
		return mustOnTab(t, "S2.2")
	case "soft-link":
		return softLink(t, "A")
	case "loop-change":
		return mustUnfold(t, id, "line:C1.2@left")
	}
	p, _ := library(t).Get(id)
	return mustUnfold(t, id, map[string]string{"line": "line:C2.3@left", "link": "link:C@left", "brakes": "brakes", "wing": "wing"}[p.Target])
}

func laid(u *procedure.Unfolded) []string {
	var out []string
	for _, s := range u.Slots {
		out = append(out, s.Key+" "+s.CardKey+" "+s.Say(s.Card.Action, "en", values{})+" "+u.Phases[s.Phase].Title.In("en"))
	}
	return out
}
