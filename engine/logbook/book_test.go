package logbook

import (
	"encoding/json"
	"flag"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/trim"
	"example.org/linewright/engine/wing"
)

var update = flag.Bool("update", false, "write golden files; read them before you commit them")

func TestANewLineStandsInTheBook(t *testing.T) {
	h := newHangar(t)
	v := h.begin(march1, 1000)
	v.swap("A1.1")
	b := h.book("2026-03-02")
	if len(b.Fitted) != 1 {
		t.Fatalf("fitted: %+v", b.Fitted)
	}
	f := b.Fitted[0]
	if f.Thing != wing.LineRef("A1.1", wing.Left) || f.Job != 1 || f.Task != 1 || f.Title != "Swap" || *f.Hours != 1000 {
		t.Errorf("fitted: %+v", f)
	}
	if diff := cmp.Diff([]Answer{{"Label and batch", "batch 77"}}, f.Part); diff != "" {
		t.Error(diff)
	}
	if want := v.Plan.Points("A1.1"); !slices.Equal(f.Points, want) || len(want) == 0 {
		t.Errorf("it carries %v, want %v", f.Points, want)
	}
	list := b.Lengths["line:A1.1@left"]
	if len(list) != 2 {
		t.Fatalf("lengths: %+v", b.Lengths)
	}
	loose, fitted := list[0], list[1]
	if loose.State != "loose" || loose.Deviation != 0 || loose.Against != "the plan" || loose.Verdict != metrology.Inside || loose.U <= 0 || loose.Limit != 10*quantity.Millimetre {
		t.Errorf("loose: %+v", loose)
	}
	if fitted.State != "installed" || fitted.Deviation != quantity.Millimetre || fitted.Against != "Twin, on the wing" || fitted.Expected != loose.Value {
		t.Errorf("installed: %+v", fitted)
	}
}

// What is asked of a part when it comes belongs to it once it is fitted; a part
// that was only looked at is not fitted.
func TestAPartIsFittedByTheTaskThatChangesTheWing(t *testing.T) {
	h := newHangar(t)
	v := h.begin(march1, 0)
	for _, id := range []string{"receipt", "check"} {
		v.must(job.Entry{Kind: job.EnterAnswer, Task: v.add(id, "line:A1.1@left"), Text: "order 12"})
	}
	if b := h.book("2026-03-02"); len(b.Fitted) != 0 {
		t.Errorf("fitted by looking: %+v", b.Fitted)
	}
	v.swap("A1.1")
	b := h.book("2026-03-02")
	if len(b.Fitted) != 1 {
		t.Fatalf("fitted: %+v", b.Fitted)
	}
	if diff := cmp.Diff([]Answer{{"Label and batch", "batch 77"}, {"What the paper says", "order 12"}}, b.Fitted[0].Part); diff != "" {
		t.Error(diff)
	}
}

// A path is measured with its whole row.
func TestPathsStandInTheBook(t *testing.T) {
	h := newHangar(t)
	v := h.begin(march1, 0)
	task := v.add("measure", "wing")
	slot := v.Tasks[0].Unfolded.Slots[0]
	e := job.Event{At: april1, Who: "ann", Sitting: 1, Kind: job.Settled, Task: task, Key: slot.Key, Outcome: job.Taken}
	e.Lengths = []job.PathLength{
		{PathRef: trim.PathRef{Point: "A1", Side: wing.Left}, Value: 7_001_000, U: 2000, Expected: 7_000_000, Deviation: 1000, Limit: 10_000, Verdict: metrology.Inside},
		{PathRef: trim.PathRef{Point: "A1", Side: wing.Right}, Value: 7_001_000, U: 2000},
	}
	v.apply(e)
	b := h.book("2026-04-02")
	if got := b.Places(); !slices.Equal(got, []Place{"path:A1@left", "path:A1@right"}) {
		t.Fatalf("places: %v", got)
	}
	left, right := b.Lengths["path:A1@left"][0], b.Lengths["path:A1@right"][0]
	if left.At != april1 || left.Task != 1 || left.Deviation != 1000 || left.Against != "the plan" || left.Verdict != metrology.Inside {
		t.Errorf("left: %+v", left)
	}
	if right.words() != "nothing to hold it against, U 2 mm" {
		t.Errorf("right: %s", right.words())
	}
}

