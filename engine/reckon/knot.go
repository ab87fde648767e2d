package reckon

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

var knotSum = Sum{
	ID: "knot", Title: "The brake knot of a pulley that moves",
	Purpose: "Which way, and how far, does the knot move, and what is left of tail and free play? One side at a time.",
	Fields: []Field{
		{Name: "from", Ask: "Where the pulley sits: its height from the foot of the riser, or a place of the plan", Kind: KindText, Unit: "mm"},
		{Name: "to", Ask: "Where it goes: height from the foot of the riser, or a place of the plan", Kind: KindText, Unit: "mm"},
		{Name: "tail", Ask: "Tail beyond the knot, as found", Kind: KindLength, Unit: "mm"},
		{Name: "least_tail", Ask: "Tail that has to be left", Kind: KindLength, Unit: "mm", Optional: true, Fallback: "50 mm"},
		{Name: "free_play", Ask: "Free play as found: hands off to the first movement of the trailing edge", Kind: KindLength, Unit: "mm", Optional: true, Fallback: "not measured"},
		{Name: "least_free_play", Ask: "Free play that has to be left", Kind: KindLength, Unit: "mm", Optional: true, Fallback: "100 mm"},
		{Name: "angle", Ask: "Angle between brake line and riser", Kind: KindNumber, Unit: "°", Optional: true, Fallback: "0, the plain rule"},
	},
	do: reckonKnot,
}

func reckonKnot(r *reader) (Result, error) {
	k, err := r.knot()
	if err != nil {
		return Result{}, err
	}
	sum, err := k.Sum()
	var short *wing.ShortTail
	if err != nil && !errors.As(err, &short) {
		return Result{}, err
	}
	answer := short == nil && !playGone(sum)
	return Result{
		Rows: knotRows(k, sum, short), Why: append(stepLines(sum.Steps()), noteLines(sum.Notes)...),
		JSON: struct {
			Sum    string `json:"sum"`
			Answer bool   `json:"answer"`
			wing.KnotSum
			LeastTailSource     string `json:"least_tail_source"`
			LeastFreePlaySource string `json:"least_free_play_source"`
		}{"knot", answer, sum, k.LeastTailSource, k.LeastFreePlaySource},
		Answer: answer,
	}, nil
}

// playGone reports whether less free play would be left than has to be.
func playGone(s wing.KnotSum) bool {
	return s.FreePlayAfterMM != nil && (*s.FreePlayAfterMM <= 0 || *s.FreePlayAfterMM < s.LeastFreePlayMM)
}

func (r *reader) knot() (wing.Knot, error) {
	tail := r.length("tail")
	k, err := r.places(tail)
	if err != nil {
		return k, err
	}
	least := func(name string, length *quantity.Length, source *string, otherwise wing.Limit) {
		switch {
		case r.has(name):
			*length, *source = r.length(name), asGiven
		case *source == "":
			*length, *source = otherwise.Length, otherwise.Source
		}
	}
	least("least_tail", &k.LeastTail, &k.LeastTailSource, wing.FallbackLeastTail)
	least("least_free_play", &k.LeastFreePlay, &k.LeastFreePlaySource, wing.FallbackLeastFreePlay)
	if r.has("free_play") {
		play := r.length("free_play")
		k.FreePlay = &play
	}
	k.AngleDeg = r.number("angle", "°")
	return k, r.err
}

// places takes the move from two heights, or from two places of the plan.
func (r *reader) places(tail quantity.Length) (wing.Knot, error) {
	from, to := r.text("from"), r.text("to")
	p := r.env.Plan
	planned := p != nil && p.Brake != nil
	if planned && (hasPlace(p.Brake, from) || hasPlace(p.Brake, to)) {
		return p.Brake.Knot(from, to, tail, p.Source.Text)
	}
	k := wing.KnotFor(r.length("from"), r.length("to"), tail, 0)
	if bad, ok := r.err.(*Refusal); ok && planned && (bad.Field == "from" || bad.Field == "to") {
		bad.Cure += "; places of the plan: " + strings.Join(placeNames(p.Brake), ", ")
	}
	return k, r.err
}

func placeNames(b *wing.Brake) []string {
	names := make([]string, len(b.Pulleys))
	for i, p := range b.Pulleys {
		names[i] = p.Name
	}
	return names
}

func hasPlace(b *wing.Brake, name string) bool {
	return slices.Contains(placeNames(b), name)
}

func knotRows(k wing.Knot, s wing.KnotSum, short *wing.ShortTail) []Row {
	move := Row{"knot", fmt.Sprintf("move it %s %s: the pulley goes %s by as much", k.Distance, s.Direction, upDown(k))}
	if k.Distance == 0 {
		move.Text = "it stays: the pulley does not move"
	}
	if short != nil {
		what := refusal("", short)
		move = Row{"refused", what.What + "; " + what.Cure}
	}
	var rows []Row
	if playGone(s) {
		rows = append(rows, Row{"stop", "less free play would be left than there has to be"})
	}
	rows = append(rows, move, Row{"tail", fmt.Sprintf("%s found, %s after; at least %s (%s)", mm(s.TailMM), mm(s.TailAfterMM), mm(s.LeastTailMM), k.LeastTailSource)})
	if s.FreePlayMM != nil {
		rows = append(rows, Row{"free play", fmt.Sprintf("%s found, %s after; at least %s (%s)", mm(*s.FreePlayMM), mm(*s.FreePlayAfterMM), mm(s.LeastFreePlayMM), k.LeastFreePlaySource)})
	}
	for _, n := range s.Notes {
		rows = append(rows, Row{"note", n})
	}
	return append(rows, Row{"rule", "the knot moves as far as the pulley, on both sides; each side by its own distance (common practice, no source)"})
}

func upDown(k wing.Knot) string {
	if k.Down {
		return "down"
	}
	return "up"
}

func noteLines(notes []string) []string {
	var out []string
	for _, n := range notes {
		out = append(out, wrap("note: "+n, Width)...)
	}
	return out
}
