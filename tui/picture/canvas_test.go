package picture

import (
	"strings"
	"testing"
)

func TestStrokesJoin(t *testing.T) {
	for signs, want := range map[Signs]string{
		ASCII:  "+-+\n#-+\n#=+",
		Richer: "┌─┐\n┟─┤\n┗━┙",
	} {
		c := newCanvas(3, 3, signs)
		c.across(0, 2, 0, light)
		c.across(2, 0, 1, light)
		c.across(0, 2, 2, heavy)
		c.down(0, 0, 1, light)
		c.down(0, 2, 1, heavy)
		c.down(2, 0, 2, light)
		equal(t, "box", strings.Join(c.lines(), "\n"), want)
	}
}

func TestTextOnTheSheet(t *testing.T) {
	c := newCanvas(6, 2, ASCII)
	c.put(0, 0, "線線線線")   // the fourth would lie across the edge
	c.put(1, 0, "a")      // takes the right half of the first, which goes whole
	c.put(-1, 1, "xyz")   // begins outside
	c.put(3, 1, "\x1b[é") // an accent of its own rune, and a control sign
	equal(t, "lines", strings.Join(c.lines(), "\n"), " a線線\nyz ?[é")
	c.put(0, 9, "below")
	c.put(9, 0, "right")
	equal(t, "outside", strings.Join(c.lines(), "\n"), " a線線\nyz ?[é")
}

func TestWideSignAtTheEdge(t *testing.T) {
	c := newCanvas(3, 1, ASCII)
	c.put(0, 0, "線線")
	for _, l := range c.lines() {
		if columns(l) > 3 {
			t.Errorf("%q", l)
		}
	}
}

// The drawings are plain ASCII, so that each terminal shows them; the richer
// signs are made from them.
func TestArtIsPlain(t *testing.T) {
	for name, rows := range frames {
		for _, r := range rows {
			if strings.ContainsFunc(r, func(r rune) bool { return r < ' ' || r > '~' }) {
				t.Errorf("%s: %q", name, r)
			}
		}
		if len(rows) == 0 {
			t.Errorf("%s is empty", name)
		}
	}
}
