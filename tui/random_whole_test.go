package tui

import (
	"testing"

	"pgregory.net/rapid"

	"example.org/linewright/engine/job"
)

// wholePlaces are where random keys begin on a whole wing.
var wholePlaces = []struct {
	name string
	to   func(t *testing.T, w, h int) *user
}{
	{"cloth", func(t *testing.T, w, h int) *user { return onWing(t, w, h, "damage-survey") }},
	{"row", onRow},
	{"kin", func(t *testing.T, w, h int) *user { return surveyed(t, w, h).surveyTo("kin") }},
	{"finding", func(t *testing.T, w, h int) *user { return surveyed(t, w, h).press("up", "enter") }},
	{"agenda", func(t *testing.T, w, h int) *user { return surveyed(t, w, h).press("tab", "a") }},
	{"findings", func(t *testing.T, w, h int) *user { return surveyed(t, w, h).press("tab", "f") }},
	{"parts", func(t *testing.T, w, h int) *user { return surveyed(t, w, h).press("tab", "p", "enter", "enter") }},
	{"safe", func(t *testing.T, w, h int) *user { return openLink(t, w, h).press("tab", "6") }},
	{"handed", func(t *testing.T, w, h int) *user {
		return surveyed(t, w, h).press("tab", "h").types("bea").press("enter", "enter")
	}},
	{"lengths", atLengths},
	{"lengths read", func(t *testing.T, w, h int) *user {
		return atLengths(t, w, h).sheet(map[string]float64{"A4 right": -13}, 0)
	}},
	{"report", atReport},
	{"loops", func(t *testing.T, w, h int) *user { return atReport(t, w, h).press("enter").types("plain") }},
	{"clear", func(t *testing.T, w, h int) *user { return surveyed(t, w, h).adds("release") }},
	{"pilot", func(t *testing.T, w, h int) *user { return onWing(t, w, h, "release").press("enter") }},
}

// What must hold of random keys holds on the pages of a whole wing too, and
// neither a finding nor a row is ever written by Enter alone.
func TestRandomKeysOnAWholeWing(t *testing.T) {
	t.Parallel() // one of the longest; each has its own store and screen
	keys := rapid.SampledFrom([]string{
		"enter", "enter", "enter", "esc", "tab", "up", "down", "left", "right", "backspace", "home", "pgup", "pgdown", "ctrl+j", "ctrl+u", "?",
		"a", "f", "p", "t", "h", "n", "c", "o", "l", "v", "d", "r", "0", "1", "1", "2", "3", "4", "5", "6", "7", "9",
		"A1.2", "A1 left 6255", "6255", "10 h worn", "2027-03-01", "plain", "line:C1.2@left", "A", "bea", "x", "é", "界", " ", "-1", "/dev/null",
	})
	sizes := rapid.SampledFrom([][2]int{{80, 24}, {120, 40}, {60, 20}, {40, 15}, {39, 14}, {1, 1}, {0, 0}, {300, 100}, {56, 17}})
	rapid.Check(t, func(rt *rapid.T) {
		size := rapid.SampledFrom([][2]int{{80, 24}, {120, 40}, {60, 20}}).Draw(rt, "first size")
		u := rapid.SampledFrom(wholePlaces).Draw(rt, "place").to(t, size[0], size[1])
		u.t = rt
		for range rapid.IntRange(1, 60).Draw(rt, "keys") {
			u.random(rt, keys, sizes)
		}
	})
}

// Enter alone, however often, writes no finding, no reading, no answer of an
// inspect step, and orders no part.
func TestEnterAloneSaysNothingOfAWing(t *testing.T) {
	for _, place := range wholePlaces {
		t.Run(place.name, func(t *testing.T) {
			u := place.to(t, 80, 24)
			if _, ok := u.m.top().(*handedPage); !ok && u.m.session == nil {
				t.Skip("the job is not open")
			}
			u.press("ctrl+u")
			before := u.lines()
			for range 12 {
				u.press("enter")
			}
			for _, e := range u.m.session.Job().Events()[before:] {
				switch e.Kind {
				case job.FoundOne, job.Read, job.Sheeted, job.Deferring, job.Clearing, job.Struck, job.HandedOn, job.TakenOver, job.Signed:
					t.Errorf("Enter alone wrote %q", e.Kind)
				case job.Parted:
					if e.Part.Op != job.PartList { // a suggestion is listed; its code is read back before it is ordered
						t.Errorf("Enter alone moved a part: %q", e.Part.Op)
					}
				case job.Answered:
					if e.Choice == "touched" {
						t.Error("Enter alone answered an inspection")
					}
				}
			}
		})
	}
}
