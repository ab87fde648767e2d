package reckon

import (
	"fmt"
	"strconv"

	"example.org/linewright/engine/wing"
)

var twistSum = Sum{
	ID: "twist", Title: "Lines wound together", Purpose: "By how much are lines shortened that are wound round each other?",
	Fields: []Field{
		{Name: "length", Ask: "Length along which they are wound", Kind: KindLength, Unit: "mm", First: true},
		{Name: "turns", Ask: "Turns", Kind: KindTurns, Unit: "turns"},
		{Name: "diameter", Ask: "Thickness of the lines wound together", Kind: KindLength, Unit: "mm", Optional: true, Fallback: "2.25 mm"},
	},
	do: func(r *reader) (Result, error) {
		length, diameter, turns := r.length("length"), r.length("diameter"), r.turns("turns")
		if r.err != nil {
			return Result{}, r.err
		}
		if r.has("diameter") && diameter == 0 {
			return Result{}, refuse("diameter", "give the thickness, or leave it out for the fallback", "a thickness of 0 mm cannot be")
		}
		s, err := wing.Twist(length, diameter, turns)
		if err != nil {
			return Result{}, err
		}
		rows := []Row{
			{"shorter by", mm(s.ShorteningMM)},
			{"length", fmt.Sprintf("%s as twisted, %s as given", mm(s.TwistedMM), length)},
			{"thickness", mm(s.DiameterMM) + " (" + s.Source + ")"},
		}
		for _, n := range s.Notes {
			rows = append(rows, Row{"note", n})
		}
		return Result{
			Rows: rows, Why: append(stepLines(s.Steps()), noteLines(s.Notes)...), Answer: true,
			JSON: struct {
				Sum    string `json:"sum"`
				Answer bool   `json:"answer"`
				wing.TwistSum
			}{"twist", true, s},
		}, nil
	},
}

var threadSum = Sum{
	ID: "thread", Title: "Turns of a screw link", Purpose: "How often does the nut turn before it comes off?",
	Fields: []Field{
		{Name: "thread", Ask: "Thread that the closed nut covers", Kind: KindLength, Unit: "mm"},
		{Name: "pitch", Ask: "Advance of the nut in one turn", Kind: KindLength, Unit: "mm"},
		{Name: "source", Ask: "Who gives them", Kind: KindText, Optional: true, Fallback: asGiven},
	},
	do: func(r *reader) (Result, error) {
		thread, pitch := r.length("thread"), r.length("pitch")
		if r.err != nil {
			return Result{}, r.err
		}
		s, err := wing.ThreadTurns(thread, pitch, r.text("source"))
		if err != nil {
			return Result{}, err
		}
		return Result{
			Rows: []Row{{"turns", fewDecimals(s.Turns, 2)}, {"from", fmt.Sprintf("%s of thread, %s of pitch (%s)", thread, pitch, s.Source)}},
			Why:  stepLines(s.Steps()), Answer: true,
			JSON: struct {
				Sum    string `json:"sum"`
				Answer bool   `json:"answer"`
				wing.ThreadSum
			}{"thread", true, s},
		}, nil
	},
}

var spannerSum = Sum{
	ID: "spanner", Title: "Force on a spanner", Purpose: "How hard does a hand push for a closing torque?",
	Fields: []Field{
		{Name: "torque", Ask: "Closing torque from the link's own sheet", Kind: KindTorque, Unit: "N·m"},
		{Name: "radius", Ask: "From the middle of the nut to the hand", Kind: KindLength, Unit: "mm"},
		{Name: "source", Ask: "Who gives the torque", Kind: KindText, Optional: true, Fallback: asGiven},
	},
	do: func(r *reader) (Result, error) {
		torque, radius := r.torque("torque"), r.length("radius")
		if r.err != nil {
			return Result{}, r.err
		}
		s, err := wing.Spanner(torque, radius, r.text("source"))
		if err != nil {
			return Result{}, err
		}
		return Result{
			Rows: []Row{{"force", newtons(s.ForceN)}, {"from", fmt.Sprintf("%s at %s (%s)", torque, radius, s.Source)}},
			Why:  stepLines(s.Steps()), Answer: true,
			JSON: struct {
				Sum    string `json:"sum"`
				Answer bool   `json:"answer"`
				wing.SpannerSum
			}{"spanner", true, s},
		}, nil
	},
}

func newtons(n float64) string { return fewDecimals(n, 1) + " N" }

// fewDecimals prints a number with at most so many decimals.
func fewDecimals(x float64, decimals int) string {
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'f', decimals, 64), 64)
	return strconv.FormatFloat(rounded, 'f', -1, 64)
}
