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
