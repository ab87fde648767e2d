package tui

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/quantity"
)

// echo says how what is typed would be understood. What is known against it at
// once is said with it, before it is written: a single reading without a limit
// is taken by its own Enter.
func (p *cardPage) echo() string {
	text := "understood: " + p.sure
	if p.typed == nil {
		return text
	}
	if b := p.typed.Why; b != nil {
		switch {
		case b.Code == job.Implausible && len(b.Args) > 2:
			text += fmt.Sprintf(", not between %s and %s", b.Args[1], b.Args[2])
		case b.Code == job.MustFails:
			text += ", not right here"
		}
	}
	if off := fromPlan(p.at().Scale, p.typed); off != "" {
		text += ": " + off
	}
	return text
}

// fromPlan says how far a reading that nothing judges lies from the plan.
func fromPlan(s *job.Scale, e *job.Event) string {
	if e.Value == nil || s.Quantity != quantity.KindLength || s.HasLimit || s.Against != "" {
		return ""
	}
	plan := s.Nominal
	if s.HasValue {
		plan = s.Expected
	}
	if plan == 0 {
		return ""
	}
	off := quantity.Length(e.Value.N) - plan
	if off == 0 {
		return "exactly the plan's"
	}
	return fmt.Sprintf("%s %s than the plan", off.Abs(), comparative(off))
}

// goOnTyped says what Enter does with a reading that is typed.
func (p *cardPage) goOnTyped() string {
	if far := p.goOnFar(); far != "" {
		return far
	}
	switch e := p.typed; {
	case e != nil && e.Outcome == job.Open:
		return "enter: write it down; the step stays open"
	case e != nil && e.Kind == job.Settled:
		return p.goOn("enter: take this value")
	}
	return "enter: write this reading down"
}

// readingWords lists the readings; those that are covered keep their values.
func readingWords(s *job.Scale) []string {
	var words []string
	for i, r := range s.Readings {
		switch {
		case r.Struck != "":
			words = append(words, "(struck)")
		case r.Outcome != job.Taken && s.Covered:
			words = append(words, fmt.Sprintf("%d does not count", i+1))
		case s.Covered:
			words = append(words, fmt.Sprintf("%d is in and covered", i+1))
		case r.Outcome != job.Taken:
			words = append(words, r.Value.String()+" (does not count)")
		default:
			words = append(words, r.Value.String())
		}
	}
	return words
}

// readingsText lists the readings, or says how many are wanted.
func readingsText(s *job.Scale) string {
	words := readingWords(s)
	if len(words) == 0 && s.Need > 1 {
		return fmt.Sprintf("%d readings are wanted", s.Need)
	}
	return listed(words)
}

func listed(words []string) string {
	if len(words) == 0 {
		return ""
	}
	return "readings: " + strings.Join(words, ", ")
}

// newestReadings lists the readings in w columns. Where there are too many the
// oldest are left out: the newest is the one that is looked for.
func newestReadings(s *job.Scale, w int) string {
	text, words := readingsText(s), readingWords(s)
	for n := 1; ansi.StringWidth(text) > w && n < len(words); n++ {
		text = listed(append([]string{fmt.Sprintf("%d earlier", n)}, words[n:]...))
	}
	return text
}

func comparative(d quantity.Length) string {
	if d < 0 {
		return "shorter"
	}
	return "longer"
}

func differenceWords(d *metrology.Difference) string {
	return fmt.Sprintf("%s %s, sure within %s", d.Value.Abs(), comparative(d.Value), roundUp(d.U))
}

// roundUp gives an uncertainty in whole millimetres, never a smaller one.
func roundUp(u quantity.Length) quantity.Length {
	return (u + quantity.Millimetre - 1) / quantity.Millimetre * quantity.Millimetre
}
