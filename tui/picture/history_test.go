package picture

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

func found(label string, offMM, uMM, limitMM float64) LengthAt {
	return LengthAt{Label: label, Deviation: um(offMM), U: um(uMM), Limit: um(limitMM)}
}

// histories are what the goldens show, by the name of their file.
func histories() map[string][]LengthAt {
	all := map[string][]LengthAt{
		"history_one":      {found("2026-03-01", -3.2, 2, 10)},
		"history_few":      {found("2024-04-12", 1.5, 2, 10), found("2024-10-02", -2, 2.5, 10), found("2025-04-20", -6.4, 2, 10), found("2026-03-01", -11.2, 2, 10)},
		"history_far":      {found("job 1", 1.5, 2, 10), found("job 2", 48, 2, 10), found("job 3", 4, 2, 6), found("job 4", 9, 2, 6)},
		"history_no_limit": {found("job 1", 1.5, 2, 0), found("job 2", -7, 2, 0)},
		"history_fallback": {found("job 1", 3, 1, 8.25), found("job 2", 9, 1, 8.25)},
	}
	for i := range all["history_fallback"] {
		all["history_fallback"][i].Fallback = true
	}
	for i := range 40 {
		all["history_many"] = append(all["history_many"], found(fmt.Sprint("job ", i+1), 4-0.4*float64(i), 2, 10))
	}
	return all
}

func TestHistoryGoldens(t *testing.T) {
	for name, points := range histories() {
		golden(t, name+".txt", sheets(func(w, h int, signs Signs) []string {
			return History(points, w, h, signs)
		}, HistoryFacts(points)))
	}
}

// Nothing inside its limit is drawn outside of the two lines, nor the other way
// round, however few lines of text there are.
func TestHistoryIsTrue(t *testing.T) {
	for h := 6; h <= 24; h++ {
		for off := -16_000; off <= 16_000; off += 250 {
			points := []LengthAt{found("a", 0, 0, 10), found("b", float64(off)/1000, 0, 10), found("c", 0, 0, 10)}
			got := History(points, 41, h, ASCII)
			if len(got) == 0 {
				continue
			}
			top, bottom, x := -1, -1, -1
			for y, l := range got {
				switch {
				case strings.HasPrefix(l, "+10 "):
					top = y
				case strings.HasPrefix(l, "-10 "):
					bottom = y
				case strings.HasPrefix(l, "  0 "):
					x = (strings.Index(l, "o") + strings.LastIndex(l, "o")) / 2
				}
			}
			y := slices.IndexFunc(got, func(l string) bool { return len(l) > x && l[x] == 'o' })
			inside := off >= -10_000 && off <= 10_000
			if top < 0 || bottom < 0 || y < 0 || (y >= top && y <= bottom) != inside {
				t.Fatalf("%d um in %d lines stands at %d of %d to %d, column %d:\n%s", off, h, y, top, bottom, x, strings.Join(got, "\n"))
			}
		}
	}
}

// The latest is always there, with its number and its label.
func TestHistoryKeepsTheLast(t *testing.T) {
	points := histories()["history_many"]
	for w := 24; w <= 120; w++ {
		got := strings.Join(History(points, w, 14, ASCII), "\n")
		for _, want := range []string{"o -11.6", "job 40"} {
			if !strings.Contains(got, want) {
				t.Fatalf("no %q in %d columns:\n%s", want, w, got)
			}
		}
		if all := strings.Contains(got, "job 1 "); all == strings.Contains(got, "the last ") {
			t.Fatalf("what was left out is not said in %d columns:\n%s", w, got)
		}
	}
}

// A limit that nobody stated is called so wherever its number stands.
func TestHistorySaysFallback(t *testing.T) {
	points := histories()["history_fallback"]
	for w := 1; w <= 80; w++ {
		for h := 1; h <= 16; h++ {
			got := strings.Join(History(points, w, h, Richer), "\n")
			equal(t, fmt.Sprint(w, " x ", h), strings.Contains(got, "(fallback)"), got != "")
		}
	}
}

func TestNoHistoryOfNothing(t *testing.T) {
	if got := History(nil, 80, 20, ASCII); got != nil {
		t.Errorf("%q", got)
	}
	if got := HistoryFacts(nil); got != nil {
		t.Errorf("%q", got)
	}
}
