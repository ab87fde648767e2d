package procedure

import (
	"os"
	"strings"
	"testing"

	"example.org/linewright/engine/wing"
)

// look is a look at a whole wing without a fault; the cases change it in one
// place.
const look = `linewright_procedure = 1
id = "look"
edition = "1"
title.en = "Look"
target = "wing"

[[finding]]
id = "cut"
text.en = "cut"
on = ["sheathed line", "bare line"]
disposition = "replace"
reason.en = "It opens."
place = true

[[finding]]
id = "slid"
text.en = "sheath slid"
on = ["sheathed line"]
disposition = "measure"
reason.en = "A tape can say."

[[finding]]
id = "worn"
text.en = "worn"
on = ["screw link", "soft link", "retainer", "riser", "pulley", "handle", "knot", "parking"]
disposition = "watch"
reason.en = "It goes on."

[[finding]]
id = "unsure"
text.en = "not sure"
on = ["cloth", "tab"]
disposition = "workshop"
reason.en = "What is not known is not sound."

[[phase]]
id = "look"
title.en = "Look"
[[phase.card]]
id = "cloth"
each = "side"
action.en = "LOOK AT THE CLOTH, {HERE}"
reason.en = "So."
step = [{ id = "cloth", kind = "inspect", of = "cloth", ask.en = "Cloth" }]
[[phase.card]]
id = "row"
each = "row side"
action.en = "LOOK AT ROW {here}"
reason.en = "So."
step = [{ id = "row", kind = "inspect", of = "lines", ask.en = "Row {here}" }]
[[phase.card]]
id = "fittings"
each = "side"
action.en = "LOOK AT THE FITTINGS, {HERE}"
reason.en = "So."
step = [{ id = "fittings", kind = "inspect", of = "fittings", ask.en = "Fittings" }]
[[phase.card]]
id = "kin"
action.en = "LOOK AGAIN"
reason.en = "So."
step = [{ id = "kin", kind = "inspect", of = "kin", ask.en = "Again" }]
[[phase.card]]
id = "row_mm"
each = "row"
action.en = "MEASURE ROW {here}"
reason.en = "So."
step = [{ id = "row_mm", kind = "lengths", of = "row", ask.en = "Row {here}" }]
[[phase.card]]
id = "end"
action.en = "SIGN"
reason.en = "So."
step = [
  { id = "marks", kind = "count", quantity = "count", must = "value == findings", else.en = "Again.", ask.en = "Marks" },
  { id = "mark", kind = "code", when = "len(findings.codes) > 0", must = "any(findings.codes, # == value)", else.en = "Again.", ask.en = "Mark" },
  { id = "own", kind = "code", must = "any(plan.codes, # == value)", else.en = "Again.", ask.en = "Own" },
  { id = "clear", kind = "clear", ask.en = "Clear" },
  { id = "pilot", kind = "sign", role = "pilot", states.en = "So." },
]
`

// work is work on both brakes without a fault.
const work = `linewright_procedure = 1
id = "work"
edition = "1"
title.en = "Work"
target = "brakes"
pair = true
mends = ["pulley"]
puts_right = ["knot"]
[[phase]]
id = "fit"
title.en = "Fit"
each = "side"
[[phase.card]]
id = "fit"
action.en = "FIT"
reason.en = "So."
step = [{ id = "fitted", kind = "do", alters = true, mends = "pulley", ask.en = "Fitted" }]
`

func TestSoundLooksHaveNoFault(t *testing.T) {
	if _, err := NewLibrary([]File{{"look.toml", []byte(look)}, {"work.toml", []byte(work)}}); err != nil {
		t.Fatal(err)
	}
}