// What is measured of a twin to compare with, and what is not done, is no
// length of the line.
func TestOnlyWhatWasJudgedIsALength(t *testing.T) {
	h := newHangar(t)
	v := h.begin(march1, 0)
	task := v.add("swap", "line:A1.1@left")
	v.must(job.Entry{Kind: job.EnterAnswer, Task: task, Text: "batch 77"})
	v.must(job.Entry{Kind: job.EnterAnswer, Task: task, Text: "4000 mm"})
	if b := h.book("2026-03-02"); len(b.Lengths) != 0 || len(b.Fitted) != 0 {
		t.Errorf("lengths %+v, fitted %+v", b.Lengths, b.Fitted)
	}
}

func TestANewLineComesUpForItsRecheck(t *testing.T) {
	h := newHangar(t)
	h.begin(march1, 1000).swap("A1.1")
	for _, c := range []struct {
		hours job.Hours
		want  Reach
	}{{1049, Later}, {1050, Now}, {1100, Now}, {1101, Past}} {
		b := Bind("cloth", h.pages(), "2026-04-01", &c.hours)
		if len(b.Due) != 1 || b.Due[0].Reach != c.want || *b.Due[0].From != 1050 || *b.Due[0].To != 1100 {
			t.Errorf("at %s: %+v, want %s", c.hours, b.Due, c.want)
		}
	}
	if b := h.book("2026-04-01"); len(b.Due) != 1 || b.Due[0].Reach != Unknown || !strings.Contains(b.Due[0].Text, "it had 100 h in job 1") {
		t.Errorf("hours not said: %+v", b.Due)
	}
	h.begin(april1, 1020).swap("A1.1") // too early, but new again
	if b := h.book("2026-04-02"); len(b.Due) != 1 || b.Due[0].Job != 2 || *b.Due[0].From != 1070 {
		t.Errorf("a line that is new again: %+v", b.Due)
	}
}

func TestWhatEndsARecheck(t *testing.T) {
	path := measuredOf(PathPlace(trim.PathRef{Point: "A1", Side: wing.Left}))
	for name, c := range map[string]struct {
		later Page
		ends  bool
	}{
		"its path was measured":           {Page{Hours: tenths(1060), Measured: path}, true},
		"hours not known":                 {Page{Measured: path}, true},
		"too early":                       {Page{Hours: tenths(1049), Measured: path}, false},
		"the other side":                  {Page{Measured: measuredOf("path:A1@right")}, false},
		"the line itself":                 {Page{Measured: measuredOf("line:A1.1@left")}, true},
		"another line":                    {Page{Measured: measuredOf("line:A1.2@left")}, false},
		"a survey":                        {Page{Tasks: []Task{{Looked: true}}}, true},
		"a task that does not look at it": {Page{Tasks: []Task{{State: job.Done}}}, false},
	} {
		h := newHangar(t)
		h.begin(march1, 1000).swap("A1.1")
		c.later.Job, c.later.Wing, c.later.Begun = 2, "cloth", april1
		b := Bind("cloth", append(h.pages(), c.later), "2026-05-01", nil)
		if ended := len(b.Due) == 0; ended != c.ends {
			t.Errorf("%s: due %+v", name, b.Due)
		}
	}
}

func measuredOf(p Place) []Measured { return []Measured{{Lengths: []Length{{Of: p}}}} }

func tenths(n job.Hours) *job.Hours { return &n }

func TestWhatKeepsAWingOnTheGround(t *testing.T) {
	h := newHangar(t)
	if s := h.book("2026-03-01").Status; s.Tagged || s.Released != nil {
		t.Errorf("an empty book: %+v", s)
	}
	v := h.begin(march1, 0)
	id := v.find("A1.1", "cut")
	wantWhy(t, h, "A1.1 left: the core is cut, found 2026-03-01: replace (job 1)", "no release followed the work of job 1")
	v.swap("A1.1")
	if _, state := v.Finding(id); !state {
		t.Fatal("the finding is gone")
	}
	wantWhy(t, h, "no release followed the work of job 1")
	v.now = april1
	v.release()
	wantWhy(t, h)
	s := h.book("2026-04-02").Status
	if s.Released == nil || s.Released.Name != "ann" || s.Released.At != april1 || s.Released.Job != 1 || s.Released.States == "" {
		t.Errorf("released: %+v", s.Released)
	}
	if words := s.Words(); len(words) != 1 || words[0] != "Released by ann on 2026-04-01 for the state written there (job 1)." {
		t.Errorf("words: %q", words)
	}
	v.close()
	later := h.begin(may1, 0)
	later.find("A1.2", "fluffy")
	wantWhy(t, h, "A1.2 left: the sheath is fluffy, found 2026-05-01: mend it, or carry it over with a reason and a limit (job 2)",
		"no release followed the work of job 2")
	words := h.book("2026-05-02").Status.Words()
	if words[0] != "TAGGED: DO NOT FLY. What keeps it on the ground:" || words[len(words)-1] != "Before that: Released by ann on 2026-04-01 for the state written there (job 1)." {
		t.Errorf("words: %q", words)
	}
}

