package prompt

import (
	"io"
	"os"
	"strings"

	"github.com/charmbracelet/x/ansi"
	"golang.org/x/term"
)

// columns is the width of a terminal, 0 where out is none.
func columns(out io.Writer) int {
	f, ok := out.(*os.File)
	if !ok {
		return 0
	}
	width, _, err := term.GetSize(int(f.Fd()))
	if err != nil {
		return 0
	}
	return width
}

// fold breaks a fact between words where the terminal would break it inside one;
// a screen reader reads row by row. What goes on is set in by two columns.
func fold(text string, width int) string {
	const inset = 2
	if width <= 3*inset || ansi.StringWidth(text) < width {
		return text
	}
	var rows []string
	row := ""
	for _, word := range strings.Fields(text) {
		if row != "" && ansi.StringWidth(row)+1+ansi.StringWidth(word) >= width-inset {
			rows, row = append(rows, row), ""
		}
		row = strings.TrimLeft(row+" "+word, " ")
	}
	return strings.Join(append(rows, row), "\n"+strings.Repeat(" ", inset))
}