func TestEveryRuleOfTheWholeWingNamesFileLineKeyAndCure(t *testing.T) {
	const kinds = "sheathed line, bare line, screw link, soft link, tab, cloth, retainer, riser, pulley, handle, knot, parking"
	const mends = `write some of "line", "link", "retainer", "riser", "pulley", "handle", "knot", "parking"`
	for file, cases := range map[string][]lintCase{look: {
		{`id = "cut"`, `id = "Cut"`, `f.toml:8: finding[0].id: "Cut" is no id, or stands twice
  use small letters, digits and _, starting with a letter`},
		{`id = "slid"`, `id = "cut"`, `f.toml:16: finding[1].id: "cut" is no id, or stands twice
  use small letters, digits and _, starting with a letter`},
		{`text.en = "cut"`, `text.en = "cut at {here}"`, `f.toml:9: finding[0].text.en: {here} is not known here
  name a step, let, param or fact
f.toml:9: finding[0].text.en: nothing is filled in here
  take the {…} out`},
		{`reason.en = "It opens."`, ``, `f.toml:7: finding[0].reason: the English text is missing
  reason.en = "…"`},
		{`disposition = "replace"`, `disposition = "ignore"`, `f.toml:11: finding[0].disposition: "ignore" is no disposition
  write "replace", "mend", "measure", "workshop", "watch" or "sound"`},
		{`id = "cut"`, `id = "cut"
number = 1`, `f.toml:16: finding[1].number: 0 chooses no finding
  write a number from 1 to 99 at each finding, or at none
f.toml:23: finding[2].number: 0 chooses no finding
  write a number from 1 to 99 at each finding, or at none
f.toml:30: finding[3].number: 0 chooses no finding
  write a number from 1 to 99 at each finding, or at none`},
		{`id = "worn"`, `id = "unsure_fitting"`, `f.toml:26: finding[2].disposition: what is not known is not sound
  write "measure", "replace" or "workshop"`},
		{`on = ["sheathed line"]`, `on = ["sheathed line", "knot"]`, `f.toml:19: finding[1].disposition: no length decides about a knot
  write "replace" or "workshop", or keep to lines`},
		{`on = ["cloth", "tab"]`, `on = ["sail"]`, "f.toml:32: finding[3].on: \"sail\" is no kind of thing\n  write some of: " + kinds},
		{`on = ["cloth", "tab"]`, `on = []`, "f.toml:32: finding[3].on: it can be found on nothing\n  write some of: " + kinds},
		{`of = "cloth"`, `of = "sail"`, `f.toml:44: phase[0].card[0].step[0].of: "sail" is nothing that it can look at
  write one of: cloth, lines, fittings, kin`},
		{`each = "row side"`, `each = "side"`, `f.toml:50: phase[0].card[1].step[0].of: "lines" is not looked at once for each "side"
  write each = "row side"`},
		{`id = "kin"
action`, `id = "kin"
each = "side"
action`, `f.toml:62: phase[0].card[3].step[0].of: "kin" is not looked at once for each "side"
  take each out`},
		{`of = "row"`, `of = "kin"`, `f.toml:67: phase[0].card[4].step[0].of: "kin" is nothing that it can look at
  write one of: row, changed
f.toml:67: phase[0].card[4].step[0].of: "kin" is not looked at once for each "row"
  take each out`},
		{`kind = "clear", `, `kind = "clear", of = "row", `, `f.toml:72: phase[0].card[5].step[3].of: a clear step has no of
  take it out`},
		{`must = "value == findings"`, `must = "value == findings.codes"`, `f.toml:72: phase[0].card[5].step[0].must: invalid operation: == (mismatched types float64 and []string), at column 7 of "value == findings.codes"
  an expression has names, numbers, "texts", + - * / < <= == != > >= && || ! ?: and has, all, any, min, max, count, abs, len`},
		{`target = "wing"`, `target = "wing"
receives = true`, `f.toml:6: receives: only a line is received by a task of its own
  take it out, or write target = "line"`},
		{`  { id = "clear", `, `  { id = "blown", kind = "choose", ask.en = "Blown", option = [{ id = "a", text.en = "a" }, { id = "b", text.en = "b", grounds = true }] },
  { id = "clear", `, `f.toml:72: phase[0].card[5].step[3].option[1].grounds: nothing is left open here that could keep the wing on the ground
  add open_item.en = "…", or take grounds out`},
		{`role = "pilot"`, `role = "friend"`, `f.toml:72: phase[0].card[5].step[4].role: "friend" cannot sign
  write role = "doer", role = "second" or role = "pilot"`},
	}, work: {
		{`mends = ["pulley"]`, `mends = ["pulley", "cloth"]`, "f.toml:7: mends[1]: \"cloth\" is no kind of thing that work here mends\n  " + mends + `
f.toml:7: mends[1]: no step says on which side a cloth is mended
  write mends = "cloth" at the step by which it is`},
		{`mends = ["pulley"]`, `mends = ["pulley", "handle"]`, `f.toml:7: mends[1]: no step says on which side a handle is mended
  write mends = "handle" at the step by which it is`},
		{`mends = ["pulley"]`, ``, `f.toml:17: phase[0].card[0].step[0].mends: the head does not say that a "pulley" is mended
  add it to mends in the head`},
		{`puts_right = ["knot"]`, `puts_right = ["tab"]`, "f.toml:8: puts_right[0]: \"tab\" is no kind of thing that work here puts right\n  " + mends},
		{"each = \"side\"\n", "", `f.toml:16: phase[0].card[0].step[0].mends: nobody can tell on which side
  write each = "side"`},
		{"target = \"brakes\"\npair = true\n", "target = \"link\"\n", `f.toml:16: phase[0].card[0].step[0].alters: only a pair has sides that must not stay unequal
  take alters out, or write pair = true in the head
f.toml:16: phase[0].card[0].step[0].mends: only work on both brakes says which step mends what
  take it out; the head says what the task mends`},
	}} {
		for _, c := range cases {
			if strings.Count(file, c.from) == 0 {
				t.Fatalf("%q is not in the file", c.from)
			}
			_, err := NewLibrary([]File{{"f.toml", []byte(strings.Replace(file, c.from, c.to, 1))}})
			if err == nil || err.Error() != c.want {
				t.Errorf("%s\ngot\n%v\nwant\n%s", c.to, err, c.want)
			}
		}
	}
}