func wantWhy(t *testing.T, h *hangar, want ...string) {
	t.Helper()
	s := h.book("2026-05-02").Status
	if diff := cmp.Diff(append([]string{}, want...), s.Why); diff != "" || s.Tagged != (len(want) > 0) {
		t.Errorf("tagged %v:\n%s", s.Tagged, diff)
	}
}

func TestOpenWorkKeepsAWingOnTheGround(t *testing.T) {
	released := []Release{{Task: 1, Name: "ann", Moment: Moment{9, april1}}}
	at := func(when string, deviation quantity.Length, v metrology.Verdict) Measured {
		return Measured{Measuring{Moment: Moment{5, when}, State: pathState, Against: "the plan"},
			[]Length{{Of: "path:A1@left", Value: 7_000_000 + deviation, Expected: 7_000_000, Deviation: deviation, U: 2000, Limit: 10_000, Verdict: v}}}
	}
	long, unproved, good := at(march1, 14_000, metrology.Outside), at(march1, 9000, metrology.NotProved), at(may1, 1000, metrology.Inside)
	for name, c := range map[string]struct {
		page Page
		want []string
	}{
		"a link":   {Page{LinkOpen: "link C left"}, []string{"link C left is open (job 1)"}},
		"one side": {Page{OneSide: true}, []string{"one side of a pair is done, the other is not (job 1)"}},
		"a task": {Page{Tasks: []Task{{Title: "Swap", On: "A1.1 left", State: job.Waiting, Why: "no part"}}},
			[]string{"Swap, A1.1 left, is laid down: no part (job 1)", "no release followed the work of job 1"}},
		"a dropped task":                   {Page{Tasks: []Task{{State: job.Gone}}}, nil},
		"a look without a release":         {Page{Tasks: []Task{{State: job.Done}}}, []string{"no release followed the work of job 1"}},
		"a look before it, later released": {Page{Tasks: []Task{{State: job.Done}}}, nil},
		"first flight":                     {Page{Tasks: []Task{{Title: "First flight", State: job.Running}}, Released: released}, nil},
		"an item":                          {Page{Open: []Item{{Text: "a knot is left", Grounds: true}, {Text: "a word"}}}, []string{"a knot is left (job 1)"}},
		"an item, later released":          {Page{Closed: true, Last: march1, Open: []Item{{Text: "a knot is left", Grounds: true}}}, nil},
		"a length":                         {Page{Measured: []Measured{long}}, []string{"path A1 left: +14 mm, U 2 mm, limit 10 mm: outside (job 1, 2026-03-01)"}},
		"measured again":                   {Page{Measured: []Measured{good, long}}, nil},
		"not proved":                       {Page{Measured: []Measured{unproved}}, []string{"path A1 left: +9 mm, U 2 mm, limit 10 mm: not proved (job 1, 2026-03-01)"}},
		"a page that cannot be read":       {Page{Fault: "line 3 does not follow\n  restore it"}, []string{"job 1 cannot be read"}},
		"work after the release":           {Page{Released: released, Tasks: []Task{{Work: &Moment{10, april1}}}}, []string{"no release followed the work of job 1"}},
		"work before it":                   {Page{Released: released, Tasks: []Task{{Work: &Moment{8, april1}}}}, nil},
	} {
		c.page.Job, c.page.Wing = 1, "cloth"
		pages := []Page{c.page}
		if strings.Contains(name, "later") {
			pages = append(pages, Page{Job: 2, Wing: "cloth", Begun: april1, Released: released})
		}
		s := Bind("cloth", pages, "2026-05-02", nil).Status
		if diff := cmp.Diff(append([]string{}, c.want...), s.Why); diff != "" {
			t.Errorf("%s:\n%s", name, diff)
		}
	}
}

