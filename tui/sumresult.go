package tui

import (
	"regexp"
	"strings"
	"sync"

	"github.com/charmbracelet/x/ansi"

	"example.org/linewright/engine/reckon"
)

// nameCols is the room for the name of a row of a result.
const nameCols = 15

// resultPage shows what a sum gave; behind it the sum as followed by hand.
func resultPage(s reckon.Sum, r reckon.Result) page {
	return &textPage{
		title: "Bench sum: " + s.ID + ", result",
		lines: func(w int) []string { return resultLines(r, w) },
		more: func(m *model) {
			m.push(&textPage{title: "Bench sum: " + s.ID + ", term by term", lines: func(w int) []string { return whyLines(r.Why, w) }})
		},
		moreDoes: "term by term",
	}
}

// resultLines gives the rows, each text beside its name.
func resultLines(r reckon.Result, w int) []string {
	var out []string
	for _, row := range r.Rows {
		out = append(out, hang(pad(row.Name, nameCols), row.Text, w)...)
	}
	return out
}

// whyLines brings lines that are made for reckon.Width columns to w columns.
// Columns of figures keep their distance from the right edge.
func whyLines(why []string, w int) []string {
	var out []string
	for _, l := range why {
		out = append(out, narrowed(plain(l), w)...)
	}
	return out
}

var (
	ruled  = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^-+$`) })
	filled = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^(.*?\S) (\.{3,}) (.*)$`) })
	column = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^(\s*\S.*?)( {2,})(\S.*)$`) })
)

// narrowed brings one line to w columns: what only fills it gets shorter, a row
// of figures goes below its name, and words are wrapped.
func narrowed(line string, w int) []string {
	over := ansi.StringWidth(line) - w
	if over <= 0 {
		return []string{line}
	}
	if ruled().MatchString(line) {
		return []string{line[over:]}
	}
	if p := filled().FindStringSubmatch(line); p != nil {
		return apart(p[1]+" ", p[2], " "+p[3], over, w)
	}
	if p := column().FindStringSubmatch(line); p != nil {
		return apart(p[1], p[2], p[3], over, w)
	}
	return wrapKeep(line, w)
}

// apart shortens what stands between a name and its figures, or sets them on
// two lines.
func apart(name, between, figures string, over, w int) []string {
	if len(between)-over >= 2 {
		return []string{name + between[over:] + figures}
	}
	figures = strings.TrimSpace(figures)
	return append(wrapKeep(name, w), strings.Repeat(" ", max(0, w-ansi.StringWidth(figures)))+figures)
}
