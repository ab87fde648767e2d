package metrology

import (
	"math"
	"strconv"
)

// complete works out the contribution and keeps ten digits of each number.
func (t Term) complete() Term {
	t.UMM = tenDigits(math.Abs(t.Sens) * t.U)
	t.U, t.Sens, t.DoF = tenDigits(t.U), tenDigits(t.Sens), tenDigits(t.DoF)
	return t
}

// graduationTerm is the rounding of a reading to the step of the tape.
func graduationTerm(source string, b Bench) Term {
	return Term{
		Source: source, Distribution: "rectangular", Given: "step " + bare(b.Graduation) + " mm" + b.aside(keyGraduation),
		U: resolution(b.Graduation.MM()), Unit: "mm", Sens: 1,
	}.complete()
}

// tenDigits keeps ten significant digits of a number that goes into a file.
// No step of the arithmetic needs more, and the last bits differ between
// processors, which would make the bytes of a record differ too.
func tenDigits(x float64) float64 {
	kept, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 10, 64), 64)
	return kept
}

// Combine returns the combined standard uncertainty of independent terms, in
// the unit of UMM, and its effective degrees of freedom by the formula of
// Welch and Satterthwaite, not yet truncated (JCGM 100:2008, G.4.1);
// 0 stands for infinite.
func Combine(terms []Term) (u, dof float64) {
	var variance float64
	for _, t := range terms {
		variance += t.UMM * t.UMM
	}
	var quartic float64
	for _, t := range terms {
		if t.DoF > 0 {
			quartic += t.UMM * t.UMM * t.UMM * t.UMM / t.DoF
		}
	}
	if quartic == 0 {
		return math.Sqrt(variance), 0
	}
	return math.Sqrt(variance), variance * variance / quartic
}
