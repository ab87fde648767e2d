package record

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/journal"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/seal"
	"example.org/linewright/engine/trim"
	"example.org/linewright/engine/wing"
)

// begin adds a task of one of the short procedures for a whole wing.
func (w *walk) begin(file string, target wing.Ref) int {
	w.t.Helper()
	data, err := os.ReadFile(filepath.Join("testdata", "whole", file+".toml"))
	if err != nil {
		w.t.Fatal(err)
	}
	lib, err := procedure.NewLibrary([]procedure.File{{Name: file, Data: data}})
	if err != nil {
		w.t.Fatal(err)
	}
	w.enter(job.Entry{Kind: job.EnterAdd, Add: &job.Add{Procedure: lib.IDs()[0], Edition: "1", SHA256: w.files.pin(data), Target: target}})
	return len(w.job.Tasks)
}

// finds enters a finding and gives its ID.
func (w *walk) finds(task int, seen job.Seen) string {
	w.t.Helper()
	w.enter(job.Entry{Kind: job.EnterFinding, Task: task, Seen: &seen})
	all := w.job.Findings()
	return all[len(all)-1].ID
}

// moves moves the order list on.
func (w *walk) moves(m job.PartMove, words string) {
	w.t.Helper()
	w.enter(job.Entry{Kind: job.EnterPart, Part: &m, Text: words})
}

// types answers a task, an empty text as a bare Enter.
func (w *walk) types(task int, texts ...string) {
	w.t.Helper()
	for _, text := range texts {
		if text == "" {
			w.on(task)
		} else {
			w.say(task, text)
		}
	}
}

// wholeWing is a job in which all happens that a whole wing can have: findings
// that are struck, carried over and cleared, an order with a wrong part, a
// hand-over with a link open, lengths, a choice of loops, what the work moved,
// and the pilot's word, who did the work too.
func wholeWing(t testing.TB) *walk {
	t.Helper()
	plan, err := os.ReadFile("testdata/whole/plan.toml")
	if err != nil {
		t.Fatal(err)
	}
	hours := job.Hours(1234)
	w := newWalkWith(t, plan, job.Start{Hours: &hours, Carried: []job.Carried{{
		ID: "3/12-ab12", At: "2026-02-10T10:00:00+01:00", Who: "cas.example",
		Found: job.Found{Thing: wing.LineRef("B2", wing.Right), Rule: "scuffed", Text: "scuffed on the surface",
			Disposition: procedure.Watch, Reason: "Wear that goes on."},
		Deferred: &job.Deferral{Hours: 100, Reason: "season not over", At: "2026-02-11T10:00:00+01:00", Who: "cas.example", Job: 3},
	}}})
	w.keys["cas.example"] = person(t, "cas.example", "")
	scuffed, slid := w.survey()
	w.orderParts()
	w.exchange()
	w.measureWing()
	w.changeLoop()
	w.enter(job.Entry{Kind: job.EnterClear, Finding: slid, Way: job.ByLength, Text: "its path is inside on both sides"})
	w.enter(job.Entry{Kind: job.EnterDefer, Finding: scuffed, Deferral: &job.Deferral{Hours: 200}, Text: "no line of that colour until spring"})
	w.release()
	w.enter(job.Entry{Kind: job.EnterClose, Text: "the wing is released; one finding waits"})
	return w
}

// survey looks at all lines; it gives the findings that are left to settle.
func (w *walk) survey() (scuffed, slid string) {
	no := w.begin("survey", wing.Whole())
	photo := []byte("a picture of a sheath")
	w.files.photos[hashOf(photo)+".jpg"] = photo
	w.finds(no, job.Seen{Thing: wing.LineRef("A1", wing.Left), Rule: "cut", Place: "120", Note: "hawthorn", Photos: []job.Photo{{Name: hashOf(photo) + ".jpg", SHA256: hashOf(photo)}}})
	w.say(no, "1")
	w.finds(no, job.Seen{Thing: wing.LineRef("A2", wing.Right), Rule: "cut", Place: "60"})
	w.enter(job.Entry{Kind: job.EnterStrike, Line: len(w.lines), Text: "it was grass"})
	scuffed = w.finds(no, job.Seen{Thing: wing.LineRef("A2", wing.Right), Rule: "scuffed"})
	w.say(no, "1")
	slid = w.finds(no, job.Seen{Thing: wing.LineRef("B1", wing.Left), Rule: "slid"})
	w.finds(no, job.Seen{Thing: wing.LineRef("B2", wing.Left), Rule: "faded"})
	w.types(no, "1", "1")
	w.look(no, "bea.example")
	w.types(no, "5", "3")
	w.sign(no, "bea.example")
	w.sign(no, "ann.example")
	w.enter(job.Entry{Kind: job.EnterClear, Finding: "3/12", Way: job.ByLooking, Text: "smooth and even all along"})
	return scuffed, slid
}

