package trim

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/wing"
)

// Words says the report for a person, one sentence a line, an empty line
// between its parts. What is inside is counted, what is not is named.
// Records print them: other words are another edition of the record.
func (r Report) Words() []string {
	return parts(r.headWords(), r.wholeWords(), r.rowWords(), r.pathWords(), r.sidesWords(), r.againWords(), titled("Not reckoned, or only with a fallback", r.Missing))
}

// parts joins the parts that have something to say.
func parts(all ...[]string) []string {
	var out []string
	for _, part := range all {
		if len(part) > 0 && len(out) > 0 {
			out = append(out, "")
		}
		out = append(out, part...)
	}
	return out
}

func titled(title string, lines []string) []string {
	if len(lines) == 0 {
		return nil
	}
	out := []string{title + ":"}
	for _, l := range lines {
		out = append(out, "  "+l)
	}
	return out
}

func (r Report) headWords() []string {
	return []string{
		fmt.Sprintf("Trim of %s (%s)", r.Wing, r.Source),
		fmt.Sprintf("Measured from the %s; trimmers %s; speed system %s.", r.From, orNotStated(r.Trimmers), orNotStated(r.SpeedSystem)),
		fmt.Sprintf("%d of %s, %s on both sides.", len(r.Paths), plural(r.Planned, "path"), plural(len(r.Sides), "point")),
		fmt.Sprintf("Limits: path %s, sides %s, rows %s.", r.Limits.Path, r.Limits.Sides, r.Limits.Rows),
	}
}

func orNotStated(text string) string {
	if text == "" {
		return "not stated"
	}
	return text
}

// wholeWords says what concerns the whole set.
func (r Report) wholeWords() []string {
	var out []string
	if o := r.Offset; o != nil {
		out = append(out, fmt.Sprintf("Common offset: %s, sure within %s mm; mean of %s of the rows.", long(o.MeanMM), tenthsUp(o.UMM), plural(o.Paths, "path")))
		out = append(out, fmt.Sprintf("With it taken out the paths lie from %s to %s.", long(o.LowMM), long(o.HighMM)))
		if o.MeanMM > r.Limits.Path.MM || o.MeanMM < -r.Limits.Path.MM {
			out = append(out, "The whole set is off by more than the limit of a path: look at the zero of the tape, the pull and the plan before any line is changed.")
		}
	}
	for _, in := range r.Pitch {
		out = append(out, in.words())
	}
	if a := r.Index; a != nil {
		out = append(out, fmt.Sprintf("Asymmetry index: %s, left against right, sure within %s mm; %d of %s. An index, no promise of how the wing flies; there is no limit for it.",
			long(a.IndexMM), tenthsUp(a.UMM), a.Pairs, plural(a.Of, "pair")))
	}
	return out
}

func (in Incidence) words() string {
	how := "rows " + strings.Join(in.Rows, " ")
	if in.Weighted {
		how += ", load weighted"
	}
	return fmt.Sprintf("Incidence, %s: %s, sure within %s°; %s.", sideWord(in.Side), in.turn(), degrees(math.Ceil(in.UDegrees*100-1e-6)/100), how)
}

// turn says which way the nose went.
func (in Incidence) turn() string {
	switch d := round(in.Degrees, 2); {
	case d > 0:
		return degrees(d) + "° nose up"
	case d < 0:
		return degrees(-d) + "° nose down"
	}
	return "0° off"
}

// degrees prints hundredths: less than a millimetre over the chord of a wing.
func degrees(d float64) string { return strconv.FormatFloat(d, 'f', -1, 64) }

func (r Report) rowWords() []string {
	var out []string
	for _, t := range r.Rows {
		if t.Side != "" {
			if t.Against != nil && t.Against.Verdict != metrology.Inside {
				out = append(out, fmt.Sprintf("  %s: %s.", t.Side, t.Against.Sentence))
			}
			continue
		}
		out = append(out, t.words()+r.sideMeans(t.Row))
	}
	return out
}

func (t RowTrim) words() string {
	text := fmt.Sprintf("Row %s: mean %s, sure within %s mm, %d of %s", t.Row, long(t.MeanMM), tenthsUp(t.UMM), t.Paths, plural(t.Of, "path"))
	if t.Against != nil {
		text += "; against A " + t.Against.Sentence
	}
	if t.Apart {
		text += "; apart, not compared with A"
	}
	return text
}

// sideMeans gives the means of each side of a row.
func (r Report) sideMeans(row string) string {
	var means []string
	for _, t := range r.Rows {
		if t.Row == row && t.Side != "" {
			means = append(means, string(t.Side)+" "+long(t.MeanMM))
		}
	}
	if len(means) < len(wing.Sides) {
		return "."
	}
	return " (mean " + strings.Join(means, ", ") + ")."
}

func (r Report) pathWords() []string {
	var out []string
	for _, t := range r.Paths {
		if t.Verdict != metrology.Inside {
			out = append(out, t.String()+": "+t.Sentence+t.beyondWords()+".")
		}
	}
	inside := len(r.Paths) - len(out)
	return append([]string{fmt.Sprintf("Paths against the plan: %d inside, %d not.", inside, len(out))}, indent(out)...)
}

func (t PathTrim) beyondWords() string {
	if t.BeyondMM == nil {
		return ""
	}
	return "; without the common offset " + long(*t.BeyondMM)
}

func (r Report) sidesWords() []string {
	var out []string
	for _, s := range r.Sides {
		if s.Verdict != metrology.Inside {
			out = append(out, s.Point+": left "+s.Sentence+".")
		}
	}
	inside := len(r.Sides) - len(out)
	return append([]string{fmt.Sprintf("Left against right: %d inside, %d not.", inside, len(out))}, indent(out)...)
}

// againWords gathers the paths that have the same reasons.
func (r Report) againWords() []string {
	var reasons []string
	paths := map[string][]PathRef{}
	for _, a := range r.Again {
		why := strings.Join(a.Why, "; ")
		if paths[why] == nil {
			reasons = append(reasons, why)
		}
		paths[why] = append(paths[why], a.PathRef)
	}
	for i, why := range reasons {
		reasons[i] = list(paths[why], len(paths[why])) + ": " + why
	}
	return titled("Measure again, without looking at the first value", reasons)
}

func indent(lines []string) []string {
	for i := range lines {
		lines[i] = "  " + lines[i]
	}
	return lines
}
