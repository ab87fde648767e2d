package record

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/journal"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

func TestBuildRefusesAJobThatIsNotClosed(t *testing.T) {
	w := sample(t, false)
	for _, lines := range [][]journal.Line{w.lines[:len(w.lines)-1], w.lines[:1], nil} {
		if _, err := Build(lines, w.files, w.files.photo); !errors.Is(err, NotClosed) {
			t.Errorf("%d lines give %v, want NotClosed", len(lines), err)
		}
	}
}

func TestBuildRefusesAPlanThatWasChanged(t *testing.T) {
	w := sample(t, false)
	for sha := range w.files.pinned {
		old := w.files.pinned[sha]
		w.files.pinned[sha] = append(slices.Clone(old), '#')
		if _, err := Build(w.lines, w.files, w.files.photo); err == nil {
			t.Errorf("the changed file %s was taken", sha)
		}
		w.files.pinned[sha] = old
	}
	if _, err := Build(w.lines, memory{}, w.files.photo); err == nil {
		t.Error("a record was made without plan and procedures")
	}
}

// step finds a step of a task in a record.
func step(t *testing.T, c Content, task int, key string) Step {
	t.Helper()
	for _, s := range c.Tasks[task-1].Steps {
		if s.Key == key {
			return s
		}
	}
	t.Fatalf("task %d has no step %q in the record", task, key)
	return Step{}
}

func TestContentListsWhatIsOpenAndWhatWasDone(t *testing.T) {
	c := sample(t, false).build().Content
	if c.Edition != Edition || c.Job != 7 || c.Closed.Line != 49 || c.Journal.Lines != 49 {
		t.Errorf("edition %d, job %d, closed by entry %d of %d", c.Edition, c.Job, c.Closed.Line, c.Journal.Lines)
	}
	if len(c.Open) != 2 || c.Open[0].Step != "inflation" || c.Open[0].At != "2026-05-03T09:21:00+02:00" || c.Open[1].Task != 2 {
		t.Errorf("open items: %+v", c.Open)
	}
	one, two := c.Tasks[0], c.Tasks[1]
	if one.State != "done" || one.Done != 14 || one.Of != 14 || one.Target != "line:C1@left" || len(one.Includes) != 1 {
		t.Errorf("task 1: %s, %d of %d, %s", one.State, one.Done, one.Of, one.Target)
	}
	if two.State != "laid down" || two.Why == "" || len(two.Steps) != 1 || two.Begun.Line != 46 {
		t.Errorf("task 2: %+v", two)
	}
	if !slices.Equal(c.People, []string{"ann.example"}) || !slices.Equal(c.SecondPeople, []string{"bea.example"}) {
		t.Errorf("people: %v, second people: %v", c.People, c.SecondPeople)
	}
	if len(c.Parts) != 1 || c.Parts[0].Answer != "C1" || c.Parts[0].Line != 7 {
		t.Errorf("parts: %+v", c.Parts)
	}
}

// What says which part was fitted is marked in the procedure; a code without
// the mark is none.
func TestPartsAreWhatTheProcedureMarks(t *testing.T) {
	w := newWalk(t, false)
	swap := strings.Replace(string(w.read("swap.toml")), "    part = true\n", "", 1)
	swap = strings.Replace(swap, "id = \"damage\"\n    kind = \"choose\"", "id = \"damage\"\n    kind = \"choose\"\n    part = true", 1)
	w.enter(job.Entry{Kind: job.EnterAdd, Add: &job.Add{
		Procedure: "test-swap", Edition: "2", SHA256: w.files.pin([]byte(swap)), Parts: []string{w.files.pin(w.read("closing.toml"))},
		Target: wing.LineRef("C1", wing.Left),
	}})
	w.on(1)
	w.say(1, "1")
	w.on(1)
	w.say(1, "C1")
	w.enter(job.Entry{Kind: job.EnterLayDown, Task: 1, Text: "dark; tag on"})
	w.enter(job.Entry{Kind: job.EnterClose, Text: "half done"})
	r := w.build()
	if p := r.Content.Parts; len(p) != 1 || p[0].Step != "damage" || p[0].Answer != "the sheath is cut" || p[0].Line != 4 {
		t.Errorf("parts: %+v", p)
	}
	wantAll(t, flat(r.Text), "PARTS 1 What is damaged: the sheath is cut ann.example, 2026-05-02 09:12 +02:00, entry 4")
}