func (w *walk) orderParts() {
	line := wing.LineRef("A1", wing.Left)
	w.moves(job.PartMove{Op: job.PartList, Part: &job.Part{
		Thing: line, Count: 1, Length: 6394 * quantity.Millimetre, LengthOf: "copy of its twin, A1 right, as measured", Material: "aramid",
		Diameter: 1200 * quantity.Micrometre, Loops: "both ends as on the old line", Why: "sheath cut", Price: "14.50 EUR",
	}}, "")
	w.moves(job.PartMove{Op: job.PartList, Part: &job.Part{Thing: wing.Ref{Kind: wing.KindRetainer, Code: "A", Side: wing.Left}, Count: 1, Why: "the link is opened"}}, "")
	w.moves(job.PartMove{Op: job.PartRead, No: 1, Text: "A1"}, "A1")
	w.moves(job.PartMove{Op: job.PartRead, No: 2, Text: "A"}, "A")
	w.moves(job.PartMove{Op: job.PartOrder}, "")
	w.day, w.min, w.sit = 9, 18*60, 2
	w.moves(job.PartMove{Op: job.PartTaken, No: 2}, "as the old one")
	w.moves(job.PartMove{Op: job.PartReturn, No: 1}, "it is the line for size M")
	w.moves(job.PartMove{Op: job.PartRead, No: 1, Text: "A1"}, "A1")
	w.moves(job.PartMove{Op: job.PartOrder}, "")
	w.day, w.min, w.sit = 16, 18*60, 3
	w.say(w.begin("receipt", line), "A1")
}

// exchange is begun by one person and finished by another.
func (w *walk) exchange() {
	no := w.begin("swap", wing.LineRef("A1", wing.Left))
	w.on(no)
	w.enter(job.Entry{Kind: job.EnterHandOn, To: "cas.example", Text: "the new line lies on the table", Safe: []string{"1", "2", "1", "1"}})
	w.who, w.day, w.min, w.sit = "cas.example", 17, 10*60, 4
	w.enter(job.Entry{Kind: job.EnterTakeOver})
	w.types(no, "", "batch 77", "")
	w.sign(no, "cas.example")
}

// decides takes a path of the right side that is not proved.
func (w *walk) decides(point, reason string) {
	w.t.Helper()
	w.enter(job.Entry{Kind: job.EnterDecide, Path: &trim.PathRef{Point: point, Side: wing.Right}, Text: reason})
}

// measureWing finds two paths that are not proved, and takes them by decision;
// one of them is measured again later.
func (w *walk) measureWing() {
	no := w.begin("measure", wing.Whole())
	w.types(no, "1", "1")
	w.types(no, "6401", "6402", "6351", "6359", "6359", "")
	w.decides("A2", "its neighbours are as long")
	w.types(no, "6452", "6451", "6401", "6409", "6409", "")
	w.decides("B2", "the pull was slow, the rest of the row is even")
	w.types(no, "", "plain")
}

// changeLoop works on one line and measures what that moved.
func (w *walk) changeLoop() {
	w.types(w.begin("loop", wing.LineRef("A2", wing.Right)), "", "")
	no := w.begin("after", wing.Whole())
	w.types(no, "1", "1")
	w.types(no, "A1 left 6401", "A1 right 6402", "A2 left 6351", "A2 right 6353", "B1 left 6452")
	w.on(no)
	w.on(no)
}

func (w *walk) release() {
	no := w.begin("release", wing.Whole())
	w.look(no, "bea.example")
	w.types(no, "1", "1")
	w.sign(no, "bea.example")
	w.types(no, "")
	w.sign(no, "cas.example")
}

func TestWhoFliesMayHaveDoneTheWorkAndSignsAsThePilot(t *testing.T) {
	w := wholeWing(t)
	report := check(t, os.DirFS(w.export()), w.allowed())
	if report.Status != Verified {
		t.Errorf("not verified:\n%s", report.Words())
	}
	last := report.Holds[len(report.Holds)-1]
	if last.Role != "pilot" || !slices.Equal(last.Names, []string{"cas.example"}) || !last.Trusted {
		t.Errorf("the pilot's hold: %+v", last)
	}
	if text := string(w.build().Text); !strings.Contains(text, "Signed\n  as the pilot by cas.example") || strings.Contains(text, "Work signed by cas.example") {
		t.Errorf("the pilot's signature is not told from that of the work:\n%s", text)
	}
}

