package prompt

import (
	"strings"
	"testing"
)

func TestThePlaceIsSaidInFewWords(t *testing.T) {
	text, _ := walked(t, append(upTo(atOrder), ":where", ":help look")...)
	mustSay(t, text, "By these answers it is C1.2 left: row C, lower tier, on link C", "Step 6. Code on the label",
		"> :where", "Job 1, ", "Task 1: Bench test, C1.2 left.", "Step 8. Phase: Work.", "To do: OPEN THE LINK", "Order", "Wanted: the codes",
		"> :help look", ":where: job, task and step")
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

func TestWhatIsSaidOfARefusalIsSaidOnce(t *testing.T) {
	text, _ := walked(t, "seven", ":disagree no")
	mustSay(t, text, "Refused: seven is none of the answers.\nWanted: 1 or 2.", "nothing is signed at this step")
	if strings.Contains(text, "Type a number") {
		t.Errorf("what is wanted is said twice:\n%s", text)
	}
}

func TestAStruckReadingIsReadBack(t *testing.T) {
	const afterOneReading = 7
	text, _ := walked(t, upTo(afterOneReading, ":strike 9 a jerk")...)
	mustSay(t, text, "> :strike 9 a jerk", "Saved, entry 10.", "Struck: 4206 mm.")
	text, _ = walked(t, upTo(atOrder, ":strike 9 a jerk")...)
	mustSay(t, text, "Refused: Entry 9 stands in a step that is closed.", "Entry 9 stands in step 7; :reopen 7 WORDS does that anew.")
}
