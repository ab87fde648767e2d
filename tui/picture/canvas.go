package picture

import (
	"strings"
	"unicode"

	"github.com/charmbracelet/x/ansi"

	"example.org/linewright/engine/source"
)

// canvas is a sheet of single columns. Text lies over strokes; strokes that
// meet join into one sign. What falls outside the sheet is left out.
type canvas struct {
	w, h    int
	signs   Signs
	text    []rune   // 0: nothing; tail: the right half of a wide sign; below: rare
	rare    []string // signs of more than one rune, as -2-i in text
	strokes []uint8  // up, right, down, left in base 3: 0 none, 1 light, 2 heavy
}

const tail = -1

// The places of the four directions in a stroke.
const (
	toLeft  = 1
	toDown  = 3
	toRight = 9
	toUp    = 27
)

// weight is the weight of a stroke.
type weight uint8

const (
	light weight = 1
	heavy weight = 2
)

func newCanvas(w, h int, signs Signs) *canvas {
	return &canvas{w: w, h: h, signs: signs, text: make([]rune, w*h), strokes: make([]uint8, w*h)}
}

func (c *canvas) holds(x, y int) bool { return x >= 0 && x < c.w && y >= 0 && y < c.h }

// put writes text from a column on. A control sign shows as a question mark.
func (c *canvas) put(x, y int, text string) {
	for text != "" {
		if b := text[0]; b < 0x80 && (len(text) == 1 || text[1] < 0x80) {
			c.set(x, y, visible(rune(b)))
			x, text = x+1, text[1:]
			continue
		}
		sign, width := ansi.FirstGraphemeCluster(text, ansi.GraphemeWidth)
		text = text[len(sign):]
		runes := []rune(sign)
		switch {
		case width == 0 || len(runes) == 0:
			continue
		case width == 2 && !(c.holds(x, y) && c.holds(x+1, y)):
			x += width
			continue
		case len(runes) == 1:
			c.set(x, y, visible(runes[0]))
		default:
			c.rare = append(c.rare, clean(sign))
			c.set(x, y, rune(-1-len(c.rare)))
		}
		if width == 2 {
			c.set(x+1, y, tail)
		}
		x += width
	}
}

// set writes one column; a wide sign that loses a half loses the other too.
func (c *canvas) set(x, y int, r rune) {
	if !c.holds(x, y) {
		return
	}
	i := y*c.w + x
	if c.text[i] == tail && r != tail {
		c.text[i-1] = ' '
	}
	if x+1 < c.w && c.text[i+1] == tail {
		c.text[i+1] = ' '
	}
	c.text[i] = r
}

// columns gives how many columns a text takes.
func columns(text string) int {
	for i := range len(text) {
		if text[i] < 0x20 || text[i] >= 0x7f {
			return ansi.StringWidth(text)
		}
	}
	return len(text)
}

func visible(r rune) rune {
	if source.Hidden(r) || !unicode.IsPrint(r) {
		return '?'
	}
	return r
}

// clean makes a text from a file or a person fit to be shown.
func clean(text string) string { return strings.Map(visible, text) }

// free reports whether nothing is written from a column to another.
func (c *canvas) free(x0, x1, y int) bool {
	for x := max(x0, 0); x <= min(x1, c.w-1); x++ {
		if c.text[y*c.w+x] != 0 {
			return false
		}
	}
	return true
}

// across draws from the middle of one column to the middle of another.
func (c *canvas) across(x0, x1, y int, w weight) {
	for x := min(x0, x1); x < max(x0, x1); x++ {
		c.stroke(x, y, toRight, w)
		c.stroke(x+1, y, toLeft, w)
	}
}

// down draws from the middle of one line to the middle of another.
func (c *canvas) down(x, y0, y1 int, w weight) {
	for y := min(y0, y1); y < max(y0, y1); y++ {
		c.stroke(x, y, toDown, w)
		c.stroke(x, y+1, toUp, w)
	}
}

func (c *canvas) stroke(x, y int, to uint8, w weight) {
	if !c.holds(x, y) {
		return
	}
	s := &c.strokes[y*c.w+x]
	if had := *s / to % 3; had < uint8(w) {
		*s += (uint8(w) - had) * to
	}
}

// boxes holds the box drawing sign of each stroke.
var boxes = []rune(" ╴╸╷┐┑╻┒┓╶─╾┌┬┭┎┰┱╺╼━┍┮┯┏┲┳" +
	"╵┘┙│┤┥╽┧┪└┴┵├┼┽┟╁╅┕┶┷┝┾┿┢╆╈" +
	"╹┚┛╿┦┩┃┨┫┖┸┹┞╀╃┠╂╉┗┺┻┡╄╇┣╊╋")

func (c *canvas) sign(stroke uint8) rune {
	if c.signs == Richer {
		return boxes[stroke]
	}
	vertical := max(stroke/toUp%3, stroke/toDown%3)
	horizontal := max(stroke/toRight%3, stroke/toLeft%3)
	switch {
	case vertical == 0 && horizontal == 0:
		return ' '
	case vertical == 2:
		return '#'
	case vertical == 0 && horizontal == 2:
		return '='
	case vertical == 0:
		return '-'
	case horizontal == 0:
		return '|'
	}
	return '+'
}

// lines gives the sheet, without what is blank at the right and below.
func (c *canvas) lines() []string {
	out := make([]string, 0, c.h)
	var b strings.Builder
	last := 0
	for y := range c.h {
		b.Reset()
		end := c.w
		for end > 0 && c.blank(y*c.w+end-1) {
			end--
		}
		for i := y * c.w; i < y*c.w+end; i++ {
			switch r := c.text[i]; {
			case r == tail:
			case r < tail:
				b.WriteString(c.rare[-2-r])
			case r != 0:
				b.WriteRune(r)
			default:
				b.WriteRune(c.sign(c.strokes[i]))
			}
		}
		out = append(out, b.String())
		if end > 0 {
			last = y + 1
		}
	}
	return out[:last]
}

func (c *canvas) blank(i int) bool {
	return c.text[i] == ' ' || c.text[i] == 0 && c.strokes[i] == 0
}
