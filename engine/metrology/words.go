package metrology

import (
	"fmt"
	"strconv"
	"strings"

	"example.org/linewright/engine/quantity"
)

// Words says the judgement in one line: "2 mm long, sure within 4 mm,
// limit 10: inside".
//
// The deviation is rounded to the nearest step shown and U up, never down. The
// step is the millimetre, or finer where a person who works the rule on the
// printed numbers would else come to another verdict.
func (j Judgement) Words() string {
	step := quantity.Millimetre
	for step > 1 && !printsTrue(j, step) {
		step /= 10
	}
	return fmt.Sprintf("%s, sure within %s mm, limit %s: %s",
		deviationWords(j.Deviation, step), stepped(up(j.U, step), step),
		stepped(j.Limit, step), j.Verdict)
}

// printsTrue reports whether the numbers rounded to the step give the verdict.
func printsTrue(j Judgement, step quantity.Length) bool {
	return verdict(int64(nearest(j.Deviation.Abs(), step)), int64(up(j.U, step)), int64(j.Limit)) == j.Verdict
}

func deviationWords(d, step quantity.Length) string {
	word := "long"
	if d < 0 {
		word = "short"
	}
	rounded := nearest(d.Abs(), step)
	switch {
	case d == 0:
		return "exact"
	case rounded == 0:
		return "under " + stepped(step, step) + " mm " + word
	}
	return stepped(rounded, step) + " mm " + word
}

// nearest rounds a length that is not negative to the step, half up.
func nearest(l, step quantity.Length) quantity.Length { return (l + step/2) / step * step }

// up rounds a length that is not negative up to the step.
func up(l, step quantity.Length) quantity.Length { return (l + step - 1) / step * step }

// stepped prints millimetres with the decimals of the step, or more where the
// length has more: a limit is never rounded.
func stepped(l, step quantity.Length) string {
	exact := strings.TrimSuffix(l.String(), " mm")
	if l%step != 0 {
		return exact
	}
	decimals := map[quantity.Length]int{1000: 0, 100: 1, 10: 2, 1: 3}[step]
	return strconv.FormatFloat(l.MM(), 'f', decimals, 64)
}
