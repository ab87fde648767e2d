package picture

import (
	"fmt"
	"math"
	"strings"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/trim"
	"example.org/linewright/engine/wing"
)

// TrimFacts says in words what Trim shows, one fact a line: the band, each row
// with its means, and each path that is not simply inside.
func TrimFacts(report trim.Report) []string {
	rows := endRows(report)
	if len(rows) == 0 {
		return nil
	}
	out := []string{fmt.Sprintf("The band of a path is %s to either side.", clean(report.Limits.Path.String()))}
	if n := len(report.Paths); n < report.Planned {
		out = append(out, fmt.Sprintf("%d of %d paths were measured.", n, report.Planned))
	}
	for _, r := range rows {
		out = append(out, r.facts()...)
	}
	for _, s := range report.Sides {
		if s.Verdict != metrology.Inside {
			out = append(out, fmt.Sprintf("%s, left against right: %s.", clean(s.Point), clean(s.Sentence)))
		}
	}
	return out
}

func (r *endRow) facts() []string {
	name := clean(r.name)
	text := "Row " + name
	both, ok := r.means[""]
	if ok {
		text += fmt.Sprintf(": mean %s, %d of %d paths measured", longOrShort(both.MeanMM), both.Paths, both.Of)
	}
	for _, side := range wing.Sides {
		if m, ok := r.means[side]; ok {
			text += fmt.Sprintf("; %s %s", side, longOrShort(m.MeanMM))
		}
	}
	if r.apart {
		text += "; apart, not compared with A"
	}
	out := []string{text + "."}
	for _, side := range []wing.Side{"", wing.Left, wing.Right} {
		against := r.means[side].Against
		switch {
		case against == nil || side != "" && against.Verdict == metrology.Inside:
		case side == "":
			out = append(out, fmt.Sprintf("Row %s against A: %s.", name, clean(against.Sentence)))
		default:
			out = append(out, fmt.Sprintf("Row %s against A, %s: %s.", name, side, clean(against.Sentence)))
		}
	}
	inside, named := 0, 0
	r.each(func(_ wing.Side, _ int, e *end) {
		if e.Verdict == metrology.Inside && !e.again {
			inside++
			return
		}
		named++
		text := clean(e.PathRef.String()) + ": " + clean(e.Sentence)
		if e.again {
			text += ", to be measured again"
		}
		out = append(out, text+".")
	})
	switch {
	case named == 0:
		out = append(out, fmt.Sprintf("Row %s: all %d that were measured are inside.", name, inside))
	case inside > 0:
		out = append(out, fmt.Sprintf("Row %s: the other %d are inside.", name, inside))
	}
	return out
}

// longOrShort says a deviation: "2.3 mm long".
func longOrShort(mm float64) string {
	text := tenths(math.Abs(mm))
	switch {
	case text == "0":
		return "0 mm"
	case mm > 0:
		return text + " mm long"
	}
	return strings.TrimPrefix(text, "-") + " mm short"
}
