package tui

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"

	"example.org/linewright/engine/store"
)

// A few of the golden screens are kept twice more at 80 x 24: with what stands
// out, and with rich signs.
var (
	markedScreens = []string{"home", "fan", "verdict", "outside", "bench-bad", "hold", "overview", "last", "survey-row", "looks"}
	richScreens   = []string{"fan", "verdict", "crossed", "hold", "survey-found", "lengths-again", "trim"}
)

// alsoSeen compares these views of a screen that was reached.
func (u *user) alsoSeen(t *testing.T, name string, w, h int) {
	t.Helper()
	u.inEveryLook(w, h)
	u.keysAreCommon()
	if w != 80 {
		return
	}
	file := fmt.Sprintf("%s.%dx%d.txt", name, w, h)
	if slices.Contains(markedScreens, name) {
		compare(t, filepath.Join("testdata", "golden", "marks", file), u.marks())
	}
	if slices.Contains(richScreens, name) {
		u.m.opt.Rich = true
		u.fits(w, h)
		compare(t, filepath.Join("testdata", "golden", "rich", file), steady(u))
	}
}

// marks is each line on which something stands out, with its marks below:
// ! alert, # what is to be done, > what is chosen, + where the person is.
func (u *user) marks() string {
	u.m.can = termenv.TrueColor
	u.m.dress("dark")
	defer func() {
		u.m.can = termenv.Ascii
		u.m.dress(store.Looks[0])
	}()
	s := u.m.look
	signs := map[string]string{s.base: " ", reset: " "}
	for sign, piece := range map[string]string{"!": opening(s.alert), "#": opening(s.strong), ">": opening(s.mark), "+": opening(s.calm)} {
		signs[piece] = sign
	}
	frame, _, _ := cut([]byte(u.m.View()))
	var out []string
	for l := range strings.SplitSeq(string(frame), "\n") {
		if m := marksOf(l, signs); m != "" {
			out = append(out, strings.TrimRight(ansi.Strip(l), " "), m)
		}
	}
	return strings.Join(out, "\n") + "\n"
}

// marksOf gives the sign of each column of a line.
func marksOf(line string, signs map[string]string) string {
	var out strings.Builder
	sign, from := " ", 0
	add := func(text string) { out.WriteString(strings.Repeat(sign, ansi.StringWidth(text))) }
	for _, at := range sequences.FindAllStringIndex(line, -1) {
		add(line[from:at[0]])
		from = at[1]
		if next, ok := signs[line[at[0]:at[1]]]; ok {
			sign = next
		} else {
			sign = "?"
		}
	}
	add(line[from:])
	return strings.TrimRight(out.String(), " ")
}
