package picture

import (
	"strings"
	"testing"
)

// No two stages, and no wrong form and the right one, look alike or have one
// name, whole or small.
func TestFormsDiffer(t *testing.T) {
	for what, all := range map[string][]form{
		"looked at": append([]form{hitchRight}, hitchWrong...),
		"made":      hitchStages,
		"undone":    hitchUndone,
		"tied":      append(bowlineStages[:3:3], bowlineDrawn),
	} {
		seen := map[string]bool{}
		for _, frames := range [][]frame{whole(all...), small(all...)} {
			for _, f := range frames {
				look, name := strings.Join(f.rows, "\n"), strings.Join(f.caption, " ")
				if seen[look] || seen[name] || look == "" || name == "" {
					t.Errorf("%s: there are two of %q\n%s", what, name, look)
				}
				seen[look], seen[name] = true, true
			}
		}
	}
}

// Each frame of a drawing is as wide as it is said to fit: three stages stand
// beside a card of 80 columns.
func TestStagesStandBesideACard(t *testing.T) {
	for what, draw := range map[string]func(h int) []string{
		"hitch":   func(h int) []string { return Hitch(Joint{Line: "C1.2", Upper: []string{"C2.3", "C2.4"}}, 32, h, ASCII) },
		"bowline": func(h int) []string { return Bowline(Tail{Least: 50 * mm}, 32, h, ASCII) },
	} {
		text := strings.Join(draw(12), "\n")
		for _, stage := range []string{"1 ", "2 ", "3 "} {
			if !strings.Contains(text, stage) {
				t.Errorf("%s without stage %s:\n%s", what, stage, text)
			}
		}
	}
}

// What is looked at is drawn with its wrong forms wherever a card of 80 columns
// has its full height.
func TestWrongFormsStandBesideACard(t *testing.T) {
	text := strings.Join(Hitch(Joint{Judge: true}, 32, 12, ASCII), "\n")
	for _, f := range append([]form{hitchRight}, hitchWrong[:5]...) {
		if !strings.Contains(text, f.short) {
			t.Errorf("no %q:\n%s", f.short, text)
		}
	}
}

// Beside a card of 60 columns the looks of a nut, the stages of a hitch and its
// wrong forms are still told apart: with fewer drawings, in words.
func TestSmallFormsSayWhatTheyLeaveOut(t *testing.T) {
	joint := Joint{Line: "C1.2", Upper: []string{"C2.3", "C2.4"}}
	judged, undone := joint, joint
	judged.Judge, undone.Undo = true, true
	nut := []string{"-[####]-' RIGHT", "-[###]/-' WRONG: thread", "- [###]-' WRONG: a gap"}
	for what, c := range map[string]struct {
		lines []string
		want  []string
	}{
		"nut, 4 lines":   {Gate{Link: "link C left"}.Draw(24, 4, ASCII), nut},
		"nut, 10 lines":  {Gate{Link: "link C left"}.Draw(24, 10, ASCII), append(nut, "link C left", "|        |")},
		"nut, 32 wide":   {Gate{Link: "link C left"}.Draw(32, 5, ASCII), []string{"RIGHT", "x thread", "x a gap"}},
		"knob":           {Gate{Link: "link C left", Soft: true}.Draw(24, 4, ASCII), []string{"(@)", "RIGHT: the", "behind", "the knob"}},
		"hitch, made":    {Hitch(joint, 24, 9, ASCII), append(hitchFew, "C1.2 holds C2.3 C2.4")},
		"hitch, undone":  {Hitch(undone, 24, 9, ASCII), hitchUndoneFew},
		"hitch, judged":  {Hitch(judged, 24, 12, ASCII), []string{"RIGHT", "WRONG:", "left out", "caught", "twisted", "twin"}},
		"words of a fan": {words(24, 9, ASCII), []string{"tabs", "joint 2", "middle", "joint 1", "lower", "link"}},
	} {
		text := strings.Join(c.lines, "\n")
		for _, want := range c.want {
			if !strings.Contains(text, want) {
				t.Errorf("%s: no %q in\n%s", what, want, text)
			}
		}
	}
}
