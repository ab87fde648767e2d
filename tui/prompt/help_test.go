package prompt

import (
	"strings"
	"testing"
)

// helped is what one question mark says after these lines.
func helped(t *testing.T, lines ...string) string {
	t.Helper()
	text, _ := walked(t, append(lines, "?")...)
	_, text, _ = strings.Cut(text, "> ?\n")
	text, _, _ = strings.Cut(text, "> :quit")
	return text
}

func TestAQuestionMarkIsShort(t *testing.T) {
	for name, c := range map[string]struct {
		lines []string
		says  []string
	}{
		"a choice":        {nil, []string{"Asked: Side", "1: left", ":why", ":help", "Wanted: 1 or 2."}},
		"a reading":       {upTo(atLoose), []string{"Asked: New line", ":strike", ":decide", "Wanted: a reading in mm"}},
		"who looks":       {upTo(atLooker), []string{":disagree", ":lay-down", "Name of the second person"}},
		"a second look":   {upTo(atLook), []string{"Asked: ", ":disagree", "Wanted: "}},
		"a hold":          {upTo(atSecond), []string{"Asked: ", ":disagree", "Type that name again to sign:"}},
		"laid down":       {[]string{":lay-down wind"}, []string{":take-up", ":help"}},
		"every step done": {good, []string{":agenda", ":close", ":help"}},
	} {
		t.Run(name, func(t *testing.T) {
			text := helped(t, c.lines...)
			mustSay(t, text, c.says...)
			if n := strings.Count(text, "\n"); n > 8 {
				t.Errorf("%d lines are said:\n%s", n, text)
			}
		})
	}
}

func TestHelpGoesByTopics(t *testing.T) {
	text, _ := walked(t, ":help", ":help parts", ":help und", ":help carry", ":h", ":help nothing")
	mustSay(t, text, "look: ", "undo: ", "end: ", "> :help parts", ":want PART", "> :help und", ":reopen STEP",
		"> :help carry", ":carry FINDING LIMIT REASON", "> :h\n", "look: ", `there is no topic and no command "nothing"`)
	if _, of, _ := strings.Cut(text, "> :help parts"); strings.Contains(of[:strings.Index(of, "> :help und")], ":strike") {
		t.Errorf("a topic says the commands of another:\n%s", text)
	}
}