func TestContentSaysWhoLooked(t *testing.T) {
	c := sample(t, false).build().Content
	lines := []int{}
	for _, look := range c.Looks {
		lines = append(lines, look.Line)
		if look.Name != "bea.example" || look.Who != look.Name || look.Task != 1 || look.Step != "closing.gate_seen" {
			t.Errorf("%+v", look)
		}
	}
	if !slices.Equal(lines, []int{24, 33, 41}) {
		t.Errorf("looks: %v", lines)
	}
	if seen := step(t, c, 1, "closing.gate_seen"); seen.Entry.Who != "bea.example" || !seen.Second {
		t.Errorf("%+v", seen)
	}
	text := flat(twists(t).build().Text)
	wantAll(t, text,
		"1 bea.example, as the second person: looked and did not sign looked from", "2 cas.example, as the second person: looked and did not sign looked from",
		"3 bea.example, as the second person", "looked at by bea.example, cas.example", "(3) done by ann.example looked")
}

func TestContentHasEachBench(t *testing.T) {
	c := sample(t, false).build().Content
	if !c.Bench.Default || len(c.Benches) != 1 || c.Benches[0].Line != 19 || c.Benches[0].Bench.Name != describedBench().Name {
		t.Errorf("benches: %+v, %+v", c.Bench, c.Benches)
	}
	for key, want := range map[string]string{"new_length": fallbackBench().Name, "closing.installed": describedBench().Name} {
		for _, r := range step(t, c, 1, key).Readings {
			if r.Bench != want {
				t.Errorf("a reading of %s was taken on %q, want %q", key, r.Bench, want)
			}
		}
	}
}

func TestARecordOfAWingAsFoundSaysSo(t *testing.T) {
	plan := strings.Replace(string(newWalk(t, false).read("plan.toml")), "greatest_mass_kg", "partial = true\nas_found = true\ngreatest_mass_kg", 1)
	w := newWalkOn(t, false, []byte(plan))
	w.enter(job.Entry{Kind: job.EnterClose, Text: "looked only"})
	r := w.build()
	if p := r.Content.Plan; !p.Partial || !p.AsFound {
		t.Errorf("%+v", p)
	}
	page, _, _ := strings.Cut(flat(r.Text), "DATA USED")
	wantAll(t, page, "MADE FROM THE WING AS IT WAS FOUND, not from its maker's papers")
}

func TestContentOfAMeasuredStep(t *testing.T) {
	s := step(t, sample(t, false).build().Content, 1, "new_length")
	if s.Measurement.Value != 4206500 || s.Expected.Value != 4205000 || s.Expected.Limit != 10000 || s.Judgement.Verdict != "inside" || s.Entry.Line != 13 {
		t.Errorf("%+v", s)
	}
	counts := []bool{}
	for _, r := range s.Readings {
		counts = append(counts, r.Counts)
	}
	if !slices.Equal(counts, []bool{false, false, true, true}) {
		t.Errorf("readings that count: %v", counts)
	}
	if s.Readings[0].Why.Code != job.Implausible || s.Readings[1].Struck != "read at the wrong loop" || *s.Readings[2].Value.UM != 4206000 || s.Readings[2].Typed != "420.6 cm" {
		t.Errorf("readings: %+v", s.Readings)
	}
}

func TestContentKeepsWhatNoLongerCounts(t *testing.T) {
	c := sample(t, false).build().Content
	if len(c.Superseded) != 1 || c.Superseded[0].Line != 35 || c.Superseded[0].VoidBy != 36 || c.Superseded[0].Hold.OverLine != 34 {
		t.Errorf("superseded signatures: %+v", c.Superseded)
	}
	voids := []string{"1/closing.twin_length", "1/closing.installed", "1/closing.gate_seen", "1/closing.second_look"}
	if len(c.Reopenings) != 1 || !slices.Equal(c.Reopenings[0].Voids, voids) {
		t.Errorf("re-openings: %+v", c.Reopenings)
	}
	if len(c.Strikes) != 1 || c.Strikes[0].Struck != 9 || len(c.Disagreements) != 1 || len(c.Pauses) != 1 || len(c.Confirmations) != 1 || len(c.Notes) != 1 {
		t.Errorf("strikes %v, disagreements %v, pauses %v, confirmations %v, notes %v", c.Strikes, c.Disagreements, c.Pauses, c.Confirmations, c.Notes)
	}
	lines := []int{}
	for _, e := range step(t, c, 1, "closing.installed").Earlier {
		lines = append(lines, e.Line)
	}
	if !slices.Equal(lines, []int{21, 22, 23, 30, 31, 32}) {
		t.Errorf("entries of the installed length that do not count: %v", lines)
	}
	if s := step(t, c, 1, "closing.installed"); s.Judged == nil || s.Judged.Line != 39 || s.Entry.Line != 40 {
		t.Errorf("judged %+v, decided %+v, want entries 39 and 40", s.Judged, s.Entry)
	}
}

