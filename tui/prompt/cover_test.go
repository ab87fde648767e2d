package prompt

import (
	"slices"
	"strings"
	"testing"
)

func TestNothingTellsTheSecondPersonWhatTheDoerAnswered(t *testing.T) {
	tries := []string{":overview", ":back", ":back 3", ":agenda", ":findings", ":parts", ":report", ":where", ":card", "?", ":reopen 6 why", "no"}
	text, _ := walked(t, slices.Concat(upTo(atLook), tries)...)
	_, text, _ = strings.Cut(text, "> bea\n")
	mustSay(t, text, "> :overview", "are the doer's. What they say is covered until the second person has answered.", "DUE NOW",
		"> :back", "Covered until the second person has answered", ":disagree REASON", "> :reopen 6 why", "task 1, step 6\n")
	for _, told := range []string{"4206", "sheath", "5.25"} {
		if strings.Contains(text, told) {
			t.Errorf("%s is said to the second person:\n%s", told, text)
		}
	}
	text, _ = walked(t, upTo(atSecond, ":overview", ":back 2")...)
	mustSay(t, text, "> :overview", "4206.5 mm (ann", "> :back 2", "You are looking back.")
}
