package tui

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/trim"
)

// atLengths is a measuring of the wing at its first row.
func atLengths(t *testing.T, w, h int) *user {
	t.Helper()
	return onWing(t, w, h, "trim-measure").press("1", "enter").readFirst()
}

// expected is what the path that is due has to read, so many mm off.
func (u *user) expected(off float64) string {
	u.t.Helper()
	e, ok := trim.Expect(u.m.at.plan, *u.due().Fields[0].Lengths.Due, trim.FromOf(u.m.at.plan))
	if !ok {
		u.t.Fatal("nothing is expected")
	}
	return fmt.Sprint(e.Length.MM() + off)
}

// readsOn reads what is due, the paths named in off so many mm off, until the
// step is another one.
func (u *user) readsOn(off map[string]float64) *user {
	u.t.Helper()
	step := u.due().Key
	for range 100 {
		c := u.due()
		switch {
		case c.Over || c.Key != step:
			return u
		case c.Fields[0].Lengths.Due == nil:
			u.press("enter")
		default:
			u.send(keyOf(u.expected(off[c.Fields[0].Lengths.Due.String()])))
			u.press("enter")
		}
	}
	u.t.Fatalf("%s does not end:\n%s", step, u.view())
	return u
}

// measured is a whole wing measured, up to its report.
func measured(t *testing.T, w, h int) *user {
	t.Helper()
	u := atLengths(t, w, h)
	for strings.HasPrefix(u.due().Key, "row@") {
		u.readFirst().readsOn(map[string]float64{"C7 left": -24, "D3 right": 13})
	}
	return u.readFirst()
}

// An instrument types values and line ends: each is a reading of the path that
// is due, and no line end runs on.
func TestAnInstrumentTypesRowByRow(t *testing.T) {
	u := atLengths(t, 80, 24).sees("Row A: now A1 left", "0 of 24 read")
	before := u.lines()
	for range 3 {
		for _, r := range u.expected(0) + "\r" {
			k := string(r)
			if k == "\r" {
				k = "enter"
			}
			u.send(keyOf(k))
			u.clock.t = u.clock.t.Add(2 * time.Millisecond)
		}
		u.send(keyOf("ctrl+j"))
		u.wait()
	}
	if got := u.lines() - before; got != 3 {
		t.Fatalf("%d lines for three readings", got)
	}
	u.sees("Row A: now A2 right", "3 of 24 read", "SAVED 10:00  A2 left, 6246 mm")
	u.press("enter").sees("21 of 24 paths are not read yet")
	if u.lines() != before+3 {
		t.Error("an empty Enter was written")
	}
}

func TestARowIsReadAgainBlindAndClosed(t *testing.T) {
	u := atLengths(t, 80, 24).types(u0(13)).press("enter").sees("again", "SAVED 10:00  A1 left, covered", "1 to be read again").seesNot("6268")
	u.types("A1 right 62").press("enter").sees("It is written down and does not", "Row A: now A1 right")
	u.types("C1 left 6250").sees("so far:").press("ctrl+u")
	for u.due().Fields[0].Lengths.Read < 24 {
		u.send(keyOf(u.expected(0)))
		u.press("enter")
	}
	u.sees("Row A: now A1 left once more, blind", "again: once more, blind").seesNot("6268")
	u.types("6255").press("enter").types("6255").press("enter").sees("A1 left: the readings still differ by 13 mm", "tab, 2: strike the odd one")
	before := u.lines()
	u.press("enter").sees("still differ")
	if u.lines() != before {
		t.Fatal("a row that does not agree was closed")
	}
	u.press("tab", "2").sees("A1 left, 6268 mm").picks("A1 left, 6268 mm").types("the wrong pin").press("enter")
	u.sees("24 paths measured", "enter: close the row, and go on to: MEASURE ROW B").press("enter")
	if u.due().Key != "row@B" {
		t.Errorf("at %s", u.due().Key)
	}
}

// u0 is what A1 left of the sample wing reads, so many mm off.
func u0(off int) string { return fmt.Sprint(6255 + off) }

