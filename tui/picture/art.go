package picture

import (
	"embed"
	"slices"
	"strings"
)

// sketchNote stands under every drawing that could be taken for proof. Words are
// no sketch, and have none.
const (
	sketchNote  = "Only a sketch: look at the wing itself."
	sketchShort = "Only a sketch: look at the wing."
	sketchTiny  = "A sketch: see the wing."
)

func note(w int) []string {
	for _, text := range []string{sketchNote, sketchShort, sketchTiny} {
		if len(text) <= w {
			return []string{text}
		}
	}
	return fold(sketchNote, w)
}

// art holds the drawings that do not change. A file has frames, each begun by
// a line with = and its name; the first lines that begin with # say what lies
// over what, so that a mender does not draw another knot.
//
//go:embed art
var artFiles embed.FS

// frame is a drawing with its name under it.
type frame struct {
	rows    []string
	caption []string
}

var frames = loadFrames()

func loadFrames() map[string][]string {
	all := map[string][]string{}
	for _, file := range []string{"hitch", "bowline", "fan", "link"} {
		data, err := artFiles.ReadFile("art/" + file + ".txt")
		if err != nil {
			panic(err) // it is compiled in
		}
		name := ""
		for _, line := range strings.Split(strings.TrimRight(string(data), "\n"), "\n") {
			switch {
			case name == "" && strings.HasPrefix(line, "#"):
			case strings.HasPrefix(line, "= "):
				name = file + "." + line[2:]
			default:
				all[name] = append(all[name], line)
			}
		}
	}
	return all
}

// richer gives the richer sign for a sign of a drawing, by what stands beside it.
func richer(row string, i int) rune {
	var left, right byte
	if i > 0 {
		left = row[i-1]
	}
	if i+1 < len(row) {
		right = row[i+1]
	}
	switch row[i] {
	case '-':
		return '─'
	case '=':
		return '═'
	case '|':
		return '│'
	case '\\':
		return '╲'
	case '/':
		return '╱'
	case '.', '\'':
		return corner(row[i], left, right)
	}
	return rune(row[i])
}

// corners are the richer signs of a corner, by its sign and by what stands
// beside it: the stroke that goes from it, or one that hides it.
var corners = map[string]rune{
	".-": '┌', "-.": '┐', "'-": '└', "-'": '┘',
	".\\": '┌', "/.": '┐', "'/": '└', "\\'": '┘',
	"'|": '└', "|'": '┘',
	".=": '╒', "=.": '╕', "'=": '╘', "='": '╛',
}

func corner(sign, left, right byte) rune {
	for _, pair := range []string{string([]byte{sign, right}), string([]byte{left, sign})} {
		if r, ok := corners[pair]; ok {
			return r
		}
	}
	return rune(sign)
}

// artwork puts a drawing on a sheet.
func (c *canvas) artwork(x, y int, rows []string) {
	for dy, row := range rows {
		for i := range len(row) {
			if row[i] == ' ' {
				continue
			}
			r := rune(row[i])
			if c.signs == Richer {
				r = richer(row, i)
			}
			c.set(x+i, y+dy, r)
		}
	}
}

// strip draws frames side by side, each with its caption under it, in as many
// tiers as w asks for; nil if a frame is too wide.
func strip(all []frame, w int, signs Signs) []string {
	for per := len(all); per > 0; per-- {
		for gap := 3; gap > 0; gap-- {
			if lines, ok := tiers(all, per, gap, w, signs); ok {
				return lines
			}
		}
	}
	return nil
}

func tiers(all []frame, per, gap, w int, signs Signs) ([]string, bool) {
	var out []string
	for i := 0; i < len(all); i += per {
		some := all[i:min(i+per, len(all))]
		wide := -gap
		for _, f := range some {
			wide += gap + f.wide()
		}
		if wide > w {
			return nil, false
		}
		if i > 0 {
			out = append(out, "")
		}
		out = append(out, tier(some, gap, wide, signs)...)
	}
	return out, true
}

func tier(some []frame, gap, wide int, signs Signs) []string {
	high, under := 0, 0
	for _, f := range some {
		high, under = max(high, len(f.rows)), max(under, len(f.caption))
	}
	c := newCanvas(wide, high+under, signs)
	x := 0
	for _, f := range some {
		c.artwork(x+(f.wide()-widest(f.rows))/2, 0, f.rows)
		for dy, text := range f.caption {
			c.put(x+(f.wide()-columns(text))/2, high+dy, text)
		}
		x += f.wide() + gap
	}
	return c.lines()
}

func (f frame) wide() int { return max(widest(f.rows), widest(f.caption)) }

// pile puts a drawing under its head and over its notes. It is nil without a
// drawing, or if it all does not fit.
func pile(w, h int, head, drawing []string, notes ...[]string) []string {
	out := slices.Concat(head, drawing, slices.Concat(notes...))
	if len(drawing) == 0 || len(out) > h || widest(out) > w {
		return nil
	}
	return out
}

// over puts one drawing over another; nil if one is missing.
func over(upper, lower []string) []string {
	if len(upper) == 0 || len(lower) == 0 {
		return nil
	}
	return slices.Concat(upper, []string{""}, lower)
}

// firstOf gives the first drawing that came about.
func firstOf(all ...[]string) []string {
	for _, lines := range all {
		if len(lines) > 0 {
			return lines
		}
	}
	return nil
}
