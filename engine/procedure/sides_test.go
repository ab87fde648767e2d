package procedure

import (
	"strings"
	"testing"
)

// sides is a pair of brakes: measured in one phase, tied in the next.
const sides = `linewright_procedure = 1
id = "sides"
edition = "1"
title.en = "Sides"
target = "brakes"
pair = true

[[let]]
name = "gap"
each = "side"
is = "a - twin.a"

[[phase]]
id = "first"
title.en = "First"
[[phase.card]]
id = "c"
each = "side"
action.en = "A"
reason.en = "R"
[[phase.card.step]]
id = "a"
kind = "count"
quantity = "count"
ask.en = "A"
[[phase.card.step]]
id = "b"
kind = "count"
quantity = "count"
ask.en = "B"
when = "WITHIN"

[[phase]]
id = "work"
title.en = "Work"
each = "side"
[[phase.card]]
id = "c"
action.en = "B"
reason.en = "R"
[[phase.card.step]]
id = "x"
kind = "count"
quantity = "count"
ask.en = "X"
[[phase.card.step]]
id = "y"
kind = "count"
quantity = "count"
ask.en = "Y"
when = "SIDE"

[[phase]]
id = "after"
title.en = "After"
[[phase.card]]
id = "c"
action.en = "C"
reason.en = "R"
[[phase.card.step]]
id = "z"
kind = "count"
quantity = "count"
ask.en = "Z"
when = "OUTSIDE"
`

func TestLeftRightTwin(t *testing.T) {
	const notYet = `the other side's "%s" is not there yet on the first side`
	const unknown = `"%s" is not a value known here`
	for _, c := range []struct{ place, when, want string }{
		{"WITHIN", "a > 1", ""},
		{"WITHIN", "twin.a > 1", strings.ReplaceAll(notYet, "%s", "twin.a")},
		{"WITHIN", "right.a > 1", strings.ReplaceAll(notYet, "%s", "right.a")},
		{"WITHIN", "has(twin.a) && twin.a > 1", ""},
		{"WITHIN", "gap > 1", strings.ReplaceAll(notYet, "%s", "twin.a")},
		{"SIDE", "a > 1", ""},
		{"SIDE", "twin.a > 1", ""},
		{"SIDE", "gap > 1", ""},
		{"SIDE", "left.a > right.a", ""},
		{"SIDE", "x > 1", ""},
		{"SIDE", "twin.x > 1", strings.ReplaceAll(notYet, "%s", "twin.x")},
		{"SIDE", "right.x > 1", strings.ReplaceAll(notYet, "%s", "right.x")},
		{"SIDE", "z > 1", `"z" is not answered before this`},
		{"SIDE", "here.side == \"left\"", ""},
		{"OUTSIDE", "left.x > right.x", ""},
		{"OUTSIDE", "left.gap > 1", ""},
		{"OUTSIDE", "x > 1", strings.ReplaceAll(unknown, "%s", "x")},
		{"OUTSIDE", "gap > 1", strings.ReplaceAll(unknown, "%s", "gap")},
		{"OUTSIDE", "twin.x > 1", strings.ReplaceAll(unknown, "%s", "twin.x")},
		{"OUTSIDE", "here.side == \"left\"", strings.ReplaceAll(unknown, "%s", "here.side")},
	} {
		text := strings.Replace(sides, c.place, strings.ReplaceAll(c.when, `"`, `\"`), 1)
		for _, rest := range []string{"WITHIN", "SIDE", "OUTSIDE"} {
			text = strings.Replace(text, "when = \""+rest+"\"\n", "", 1)
		}
		_, err := NewLibrary([]File{{"sides.toml", []byte(text)}})
		switch {
		case c.want == "" && err != nil:
			t.Errorf("%s: %s: %v", c.place, c.when, err)
		case c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)):
			t.Errorf("%s: %s: %v, want %q", c.place, c.when, err, c.want)
		}
	}
}
