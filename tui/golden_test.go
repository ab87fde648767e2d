package tui

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"testing"
	"time"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/store"
	"example.org/linewright/procedures"
)

var update = flag.Bool("update", false, "write the golden screens anew; read each before it is committed")

// screens are the views that are kept as text, each reached with keys.
var screens = []struct {
	name string
	to   func(t *testing.T, w, h int) *user
}{
	{"name", func(t *testing.T, w, h int) *user {
		return sitDown(t, emptyStore(t), procedures.Files(), w, h, func(o *Options) { o.Desk.Who = "" }).types("an na").press("enter")
	}},
	{"home", func(t *testing.T, w, h int) *user {
		u := golden(t, w, h, "part_code").press("tab", "9")
		return u.start("small", "line:C1.1@right").press("tab", "9", "down")
	}},
	{"shelves", func(t *testing.T, w, h int) *user {
		return sitDown(t, newStore(t, nil), procedures.Files(), w, h, nil).press("enter", "enter")
	}},
	{"procedures", func(t *testing.T, w, h int) *user {
		return sitDown(t, newStore(t, nil), procedures.Files(), w, h, nil).press("enter", "enter").picks("Mend").press("down", "down", "down")
	}},
	{"fan", func(t *testing.T, w, h int) *user {
		return sitDown(t, newStore(t, nil), small(t), w, h, nil).press("enter", "enter", "1", "enter", "1", "enter").types("C1.2")
	}},
	{"last-question", func(t *testing.T, w, h int) *user {
		return sitDown(t, newStore(t, nil), small(t), w, h, nil).press("enter", "enter", "1", "enter", "1", "enter").types("C1.2").press("enter").types("snagged")
	}},
	{"choose", func(t *testing.T, w, h int) *user { return golden(t, w, h, "saw_side") }},
	{"do", func(t *testing.T, w, h int) *user { return golden(t, w, h, "tagged") }},
	{"code-refused", func(t *testing.T, w, h int) *user { return golden(t, w, h, "part_code").types("c1.2").press("enter") }},
	{"because", func(t *testing.T, w, h int) *user {
		return golden(t, w, h, "why").press("2", "enter").types("a friend")
	}},
	{"reading", func(t *testing.T, w, h int) *user { return golden(t, w, h, "new_mm").types("420,8 cm") }},
	{"covered", func(t *testing.T, w, h int) *user {
		return golden(t, w, h, "new_mm").types("4208").press("enter").types("42x")
	}},
	{"verdict", func(t *testing.T, w, h int) *user {
		return golden(t, w, h, "new_mm").types("4208").press("enter").types("4207").press("enter")
	}},
	{"outside", func(t *testing.T, w, h int) *user {
		return golden(t, w, h, "new_mm").types("4221").press("enter").types("4221").press("enter", "enter")
	}},
	{"implausible", func(t *testing.T, w, h int) *user { return golden(t, w, h, "new_mm").types("42").press("enter") }},
	{"crossed", func(t *testing.T, w, h int) *user {
		return golden(t, w, h, "order_after").types("2 1 3").press("enter")
	}},
	{"looker", func(t *testing.T, w, h int) *user {
		return golden(t, w, h, "words").press("enter").press("enter")
	}},
	{"second-question", func(t *testing.T, w, h int) *user { return golden(t, w, h, "way").press("1") }},
	{"hold", func(t *testing.T, w, h int) *user { return golden(t, w, h, "look") }},
	{"pass-phrase", func(t *testing.T, w, h int) *user {
		st := newStore(t, map[string]string{"bea": "cold"})
		u := sitDown(t, st, small(t), w, h, nil).start("small", "line:C1.2@left").goTo("look")
		return u.press("1", "enter").types("warm").press("enter")
	}},
	{"not-agreed", func(t *testing.T, w, h int) *user { return golden(t, w, h, "look").press("n").types("it is crossed") }},
	{"confirm", func(t *testing.T, w, h int) *user {
		u := golden(t, w, h, "why").press("tab", "9")
		u.clock.t = u.clock.t.Add(50 * time.Hour)
		return u.press("1", "enter")
	}},
	{"laid-down", func(t *testing.T, w, h int) *user {
		return golden(t, w, h, "turns").press("tab", "6").types("rain; lines on the rod").press("enter")
	}},
	{"look-back", func(t *testing.T, w, h int) *user { return golden(t, w, h, "turns").press("esc", "esc", "down") }},
	{"reopen", func(t *testing.T, w, h int) *user {
		return golden(t, w, h, "look").press("esc", "left", "left", "r").types("measured cold")
	}},
	{"void", func(t *testing.T, w, h int) *user {
		return golden(t, w, h, "turns").press("esc", "left", "down", "r").types("wrong shop").press("enter")
	}},
	{"overview", func(t *testing.T, w, h int) *user { return golden(t, w, h, "words").press("tab", "up") }},
	{"overview-blind", func(t *testing.T, w, h int) *user { return golden(t, w, h, "loops").press("tab", "up") }},
	{"strike", func(t *testing.T, w, h int) *user {
		return golden(t, w, h, "new_mm").types("4208").press("enter", "tab", "2")
	}},
	{"bench-unknown", func(t *testing.T, w, h int) *user { return golden(t, w, h, "new_mm") }},
	{"bench-bad", func(t *testing.T, w, h int) *user { return onBench(t, w, h, badBench) }},
	{"bench-bad-typed", func(t *testing.T, w, h int) *user { return onBench(t, w, h, badBench).types("4208") }},
	{"bench-good", func(t *testing.T, w, h int) *user { return onBench(t, w, h, goodBench) }},
	{"sums", func(t *testing.T, w, h int) *user { return golden(t, w, h, "new_mm").press("tab", "s") }},
	{"sum", func(t *testing.T, w, h int) *user {
		return golden(t, w, h, "new_mm").press("tab", "s", "1", "enter").types("4208 420.7cm").press("enter", "down").types("8").press("enter").press("2")
	}},
	{"sum-refused", func(t *testing.T, w, h int) *user {
		return golden(t, w, h, "new_mm").press("tab", "s", "1", "enter").types("4208 4207x").press("tab")
	}},
	{"sum-result", func(t *testing.T, w, h int) *user { return lengthSum(t, w, h) }},
	{"sum-why", func(t *testing.T, w, h int) *user { return lengthSum(t, w, h).press("tab", "pgdown") }},
	{"sum-knot", func(t *testing.T, w, h int) *user {
		return sitDown(t, newStore(t, nil), small(t), w, h, nil).press("down").picks("Bench sums").press("4", "enter").types("500").press("enter").types("430").press("enter").types("120").press("tab")
	}},
	{"help", func(t *testing.T, w, h int) *user { return golden(t, w, h, "new_mm").press("?") }},
	{"looks", func(t *testing.T, w, h int) *user { return golden(t, w, h, "new_mm").press("tab", "l", "4") }},
	{"tasks", func(t *testing.T, w, h int) *user { return golden(t, w, h, "turns").press("tab", "8") }},
	{"last", func(t *testing.T, w, h int) *user {
		u := golden(t, w, h, "closing")
		return u.press("1", "enter")
	}},
	{"close", func(t *testing.T, w, h int) *user {
		return golden(t, w, h, "closing").press("1", "enter", "enter").types("done; tag on")
	}},
	{"closed", func(t *testing.T, w, h int) *user {
		return golden(t, w, h, "closing").press("1", "enter", "enter").types("done; tag on").press("enter", "1", "enter")
	}},
}

