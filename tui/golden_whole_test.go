package tui

import (
	"fmt"
	"path/filepath"
	"regexp"
	"testing"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/trim"
)

// wholeScreens are the views of the work on a whole wing that are kept as text.
var wholeScreens = []struct {
	name string
	to   func(t *testing.T, w, h int) *user
}{
	{"survey-list", func(t *testing.T, w, h int) *user {
		return onWing(t, w, h, "damage-survey").readFirst().press("down", "down")
	}},
	{"survey-first", func(t *testing.T, w, h int) *user { return onRow(t, w, h) }},
	{"survey-row", func(t *testing.T, w, h int) *user { return atRow(t, w, h).press("up", "left", "up") }},
	{"survey-empty", func(t *testing.T, w, h int) *user { return atRow(t, w, h).press("enter") }},
	{"survey-found", func(t *testing.T, w, h int) *user {
		return atRow(t, w, h).finds("A1.2", "1").finds("A3.5", "2").finds("A2.1", "3").types("1")
	}},
	{"survey-other", func(t *testing.T, w, h int) *user { return surveyed(t, w, h).press("up").types("C9") }},
	{"survey-kin", func(t *testing.T, w, h int) *user { return surveyed(t, w, h).surveyTo("kin").press("down") }},
	{"finding-what", func(t *testing.T, w, h int) *user { return atRow(t, w, h).types("A1.2").press("enter", "1") }},
	{"finding-where", func(t *testing.T, w, h int) *user {
		return atRow(t, w, h).types("A1.2").press("enter", "1", "enter").types("3x").press("enter")
	}},
	{"finding-write", func(t *testing.T, w, h int) *user {
		return atRow(t, w, h).types("A1.2").press("enter", "1", "enter").types("30 cm").press("enter").types("at the joint").press("enter", "enter")
	}},
	{"agenda", func(t *testing.T, w, h int) *user { return surveyed(t, w, h).press("tab", "a") }},
	{"agenda-open", func(t *testing.T, w, h int) *user { return openLink(t, w, h).press("tab", "a") }},
	{"findings", func(t *testing.T, w, h int) *user { return surveyed(t, w, h).press("tab", "f", "2") }},
	{"finding-ends", func(t *testing.T, w, h int) *user { return surveyed(t, w, h).press("tab", "f", "2", "enter") }},
	{"carry", func(t *testing.T, w, h int) *user {
		return surveyed(t, w, h).press("tab", "f", "2", "enter", "1", "enter").types("soon").press("enter")
	}},
	{"parts", func(t *testing.T, w, h int) *user {
		return surveyed(t, w, h).press("tab", "p", "enter", "1", "enter", "enter", "enter", "1", "enter", "1", "enter").types("A1.2").press("enter")
	}},
	{"part", func(t *testing.T, w, h int) *user {
		return surveyed(t, w, h).press("tab", "p", "enter", "4", "enter").types("4190").press("enter")
	}},
	{"part-read", func(t *testing.T, w, h int) *user {
		return surveyed(t, w, h).press("tab", "p", "enter", "enter", "1", "enter", "1", "enter").types("a1.2").press("enter")
	}},
	{"safe", func(t *testing.T, w, h int) *user { return openLink(t, w, h).press("tab", "6", "2", "enter") }},
	{"handed", func(t *testing.T, w, h int) *user {
		return surveyed(t, w, h).press("tab", "h").types("bea").press("enter").types("the rest is yours").press("enter")
	}},
	{"lengths", func(t *testing.T, w, h int) *user { return atLengths(t, w, h).types("6260") }},
	{"lengths-off", func(t *testing.T, w, h int) *user { return atLengths(t, w, h).types("62").press("enter") }},
	{"lengths-again", func(t *testing.T, w, h int) *user {
		return atLengths(t, w, h).types(u0(13)).press("enter").sheet(map[string]float64{"A4 right": -13}, 1)
	}},
	{"lengths-close", func(t *testing.T, w, h int) *user { return atLengths(t, w, h).sheet(nil, 0) }},
	{"sheet", func(t *testing.T, w, h int) *user {
		return atLengths(t, w, h).press("tab", "c").types("nowhere.csv").press("enter")
	}},
	{"trim", func(t *testing.T, w, h int) *user { return atReport(t, w, h) }},
	{"trim-words", func(t *testing.T, w, h int) *user { return atReport(t, w, h).press("pgdown", "pgdown") }},
	{"loops", func(t *testing.T, w, h int) *user {
		return atReport(t, w, h).toEnd().press("enter").types("C1.2 left wr")
	}},
	{"loops-chosen", func(t *testing.T, w, h int) *user {
		return atReport(t, w, h).toEnd().press("enter").types("plain").press("enter")
	}},
	{"clear", func(t *testing.T, w, h int) *user {
		u := surveyed(t, w, h).surveyTo("looked").press("1", "enter")
		return u.adds("release").press("enter", "down")
	}},
	{"pilot", func(t *testing.T, w, h int) *user { return onWing(t, w, h, "release").press("enter") }},
}

