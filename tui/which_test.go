package tui

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/linewright/engine/wing"
	"example.org/linewright/procedures"
)

// whichFrom is the search for a line where a job is started.
func whichFrom(t *testing.T, w, h int) *user {
	t.Helper()
	u := sitDown(t, newStore(t, nil), procedures.Files(), w, h, nil)
	u.press("enter", "enter").picks("Mend").picks("Line swap")
	return u.picks("find the line first").sees("Which line is it?")
}

// observes answers the question that is due as somebody does who sees the line,
// or with another value.
func (u *user) observes(ref wing.Ref, wrong map[wing.Feature]string) {
	u.t.Helper()
	p := u.m.top().(*whichPage)
	q := p.talk.Question()
	value, ok := p.plan.Feature(ref, q.Feature, q.Instance)
	if other, wanted := wrong[q.Feature]; wanted {
		value, ok = other, true
	}
	switch {
	case !ok:
		u.press("0", "enter")
	case q.Feature == wing.FeatureLength:
		u.types(value).press("enter")
	default:
		u.press(strings.Split(fmt.Sprint(p.numberOf(u.t, value)), "")...).press("enter")
	}
}

// numberOf is the number beside an answer.
func (p *whichPage) numberOf(t judge, value string) int {
	answers, counts := p.talk.Answers()
	for i, a := range answers {
		switch {
		case a != value:
		case !counts:
			return i + 1
		case a == wing.None || a == "0":
			return p.list.items[len(p.list.items)-1].digit
		default:
			return map[string]int{"1": 1, "2": 2, "3": 3, "4": 4, "5": 5, "6": 6, "7": 7, "8": 8, "9": 9, "10": 10, "11": 11, "12": 12}[a]
		}
	}
	t.Fatalf("no answer %q", value)
	return 0
}

// searched answers until the search is at its end.
func (u *user) searched(ref wing.Ref, wrong map[wing.Feature]string) *user {
	u.t.Helper()
	for range 20 {
		p := u.m.top().(*whichPage)
		switch p.talk.Question().State {
		case wing.FinderSearch:
			u.sees("0  cannot tell", "left")
		case wing.FinderConfirm:
			u.sees("One line is left. It is named when").seesNot(ref.String(), "? possible")
		default:
			return u
		}
		u.observes(ref, wrong)
	}
	u.t.Fatalf("the search does not end:\n%s", u.view())
	return u
}

func TestALineIsFoundByWhatIsSeen(t *testing.T) {
	for _, code := range []string{"C1.2", "A3.11", "S1.1"} {
		ref := wing.LineRef(code, wing.Right)
		u := whichFrom(t, 80, 24).sees("Say what you see, not what you expect.", "186 lines are left", "? possible")
		u.searched(ref, nil).sees("It is "+ref.String(), "1  take this line: "+ref.String()).press("enter")
		u.sees("Why is the wing here?", "Line swap, "+ref.String())
		if nos, err := u.m.desk.Store.Jobs(); err != nil || len(nos) != 0 {
			t.Errorf("something was written: %v, %v", nos, err)
		}
	}
}

func TestAnAnswerIsTakenBackWithEsc(t *testing.T) {
	u := whichFrom(t, 80, 24)
	first := u.view()
	u.press("enter").sees("Choose an answer first.").press("2", "enter").sees("2. ").press("esc")
	if u.view() != first {
		t.Errorf("not where it was:\n%s", u.view())
	}
	u.press("esc").sees("Which side, as the pilot sits")
}

// A contradiction names the answer most likely wrong and takes it back. What is
// expected is not shown, or the next answer would be bent to it.
func TestAContradictionOffersToTakeTheAnswerBack(t *testing.T) {
	ref := wing.LineRef("C1.2", wing.Left)
	u := whichFrom(t, 80, 24).searched(ref, map[wing.Feature]string{wing.FeaturePlaceOnLink: "3"})
	u.sees("No line of the plan fits", "1  take back first tab 5: most likely", "2  take back place on the link 3: could be", "0  all of them hold").seesNot("C1.2")
	u.press("0", "enter").sees("this is not the wing of the plan", "1  begin again").press("esc").sees("most likely")
	u.picks("take back place on the link 3").searched(ref, nil).sees("It is C1.2 left").press("enter").sees("Why is the wing here?")
}

