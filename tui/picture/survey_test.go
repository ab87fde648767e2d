package picture

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"example.org/linewright/engine/wing"
)

// looking is a survey under way: rows A and B are looked at, row C is begun.
func looking(plan *wing.Plan) map[string]Mark {
	marked := map[string]Mark{}
	for _, l := range plan.Lines {
		if l.Row == "A" || l.Row == "B" {
			marked[l.Code] = Touched
		}
	}
	for _, code := range []string{"C1.1", "C2.1", "C2.2", "C3.1", "C3.2", "C3.3"} {
		marked[code] = Touched
	}
	marked["B2.2"], marked["C3.5"] = Damaged, Damaged
	marked["C1.2"] = Finding | InHand
	return marked
}

func TestSurveyGoldens(t *testing.T) {
	plan := sample(t)
	for name, c := range map[string]struct {
		row    string
		side   wing.Side
		marked map[string]Mark
	}{
		"survey_row":     {"C", wing.Left, looking(plan)},
		"survey_begun":   {"Br", wing.Right, map[string]Mark{"Br1.1": InHand}},
		"survey_stabilo": {"S", wing.Left, map[string]Mark{"S1.1": Touched, "S2.1": Touched, "s2.1": InHand | Damaged}},
	} {
		golden(t, name+".txt", sheets(func(w, h int, signs Signs) []string {
			return FanRow(plan, c.side, c.row, c.marked, w, h, signs)
		}, RowFacts(plan, c.side, c.row, c.marked)))
	}
}

// Beside a card of 120 columns each line of the row carries its code, the other
// rows none.
func TestForegroundHasItsCodes(t *testing.T) {
	plan := sample(t)
	for _, row := range plan.Rows() {
		got := strings.Join(FanRow(plan, wing.Left, row, nil, 110, 40, ASCII), "\n")
		want := map[string]bool{}
		for _, ref := range plan.LineThings(row, wing.Left) {
			want[ref.Code] = true
		}
		beside := 0
		for _, c := range code.FindAllString(got, -1) {
			l, ok := plan.Line(c)
			switch {
			case !ok:
				t.Errorf("row %s: %q is no line", row, c)
			case want[c]:
				delete(want, c)
			case l.Row != row && !strings.HasPrefix(c, "S1") && !strings.HasPrefix(c, "B1"): // these share a link
				beside++
			}
		}
		equal(t, "row "+row+", codes that are missing", len(want), 0)
		equal(t, "row "+row+", codes of other rows", beside, 0)
	}
}

// What is not drawn must not look settled before each line of it is.
func TestHiddenLinesAreNotSettledByOne(t *testing.T) {
	plan := sample(t)
	marked := map[string]Mark{"C1.2": InHand}
	sign := func() string { return FanRow(plan, wing.Right, "C", marked, 30, 7, ASCII)[2] }
	if strings.Contains(sign(), "/") {
		t.Fatalf("nothing was touched, yet %q", sign())
	}
	var above []string
	for _, l := range plan.Lines {
		if l.Row == "C" && slices.Contains(codes(plan.Chain(l.Code)), "C1.1") && l.Code != "C1.1" {
			above = append(above, l.Code)
		}
	}
	for i, c := range above {
		marked[c] = Touched
		equal(t, fmt.Sprint(i+1, " of ", len(above)), strings.Contains(sign(), "/"), i == len(above)-1)
	}
}

func TestTally(t *testing.T) {
	plan := sample(t)
	got := FanRow(plan, wing.Left, "C", looking(plan), 76, 12, ASCII)
	equal(t, "all rows", got[1], "looked at:  A 21/21  B 21/21!  [C 8/21!]  D 0/14  S 0/6  Br 0/10")
	got = FanRow(plan, wing.Left, "C", looking(plan), 38, 12, ASCII)
	equal(t, "one row", got[1], "looked at: 8 of 21!")
}

// The line in hand comes first: it is drawn although another row was asked for.
func TestCursorIsDrawn(t *testing.T) {
	plan := sample(t)
	for _, side := range wing.Sides {
		for _, l := range plan.Lines {
			for _, size := range [][2]int{{38, 12}, {76, 12}, {110, 30}} {
				got := FanRow(plan, side, "A", map[string]Mark{l.Code: InHand | Damaged | Touched, "A1.1": Touched}, size[0], size[1], ASCII)
				x, y, ok := Where(got, l.Code)
				if !ok {
					t.Fatalf("%s %s is not found at %v:\n%s", l.Code, side, size, strings.Join(got, "\n"))
				}
				text, _, _ := strings.Cut(got[y][x:], "!/]")
				equal(t, "at the cursor", text != "" && strings.HasSuffix(l.Code, text), true)
			}
		}
	}
}

// In a terminal of 60 columns each line of a row is seen with its signs, while a
// row is walked too: drawn, or as a table of its tiers.
func TestEveryLineOfARowIsSeenInASmallTerminal(t *testing.T) {
	plan := sample(t)
	for _, h := range []int{7, 9} {
		for _, l := range plan.Lines {
			if l.Row == "S" || l.Row == "Br" {
				continue // few lines, drawn in full
			}
			marked := map[string]Mark{l.Code: InHand | Damaged}
			got := strings.Join(FanRow(plan, wing.Left, l.Row, marked, 57, h, ASCII), "\n")
			equal(t, l.Code+" in hand", strings.Contains(got, l.Code[3:]+"!]"), true)
			for _, tier := range []string{"1.", "2.", "3."} {
				if !strings.Contains(got, l.Row+tier) {
					t.Errorf("%s: no tier %s in\n%s", l.Code, tier, got)
				}
			}
		}
	}
}

func TestWhereTellsCodesApart(t *testing.T) {
	lines := []string{"rows: [C] D", " 線 [C11] [C1!]"}
	for c, want := range map[string][3]any{"C": {7, 0, true}, "C1": {11, 1, true}, "C11": {5, 1, true}, "C2": {0, 0, false}, ".*": {0, 0, false}} {
		x, y, ok := Where(lines, c)
		equal(t, c, [3]any{x, y, ok}, want)
	}
}

func TestNoSurveyOfNothing(t *testing.T) {
	plan := sample(t)
	for _, none := range [][]string{
		FanRow(nil, wing.Left, "A", nil, 76, 12, ASCII), FanRow(plan, "", "A", nil, 76, 12, ASCII),
		FanRow(plan, wing.Left, "X", nil, 76, 12, ASCII), FanRow(plan, wing.Left, "A", nil, 76, 0, ASCII),
		RowFacts(nil, wing.Left, "A", nil), RowFacts(plan, "", "A", nil), RowFacts(plan, wing.Left, "X", nil),
	} {
		if none != nil {
			t.Errorf("a survey of nothing: %q", none)
		}
	}
}

// A line goes on that ends nowhere in a plan of few lines: nothing is known of
// what is above it.
func TestUnknownLinesAreNotSettled(t *testing.T) {
	plan := lines(t, [5]string{"A1", "A", "lower", "link:A", "1"})
	for _, m := range []Mark{InHand, Touched, Done, Damaged} {
		got := Fan(plan, wing.Left, map[string]Mark{"A1": m}, 40, 8, ASCII)
		equal(t, signsOf(m), strings.Trim(got[1], "~"), ":")
	}
}
