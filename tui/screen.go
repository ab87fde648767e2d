package tui

import (
	"bytes"
	"fmt"
	"os"

	"github.com/charmbracelet/x/ansi"
)

// screen is the terminal, with one thing that the renderer lacks: after each
// frame the terminal's own cursor is put where the frame wants it. Screen
// readers and magnifiers follow that cursor.
//
// A frame carries its wish as an APC string at the end of its last line. It is
// taken out here and never reaches the terminal. Since it is a part of the
// frame, the cursor can not run ahead of what is drawn, and a frame that did
// not change writes nothing.
type screen struct {
	*os.File
	place []byte // shows the cursor where the last wish wanted it
}

const (
	wishOpen  = "\x1b_cursor "
	wishClose = "\x1b\\"
)

// point is a place on the screen, counted from the top left corner.
type point struct{ row, col int }

// wish is what a frame ends with; no point hides the cursor.
func wish(at *point) string {
	if at == nil {
		return wishOpen + wishClose
	}
	return fmt.Sprintf("%s%d;%d%s", wishOpen, at.row+1, at.col+1, wishClose)
}

// Write passes a frame on with the cursor hidden while it is drawn, and
// everything that is no frame as it is.
func (s *screen) Write(p []byte) (int, error) {
	rest, place, found := cut(p)
	if found {
		s.place = place
	}
	if !isFrame(rest) {
		if _, err := s.File.Write(rest); err != nil {
			return 0, err
		}
		return len(p), nil
	}
	frame := append([]byte(ansi.HideCursor), rest...)
	if _, err := s.File.Write(append(frame, s.place...)); err != nil {
		return 0, err
	}
	return len(p), nil
}

// isFrame tells a frame, which begins at the top left corner, from the
// sequences that set the terminal up.
func isFrame(p []byte) bool {
	return len(p) > len(ansi.CursorHomePosition) && bytes.HasPrefix(p, []byte(ansi.CursorHomePosition))
}

// cut takes the wish out of a frame.
func cut(p []byte) (rest, place []byte, found bool) {
	from := bytes.Index(p, []byte(wishOpen))
	if from < 0 {
		return p, nil, false
	}
	length := bytes.Index(p[from:], []byte(wishClose))
	if length < 0 {
		return p, nil, false
	}
	where := p[from+len(wishOpen) : from+length]
	rest = append(append(rest, p[:from]...), p[from+length+len(wishClose):]...)
	if len(where) == 0 {
		return rest, nil, true
	}
	return rest, []byte("\x1b[" + string(where) + "H" + ansi.ShowCursor), true
}