func TestTheFanAsksWhichLineItIs(t *testing.T) {
	u := sitDown(t, newStore(t, nil), procedures.Files(), 80, 24, nil)
	u.press("enter", "enter").picks("Mend").picks("Line swap").press("1", "enter").types("A").press("w").sees("[ Aw ").press("ctrl+u", "w").sees("Which line is it?")
	u.searched(wing.LineRef("D1.1", wing.Left), nil).press("enter").sees("Line swap, D1.1 left").press("esc").sees("D1.1 left: row D")
}

// While a step finds the line out nothing may help to find it out.
func TestWhichIsNotOfferedWhereTheLineIsToBeFoundOut(t *testing.T) {
	u := atWork(t, 80, 24, nil).press("tab").sees("7 drop").seesNot("w which line")
	u.press("w").sees("all steps").press("esc").goTo("tagged").press("tab").sees("w which line").press("w").sees("Which line is it?")
	ref := wing.LineRef("C1.3", wing.Left)
	u.searched(ref, nil).press("enter").sees("What is to be done on C1.3 left?", "Small swap").press("1", "enter").sees("Small swap, C1.3 left").press("enter").sees("SAVED task 2")
	if got := u.m.session.Job().Tasks[1].Add.Target; got != ref {
		t.Errorf("the task is on %s", got)
	}
}

// A rough length is typed; 0 alone is: cannot tell.
func TestALengthIsTyped(t *testing.T) {
	plan := []byte("linewright_plan = 1\nname = 'n'\nsize = 's'\n[source]\ntext = 't'\ndate = 'd'\n[[riser]]\nbranch = 'A'\nlength_mm = 500\n[[link]]\nname = 'A'\nbranch = 'A'\nkind = 'soft'\n" +
		"[[line]]\ncode = 'a'\nrow = 'A'\ntier = 'lower'\non = 'link:A'\nsheathed = true\npos = 1\npoint = 'A1'\nlength_mm = 2000\n" +
		"[[line]]\ncode = 'b'\nrow = 'A'\ntier = 'lower'\non = 'link:A'\nsheathed = true\npos = 2\npoint = 'A2'\nlength_mm = 5000\n")
	p, err := wing.ParsePlan(plan, "plan")
	if err != nil {
		t.Fatal(err)
	}
	u := sitDown(t, newStore(t, nil), small(t), 80, 24, nil)
	var got wing.Ref
	u.m.push(newWhichPage(p, func(_ *model, ref wing.Ref) tea.Cmd { got = ref; return nil }))
	u.wait()
	for range 12 {
		page := u.m.top().(*whichPage)
		if page.asksLength() {
			u.sees("a length in mm", "0 alone: cannot tell").types("49x").press("enter").sees("49x").press("ctrl+u").types("4.9m").press("enter")
			u.searched(wing.LineRef("b", wing.Left), nil).press("enter")
			if got != wing.LineRef("b", wing.Left) {
				t.Errorf("found %v", got)
			}
			return
		}
		if page.talk.Question().Feature == wing.FeatureSide {
			u.press("1", "enter")
			continue
		}
		u.press("0", "enter")
	}
	t.Fatalf("no length is asked for:\n%s", u.view())
}

// whichScreens are kept as text beside the other screens.
var whichScreens = []struct {
	name string
	to   func(t *testing.T, w, h int) *user
}{
	{"which-first", whichFrom},
	{"which-many", func(t *testing.T, w, h int) *user {
		return whichFrom(t, w, h).press("2", "enter", "1", "enter", "2", "enter")
	}},
	{"which-confirm", func(t *testing.T, w, h int) *user {
		u := whichFrom(t, w, h)
		for u.m.top().(*whichPage).talk.Question().State == wing.FinderSearch {
			u.observes(wing.LineRef("C1.2", wing.Left), nil)
		}
		return u
	}},
	{"which-doubt", func(t *testing.T, w, h int) *user {
		return whichFrom(t, w, h).searched(wing.LineRef("C1.2", wing.Left), map[wing.Feature]string{wing.FeaturePlaceOnLink: "3"})
	}},
	{"which-found", func(t *testing.T, w, h int) *user {
		return whichFrom(t, w, h).searched(wing.LineRef("C1.2", wing.Left), nil)
	}},
}

func TestWhichScreens(t *testing.T) {
	for _, size := range [][2]int{{80, 24}, {120, 40}, {60, 20}} {
		w, h := size[0], size[1]
		for _, s := range whichScreens {
			t.Run(fmt.Sprintf("%s.%dx%d", s.name, w, h), func(t *testing.T) {
				u := s.to(t, w, h)
				u.fits(w, h)
				compare(t, filepath.Join("testdata", "golden", fmt.Sprintf("%s.%dx%d.txt", s.name, w, h)), steady(u))
			})
		}
	}
}
