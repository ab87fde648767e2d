package procedure

import (
	"strings"
	"testing"
)

// sound is a procedure without a fault; the tests below change it in one place.
const sound = `linewright_procedure = 1
id = "main"
edition = "1"
title.en = "Main"
target = "line"

[[param]]
name = "given"
type = "number"
optional = true

[[let]]
name = "twice"
is = "len_a * 2"

[[bar]]
when = "line.sewn"
say.en = "{line.code} is sewn in."
instead.en = "Workshop."

[[phase]]
id = "find"
title.en = "Find"
hidden = true
[[phase.card]]
id = "look"
action.en = "LOOK"
reason.en = "Look."
[[phase.card.step]]
id = "place"
kind = "count"
quantity = "count"
observes = "place_on_link"
ask.en = "Place"

[[phase]]
id = "work"
title.en = "Work"
[[phase.card]]
id = "measure"
action.en = "MEASURE {line.code}"
reason.en = "So."
[[phase.card.step]]
id = "len_a"
kind = "measure"
quantity = "length"
state = "loose"
ask.en = "Length"
expect = "line.length_mm"
source = "{plan.source}"
limit = "limits.line_mm"
limit_source = "{limits.line_source}"
[[phase.card.step]]
id = "kind_of"
kind = "choose"
ask.en = "Kind"
option = [{ id = "one", text.en = "one" }, { id = "two", text.en = "two" }]
[[phase.card.step]]
id = "extra"
kind = "count"
quantity = "count"
when = "kind_of == \"two\""
ask.en = "Extra"
[[phase.card]]
id = "close"
action.en = "CLOSE"
reason.en = "So."
[[phase.card.step]]
id = "state_of"
kind = "check"
ask.en = "State"
else.en = "Again."
option = [{ id = "good", right = true, text.en = "good" }, { id = "bad", text.en = "bad" }]
[[phase.card.step]]
id = "order_of"
kind = "order"
ask.en = "Order"
[[phase.card.step]]
id = "signed"
kind = "sign"
role = "doer"
covers = "len_a"
states.en = "Done."
`

// part can be included by it.
const part = `linewright_procedure = 1
id = "part"
edition = "1"
title.en = "Part"
target = "link"

[[param]]
name = "needed"
type = "number"

[[phase]]
id = "only"
title.en = "Only"
[[phase.card]]
id = "c"
action.en = "DO"
reason.en = "So."
[[phase.card.step]]
id = "turns"
kind = "count"
quantity = "turns"
when = "needed > 1"
ask.en = "Turns"
`

const include = `
[[phase]]
id = "sub"
include = "part"
with.needed = "len_a"
`

func TestSoundFilesHaveNoFault(t *testing.T) {
	lib, err := NewLibrary([]File{{"main.toml", []byte(sound + include)}, {"part.toml", []byte(part)}})
	if err != nil {
		t.Fatal(err)
	}
	p, _ := lib.Get("main")
	if len(p.Parts()) != 2 {
		t.Errorf("%d parts, want main and part", len(p.Parts()))
	}
}

// fitted has one step of each kind that can say which part was fitted.
const fitted = `
[[phase]]
id = "fitted"
title.en = "Fitted"
[[phase.card]]
id = "label"
action.en = "LOOK AT THE PART"
reason.en = "So."
step = [
  { id = "part_code", kind = "code", part = true, ask.en = "Code" },
  { id = "part_kind", kind = "choose", part = true, ask.en = "Kind", option = [{ id = "one", text.en = "one" }, { id = "two", text.en = "two" }] },
  { id = "part_paper", kind = "note", part = true, ask.en = "Paper" },
  { id = "part_photo", kind = "photo", part = true, ask.en = "Photo" },
  { id = "part_mm", kind = "measure", part = true, quantity = "length", state = "plain", ask.en = "Length" },
]
`

func TestAPartMayBeReadChosenNotedPicturedOrMeasured(t *testing.T) {
	lib, err := NewLibrary([]File{{"main.toml", []byte(sound + fitted)}})
	if err != nil {
		t.Fatal(err)
	}
	p, _ := lib.Get("main")
	for _, s := range p.Phases[2].Cards[0].Steps {
		if !s.Part {
			t.Errorf("step %q does not say which part was fitted", s.ID)
		}
	}
}

// lintCase is one change and the whole text of the fault that it makes.
type lintCase struct{ from, to, want string }

func TestEveryRuleNamesFileLineKeyAndCure(t *testing.T) {
	for _, c := range lintCases {
		t.Run(c.to, func(t *testing.T) {
			if strings.Count(sound+include, c.from) == 0 {
				t.Fatalf("%q is not in the file", c.from)
			}
			text := strings.Replace(sound+include, c.from, c.to, 1)
			lib, err := NewLibrary([]File{{"main.toml", []byte(text)}, {"part.toml", []byte(part)}})
			if err == nil {
				t.Fatal("no fault")
			}
			if err.Error() != c.want {
				t.Errorf("got\n%s\nwant\n%s", err, c.want)
			}
			if _, ok := lib.Get("main"); ok {
				t.Error("a faulty procedure is offered")
			}
		})
	}
}
