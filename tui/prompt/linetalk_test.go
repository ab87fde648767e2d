package prompt

import (
	"fmt"
	"strings"
	"testing"

	"example.org/linewright/engine/wing"
)

func samplePlan(t *testing.T) *wing.Plan {
	t.Helper()
	p, err := wing.ParsePlan(read(t, "../../procedures/sample/plan.toml"), "plan.toml")
	check(t, err)
	return p
}

// seenOf is what somebody types who sees right, by the plan.
func seenOf(p *wing.Plan, ref wing.Ref, q wing.Question) string {
	text, ok := p.Feature(ref, q.Feature, q.Instance)
	switch {
	case !ok:
		return cannotTell
	case text == wing.None:
		return "0"
	}
	return text
}

// asked answers until the search is over, with what somebody sees; wrong holds
// other answers by the feature.
func asked(t *testing.T, p *wing.Plan, ref wing.Ref, wrong map[wing.Feature]string) (*LineTalk, string) {
	t.Helper()
	talk := NewLineTalk(p, "")
	var said strings.Builder
	for !talk.Over() && talk.Question().State != wing.FinderContradiction {
		q := talk.Question()
		for _, l := range talk.Words() {
			said.WriteString(l + "\n")
		}
		if q.State == wing.FinderConfirm && strings.Contains(strings.Join(talk.Words(), "\n"), q.Left[0].Code) {
			t.Fatalf("%s is named while a look confirms it:\n%s", q.Left[0], said.String())
		}
		text := seenOf(p, ref, q)
		if other, ok := wrong[q.Feature]; ok {
			text = other
		}
		said.WriteString("> " + text + "\n")
		check(t, talk.Take(text))
	}
	return talk, said.String() + strings.Join(append(talk.Result(), talk.Worth()), "\n") + "\n"
}

func TestEveryLineOfTheSampleIsFound(t *testing.T) {
	p := samplePlan(t)
	for _, side := range wing.Sides {
		for _, l := range p.Lines {
			ref := wing.LineRef(l.Code, side)
			talk, said := asked(t, p, ref, nil)
			if got, ok := talk.Found(); !ok || got != ref {
				t.Fatalf("%s: found %v, %v\n%s", ref, got, ok, said)
			}
			mustSay(t, said, "186 lines are left.", "One line is left. It is named when", fmt.Sprintf("It is %s: row %s, ", ref, l.Row), "one to confirm. 186 lines are 7.5 bits")
		}
	}
}

func TestAWrongAnswerIsNamed(t *testing.T) {
	p := samplePlan(t)
	talk, said := asked(t, p, wing.LineRef("C1.2", wing.Left), map[wing.Feature]string{wing.FeaturePlaceOnLink: "3"})
	if talk.Question().State != wing.FinderContradiction {
		t.Fatalf("ended with %s\n%s", talk.Question().State, said)
	}
	mustSay(t, said, "No line of the plan fits all that was answered.", "Most likely wrong: first tab 5.", "It could also be: place on the link 3.")
	before := len(talk.Seen())
	mustSay(t, strings.Join(talk.Words(), "\n"), "Most likely wrong: ", "Look at it again:")
	// The answer in doubt is stood by: the other one is asked for, and put right.
	check(t, talk.Take("5"))
	mustSay(t, strings.Join(talk.Words(), "\n"), "Looked at twice: first tab 5.", "It could also be: place on the link 3.", "Which place has it there")
	check(t, talk.Take("2"))
	if ref, ok := talk.Found(); !ok || ref != wing.LineRef("C1.2", wing.Left) {
		t.Errorf("found %v, %v", ref, ok)
	}
	mustSay(t, talk.Result()[0], "It is C1.2 left")
	talk.Back()
	check(t, talk.Take("3"))
	if !talk.Over() {
		t.Fatalf("asked again though both answers were looked at twice:\n%s", strings.Join(talk.Words(), "\n"))
	}
	mustSay(t, strings.Join(talk.Result(), "\n"), "Looked at twice: first tab 5.", "Looked at twice: place on the link 3.", "Begin again from the riser.")
	talk.Back()
	talk.Back()
	talk.Back()
	if len(talk.Seen()) != before-1 {
		t.Error("the last answer was not taken back")
	}
}

func TestCannotTellIsAnAnswer(t *testing.T) {
	p := samplePlan(t)
	talk := NewLineTalk(p, wing.Left)
	for !talk.Over() {
		check(t, talk.Take(cannotTell))
	}
	if _, ok := talk.Found(); ok {
		t.Error("a line was found from nothing")
	}
	mustSay(t, strings.Join(talk.Result(), "\n"), "Nothing that is asked here tells these lines apart.", "93 lines are left.", "You could not tell, and it would help: ")
}

func TestWhatIsNoAnswerIsRefused(t *testing.T) {
	talk := NewLineTalk(samplePlan(t), "")
	for text, want := range map[string]string{"": "an empty line is no answer", "pink": `no line of the plan shows "pink" there`, "9": "answers: 1 blue", "0": "answers: 1 blue"} {
		if err := talk.Take(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
	check(t, talk.Take("BLUE"))
	if got := talk.Seen(); len(got) != 1 || got[0].Value != "blue" {
		t.Errorf("seen: %+v", got)
	}
}

func TestEveryFeatureHasWords(t *testing.T) {
	for _, f := range wing.Features {
		label, ask := FeatureWords(f, 2)
		if label == "" || ask == "" || strings.Contains(ask, "%!") {
			t.Errorf("%s: %q, %q", f, label, ask)
		}
	}
}

// found types what somebody sees who holds a line, in line mode.
func found(t *testing.T, ref wing.Ref) []string {
	t.Helper()
	p := samplePlan(t)
	talk := NewLineTalk(p, "")
	var lines []string
	for !talk.Over() {
		text := seenOf(p, ref, talk.Question())
		lines = append(lines, text)
		check(t, talk.Take(text))
	}
	return lines
}

func TestATaskIsAddedOnALineThatIsFoundFirst(t *testing.T) {
	ref := wing.LineRef("C1.3", wing.Right)
	text, j := walked(t, append(append([]string{":which", ":add bench-test", ":add bench-test which", ":quit", ":add bench-test which"}, found(t, ref)...), ":card")...)
	mustSay(t, text, "the steps here find the line out", `"" is no target here`, "or which, to find the line by what you see of it", LineTalkRule, "Broken off. Nothing was written.", LineTalkRule, "It is C1.3 right: row C, lower tier", "Saved, entry 3.", "Task 2: Bench test")
	if len(j.Tasks) != 2 || j.Tasks[1].Add.Target != ref {
		t.Errorf("tasks: %+v", j.Tasks)
	}
	text, j = walked(t, append(append(upTo(atOrderAgain), ":which up", ":which"), found(t, ref)...)...)
	mustSay(t, text, `"up" is no side`, "It is C1.3 right", "A task on it: :add PROCEDURE C1.3 right")
	if len(j.Tasks) != 1 {
		t.Error("finding a line added a task")
	}
}

func TestACommandIsNoSightOfALine(t *testing.T) {
	talk := NewLineTalk(samplePlan(t), wing.Left)
	for _, text := range []string{"?", ":why"} {
		err := talk.Take(text)
		if err == nil || !strings.Contains(err.Error(), ":back takes the last answer back") || len(talk.Seen()) > 0 {
			t.Errorf("%q: %v, %d answers", text, err, len(talk.Seen()))
		}
	}
}