// onRow is a survey at its first row, before the card is read.
func onRow(t *testing.T, w, h int) *user {
	t.Helper()
	u := onWing(t, w, h, "damage-survey").readFirst()
	for u.due().Key != "row@A.left" {
		u.types("1").press("enter")
	}
	return u
}

// sheet enters the paths of the step that is due but the first, without keys.
func (u *user) sheet(off map[string]float64, from int) *user {
	u.t.Helper()
	var reads []job.PathRead
	for i, ref := range trim.Refs(u.m.at.plan, u.due().Fields[0].Lengths.Row) {
		e, _ := trim.Expect(u.m.at.plan, ref, trim.FromOf(u.m.at.plan))
		if i >= from {
			reads = append(reads, job.PathRead{PathRef: ref, Typed: fmt.Sprint(e.Length.MM() + off[ref.String()])})
		}
	}
	u.run(u.m.enter(job.Entry{Kind: job.EnterSheet, Task: u.m.task, Sheet: reads}, u.m.top().(asker)))
	u.wait()
	return u
}

// atReport is a wing measured from sheets, up to its report.
func atReport(t *testing.T, w, h int) *user {
	t.Helper()
	off := map[string]float64{"C7 left": -24, "D3 right": 13}
	u := atLengths(t, w, h)
	for u.due().Fields[0].Lengths != nil {
		u.readFirst().sheet(off, 0).readsOn(off)
	}
	return u.readFirst()
}

// adds adds a task on the whole wing, without keys.
func (u *user) adds(id string) *user {
	u.t.Helper()
	ref, err := parseRef("wing")
	if err != nil {
		u.t.Fatal(err)
	}
	no, err := u.m.session.AddTask(id, ref, "")
	if err != nil {
		u.t.Fatal(err)
	}
	u.m.task = no
	u.run(u.m.due())
	u.wait()
	return u
}

var findingTails = regexp.MustCompile(`(\d/\d+)-[0-9a-f]{4}\b`)

func TestWholeScreens(t *testing.T) {
	t.Parallel() // one of the longest; each has its own store and screen
	for _, size := range [][2]int{{80, 24}, {120, 40}, {60, 20}} {
		w, h := size[0], size[1]
		for _, s := range wholeScreens {
			t.Run(fmt.Sprintf("%s.%dx%d", s.name, w, h), func(t *testing.T) {
				u := s.to(t, w, h)
				u.fits(w, h)
				got := findingTails.ReplaceAllString(steady(u), "$1-0000")
				compare(t, filepath.Join("testdata", "golden", fmt.Sprintf("%s.%dx%d.txt", s.name, w, h)), got)
				u.alsoSeen(t, s.name, w, h)
			})
		}
	}
}