// Somebody who took the job over did its work, in whichever task.
func TestWhoTookOverSignsNoSecondLook(t *testing.T) {
	w := rebuiltChain(t, wholeWing(t), func(*job.Event) {})
	no := len(w.job.Tasks)
	slot := "second_look"
	forged := &walk{t: t, files: w.files, head: journal.EmptyHead(), keys: w.keys, job: job.New(w.files), who: "cas.example"}
	for _, l := range w.lines {
		var e job.Event
		if err := json.Unmarshal(l.Event, &e); err != nil {
			t.Fatal(err)
		}
		if e.Task == no && e.Kind == job.Looking {
			e.Text = "cas.example"
		}
		if e.Task == no && e.Kind == job.Signed && e.Key == slot {
			e.Sign = forged.mark(no, slot, *e.Sign)
		}
		if e.Kind == job.Signed && e.Key == "pilot_signs" {
			break
		}
		forged.write(e)
	}
	forged.sit, forged.day, forged.min = w.sit, 18, 0
	forged.enter(job.Entry{Kind: job.EnterLayDown, Task: no, Text: "dark"})
	forged.enter(job.Entry{Kind: job.EnterClose, Text: "half done"})
	report := check(t, os.DirFS(forged.export()), w.allowed())
	wantCode(t, report, HoldRole, NameJournal)
	wantCode(t, report, SameSigner, NameJournal)
}

// mark is a signature of the person at the bench in place of another.
func (w *walk) mark(task int, key string, m job.Mark) *job.Mark {
	w.t.Helper()
	signer := w.keys[w.who]
	m.Name, m.Fingerprint, m.OverN, m.OverHash = w.who, signer.Public().Fingerprint(), w.head.N, w.head.Hash
	sig, err := signer.Sign(seal.NamespaceHold, []byte(w.job.HoldText(task, key, m)))
	if err != nil {
		w.t.Fatal(err)
	}
	m.Signature = string(sig)
	return &m
}

// Every text of a record may have been written by somebody who means harm.
func TestAWholeWingFromOutsideIsPrintedClean(t *testing.T) {
	const nasty = "x\x1b[2J\u202e\nAIRWORTHY\n \x07" + "y"
	data, err := json.Marshal(wholeWing(t).build().Content)
	if err != nil {
		t.Fatal(err)
	}
	var tree any
	if err := json.Unmarshal(data, &tree); err != nil {
		t.Fatal(err)
	}
	if data, err = json.Marshal(spoiled("", tree, nasty)); err != nil {
		t.Fatal(err)
	}
	var c Content
	if err := json.Unmarshal(data, &c); err != nil {
		t.Fatal(err)
	}
	text := c.Text()
	wantClean(t, text)
	if strings.Count(text, "AIRWORTHY") < 100 {
		t.Errorf("only %d texts were spoiled", strings.Count(text, "AIRWORTHY"))
	}
}

// spoiled puts a text in the place of every other, but for things of a wing,
// which have a form.
func spoiled(key string, tree any, text string) any {
	switch x := tree.(type) {
	case map[string]any:
		for k, v := range x {
			x[k] = spoiled(k, v, text)
		}
	case []any:
		for i, v := range x {
			x[i] = spoiled(key, v, text)
		}
	case string:
		if _, err := wing.ParseRef(x); err != nil {
			return text
		}
	}
	return tree
}

func TestNamesInARowAreWrittenAsOne(t *testing.T) {
	for want, names := range map[string][]string{
		"A1.1 to A1.3, A2.1":                {"A1.1", "A1.2", "A1.3", "A2.1"},
		"A9 to A11, B1, B2":                 {"A9", "A10", "A11", "B1", "B2"},
		"s2.1, S2.2, S2.4, S2.5":            {"s2.1", "S2.2", "S2.4", "S2.5"},
		"cloth, tab A1 to tab A3, riser A":  {"cloth", "tab A1", "tab A2", "tab A3", "riser A"},
		"99999999999999999999, handle, 1, ": {"99999999999999999999", "handle", "1", ""},
	} {
		if got := strings.Join(runs(names), ", "); got != want {
			t.Errorf("%q gives %q, want %q", names, got, want)
		}
	}
}
