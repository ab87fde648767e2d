package wing

import (
	"fmt"
	"strings"

	"example.org/linewright/engine/quantity"
)

// WeakLine is the refusal of a line that is weaker than a rule asks.
type WeakLine struct {
	Line      string          `json:"line"` // what it was to be, in words
	StrengthN float64         `json:"strength_n"`
	Broken    []StrengthBound `json:"broken"` // the rules that it does not keep
}

// Error says in one line what is wrong and in one line what to do.
func (e *WeakLine) Error() string {
	rules := make([]string, len(e.Broken))
	for i, b := range e.Broken {
		rules[i] = b.words()
	}
	return fmt.Sprintf("a line of %s N is too weak for %s: %s\nfit a line that is as strong as the plan's", showNumber(e.StrengthN, 3), e.Line, strings.Join(rules, "; "))
}

func weak(line string, strength quantity.Force, bounds []StrengthBound) error {
	if strength <= 0 {
		return refuse(fmt.Sprintf("a strength of %s cannot be", strength), "give the breaking strength of the line from its label or sheet")
	}
	e := &WeakLine{Line: line, StrengthN: strength.N()}
	for _, b := range bounds {
		if !b.holds(strength) {
			e.Broken = append(e.Broken, b)
		}
	}
	if len(e.Broken) == 0 {
		return nil
	}
	return e
}

// Steps gives the sums term by term.
func (s StrengthSum) Steps() []Step {
	steps := []Step{
		{"greatest mass m", showNumber(s.MassKG, 3) + " kg", s.Source},
		{"sum of the A and B lines above", showNumber(s.FrontKGF, 3) + " kgf", "8 × m, at least 800 kgf; " + sourceAssociation},
		{"sum of the C, D and E lines above", showNumber(s.RearKGF, 3) + " kgf", "6 × m, at least 600 kgf; " + sourceAssociation},
		{"sum of one storey at least", showLeast(s.LevelSumN), "14 × 9.81 × m, at least 14 000 N, after 5 000 bending cycles; " + sourceEN},
	}
	for _, l := range s.Levels {
		steps = append(steps, l.steps(s)...)
	}
	for _, st := range s.Storeys {
		steps = append(steps, st.step())
	}
	return steps
}

func (l StrengthLevel) steps(s StrengthSum) []Step {
	name := fmt.Sprintf("%s storey %d", l.Group, l.Storey)
	sum := l.Group.leastSumKGF(s.MassKG)
	steps := []Step{
		{name + ", lines", fmt.Sprint(l.Lines), "both sides, without the stabilo; " + s.Source},
		{name + ", one line above", fmt.Sprintf("%s kgf / %d = %s kgf = %s", showNumber(sum, 3), l.Lines, showNumber(l.AssociationKGF, 2), showLeast(l.AssociationKGF*kgfN)), "sum / lines; 1 kgf = 9.80665 N"},
	}
	for _, b := range l.bounds()[1:] {
		steps = append(steps, Step{name + ", " + b.Rule, showLeast(b.LeastN), b.Source})
	}
	return append(steps, Step{name + ", least of one line", showLeast(l.LeastN), "the greatest of these: " + l.Governs})
}