func TestAWholeWingNeedsItsTargetAndItsRules(t *testing.T) {
	for to, want := range map[string]string{
		strings.Replace(look, `target = "wing"`, `target = "brakes"`, 1): `an inspect step is for a whole wing`,
		look[:strings.Index(look, "[[finding]]")] + look[strings.Index(look, "[[phase]]"):]: `there are no rules for what is found
  write a [[finding]] for each state, with its disposition`,
	} {
		_, err := NewLibrary([]File{{"f.toml", []byte(to)}})
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("got\n%v\nwant\n%s", err, want)
		}
	}
}

// lookOn lays the look out on the sample wing.
func lookOn(t *testing.T) *Unfolded {
	t.Helper()
	lib, err := NewLibrary([]File{{"look.toml", []byte(look)}})
	if err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile("../../procedures/sample/plan.toml")
	if err != nil {
		t.Fatal(err)
	}
	plan, err := wing.ParsePlan(data, "plan.toml")
	if err != nil {
		t.Fatal(err)
	}
	p, _ := lib.Get("look")
	u, err := Unfold(p, plan, wing.Whole())
	if err != nil {
		t.Fatal(err)
	}
	return u
}

// Each thing of the wing is looked at once, and each has its own words.
func TestALookGoesOverEveryThingOnce(t *testing.T) {
	u := lookOn(t)
	seen := map[wing.Ref]int{}
	for _, s := range u.Slots {
		for _, ref := range s.Things() {
			seen[ref]++
			if len(s.Rules(ref)) == 0 {
				t.Errorf("%s has no words", ref)
			}
		}
	}
	for _, l := range u.plan.Lines {
		for _, side := range wing.Sides {
			if n := seen[wing.LineRef(l.Code, side)]; n != 1 {
				t.Errorf("%s %s is looked at %d times", l.Code, side, n)
			}
		}
	}
	for ref, n := range seen {
		if n != 1 {
			t.Errorf("%s is looked at %d times", ref, n)
		}
	}
	row, _ := u.Slot("row@C.left")
	ids := func(code string) string {
		var out []string
		for _, r := range row.Rules(wing.LineRef(code, wing.Left)) {
			out = append(out, r.ID)
		}
		return strings.Join(out, " ")
	}
	if sheathed, bare := ids("C1.2"), ids("C3.6"); sheathed != "cut slid" || bare != "cut" {
		t.Errorf("sheathed %q, bare %q", sheathed, bare)
	}
	if _, ok := row.Rule("nothing"); ok {
		t.Error("a rule of no table is found")
	}
	if r, ok := row.Rule("slid"); !ok || r.Disposition != ByLength {
		t.Errorf("%+v", r)
	}
}

// Of all dispositions only two let the wing fly.
func TestWhatIsNotWatchedOrSoundGrounds(t *testing.T) {
	for _, d := range append(Dispositions, "", "of another edition") {
		if want := d != Watch && d != Sound; d.Grounds() != want {
			t.Errorf("%q keeps the wing on the ground: %v", d, d.Grounds())
		}
	}
}