func golden(t *testing.T, w, h int, step string) *user {
	t.Helper()
	u := sitDown(t, newStore(t, nil), small(t), w, h, nil).start("small", "line:C1.2@left")
	u.say = map[string]string{"loops": "2"}
	return u.goTo(step)
}

// A tape of class III, a pull by hand and readings that do not repeat cannot
// decide 10 mm on 4.2 m; class I and a hung weight can.
var (
	badBench  = [][2]string{{"name", "the yard"}, {"tape_class", "III"}, {"pull_how", "hand"}, {"pull_error_n", "30"}, {"repeatability_mm", "6"}}
	goodBench = [][2]string{{"name", "the loft"}, {"tape_class", "I"}, {"pull_how", "hung weight"}, {"pull_n", "50"}, {"pull_error_n", "0.5"}, {"air_error_c", "1"}}
)

// onBench is the measuring step of a job at a workplace whose bench is described.
func onBench(t *testing.T, w, h int, answers [][2]string) *user {
	t.Helper()
	b := metrology.NewBench()
	for _, a := range answers {
		var err error
		if b, err = metrology.Answer(b, a[0], a[1]); err != nil {
			t.Fatal(a, err)
		}
	}
	u := sitDown(t, newStore(t, nil), small(t), w, h, nil)
	if err := u.m.desk.SaveBench(b); err != nil {
		t.Fatal(err)
	}
	return u.start("small", "line:C1.2@left").goTo("new_mm")
}

// lengthSum is the first bench sum, worked out.
func lengthSum(t *testing.T, w, h int) *user {
	t.Helper()
	u := golden(t, w, h, "new_mm").press("tab", "s", "1", "enter").types("4208 4207").press("enter").types("4205").press("tab")
	return u.sees("result")
}

func emptyStore(t *testing.T) *store.Store {
	t.Helper()
	st, err := store.Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { st.Close() })
	return st
}

func TestScreens(t *testing.T) {
	t.Parallel() // one of the longest; each has its own store and screen
	for _, size := range [][2]int{{80, 24}, {120, 40}, {60, 20}} {
		w, h := size[0], size[1]
		for _, s := range screens {
			t.Run(fmt.Sprintf("%s.%dx%d", s.name, w, h), func(t *testing.T) {
				u := s.to(t, w, h)
				u.fits(w, h)
				compare(t, filepath.Join("testdata", "golden", fmt.Sprintf("%s.%dx%d.txt", s.name, w, h)), steady(u))
				u.alsoSeen(t, s.name, w, h)
			})
		}
	}
}

var (
	folders = regexp.MustCompile(`(/[^ ]+)+/\d{3}(/[a-z0-9/.-]*)?`)
	numbers = regexp.MustCompile(`process \d+ on [^ ,\n]+`)
)

// steady is the view without what changes from run to run: the place of the
// store, the process and the machine.
func steady(u *user) string {
	view := folders.ReplaceAllString(u.view(), "/store")
	return numbers.ReplaceAllString(view, "process 1 on bench") + "\n"
}

func compare(t *testing.T, file, got string) {
	t.Helper()
	if *update {
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if string(want) != got {
		t.Errorf("the screen changed; it was\n%s\nand is\n%s", want, got)
	}
}
