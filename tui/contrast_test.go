package tui

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"

	"example.org/linewright/engine/store"
)

// rgb is a colour as the screen shows it, red, green and blue from 0 to 1.
type rgb [3]float64

// linear is a colour without the curve of sRGB.
func (c rgb) linear() rgb {
	for i, v := range c {
		if c[i] = v / 12.92; v > 0.04045 {
			c[i] = math.Pow((v+0.055)/1.055, 2.4)
		}
	}
	return c
}

// luminance is the relative luminance of WCAG 2.2, "relative luminance":
// https://www.w3.org/TR/WCAG22/#dfn-relative-luminance
func luminance(linear rgb) float64 {
	return 0.2126*linear[0] + 0.7152*linear[1] + 0.0722*linear[2]
}

// contrast is the contrast ratio of WCAG 2.2, "contrast ratio":
// https://www.w3.org/TR/WCAG22/#dfn-contrast-ratio
func contrast(a, b rgb, eye vision) float64 {
	la, lb := luminance(eye.see(a.linear())), luminance(eye.see(b.linear()))
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

// vision is what an eye makes of linear colours.
type vision [3][3]float64

func (m vision) see(c rgb) rgb {
	var out rgb
	for i, row := range m {
		out[i] = min(1, max(0, row[0]*c[0]+row[1]*c[1]+row[2]*c[2]))
	}
	return out
}

// eyes are simulated after G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, "A
// physiologically-based model for simulation of color vision deficiency", IEEE
// Transactions on Visualization and Computer Graphics 15 (6), 2009: the matrices
// for severity 1.0, on linear RGB. The numbers are from memory; open
// implementations that were looked up have the same.
var eyes = map[string]vision{
	"all colours":  {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
	"protanopia":   {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}},
	"deuteranopia": {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}},
	"tritanopia":   {{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}},
}

// palette16 is what a terminal makes of the 16 colours.
type palette16 struct {
	colours     [16]string
	boldBright  bool // a bold one of the first eight is shown as its bright one
	dullGrounds bool // a ground has the first eight only
}

// palettes16 are terminals of 16 colours, from memory: the VGA colours of the
// Linux console, the default of xterm, and the one that termenv reckons with.
var palettes16 = map[string]palette16{
	"console": {[16]string{"#000000", "#aa0000", "#00aa00", "#aa5500", "#0000aa", "#aa00aa", "#00aaaa", "#aaaaaa",
		"#555555", "#ff5555", "#55ff55", "#ffff55", "#5555ff", "#ff55ff", "#55ffff", "#ffffff"}, true, true},
	"xterm": {[16]string{"#000000", "#cd0000", "#00cd00", "#cdcd00", "#0000ee", "#cd00cd", "#00cdcd", "#e5e5e5",
		"#7f7f7f", "#ff0000", "#00ff00", "#ffff00", "#5c5cff", "#ff00ff", "#00ffff", "#ffffff"}, true, false},
	"termenv": {[16]string{"#000000", "#800000", "#008000", "#808000", "#000080", "#800080", "#008080", "#c0c0c0",
		"#808080", "#ff0000", "#00ff00", "#ffff00", "#0000ff", "#ff00ff", "#00ffff", "#ffffff"}, false, false},
}

func hex(t *testing.T, text string) rgb {
	t.Helper()
	n, err := strconv.ParseUint(strings.TrimPrefix(text, "#"), 16, 32)
	if err != nil || len(text) != 7 {
		t.Fatalf("%q is no colour", text)
	}
	return rgb{float64(n>>16) / 255, float64(n>>8&255) / 255, float64(n&255) / 255}
}

// of256 is a colour of the 256 above the first 16: a cube of 6 × 6 × 6, then 24
// greys (xterm, 256colres.h; from memory).
func of256(n int) rgb {
	if n >= 232 {
		v := float64(8+10*(n-232)) / 255
		return rgb{v, v, v}
	}
	level := [6]float64{0, 95, 135, 175, 215, 255}
	n -= 16
	return rgb{level[n/36] / 255, level[n/6%6] / 255, level[n%6] / 255}
}

// shown is the pair of colours in which a terminal shows text. What is nil is
// the terminal's own.
type shown struct{ text, ground *rgb }

// show reads sequences as a terminal does.
func show(t *testing.T, seq string, p palette16) shown {
	t.Helper()
	var s shown
	var bold, turned bool
	text, ground := -1, -1 // of the 16
	for part := range strings.SplitSeq(seq, "\x1b[") {
		ns := numbersOf(t, strings.TrimSuffix(part, "m"))
		for i := 0; i < len(ns); i++ {
			switch n := ns[i]; {
			case n == 0:
				s, bold, turned, text, ground = shown{}, false, false, -1, -1
			case n == 1:
				bold = true
			case n == 7:
				turned = true
			case n >= 30 && n <= 37:
				text = n - 30
			case n >= 90 && n <= 97:
				text = n - 90 + 8
			case n >= 40 && n <= 47:
				ground = n - 40
			case n >= 100 && n <= 107:
				ground = n - 100 + 8
			case n == 38 || n == 48:
				var c rgb
				if ns[i+1] == 5 {
					c = of256(ns[i+2])
					i += 2
				} else {
					c = rgb{float64(ns[i+2]) / 255, float64(ns[i+3]) / 255, float64(ns[i+4]) / 255}
					i += 4
				}
				if n == 38 {
					s.text = &c
				} else {
					s.ground = &c
				}
			default:
				t.Fatalf("the sequence %d is not known here", n)
			}
		}
	}
	if text >= 0 {
		if bold && p.boldBright {
			text |= 8
		}
		c := hex(t, p.colours[text])
		s.text = &c
	}
	if ground >= 0 {
		if p.dullGrounds {
			ground &= 7
		}
		c := hex(t, p.colours[ground])
		s.ground = &c
	}
	if turned {
		s.text, s.ground = s.ground, s.text
	}
	return s
}

