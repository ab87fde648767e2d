package picture

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"example.org/linewright/engine/wing"
)

var (
	code  = regexp.MustCompile(`[A-Za-z]+[0-9]+\.[0-9]+`)
	noted = regexp.MustCompile(`^(twin:|@ its|carries|beside it:)`)
)

// Every line of the sample can be shown beside a card of 80 columns, named
// once, in brackets, on the right side.
func TestFanOfEveryLine(t *testing.T) {
	plan := sample(t)
	for _, side := range wing.Sides {
		for _, l := range plan.Lines {
			for _, size := range [][2]int{{32, 12}, {34, 14}, {60, 20}, {120, 44}} {
				got := strings.Join(Fan(plan, side, map[string]Mark{l.Code: InHand}, size[0], size[1], ASCII), "\n")
				equal(t, fmt.Sprint(l.Code, side, size), strings.Count(got, "["+l.Code+"]"), 1)
				equal(t, fmt.Sprint(l.Code, side, size, " head"), strings.Contains(got, strings.ToUpper(string(side))+" side"), true)
			}
		}
	}
}

// drawn lists the codes of each line of a drawing, from its left.
func drawn(plan *wing.Plan, side wing.Side, code1 string, w, h int) [][]string {
	var all [][]string
	for _, line := range Fan(plan, side, map[string]Mark{code1: InHand}, w, h, ASCII) {
		if noted.MatchString(line) {
			break
		}
		all = append(all, code.FindAllString(line, -1))
	}
	return all
}

// The right side is the left one in a mirror, and no two codes run together.
func TestFanIsMirrored(t *testing.T) {
	plan := sample(t)
	for _, l := range plan.Lines {
		for _, w := range []int{32, 48, 80, 130} {
			left, right := drawn(plan, wing.Left, l.Code, w, 12), drawn(plan, wing.Right, l.Code, w, 12)
			for i := range left {
				slices.Reverse(left[i])
				equal(t, fmt.Sprint(l.Code, " at ", w), strings.Join(left[i], " "), strings.Join(right[i], " "))
				for _, c := range left[i] {
					if _, ok := plan.Line(c); !ok {
						t.Fatalf("%q is no line: codes run together", c)
					}
				}
			}
		}
	}
}

// From the tip to the centre, as the pilot sits: on the left side the numbers
// fall from left to right.
func TestTipOfTheLeftSideIsOnTheLeft(t *testing.T) {
	plan := sample(t)
	for _, codes := range drawn(plan, wing.Left, "C1.2", 100, 12) {
		for i := 1; i < len(codes); i++ {
			if placeOf(codes[i]) >= placeOf(codes[i-1]) {
				t.Errorf("%v", codes)
			}
		}
	}
	head := Fan(plan, wing.Left, nil, 100, 12, ASCII)[0]
	equal(t, "head", strings.HasPrefix(head, "tip") && strings.HasSuffix(head, "centre"), true)
}

func placeOf(code string) int {
	n := 0
	fmt.Sscan(code[strings.Index(code, ".")+1:], &n)
	return n
}

// Each joint is drawn over the line that holds it, between the outermost lines
// that it holds; nothing lies over anything else.
func TestLayout(t *testing.T) {
	for _, plan := range []*wing.Plan{sample(t), large(t)} {
		f := grow(plan)
		for _, r := range f.rows {
			for _, st := range styles {
				st.storey = r.depth
				s := sketch{style: st, row: r, f: f}
				for _, foot := range s.plot().feet {
					checkTwig(t, foot)
				}
			}
		}
	}
}

func checkTwig(t *testing.T, twig *twig) {
	t.Helper()
	end := twig.left
	for _, k := range twig.kids {
		if k.left < end || k.at < k.left || k.at+k.wide > k.left+k.width || k.x < k.left || k.x >= k.left+k.width {
			t.Fatalf("%q at %d lies in its neighbour, which ends at %d", k.label, k.at, end)
		}
		end = k.left + k.width + 1
		checkTwig(t, k)
	}
	if n := len(twig.kids); n > 0 && (twig.x < twig.kids[0].x || twig.x > twig.kids[n-1].x) {
		t.Fatalf("%q at %d is not between its lines", twig.label, twig.x)
	}
}

func TestFanMarks(t *testing.T) {
	plan := sample(t)
	marked := map[string]Mark{"C1.2": InHand | Damaged, "C1.1": Done, "C2.5": Void, "C3.12": Possible, "C3.6": Damaged, "D1.1": Done}
	var b strings.Builder
	for _, size := range sizes {
		b.WriteString(fmt.Sprintf("---- %d x %d\n", size[0], size[1]))
		b.WriteString(strings.Join(Fan(plan, wing.Left, marked, size[0], size[1], ASCII), "\n") + "\n")
	}
	b.WriteString("---- in words\n" + strings.Join(FanFacts(plan, wing.Left, marked), "\n") + "\n")
	golden(t, "marks.txt", b.String())
}

func TestFanWithoutAnythingInHand(t *testing.T) {
	plan := sample(t)
	got := Fan(plan, wing.Right, map[string]Mark{"D2.3": Damaged}, 60, 12, ASCII)
	if len(got) == 0 || !strings.Contains(got[0], "row D") {
		t.Errorf("the row with the mark is not shown: %q", got)
	}
	got = Fan(plan, wing.Right, nil, 60, 12, ASCII)
	if len(got) == 0 || !strings.Contains(got[0], "row A") {
		t.Errorf("the first row is not shown: %q", got)
	}
	for _, none := range [][]string{Fan(nil, wing.Left, nil, 60, 12, ASCII), Fan(plan, "", nil, 60, 12, ASCII), Fan(&wing.Plan{}, wing.Left, nil, 60, 12, ASCII)} {
		if none != nil {
			t.Errorf("a fan of nothing: %q", none)
		}
	}
}

func TestFanFactsAreTrue(t *testing.T) {
	plan := sample(t)
	for text, want := range map[string]string{
		"C1.2":  "C1.2 left is second from the centre on link C; it carries C2.3 and C2.4. Beside C1.2: C1.1 and C1.3. Its twin is C1.2 right.",
		"C3.5":  "C3.5 left is first from the centre in the joint of C2.3, 2 joints above link C; it ends at tab C5. Beside C3.5: C3.6. Its twin is C3.5 right.",
		"Br2.2": "Br2.2 left is second from the centre in the joint of Br1.1; it carries Br3.3 and Br3.4. Beside Br2.2: Br2.1 and Br2.3. Its twin is Br2.2 right.",
		"S1.1":  "S1.1 left is fourth from the centre on link B; it carries S2.1 and s2.1. Beside S1.1: B1.3. Its twin is S1.1 right.",
	} {
		equal(t, text, strings.Join(FanFacts(plan, wing.Left, map[string]Mark{text: InHand}), " "), want)
	}
	equal(t, "nothing in hand", FanFacts(plan, wing.Left, nil)[0], "Rows of the left side: A, B, C, D, S, Br.")
}