// What an answer left open is said until a release settles it.
func TestWhatAnswersLeftOpenIsSaid(t *testing.T) {
	first := Page{Job: 1, Wing: "cloth", Begun: march1, Last: march1, Closed: true, Open: []Item{
		{Task: 1, Step: "knots", Text: "look at the knots again", Since: march1}, {Task: 2, Text: "task 2 is not finished"}}}
	want := "\nLeft open by jobs\n  2026-03-01, look at the knots again (job 1, task 1)\n\n"
	if got := strings.Join(Bind("cloth", []Page{first}, "2026-05-02", nil).Words(), "\n"); !strings.Contains(got, want) {
		t.Error(got)
	}
	second := Page{Job: 2, Wing: "cloth", Begun: april1, Released: []Release{{Task: 1, Name: "ann", Moment: Moment{9, april1}}}}
	if got := strings.Join(Bind("cloth", []Page{first, second}, "2026-05-02", nil).Words(), "\n"); strings.Contains(got, "Left open") {
		t.Error(got)
	}
}

func TestAJobThatCannotBeReadIsNamed(t *testing.T) {
	pages := []Page{{Job: 1, Wing: "cloth", Begun: march1}, {Job: 2, Fault: "the journal is damaged\n  restore it"}, {Job: 3, Wing: "other", Fault: "x"}}
	b := Bind("cloth", pages, "2026-05-02", nil)
	if len(b.Unread) != 1 || b.Unread[0].Job != 2 || b.Unread[0].OfWing || b.Status.Tagged {
		t.Errorf("unread %+v, %+v", b.Unread, b.Status)
	}
	if words := strings.Join(b.Words(), "\n"); !strings.Contains(words, "JOB 2 CANNOT BE READ; it may be one of this wing: the journal is damaged\n") {
		t.Error(words)
	}
}

func TestPlacesAreInTheOrderOfAPerson(t *testing.T) {
	want := []Place{"line:A1.2@left", "line:A1.2@right", "line:A1.10@left", "line:B1@left", "path:A2@left", "path:A10@left", "path:Br1@left"}
	got := slices.Clone(want)
	slices.Reverse(got)
	slices.SortFunc(got, comparePlaces)
	if !slices.Equal(got, want) {
		t.Errorf("got %v", got)
	}
	if s := got[0].String() + ", " + got[5].String(); s != "A1.2 left, path A10 left" {
		t.Errorf("in words: %s", s)
	}
}

// story is a wing with something of everything.
func story(t *testing.T) (*hangar, Book) {
	h := newHangar(t)
	first := h.begin(march1, 1000)
	id := first.find("A1.1", "fluffy")
	first.find("A1.2", "cut")
	first.postpone(id, job.Deferral{Until: "2026-05-15"}, "no part")
	first.swap("A1.2")
	first.release()
	first.close()
	second := h.begin(april1, 1042)
	second.now = may1
	second.clear(id)
	second.postpone(second.find("A2.1", "fluffy"), job.Deferral{Hours: 100}, "no part")
	second.release()
	return h, h.book("2026-05-02")
}

func TestTheBookInWords(t *testing.T) {
	_, b := story(t)
	got := strings.Join(b.Words(), "\n") + "\n"
	if *update {
		if err := os.WriteFile("testdata/book.golden", []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile("testdata/book.golden")
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Error(diff)
	}
	if low := strings.ToLower(got); strings.Contains(low, "airworthy") || strings.Contains(low, "safe to fly") {
		t.Error("it says that a wing may fly")
	}
}

func TestTheSameJobsGiveTheSameBook(t *testing.T) {
	h, b := story(t)
	want := asJSON(t, b)
	for range 5 {
		pages := h.pages()
		slices.Reverse(pages)
		if got := asJSON(t, Bind("cloth", pages, "2026-05-02", nil)); got != want {
			t.Fatalf("another book:\n%s", cmp.Diff(want, got))
		}
	}
	for _, key := range []string{`"open_findings":[`, `"deferred_findings":[`, `"due":[`, `"fitted":[`, `"lengths":{`, `"jobs":[`, `"unread_jobs":[]`} {
		if !strings.Contains(want, key) {
			t.Errorf("no %s in the JSON", key)
		}
	}
}

// A page goes into a cache and comes back as it was.
func TestAPageGoesThroughJSON(t *testing.T) {
	h, _ := story(t)
	for _, p := range h.pages() {
		data, err := json.Marshal(p)
		if err != nil {
			t.Fatal(err)
		}
		var back Page
		if err := json.Unmarshal(data, &back); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(p, back); diff != "" {
			t.Error(diff)
		}
	}
}
