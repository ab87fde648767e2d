package reckon

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/quantity"
)

// The columns of a budget: what the term is, then its numbers.
const (
	uWidth    = 12
	sensWidth = 13
	mmWidth   = 12
	saysWidth = Width - uWidth - sensWidth - mmWidth
)

// correctionLines shows how the mean of the readings became the value.
func correctionLines(m metrology.Measurement) []string {
	out := []string{figure("mean of "+plural(m.N, "reading"), bare(m.Mean)+" mm")}
	for _, c := range m.Corrections {
		out = append(out, figure("corrected for "+c.Source, signed(c.AddedMM)+" mm"))
		out = append(out, indented(c.Detail)...)
	}
	if len(m.Corrections) == 0 {
		out = append(out, "nothing is corrected")
	}
	return append(out, figure("length", bare(m.Value)+" mm"))
}

// Budget shows, in lines of at most Width columns, how readings of one thing
// became its length and what makes its uncertainty.
func Budget(m metrology.Measurement, rs []metrology.Reading, b metrology.Bench) []string {
	return append(append(correctionLines(m), ""), ofMeasurement(m, rs, b).lines()...)
}

// expansion is how the terms became U.
type expansion struct {
	terms      []metrology.Term
	n          int // readings behind a repeatability
	standardMM float64
	dof, k     float64
	u          quantity.Length
	rule       string
	pooled     string // how the repeatability came about, empty where it is the bench's alone
}

func ofMeasurement(m metrology.Measurement, rs []metrology.Reading, b metrology.Bench) expansion {
	return expansion{m.Terms, m.N, m.StandardMM, m.DoF, m.K, m.U, m.Rule, pooled(rs, b)}
}

func ofDifference(d metrology.Difference) expansion {
	return expansion{d.Terms, 0, d.StandardMM, d.DoF, d.K, d.U, d.Rule, ""}
}

// lines prints the budget as a table: each term from what is given to its
// share in mm, and the sum up to U.
func (e expansion) lines() []string {
	out := []string{tableRow("source", "u", "mm per unit", "u in mm"), strings.Repeat("-", Width)}
	for _, t := range e.terms {
		out = append(out, e.termLines(t)...)
	}
	out = append(out, strings.Repeat("-", Width), figure("u = √(sum of the squares)", six(e.standardMM)+" mm"))
	if e.dof > 0 {
		out = append(out,
			figure("ν = u⁴ / Σ(uᵢ⁴ / νᵢ), cut to a whole", six(e.dof)+", so "+strconv.FormatFloat(math.Floor(e.dof), 'f', 0, 64)),
			figure("k of Student's t at 95.45 %", six(e.k)))
	} else {
		out = append(out, figure("k, as of infinite degrees of freedom", six(e.k)))
	}
	out = append(out, figure("U = k · u, rounded up", bare(e.u)+" mm"))
	return append(out, wrap("rule: "+e.rule, Width)...)
}

func (e expansion) termLines(t metrology.Term) []string {
	given := wrap(strings.Join(nonEmpty(t.Given, shape(t, e.n)), ", "), saysWidth-2)
	out := []string{t.Source}
	for i, line := range given {
		if i == len(given)-1 {
			out = append(out, tableRow("  "+line, six(t.U), six(t.Sens), six(t.UMM)))
			break
		}
		out = append(out, "  "+line)
	}
	if t.SensFrom != "" {
		out = append(out, indented("mm per unit: "+t.SensFrom)...)
	}
	if t.DoF > 0 {
		if e.pooled != "" {
			out = append(out, indented(e.pooled)...)
		}
		out = append(out, "  degrees of freedom: "+six(t.DoF))
	}
	return out
}

// shape says how what is given makes u.
func shape(t metrology.Term, n int) string {
	switch {
	case strings.HasPrefix(t.Given, "shared"):
		return "counts once"
	case strings.HasPrefix(t.Given, "of both"):
		return "√(sum of squares)"
	case t.Distribution == "rectangular" && strings.HasPrefix(t.Given, "step"):
		return "rectangular /√12"
	case t.Distribution == "rectangular":
		return "rectangular /√3"
	case t.Distribution == "product":
		return "two rectangular /3"
	case t.Distribution == "normal":
		return "normal /2"
	case n > 0:
		return fmt.Sprintf("of the mean /√%d", n)
	}
	return "of the mean /√n"
}

// pooled shows the standard deviation of one reading: what the bench knows and
// what these readings show.
func pooled(rs []metrology.Reading, b metrology.Bench) string {
	if b.Rule != metrology.RuleBudget || len(rs) < 2 {
		return ""
	}
	own := len(rs) - 1
	return fmt.Sprintf("of one reading √((%s · %s² + %d · %s²) / %s) mm, the bench's and that of these readings pooled",
		six(b.RepeatabilityDoF), bare(b.Repeatability), own, six(metrology.Deviation(rs)), six(b.RepeatabilityDoF+float64(own)))
}

func tableRow(says, u, sens, mm string) string {
	return pad(says, saysWidth) + right(u, uWidth-1) + right(sens, sensWidth) + right(mm, mmWidth)
}

// figure prints a name and a number at the right edge, dots between.
func figure(name, number string) string {
	dots := Width - columns(name) - columns(number) - 2
	if dots < 0 {
		return name + " " + number
	}
	return name + " " + strings.Repeat(".", dots) + " " + number
}

func right(text string, width int) string {
	return strings.Repeat(" ", max(1, width-columns(text))) + text
}

// six prints six digits, enough to follow each sum by hand.
func six(x float64) string { return strconv.FormatFloat(x, 'g', 6, 64) }

// signed prints millimetres with their sign.
func signed(mm float64) string {
	text := strconv.FormatFloat(mm, 'f', 6, 64)
	text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	if mm > 0 {
		return "+" + text
	}
	return text
}

// bare prints millimetres without their unit.
func bare(l quantity.Length) string { return strings.TrimSuffix(l.String(), " mm") }

func plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

func nonEmpty(texts ...string) []string {
	var out []string
	for _, t := range texts {
		if t != "" {
			out = append(out, t)
		}
	}
	return out
}
