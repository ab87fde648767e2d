package metrology

import (
	"fmt"
	"math"
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
	step := j.step()
	return fmt.Sprintf("%s, sure within %s mm, limit %s: %s",
		deviationWords(j.Deviation, step), bare(up(j.U, step)), bare(j.Limit), j.Verdict)
}

// Printed gives deviation and U as Words prints them, so that what is drawn
// beside the words does not say other numbers.
func (j Judgement) Printed() (deviation, u quantity.Length) {
	step := j.step()
	deviation = nearest(j.Deviation.Abs(), step)
	if j.Deviation < 0 {
		deviation = -deviation
	}
	return deviation, up(j.U, step)
}

// step is the step to which deviation and U are printed.
func (j Judgement) step() quantity.Length {
	step := quantity.Millimetre
	for step > 1 && !printsTrue(j, step) {
		step /= 10
	}
	return step
}

// Chance says the probability in words, cut to the tenth of a percent and
// never "100 %", nor nothing: "97.3 %", "above 99.9 %", "below 0.1 %".
func (j Judgement) Chance() string {
	switch {
	case j.Probability > 0.999:
		return "above 99.9 %"
	case j.Probability < 0.001:
		return "below 0.1 %"
	}
	return strconv.FormatFloat(math.Floor(j.Probability*1000)/10, 'f', 1, 64) + " %"
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
		return "under " + bare(step) + " mm " + word
	}
	return bare(rounded) + " mm " + word
}

// nearest rounds a length that is not negative to the step, half up.
func nearest(l, step quantity.Length) quantity.Length { return (l + step/2) / step * step }

// up rounds a length that is not negative up to the step.
func up(l, step quantity.Length) quantity.Length { return (l + step - 1) / step * step }

// bare prints millimetres without the unit, exactly: a limit is never rounded.
func bare(l quantity.Length) string { return strings.TrimSuffix(l.String(), " mm") }
