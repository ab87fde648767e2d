package prompt

import (
	"strings"
	"testing"
)

func TestThePlaceIsSaidInFewWords(t *testing.T) {
	text, _ := walked(t, append(upTo(atOrder), ":where", ":help")...)
	mustSay(t, text, "By these answers it is C1.2 left: row C, lower tier, on link C", "Step 6. Code on the label",
		"> :where", "Job 1, ", "Task 1: Bench test, C1.2 left.", "Step 8. Phase: Work.", "To do: OPEN THE LINK", "Order", "Wanted: the codes",
		"> :help", ":where: job, task and step")
	if before, _, _ := strings.Cut(text, "By these answers"); strings.Contains(before, "C1.2") {
		t.Errorf("the line is named before it was found out:\n%s", before)
	}
}

func TestAYesMayBeWrittenInCapitals(t *testing.T) {
	text, j := walked(t, append(upTo(atOrder), ":reopen 7 a jerk", "YES")...)
	mustSay(t, text, "1 answer is void and given again:", "1 answer is void.", "Void, answer again.")
	if j.Lines != 3+atOrder {
		t.Errorf("the journal has %d lines, want %d", j.Lines, 3+atOrder)
	}
}