// On paper the words of a look stand once, by what they are for; where the wing
// is known, only for what it has.
func TestTheWordsOfALookStandOnceOnPaper(t *testing.T) {
	u := lookOn(t)
	for name, sheet := range map[string]string{"blank": u.Procedure.Sheet("en", Plain), "on a wing": u.Sheet("en", Plain)} {
		for text, want := range map[string]int{
			"          Sheathed line, bare line:\n          cut: REPLACE. It opens.\n":                               1,
			"          Sheathed line:\n          sheath slid: MEASURE. A tape can say.\n":                            1,
			"          Cloth, tab:\n          not sure: WORKSHOP. What is not known is not sound.\n":                 1,
			"Write what is found in the words above.":                                                                1,
			map[string]string{"blank": "Riser, screw link, soft link, ", "on a wing": "Riser, screw link, re"}[name]: 1,
			"in the words of no. 1.1.": 1,
		} {
			if n := strings.Count(sheet, text); n != want {
				t.Errorf("%s: %q stands %d times, want %d", name, text, n, want)
			}
		}
	}
	if text := u.Sheet("en", Plain); !strings.Contains(text, "          C1.2 left: sound ______ found ______________________________\n          C1.3 left") {
		t.Error("the lines of a row have no rows of their own")
	}
}

// On paper a row has a line for each path, or blank ones where the wing is not
// known, and the pilot signs as the pilot.
func TestRowsAndThePilotOnPaper(t *testing.T) {
	u := lookOn(t)
	blank, known := u.Procedure.Sheet("en", Plain), u.Sheet("en", Plain)
	if n := strings.Count(blank, "______: left ______ mm right ______ mm"); n != 6 {
		t.Errorf("%d blank rows, want 6", n)
	}
	for _, p := range u.plan.Paths(wing.Left) {
		if n := strings.Count(known, " "+p.Point+": left ______ mm right ______ mm"); n != 1 {
			t.Errorf("path %s has %d rows", p.Point, n)
		}
	}
	for _, sheet := range []string{blank, known} {
		if !strings.Contains(sheet, "Pilot, name ____") || strings.Contains(sheet, "Doer, name") {
			t.Error("the pilot does not sign as the pilot")
		}
	}
}

// A number that two findings have says one thing of each kind of thing.
func TestANumberOfAFindingIsOfOneOnEachThing(t *testing.T) {
	numbered := strings.NewReplacer(`id = "cut"`, "id = \"cut\"\nnumber = 3", `id = "slid"`, "id = \"slid\"\nnumber = 1",
		`id = "worn"`, "id = \"worn\"\nnumber = 3", `id = "unsure"`, "id = \"unsure\"\nnumber = 12").Replace(look)
	lib, err := NewLibrary([]File{{"look.toml", []byte(numbered)}})
	if err != nil {
		t.Fatal(err)
	}
	p, _ := lib.Get("look")
	rules := []*FindingRule{&p.Findings[0], &p.Findings[2], &p.Findings[3]}
	for text, want := range map[string]string{"3": "cut", "12": "unsure", "worn": "worn", "1": "", "13": ""} {
		r, ok := RuleNamed(rules, text)
		if ok != (want != "") || ok && r.ID != want {
			t.Errorf("%q chooses %v, want %q", text, r, want)
		}
	}
	if _, err := NewLibrary([]File{{"look.toml", []byte(strings.Replace(numbered, "number = 1\n", "number = 3\n", 1))}}); err == nil ||
		!strings.Contains(err.Error(), `finding[1].number: 3 chooses "cut" too, on the same kind of thing`) {
		t.Errorf("3 stands twice on a line: %v", err)
	}
}

func TestNumbersOfRules(t *testing.T) {
	for want, numbers := range map[string][]int{"": nil, "4": {4}, "1, 2": {1, 2}, "2, 3, 5 to 8, 12": {2, 3, 5, 6, 7, 8, 12}} {
		var rules []*FindingRule
		for _, n := range numbers {
			rules = append(rules, &FindingRule{Number: n})
		}
		if got := RuleNumbers(rules); got != want {
			t.Errorf("%v: %q, want %q", numbers, got, want)
		}
	}
}
