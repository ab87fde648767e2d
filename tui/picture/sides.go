package picture

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"example.org/linewright/engine/job"
)

// Sides draws values of both sides beside each other, as a sheet of paper has
// them, with what they are held to. What is not read yet is blank. Where there
// are more rows than lines the newest are drawn, and the others are counted.
func Sides(rows []job.SidesRow, w, h int, signs Signs) []string {
	if len(rows) == 0 {
		return nil
	}
	n := len(sidesTitles)
	for _, try := range [][2]int{{n, 2}, {n, 1}, {n - 1, 2}, {n - 1, 1}} {
		if lines := sidesTable(rows, try[0], try[1], w, h, signs); lines != nil {
			return lines
		}
	}
	return nil
}

var sidesTitles = []string{"mm", "left", "right", "l-r", "held to"}

func sidesCells(r job.SidesRow) []string {
	return []string{clean(r.Name), clean(r.Left), clean(r.Right), clean(r.Diff), heldTo(r)}
}

// heldTo says in short what a row is held to.
func heldTo(r job.SidesRow) string {
	var parts []string
	if r.Plan != "" {
		parts = append(parts, r.Plan)
	}
	if r.Least != "" {
		parts = append(parts, "min "+r.Least+starred(r.LeastOf))
	}
	if r.Limit != "" {
		parts = append(parts, "+-"+r.Limit+starred(r.LimitOf))
	}
	return clean(strings.Join(parts, " "))
}

// starred marks a number that the wing's papers do not give.
func starred(source string) string {
	if source == "" {
		return ""
	}
	return "*"
}

// assumedWords say what the star stands for, where there is one.
func assumedWords(rows []job.SidesRow) []string {
	for _, r := range rows {
		if source := cmp.Or(r.LeastOf, r.LimitOf); source != "" {
			return []string{"* " + clean(source)}
		}
	}
	return nil
}

// sidesTable draws the first n columns, so far apart; nil if they are too wide, or if there
// is no room for a row.
func sidesTable(rows []job.SidesRow, n, gap, w, h int, signs Signs) []string {
	var foot []string
	if n == len(sidesTitles) {
		foot = assumedWords(rows)
	}
	if room := h - 2 - len(foot); len(rows) > room {
		room--
		if room < 1 {
			return nil
		}
		foot = append(foot, strconv.Itoa(len(rows)-room)+" earlier: ? shows all")
		rows = rows[len(rows)-room:]
	}
	wide := make([]int, n)
	for i := range wide {
		wide[i] = columns(sidesTitles[i])
		for _, r := range rows {
			wide[i] = max(wide[i], columns(sidesCells(r)[i]))
		}
	}
	all := -gap
	for _, x := range wide {
		all += x + gap
	}
	if all > w || widest(foot) > w {
		return nil
	}
	c := newCanvas(all, 2+len(rows), signs)
	c.across(-1, all, 1, light)
	for y := range len(rows) + 1 {
		cells := sidesTitles
		line := 0
		if y > 0 {
			cells, line = sidesCells(rows[y-1]), y+1
		}
		x := 0
		for i := range wide {
			at := x
			if i > 0 && i < len(sidesTitles)-1 { // numbers stand under each other
				at += wide[i] - columns(cells[i])
			}
			c.put(at, line, cells[i])
			x += wide[i] + gap
		}
	}
	return slices.Concat(c.lines(), foot)
}

// sidesFacts says the same in words.
func sidesFacts(rows []job.SidesRow) []string {
	out := make([]string, len(rows))
	for i, r := range rows {
		out[i] = r.Words()
	}
	return out
}
