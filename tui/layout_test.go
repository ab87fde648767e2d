package tui

import (
	"bytes"
	"io"
	"os"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"
)

func TestTextNeverCarriesControlCharacters(t *testing.T) {
	bad := "a\x1b[2Jb\x07c\u202ed\tx\r\ny"
	for _, got := range append(wrap(bad, 20), cell(bad, 20), plain(bad), strings.Join(hang("1  ", bad, 20), "")) {
		if strings.ContainsAny(got, "\x1b\x07\u202e\t\r\n") {
			t.Errorf("%q", got)
		}
	}
}

func TestWrapKeepsEveryWordAndTheWidth(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		text := rapid.StringMatching(`([a-z界é.]{1,30}[ \n]){0,12}`).Draw(rt, "text")
		w := rapid.IntRange(2, 40).Draw(rt, "w")
		lines := wrap(text, w)
		for _, l := range lines {
			if ansi.StringWidth(l) > w {
				rt.Fatalf("%q is wider than %d", l, w)
			}
		}
		squeeze := func(s string) string { return strings.Join(strings.Fields(s), "") }
		if squeeze(strings.Join(lines, " ")) != squeeze(text) {
			rt.Fatalf("%q became %q", text, lines)
		}
	})
}

func TestTheEditorShowsTheCursorInItsColumns(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		e := editor{}
		e.set(rapid.StringMatching(`[a-z界é ]{0,60}`).Draw(rt, "text"))
		e.at = rapid.IntRange(0, len(e.text)).Draw(rt, "at")
		w := rapid.IntRange(4, 40).Draw(rt, "w")
		line, col := e.line(w)
		if ansi.StringWidth(line) != w || col >= w {
			rt.Fatalf("%q is %d wide, the cursor at %d of %d", line, ansi.StringWidth(line), col, w)
		}
		block, at := e.block(w)
		if at.row >= len(block) || at.col > w {
			rt.Fatalf("the cursor is at %v of %d lines", at, len(block))
		}
	})
}

// The wish for the cursor is taken out of a frame; the frame alone reaches the
// terminal, with the cursor put in its place behind it.
func TestTheScreenPutsTheCursor(t *testing.T) {
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	s := &screen{File: w}
	for _, part := range []string{
		"\x1b[?2004h",
		ansi.CursorHomePosition + "one\r\ntwo" + wish(&point{1, 2}, "") + ansi.EraseLineRight,
		ansi.CursorHomePosition + "onE\r\n",
		ansi.CursorHomePosition + "one\r\ntwo" + wish(nil, ""),
	} {
		if n, err := s.Write([]byte(part)); n != len(part) || err != nil {
			t.Fatalf("%d %v", n, err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	var got bytes.Buffer
	if _, err := got.ReadFrom(r); err != nil {
		t.Fatal(err)
	}
	want := "\x1b[?2004h" +
		"\x1b[?25l\x1b[Hone\r\ntwo\x1b[K\x1b[2;3H\x1b[?25h" +
		"\x1b[?25l\x1b[HonE\r\n\x1b[2;3H\x1b[?25h" +
		"\x1b[?25l\x1b[Hone\r\ntwo"
	if got.String() != want {
		t.Errorf("\n%q\nwant\n%q", got.String(), want)
	}
}

// On the ground of a look the cursor has a colour that can be seen there; it
// gets its own back where the look sets none, and where the bench is left.
func TestTheCursorIsSeenOnTheGround(t *testing.T) {
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	s := &screen{File: w}
	frame := func(tint string) string { return ansi.CursorHomePosition + "one" + wish(&point{0, 1}, tint) }
	for _, part := range []string{frame(""), frame("#000000"), frame(""), frame("#e4e4e4"), "\x1b[?1049l", "\x1b[?1049l"} {
		if n, err := s.Write([]byte(part)); n != len(part) || err != nil {
			t.Fatalf("%d %v", n, err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	got, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	one := func(colour string) string { return "\x1b[?25l\x1b[Hone\x1b[1;2H" + colour + "\x1b[?25h" }
	want := one("") + one("\x1b]12;#000000\a") + one("\x1b]112\a") + one("\x1b]12;#e4e4e4\a") + "\x1b[?1049l\x1b]112\a" + "\x1b[?1049l"
	if string(got) != want {
		t.Errorf("\n%q\nwant\n%q", got, want)
	}
}

// Text, question and verdict stand together however tall the screen is, and in
// their order.
func TestTheBandsStandTogether(t *testing.T) {
	for h := leastH; h < 90; h++ {
		for _, p := range []places{placesFor(h), placesFor(h).signing()} {
			if !(p.cord < p.caution && p.caution < p.action && p.action < p.ask && p.ask < p.field && p.field < p.verdict && p.verdict+1 < p.foot) {
				t.Errorf("%d rows: %+v", h, p)
			}
			if p.next >= 0 && !(p.verdict+1 < p.next && p.next <= p.stop && p.stop < p.rule && p.rule < p.foot) {
				t.Errorf("%d rows: %+v", h, p)
			}
		}
		if p := placesFor(h); p.ask-p.action > 9 || p.verdict-p.ask > 11 {
			t.Errorf("%d rows: a hole in %+v", h, p)
		}
	}
}