func TestLengthsFromASheet(t *testing.T) {
	u := atLengths(t, 80, 24)
	var sheet strings.Builder
	sheet.WriteString("point;side;mm\n")
	for _, row := range []string{"A", "B"} {
		for _, ref := range trim.Refs(u.m.at.plan, row) {
			e, _ := trim.Expect(u.m.at.plan, ref, trim.FromOf(u.m.at.plan))
			fmt.Fprintf(&sheet, "%s;%s;%g\n", ref.Point, ref.Side, e.Length.MM())
		}
	}
	file := filepath.Join(t.TempDir(), "wing.csv")
	if err := os.WriteFile(file, []byte(sheet.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	bad := filepath.Join(t.TempDir(), "bad.csv")
	if err := os.WriteFile(bad, []byte("point,side,mm\nA1,left,x\nA2,middle,6000\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	u.press("tab", "c").types("nowhere.csv").press("enter").sees("the sheet cannot be read").press("ctrl+u").types(bad).press("enter").sees("The sheet has faults").press("enter")
	u.press("ctrl+u").types(file).press("enter").sees("24 lengths of 24 paths for this step, 48 lengths in all")
	before := u.lines()
	u.press("enter")
	if u.lines() != before {
		t.Fatal("a sheet was taken by Enter alone")
	}
	u.press("1", "enter").sees("24 of 24 read", "enter: close the row").press("tab", "2").picks("A2 left").types("smudged").press("enter").sees("Row A: now A2 left", "23 of 24 read")
	if u.lines() != before+2 {
		t.Errorf("%d lines", u.lines()-before)
	}
}

func TestTheReportIsSeenBeforeItIsWritten(t *testing.T) {
	u := measured(t, 80, 24).sees("LOOK AT THE TRIM", "v24", "more below: enter reads on", "enter: read on")
	before := u.lines()
	seen := ""
	for range 40 {
		seen += u.view()
		u.press("down")
	}
	for _, want := range []string{"Trim of Sample Tablecloth M", "C7 left", "24 mm short", "outside"} {
		if !strings.Contains(seen, want) {
			t.Errorf("the report never shows %q", want)
		}
	}
	if u.lines() != before {
		t.Fatal("looking wrote something")
	}
	u.toEnd().press("enter").sees("WHICH LOOPS HANG ON THE LINKS NOW?", "wrapped    10 mm", "fallback: common practice, no source").press("enter").sees("An empty entry does not answer this.")
	u.types("C1.2 left knotted").press("enter").sees("is no loop of this wing's table").press("ctrl+u").types("plain").sees("understood: all plain").press("enter").sees("No choice of loops keeps all limits: proved.", "enter: read on").toEnd().sees("enter: write it down")
	if u.lines() != before+1 {
		t.Fatal("the choice was written before it was confirmed")
	}
	u.press("esc").sees("enter: see which loops to change").press("enter").toEnd().press("enter").sees("THE LIST IS COMPLETE", "paths not proved: D3 right")
	u.press("tab", "v").sees("Trim and loops").press("pgdown", "pgdown", "pgdown", "pgdown", "pgdown", "pgdown", "pgdown", "pgdown", "pgdown").sees("no loop below them helps").press("enter")
	u.press("d", "1", "enter").sees("Decide yourself").types("it will be measured again").press("enter").press("tab").seesNot("d decide on a path")
	if e := u.m.session.Job().Events()[u.lines()-1]; e.Kind != job.Decided || e.Path == nil || e.Path.String() != "D3 right" {
		t.Errorf("%+v", e)
	}
}

func TestWhatKeepsTheWingOnTheGroundIsListed(t *testing.T) {
	u := onWing(t, 80, 24, "damage-survey").surveyTo("row@A.left").finds("A1.2", "1").finds("A2.3", "3").surveyTo("looked").press("1", "enter").sees("THE LIST IS COMPLETE", "See what is next in this job")
	u.press("1", "enter").sees("The agenda").picks("Release").press("enter").sees("Enter adds this task").press("enter").sees("SEE WHAT KEEPS THE WING ON THE GROUND", "THE WING STAYS ON THE GROUND: 2 reasons", "A1.2 left: the sheath is open")
	before := u.lines()
	u.press("enter").sees("The wing stays on the ground: A1.2 left")
	u.press("1", "enter").sees("The findings").press("1", "enter", "1", "enter").types("paper 12 of the workshop").press("enter")
	u.press("2", "enter", "1", "enter").types("2027-03-01 worn").press("enter", "esc").sees("Nothing keeps the wing on the ground.", "[ enter ]")
	if u.lines() != before+2 {
		t.Fatalf("%d lines", u.lines()-before)
	}
	u.press("enter").sees("The pilot signs, who may be the doer. Sign as", "STOP. Nothing behind this opens until the pilot signs.", "1  anna", "2  bea", "I take the tag off")
	u.press("enter").sees("A hold is not signed by Enter alone.").press("2", "enter").sees("THE LIST IS COMPLETE", "signature of bea")
	if e := u.m.session.Job().Events()[u.lines()-1]; e.Sign == nil || e.Sign.Role != "pilot" || e.Sign.Name != "bea" {
		t.Errorf("%+v", e)
	}
}