func TestEveryEntryOfTheJournalIsInTheRecord(t *testing.T) {
	for name, w := range map[string]*walk{"sample": sample(t, false), "twists": twists(t)} {
		r := w.build()
		var tree any
		if err := json.Unmarshal(r.JSON, &tree); err != nil {
			t.Fatal(err)
		}
		found := map[int]bool{}
		linesIn(tree, found)
		text := flat(r.Text)
		for n := 1; n <= len(w.lines); n++ {
			if !found[n] {
				t.Errorf("%s: entry %d (%s) is nowhere in record.json", name, n, w.job.Events()[n-1].Kind)
			}
			if !strings.Contains(text, fmt.Sprintf("entry %d", n)) {
				t.Errorf("%s: entry %d (%s) is nowhere in record.txt", name, n, w.job.Events()[n-1].Kind)
			}
		}
	}
}

func linesIn(tree any, found map[int]bool) {
	switch x := tree.(type) {
	case map[string]any:
		if n, ok := x["line"].(float64); ok {
			found[int(n)] = true
		}
		for _, v := range x {
			linesIn(v, found)
		}
	case []any:
		for _, v := range x {
			linesIn(v, found)
		}
	}
}

func TestAnAnswerThatWasFoundToStand(t *testing.T) {
	w := newWalk(t, false)
	w.add("C2", wing.Left, "")
	w.on(1)
	w.say(1, "1")
	w.enter(job.Entry{Kind: job.EnterReopen, Task: 1, Key: "tagged", Text: "the tag had fallen off"})
	w.on(1)
	stands := w.enter(job.Entry{Kind: job.EnterStands, Task: 1})
	w.enter(job.Entry{Kind: job.EnterDrop, Task: 1, Text: "the other line after all"})
	w.enter(job.Entry{Kind: job.EnterClose, Text: "nothing was done"})
	r := w.build()
	s := step(t, r.Content, 1, "damage")
	if s.Entry == nil || s.Entry.Line != 4 || len(s.Stands) != 1 || s.Stands[0].Line != stands || len(s.Earlier) != 0 {
		t.Errorf("%+v", s)
	}
	if tagged := step(t, r.Content, 1, "tagged"); len(tagged.Earlier) != 1 || tagged.Earlier[0].VoidBy != 5 {
		t.Errorf("%+v", tagged)
	}
	if r.Content.Tasks[0].State != "dropped" || len(r.Content.Open) != 0 {
		t.Errorf("state %q, open %v", r.Content.Tasks[0].State, r.Content.Open)
	}
	wantAll(t, flat(r.Text), "found to stand: ann.example", "dropped after 2 of", `dropped: "the other line after all"`)
}

func TestAStruckNoteStaysVisible(t *testing.T) {
	w := newWalk(t, false)
	n := w.enter(job.Entry{Kind: job.EnterNote, Text: "the left riser is worn"})
	w.enter(job.Entry{Kind: job.EnterStrike, Line: n, Text: "it was the right one"})
	w.enter(job.Entry{Kind: job.EnterClose, Text: "looked only"})
	wantAll(t, flat(w.build().Text), `"the left riser is worn"; STRUCK: "it was the right one"`, `Struck: entry 2: "it was the right one"`)
}

func TestFilesOfARecord(t *testing.T) {
	w := sample(t, false)
	names := []string{}
	for _, f := range w.build().Content.Files {
		names = append(names, f.Name)
	}
	photo := hashOf([]byte("not really a picture"))
	want := []string{
		"journal.jsonl", "photos/" + photo + ".jpg", "plan.toml",
		"procedures/test-closing-" + hashOf(w.read("closing.toml"))[:12] + ".toml",
		"procedures/test-swap-" + hashOf(w.read("swap.toml"))[:12] + ".toml", "record.txt",
	}
	if !slices.Equal(names, want) {
		t.Errorf("files: %v, want %v", names, want)
	}
}

