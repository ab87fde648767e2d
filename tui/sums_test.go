package tui

import (
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/reckon"
)

func TestSumsFromHomeNeedNoJob(t *testing.T) {
	u := sitDown(t, emptyStore(t), small(t), 80, 24, nil)
	u.picks("Bench sums").sees("Nothing of this is written", "8  Force on a spanner").press("8", "enter")
	u.sees("Force on a spanner", "(1 of 3) Closing torque", "N·m").press("enter").sees("a value is missing")
	u.types("8").press("enter").sees("(2 of 3) From the middle of the nut", "torque: 8").types("200").press("tab").sees("result", "40 N")
	u.press("enter").sees("(2 of 3)", "200").press("esc").sees("Bench sums").press("esc").sees("NOTHING IS HERE YET")
	if nos, err := u.m.desk.Store.Jobs(); err != nil || len(nos) != 0 {
		t.Errorf("a sum wrote something: %v %v", nos, err)
	}
}

func TestASumOfTheJobTakesItsBenchAndPlan(t *testing.T) {
	u := sitDown(t, newStore(t, nil), small(t), 80, 24, nil).start("small", "line:C1.2@left")
	before := u.lines()
	u.press("tab", "s", "1", "enter").sees("(1 of 9) Readings").types("4208")
	u.press("up").press("down", "down", "down", "down", "down", "down", "down", "down", "down").sees("(9 of 9) The line as C1.2@left").types("C1.2@left").press("enter")
	s, _ := reckon.Find("length")
	r, err := s.Do(reckon.Values{"reading": {"4208"}, "line": {"C1.2@left"}}, reckon.Env{Bench: metrology.DefaultBench(), Plan: u.m.at.plan})
	if err != nil {
		t.Fatal(err)
	}
	u.sees(r.Rows[0].Text)
	u.press("tab").sees("term by term", strings.Fields(r.Why[0])[0])
	if u.lines() != before {
		t.Error("a sum was written down")
	}
	u.press("esc", "esc", "esc", "esc", "esc").sees("FOLLOW THE DAMAGED LINE")
}

func TestARefusedValueStaysInItsField(t *testing.T) {
	u := sitDown(t, newStore(t, nil), small(t), 80, 24, nil).start("small", "line:C1.2@left")
	u.press("tab", "s", "1", "enter").types("42x").press("enter").sees("(1 of 9)", "42x", "is not a length").press("esc")
	u.press("5", "enter").sees("(1 of 7) Greatest mass").types("heavy").press("enter").sees("(2 of 7)", "mass: heavy").types("4 8 16").press("tab").sees("(1 of 7)", "heavy", "is no number", "front: 4 8 16")
	u.press("ctrl+u").types("100").press("tab").sees("result", "A+B storey 1")
}

// Another value can put a refused one right: the substitute needs its place.
func TestAValueThatNeedsAnotherDoesNotHoldTheFormUp(t *testing.T) {
	u := sitDown(t, newStore(t, nil), small(t), 80, 24, nil).start("small", "line:C1.2@left")
	u.press("tab", "s", "5", "enter").types("100").press("enter").types("4 8 16").press("enter").types("4 8 16").press("enter").types("900")
	u.press("enter").sees("give group and storey").press("enter").press("2").sees("C+D+E").press("enter").types("2").press("tab").sees("strong enough")
}

// The sum term by term loses no word and no figure on a narrow screen.
func TestTheSumByHandIsWholeAtAnyWidth(t *testing.T) {
	s, _ := reckon.Find("length")
	r, err := s.Do(reckon.Values{"reading": {"4208 4207"}, "nominal": {"4205"}}, reckon.Env{Bench: metrology.DefaultBench()})
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range []int{36, 56, 76, 116} {
		for _, line := range r.Why {
			got := narrowed(line, w)
			for _, l := range got {
				if ansi.StringWidth(l) > w {
					t.Errorf("%d columns: %q", w, l)
				}
			}
			if !strings.HasPrefix(line, "--") && content(strings.Join(got, " ")) != content(line) {
				t.Errorf("%d columns: %q became %q", w, line, got)
			}
		}
	}
}

// content is a line without what only fills it.
func content(line string) string {
	var words []string
	for _, w := range strings.Fields(line) {
		if strings.Trim(w, ".") != "" {
			words = append(words, w)
		}
	}
	return strings.Join(words, " ")
}
