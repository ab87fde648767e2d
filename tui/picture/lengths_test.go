package picture

import (
	"fmt"
	"strings"
	"testing"
)

// measuring is a row of 14 points half way through: C9 left is due.
func measuring() []LengthRow {
	var rows []LengthRow
	for i := range 14 {
		r := LengthRow{Point: fmt.Sprint("C", i+1)}
		if i < 8 {
			r.Left.Text, r.Right.Text, r.Difference.Text = "7213", "7214.5", "-1.5"
		}
		rows = append(rows, r)
	}
	rows[3].Left.Out, rows[3].Difference.Out = true, true
	rows[4].Right = Cell{Text: "7999", Out: true, Again: true}
	rows[4].Difference.Text = "-786"
	rows[8].Left.Due = true
	return rows
}

// repeating is the same row when all are in: C5 right is read once more.
func repeating() []LengthRow {
	rows := measuring()
	for i := range rows {
		rows[i].Left.Due = false
		if i >= 8 {
			rows[i].Left.Text, rows[i].Right.Text, rows[i].Difference.Text = "7198", "7197", "1"
		}
	}
	rows[4].Right.Due = true
	return rows
}

func TestLengthsGoldens(t *testing.T) {
	for name, rows := range map[string][]LengthRow{
		"lengths_measuring": measuring(),
		"lengths_repeating": repeating(),
		"lengths_begun":     {{Point: "S1", Left: Cell{Due: true}}, {Point: "S2"}},
	} {
		golden(t, name+".txt", sheets(func(w, h int, signs Signs) []string {
			return Lengths(rows, w, h, signs)
		}, LengthsFacts(rows)))
	}
}

// The cell that is due is never scrolled away.
func TestDueLengthIsSeen(t *testing.T) {
	for due := range 14 {
		for h := 6; h <= 18; h++ {
			rows := repeating()
			rows[4].Right = Cell{}
			rows[due].Right = Cell{Due: true}
			got := Lengths(rows, 60, h, ASCII)
			found := ""
			for _, l := range got {
				if strings.Contains(l, "[ ") {
					found += strings.Fields(l)[0]
				}
			}
			equal(t, fmt.Sprint(h, " lines"), found, rows[due].Point)
		}
	}
}

// A length that is read again is seen nowhere, neither itself nor through the
// difference.
func TestBlindLengthIsNotShown(t *testing.T) {
	for _, rows := range [][]LengthRow{measuring(), repeating()} {
		for w := 1; w <= 80; w++ {
			got := strings.Join(append(Lengths(rows, w, 30, Richer), LengthsFacts(rows)...), "\n")
			for _, secret := range []string{"7999", "-786"} {
				if strings.Contains(got, secret) {
					t.Fatalf("%s is seen:\n%s", secret, got)
				}
			}
		}
	}
}

func TestNoLengthsOfNothing(t *testing.T) {
	if got := Lengths(nil, 80, 20, ASCII); got != nil {
		t.Errorf("%q", got)
	}
	if got := LengthsFacts(nil); got != nil {
		t.Errorf("%q", got)
	}
}