func TestARecordShowsNoPathOfSomebodysDisk(t *testing.T) {
	w := newWalk(t, false)
	w.add("C2", wing.Left, "")
	w.on(1)
	w.say(1, "1")
	sha := hashOf([]byte("picture"))
	w.files.photos[sha+".jpg"] = []byte("picture")
	w.enter(job.Entry{Kind: job.EnterAnswer, Task: 1, Text: "/home/ann/private/link.jpg", Photo: &job.Photo{Name: sha + ".jpg", SHA256: sha}})
	w.enter(job.Entry{Kind: job.EnterLayDown, Task: 1, Text: "dark; tag on"})
	w.enter(job.Entry{Kind: job.EnterClose, Text: "not begun"})
	r := w.build()
	if strings.Contains(string(r.JSON)+string(r.Text), "private") {
		t.Error("the record shows the path of a photo")
	}
}

func TestValuesKeepTheirUnit(t *testing.T) {
	for kind, want := range map[quantity.Kind]string{
		quantity.KindLength: `{"um":1500}`, quantity.KindForce: `{"mn":1500}`, quantity.KindTorque: `{"mnm":1500}`,
		quantity.KindTurns: `{"milliturns":1500}`, quantity.KindCount: `{"count":1500}`,
	} {
		v := quantity.Value{Kind: kind, N: 1500}
		got, err := json.Marshal(value(v))
		if err != nil || string(got) != want {
			t.Errorf("%s: %s, %v, want %s", kind, got, err, want)
		}
		if value(v).String() != v.String() {
			t.Errorf("%s is printed as %q, want %q", kind, value(v), v)
		}
	}
}

// forge puts one event behind the first line of a job and closes it.
func forge(t *testing.T, event string) error {
	t.Helper()
	w := newWalk(t, false)
	head := w.head
	lines := slices.Clone(w.lines)
	for _, e := range []string{event, `{"at":"x","who":"x","sitting":1,"kind":"close","text":"x"}`} {
		l, err := journal.Encode(head, json.RawMessage(e))
		if err != nil {
			t.Fatal(err)
		}
		lines, head = append(lines, l), l.Head()
	}
	_, err := Build(lines, w.files, nil)
	return err
}

// Apply judges nothing; what a stranger wrote must be refused before it.
func TestBuildRefusesEventsThatThisProgramNeverWrites(t *testing.T) {
	const head = `{"at":"x","who":"x","sitting":1,`
	if err := forge(t, head+`"kind":"note","text":"plain"}`); err != nil {
		t.Fatalf("a plain note is refused: %v", err)
	}
	for name, event := range map[string]string{
		"a key that is not known":        head + `"kind":"note","text":"x","colour":"red"}`,
		"a key twice":                    head + `"kind":"close","kind":"note","text":"x"}`,
		"a key in capitals":              head + `"KIND":"note","text":"x"}`,
		"the wrong type":                 head + `"kind":7}`,
		"no kind":                        head + `"text":"x"}`,
		"a kind that is not known":       head + `"kind":"release","task":1}`,
		"a start again":                  head + `"kind":"start"}`,
		"a task without its procedure":   head + `"kind":"add","task":1}`,
		"a reading without value":        head + `"kind":"reading","task":1,"key":"x"}`,
		"a signature without mark":       head + `"kind":"sign","task":1,"key":"x"}`,
		"a value of no kind":             head + `"kind":"note","value":{"Kind":"colour","N":1}}`,
		"a value that JSON cannot keep":  head + `"kind":"note","value":{"Kind":"length","N":9007199254740993}}`,
		"a photo with a path for a name": head + `"kind":"note","text":"x","photo":{"name":"../../x.jpg","sha256":"` + strings.Repeat("0", 64) + `"}}`,
		"a photo named after another":    head + `"kind":"note","text":"x","photo":{"name":"` + strings.Repeat("1", 64) + `.jpg","sha256":"` + strings.Repeat("0", 64) + `"}}`,
		"a photo with no SHA-256":        head + `"kind":"note","text":"x","photo":{"name":"x.jpg","sha256":"x"}}`,
		"half a surrogate pair":          head + `"kind":"note","text":"\ud800"}`,
		"a strike of a line to come":     head + `"kind":"strike","line":99,"reason":"x"}`,
	} {
		err := forge(t, event)
		var own *Error
		if !errors.As(err, &own) {
			t.Errorf("%s: %v, want an *Error", name, err)
			continue
		}
		if lines := strings.Split(err.Error(), "\n"); len(lines) != 2 || !strings.HasPrefix(lines[1], "  ") {
			t.Errorf("%s: not one line what and one line what to do: %q", name, err)
		}
	}
}

func BenchmarkBuild(b *testing.B) {
	w := sample(b, false)
	for b.Loop() {
		w.build()
	}
}
