// Package picture draws what a step is about as plain lines of text: the fan
// of a side, the stack on a link, the scale of a measurement, the hitch, the
// knot, the pulleys and the gate; and for pages of their own a row under survey,
// the trim of a wing, lengths over time and the lengths of a row. It knows no terminal and writes no colour;
// every state is said by a word or a sign, so that colour may only repeat it.
//
// A picture is never larger than asked for. Where it cannot be drawn right in
// the space, smaller forms are tried, and then there is none: a picture that
// is cut would lie. Facts says the same in words.
package picture

import (
	"slices"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

// Signs says which signs a picture is made of.
type Signs int

// The sets of signs.
const (
	ASCII  Signs = iota // on every terminal and in every log
	Richer              // box drawing, one column each; only where known to work
)

// The names under which a procedure asks for a picture.
const (
	NameFan     = "fan"
	NameStack   = "stack"
	NameScale   = "scale"
	NameHitch   = "hitch"
	NameKnot    = "knot"
	NamePulleys = "pulleys"
	NameGate    = "gate"
	NameSides   = job.PictureSides // of a card that has a table and asks for no picture
)

// Of draws the picture that belongs to a card in at most w columns and h
// lines. It is empty where the card has none, or where it does not fit. While
// the target is covered nothing in the picture depends on it.
func Of(card job.Card, plan *wing.Plan, w, h int, signs Signs) []string {
	if w <= 0 || h <= 0 {
		return nil
	}
	p := about(card, plan)
	if p == nil {
		return nil
	}
	return p.draw(w, h, signs)
}

// Facts says in words what the picture of a card shows, one sentence each, for
// line mode and for people who hear the screen.
func Facts(card job.Card, plan *wing.Plan) []string {
	p := about(card, plan)
	if p == nil {
		return nil
	}
	return p.facts()
}

// subject is what a picture is about: it can be drawn and said.
type subject struct {
	draw  func(w, h int, signs Signs) []string
	facts func() []string
}

func about(card job.Card, plan *wing.Plan) *subject {
	if card.Hidden {
		card.Ref, card.Orders = wing.Ref{}, nil
	}
	if card.Blind && card.Picture == NameStack {
		return nil // even how many lines there are is asked
	}
	switch card.Picture {
	case NameFan:
		return fanSubject(card, plan)
	case NameStack:
		s := stackOf(card, plan)
		return &subject{s.Draw, s.facts}
	case NameScale:
		s := scaleOf(card)
		if s == nil {
			return nil
		}
		return &subject{
			func(w, h int, signs Signs) []string { return Scale(s, w, h, signs) },
			func() []string { return scaleFacts(s) },
		}
	case NameHitch:
		j := jointOf(card, plan)
		return &subject{
			func(w, h int, signs Signs) []string { return Hitch(j, w, h, signs) },
			func() []string { return hitchFacts(j) },
		}
	case NameKnot:
		return knotSubject(card, plan)
	case NamePulleys:
		m := moveOf(card, plan)
		return &subject{
			func(w, h int, signs Signs) []string { return Pulleys(m, w, h, signs) },
			m.facts,
		}
	case NameSides:
		return &subject{
			func(w, h int, signs Signs) []string { return Sides(card.Sides, w, h, signs) },
			func() []string { return sidesFacts(card.Sides) },
		}
	case NameGate:
		g := gateOf(card, plan)
		return &subject{g.Draw, g.facts}
	}
	return nil
}

func fanSubject(card job.Card, plan *wing.Plan) *subject {
	if card.Hidden {
		return &subject{words, wordsFacts}
	}
	side, marked := fanOf(card.Ref, plan)
	return &subject{
		func(w, h int, signs Signs) []string { return Fan(plan, side, marked, w, h, signs) },
		func() []string { return FanFacts(plan, side, marked) },
	}
}

// fanOf marks what a card is about: a line, the lines of a link, or the main
// line of the brakes, which look the same on either side.
func fanOf(ref wing.Ref, plan *wing.Plan) (wing.Side, map[string]Mark) {
	marked := map[string]Mark{}
	switch {
	case plan == nil:
	case ref.Kind == wing.KindLine:
		marked[ref.Code] = InHand
	case ref.Kind == wing.KindLink:
		for _, l := range plan.OnLink(ref.Code) {
			marked[l.Code] = InHand
		}
	case ref.Kind == wing.KindBrakes && plan.Brake != nil:
		marked[plan.Brake.Main] = InHand
		return wing.Left, marked
	}
	return ref.Side, marked
}

// linkOf finds the link of a card's target.
func linkOf(ref wing.Ref, plan *wing.Plan) (wing.Link, bool) {
	if plan == nil {
		return wing.Link{}, false
	}
	if ref.Kind == wing.KindLink {
		return plan.Link(ref.Code)
	}
	return plan.LinkOf(ref.Code)
}

func linkName(l wing.Link, side wing.Side) string {
	return wing.LinkRef(l.Name, side).String()
}

// stackOf gathers the orders that a card may show. Where an order is still
// asked for, none is shown, neither an earlier one nor the plan's, until one was
// read that is not right.
func stackOf(card job.Card, plan *wing.Plan) Stack {
	link, ok := linkOf(card.Ref, plan)
	if !ok {
		return Stack{}
	}
	side := card.Ref.Side
	if slices.ContainsFunc(card.Fields, func(f job.Field) bool { return stepID(f.Key) == stepPattern }) {
		side = side.Other() // the link that is read is the pattern
	}
	lines := plan.OnLink(link.Name)
	s := Stack{Link: linkName(link, side), Places: len(lines), Gate: gateEnd(card), Soft: link.Kind == wing.Soft}
	if chain := plan.Chain(card.Ref.Code); card.Ref.Kind == wing.KindLine && len(chain) > 0 {
		s.InHand = chain[0].Code
	}
	asked := slices.ContainsFunc(card.Fields, func(f job.Field) bool {
		return f.Kind == procedure.Order && f.State != job.Ready
	})
	wrong := misread(card)
	switch n := len(card.Orders); {
	case wrong != nil:
		s.Before, s.After, s.Said, s.Read = wrong.Right, wrong.Read, "has to be", true
		if wrong.ByPlan {
			s.Said = "by the plan"
		}
	case asked:
	case n == 0:
		s.Before, s.Said = codes(lines), "by the plan"
	default:
		s.Before = card.Orders[0].Codes
		if stepID(card.Orders[0].Key) == stepPattern {
			s.Said = "other side"
		}
		if n > 1 {
			s.After = card.Orders[n-1].Codes
		}
	}
	return s
}

// misread finds the order of a card that was read and is not right.
func misread(card job.Card) *job.Misread {
	for _, f := range card.Fields {
		if f.Misread != nil {
			return f.Misread
		}
	}
	return nil
}

// scaleOf finds the measurement of a card: the field that is asked for, or
// the nearest one before it. While the target is covered what is expected
// would give it away.
func scaleOf(card job.Card) *job.Scale {
	for i := min(card.At, len(card.Fields)-1); i >= 0; i-- {
		if s := card.Fields[i].Scale; s != nil {
			if !card.Hidden {
				return s
			}
			bare := *s
			bare.HasValue, bare.HasLimit, bare.Judgement = false, false, nil
			return &bare
		}
	}
	return nil
}

// jointOf finds the joint of a card: that of its target, or the one that the
// card's turn names by its number from the link.
func jointOf(card job.Card, plan *wing.Plan) Joint {
	j := Joint{Judge: card.Second || slices.ContainsFunc(card.Fields, func(f job.Field) bool {
		return f.Kind == procedure.Check || f.Kind == procedure.Sign
	})}
	j.Undo = card.Shown[showUndo] == true
	if plan == nil || card.Ref.Kind != wing.KindLine {
		return j
	}
	chain := plan.Chain(card.Ref.Code)
	if len(chain) == 0 {
		return j
	}
	line := chain[len(chain)-1]
	if n := turn(card.Key); n >= 1 && n <= len(chain) {
		line = chain[n-1]
	}
	j.Line, j.Upper = line.Code, codes(plan.Carries(line.Code))
	if line.Point != "" {
		j.Upper = []string{"the tab " + line.Point}
	}
	return j
}

// moveOf gathers what a card knows of a pulley's move: the places counted from
// the top, this side's own distance in mm and the tail as found. A distance of
// the plan is not shown beside a field that asks for the measured one.
func moveOf(card job.Card, plan *wing.Plan) Move {
	m := Move{Found: int(number(card, showFound)), New: int(number(card, showNew))}
	if plan != nil && plan.Brake != nil {
		m.Places, m.Least = plan.Brake.Pulleys, plan.Brake.LeastTail.Length
	}
	if tail, err := quantity.LengthFromMM(number(card, showTail)); err == nil && tail > 0 {
		m.Tail, m.HasTail = tail, true
	}
	measured := slices.ContainsFunc(card.Fields, func(f job.Field) bool { return f.Kind == procedure.Measure && f.State != job.Ready })
	if d, err := quantity.LengthFromMM(number(card, showDistance)); err == nil && d > 0 {
		m.Distance = d
	} else if m.shown() && m.count() == len(m.Places) && !measured {
		m.Distance, _, _ = plan.Brake.Move(m.Places[m.Found-1].Name, m.Places[m.New-1].Name)
	}
	return m
}
