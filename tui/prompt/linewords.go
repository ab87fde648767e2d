package prompt

import (
	"fmt"
	"math"
	"strings"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
)

// Words says where the search stands and asks the question that is due, one fact
// a line. While a look confirms, the line that is expected is not named.
func (t *LineTalk) Words() []string {
	var lines []string
	switch t.now.State {
	case wing.FinderSearch:
		lines = append(lines, LeftWords(t.now.Left))
	case wing.FinderConfirm:
		lines = append(lines, "One line is left. It is named when one more look, at something else, has confirmed it.")
	case wing.FinderContradiction:
		lines = append(t.doubt(), "Look at it again:")
	}
	_, ask := FeatureWords(t.now.Feature, t.now.Instance)
	return append(lines, fmt.Sprintf("%d. %s", len(t.seen)+1, ask), procedure.Capital(answers(t.now))+"; a hyphen if you cannot tell.")
}

// Result says what came of the search, as it stands.
func (t *LineTalk) Result() []string {
	var lines []string
	switch q := t.now; q.State {
	case wing.FinderFound:
		lines = append(lines, fmt.Sprintf("It is %s: %s.", q.Left[0], t.describe(q.Left[0])))
		if !t.confirmed {
			lines = append(lines, "Nothing confirmed it: no other look would have shown a mistake, or nobody could tell.")
		}
	case wing.FinderConfirm:
		lines = append(lines, fmt.Sprintf("One line is left, and nothing has confirmed it: %s.", q.Left[0]))
	case wing.FinderContradiction:
		lines = append(lines, t.doubt()...)
		if t.Over() {
			lines = append(lines, "All of it was looked at twice: this is not the wing of the plan there, or the hand went astray. Begin again from the riser.")
		}
	case wing.FinderAlike:
		lines = append(lines, "Nothing that is asked here tells these lines apart.", LeftWords(q.Left))
		for _, o := range q.LookAgain {
			label, _ := FeatureWords(o.Feature, o.Instance)
			lines = append(lines, "You could not tell, and it would help: "+label+".")
		}
	default:
		lines = append(lines, "The search is not at its end.", LeftWords(q.Left))
	}
	return lines
}

// Worth holds the questions asked against what was to be expected, for those
// who ask how well they were chosen.
func (t *LineTalk) Worth() string {
	how := "by looking ahead"
	if t.first.Exact {
		how = "no order needs less effort"
	}
	return fmt.Sprintf("Questions: %d asked. To be expected %.1f, at worst %d (%s), and one to confirm. %d lines are %.1f bits: %.1f questions is the least.",
		len(t.seen), t.first.Expected, t.first.Worst, how, len(t.first.Left), t.first.Bits, upTenth(t.first.Bound))
}

// upTenth rounds a bound up: a least number is never said too small to be true.
func upTenth(x float64) float64 { return math.Ceil(x*10) / 10 }

// LeftWords says how many lines are still possible, and names them when they are few.
func LeftWords(refs []wing.Ref) string {
	if len(refs) > fewLines {
		return fmt.Sprintf("%d lines are left.", len(refs))
	}
	names := make([]string, len(refs))
	for i, r := range refs {
		names[i] = r.String()
	}
	if len(refs) == 1 {
		return "One line is left: " + names[0] + "."
	}
	return fmt.Sprintf("%d lines are left: %s.", len(refs), strings.Join(names, ", "))
}

// doubt names a contradiction and the answers that are most likely wrong; what
// was looked at again and stays as it was is said to be so.
func (t *LineTalk) doubt() []string {
	lines := []string{"No line of the plan fits all that was answered."}
	say := func(lead string, o wing.Observation) {
		if t.standsBy(o) {
			lead = "Looked at twice: "
		}
		lines = append(lines, lead+AnswerWords(o)+".")
	}
	for _, o := range t.now.Doubt.Suspects {
		say("Most likely wrong: ", o)
	}
	for _, o := range t.now.Doubt.Also {
		say("It could also be: ", o)
	}
	return lines
}

// AnswerWords says an answer with the name of what it is about.
func AnswerWords(o wing.Observation) string {
	label, _ := FeatureWords(o.Feature, o.Instance)
	value := o.Value
	if value == wing.None {
		value = "0"
	}
	return label + " " + value
}

// describe says what the plan knows of a line, to hold it against the wing.
func (t *LineTalk) describe(ref wing.Ref) string { return LineWords(t.plan, ref) }

// LineWords says what tells a line from others: row, tier, what it hangs on,
// length, colour, sheath.
func LineWords(plan *wing.Plan, ref wing.Ref) string {
	l, _ := plan.LineAt(ref)
	parts := []string{"row " + l.Row, string(l.Tier) + " tier", "on " + strings.Replace(l.On.String(), ":", " ", 1)}
	if l.Length > 0 {
		parts = append(parts, l.Length.String())
	}
	if l.Colour != "" {
		parts = append(parts, l.Colour)
	}
	if l.Bare {
		return strings.Join(append(parts, "bare"), ", ")
	}
	return strings.Join(append(parts, "sheathed"), ", ")
}