func numbersOf(t *testing.T, text string) []int {
	t.Helper()
	var ns []int
	for field := range strings.SplitSeq(text, ";") {
		if field == "" {
			continue
		}
		n, err := strconv.Atoi(field)
		if err != nil {
			t.Fatal(err)
		}
		ns = append(ns, n)
	}
	return ns
}

// The least contrast of what is set: 7:1 for text on a ground, of which the
// pictures are made too (WCAG 2.2, 1.4.6; for pictures alone 1.4.11 asks 3:1).
// Where a look leaves the ground to the terminal, an accent is text on black or
// on white and holds 4.5:1 on both (1.4.3) for eyes that see all colours; two
// accents that hold it for every eye would both be grey.
const (
	leastSet    = 7
	leastAccent = 4.5
	leastOther  = 4 // an accent, for eyes that do not see all colours
)

// pieces are the styles of a look by name.
func (s style) pieces() map[string]lipgloss.Style {
	return map[string]lipgloss.Style{"strong": s.strong, "calm": s.calm, "mark": s.mark, "alert": s.alert}
}

func TestContrast(t *testing.T) {
	for _, look := range store.Looks {
		for _, can := range []termenv.Profile{termenv.TrueColor, termenv.ANSI256, termenv.ANSI} {
			s := newStyle(look, can)
			seqs := map[string]string{"text": s.base}
			for name, piece := range s.pieces() {
				seqs[name] = s.base + opening(piece)
			}
			for name, seq := range seqs {
				for term, p := range palettes16 {
					checkPair(t, fmt.Sprintf("%s, %s, %s on %s", look, can.Name(), name, term), show(t, seq, p))
				}
			}
		}
	}
}

func checkPair(t *testing.T, name string, s shown) {
	t.Helper()
	if (s.text == nil) && s.ground != nil {
		t.Errorf("%s: a ground is set and no text", name)
	}
	if s.text == nil {
		return
	}
	for eye, see := range eyes {
		if s.ground != nil {
			if c := contrast(*s.text, *s.ground, see); c < leastSet {
				t.Errorf("%s, %s: %.2f to 1", name, eye, c)
			}
			continue
		}
		least := leastAccent
		if eye != "all colours" {
			least = leastOther
		}
		for _, ground := range []rgb{{0, 0, 0}, {1, 1, 1}} {
			if c := contrast(*s.text, ground, see); c < least {
				t.Errorf("%s, %s: %.2f to 1 on %v", name, eye, c, ground)
			}
		}
	}
}

// Every look sets something that can be told from the rest, or nothing at all.
func TestLooksAreWhatTheySay(t *testing.T) {
	if len(palettes) != len(store.Looks) {
		t.Errorf("%d palettes for the looks %v", len(palettes), store.Looks)
	}
	for _, look := range store.Looks {
		p, ok := palettes[look]
		if !ok || p.says == "" {
			t.Errorf("the look %s has no palette, or none that says what it is for", look)
		}
		if (p.text == ink{}) != (p.ground == ink{}) {
			t.Errorf("the look %s sets one of text and ground", look)
		}
	}
	for _, can := range []termenv.Profile{termenv.TrueColor, termenv.ANSI256, termenv.ANSI, termenv.Ascii} {
		s := newStyle("plain", can)
		for name, piece := range s.pieces() {
			if s.base != "" || opening(piece) != "" {
				t.Errorf("plain sets %q for %s", s.base+opening(piece), name)
			}
		}
	}
}

// The formula against what is published: black on white is 21 (WCAG 2.2,
// "contrast ratio"); #767676 on white is 4.54 (from memory).
func TestContrastIsReckonedAsPublished(t *testing.T) {
	white, black := rgb{1, 1, 1}, rgb{}
	all := eyes["all colours"]
	for _, x := range []struct{ got, want float64 }{
		{contrast(black, white, all), 21},
		{contrast(hex(t, "#767676"), white, all), 4.54},
		{contrast(hex(t, "#767676"), black, all), 4.62},
		{contrast(of256(231), of256(16), all), 21},
		{contrast(of256(102), hex(t, "#878787"), all), 1},
	} {
		if math.Abs(x.got-x.want) > 0.006 {
			t.Errorf("%.3f, wanted %.2f", x.got, x.want)
		}
	}
	for name, m := range eyes {
		for i, row := range m {
			if sum := row[0] + row[1] + row[2]; math.Abs(sum-1) > 2e-6 {
				t.Errorf("%s: row %d sums to %v: white would not stay white", name, i+1, sum)
			}
		}
	}
}
