package tui

import (
	"bytes"
	"fmt"
	"os"
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// screen is the terminal, with two things that the renderer lacks: after each
// frame the terminal's own cursor is put where the frame wants it, since screen
// readers and magnifiers follow that cursor; and it has a colour that can be
// seen on the ground of the look.
//
// A frame carries its wish as an APC string at the end of its last line. It is
// taken out here and never reaches the terminal. Since it is a part of the
// frame, the cursor can not run ahead of what is drawn, and a frame that did
// not change writes nothing.
type screen struct {
	*os.File
	place  []byte // shows the cursor where the last wish wanted it
	tinted bool   // the cursor has a colour that is not the terminal's own
}

const (
	wishOpen  = "\x1b_cursor "
	wishClose = "\x1b\\"
)

// point is a place on the screen, counted from the top left corner.
type point struct{ row, col int }

// wish is what a frame ends with; no point hides the cursor, no tint leaves it
// the terminal's own.
func wish(at *point, tint string) string {
	if at == nil {
		return wishOpen + wishClose
	}
	return fmt.Sprintf("%s%d;%d %s%s", wishOpen, at.row+1, at.col+1, tint, wishClose)
}

// Write passes a frame on with the cursor hidden while it is drawn, and
// everything that is no frame as it is. Where the bench is left, for good or
// for a while, the cursor gets its own colour back.
func (s *screen) Write(p []byte) (int, error) {
	rest, place, found := cut(p)
	if found {
		s.place = s.tint(place)
	}
	switch {
	case isFrame(rest):
		rest = slices.Concat([]byte(ansi.HideCursor), rest, s.place)
	case s.tinted && bytes.Contains(rest, []byte(ansi.ResetModeAltScreenSaveCursor)):
		rest = slices.Concat(rest, []byte(ansi.ResetCursorColor))
		s.tinted = false
	}
	if _, err := s.File.Write(rest); err != nil {
		return 0, err
	}
	return len(p), nil
}

// tint makes a wish what the terminal is told.
func (s *screen) tint(wish []byte) []byte {
	where, tint, _ := strings.Cut(string(wish), " ")
	if where == "" {
		return nil
	}
	colour := ""
	if tint != "" {
		colour = ansi.SetCursorColor(tint)
	} else if s.tinted {
		colour = ansi.ResetCursorColor
	}
	s.tinted = tint != ""
	return []byte("\x1b[" + where + "H" + colour + ansi.ShowCursor)
}

// isFrame tells a frame, which begins at the top left corner, from the
// sequences that set the terminal up.
func isFrame(p []byte) bool {
	return len(p) > len(ansi.CursorHomePosition) && bytes.HasPrefix(p, []byte(ansi.CursorHomePosition))
}

// cut takes the wish out of a frame.
func cut(p []byte) (rest, where []byte, found bool) {
	from := bytes.Index(p, []byte(wishOpen))
	if from < 0 {
		return p, nil, false
	}
	length := bytes.Index(p[from:], []byte(wishClose))
	if length < 0 {
		return p, nil, false
	}
	where = p[from+len(wishOpen) : from+length]
	rest = append(append(rest, p[:from]...), p[from+length+len(wishClose):]...)
	return rest, where, true
}
