// Package picture draws what a step is about as plain lines of text: the fan
// of a side, the stack on a link, the scale of a measurement, the hitch, the
// knot, the pulleys and the gate. It knows no terminal and writes no colour;
// every state is said by a word or a sign, so that colour may only repeat it.
//
// A picture is never larger than asked for. Where it cannot be drawn right in
// the space, smaller forms are tried, and then there is none: a picture that
// is cut would lie. Facts says the same in words.
package picture

import (
	"example.org/linewright/engine/job"
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
)

// Of draws the picture that belongs to a card in at most w columns and h
// lines. It is empty where the card has none, or where it does not fit. While
// the target is covered nothing in the picture depends on it.
func Of(card job.Card, plan *wing.Plan, w, h int, signs Signs) []string {
	return nil
}

// Facts says in words what the picture of a card shows, one sentence each, for
// line mode and for people who hear the screen.
func Facts(card job.Card, plan *wing.Plan) []string {
	return nil
}
