package tui

import (
	"os"
	"regexp"
	"strings"
	"testing"

	"example.org/linewright/engine/wing"
	"example.org/linewright/procedures"
)

const readmeFile = "../README.md"

// readmeScreens are the pictures of the README, 80 x 24, each on the sample wing
// with the shipped procedures.
var readmeScreens = map[string]func(t *testing.T) *user{
	"survey": func(t *testing.T) *user {
		u := sitDown(t, newStore(t, nil), procedures.Files(), 80, 24, nil).start("damage-survey", wing.Whole().Text()).readFirst()
		for u.due().Key != "look.row@A.left" {
			u.step()
		}
		return u.readFirst().finds("A1.2", "1").press("up", "left", "up")
	},
	"measuring": func(t *testing.T) *user {
		return swap(t).goTo("part.new_mm").types("4208").press("enter").types("4207").press("enter")
	},
	"hold": func(t *testing.T) *user {
		return swap(t).goTo("closure.second_sign")
	},
}

func swap(t *testing.T) *user {
	t.Helper()
	return sitDown(t, newStore(t, nil), procedures.Files(), 80, 24, nil).start("line-swap", "line:C1.2@left")
}

// shownIn finds the screens in the README: a comment with the name, then the
// screen as a block of code.
var shownIn = regexp.MustCompile("(?s)<!-- screen: ([a-z]+) -->\n```\n(.*?)```\n")

// A picture in the README is what the program draws. With -update it is drawn
// anew.
func TestREADMEShowsWhatIsDrawn(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile(readmeFile)
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	drawn := shownIn.ReplaceAllStringFunc(string(text), func(block string) string {
		m := shownIn.FindStringSubmatch(block)
		to, ok := readmeScreens[m[1]]
		if !ok {
			t.Errorf("the README has a screen %q that nothing draws", m[1])
			return block
		}
		seen[m[1]] = true
		u := to(t)
		u.fits(80, 24)
		return "<!-- screen: " + m[1] + " -->\n```\n" + steady(u) + "```\n"
	})
	if len(seen) != len(readmeScreens) {
		t.Errorf("of %d screens the README has %v", len(readmeScreens), seen)
	}
	if strings.Count(drawn, "<!-- screen:") != len(seen) {
		t.Error("a mark of a screen stands alone in the README")
	}
	compare(t, readmeFile, drawn)
}
