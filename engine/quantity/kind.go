package quantity

import (
	"math/big"
	"slices"
	"strings"
)

// Kind names what a number counts. The strings stand in files.
type Kind string

// The kinds.
const (
	KindLength Kind = "length"
	KindForce  Kind = "force"
	KindTorque Kind = "torque"
	KindTurns  Kind = "turns"
	KindCount  Kind = "count"
)

// Valid reports whether k is one of the kinds.
func (k Kind) Valid() bool {
	_, ok := kinds[k]
	return ok
}

// Unit returns the unit of a bare number, "" for a count.
func (k Kind) Unit() string { return kinds[k].unit }

// Value is a number of base units of a kind.
type Value struct {
	Kind Kind
	N    int64
}

func (v Value) String() string {
	switch v.Kind {
	case KindLength:
		return Length(v.N).String()
	case KindForce:
		return Force(v.N).String()
	case KindTorque:
		return Torque(v.N).String()
	case KindTurns:
		return Turns(v.N).String()
	}
	return Count(v.N).String()
}

// Float returns the value in mm, N, N·m, turns, or as a plain number.
func (v Value) Float() float64 {
	if v.Kind == KindCount {
		return float64(v.N)
	}
	return float64(v.N) / 1000
}

// kindInfo is what the parser and its errors know of a kind.
type kindInfo struct {
	noun    string // "a length"
	plural  string // what a bare number counts
	unit    string // the unit of a bare number
	units   map[string]*big.Rat
	example string
}

// rat reads a decimal or a fraction that is written in this file.
func rat(text string) *big.Rat {
	r, ok := new(big.Rat).SetString(text)
	if !ok {
		panic("quantity: bad factor " + text)
	}
	return r
}

// kinds gives each accepted unit as base units. Factors: NIST SP 811,
// appendix B.8; the inch, the foot, the pound and standard gravity are exact
// by definition and the rest are products of them.
var kinds = map[Kind]kindInfo{
	KindLength: {
		noun: "a length", plural: "millimetres", unit: "mm",
		units: map[string]*big.Rat{
			"mm": rat("1000"), "cm": rat("10000"), "m": rat("1000000"),
			"in": rat("25400"), "ft": rat("304800"),
		},
		example: `4205.5, 420,5 cm, 4.205 m, 3 7/8 in or 5' 3 7/8"`,
	},
	KindForce: {
		noun: "a force", plural: "newtons", unit: "N",
		units: map[string]*big.Rat{
			"N": rat("1000"), "daN": rat("10000"),
			"kgf": rat("9806.65"), "lbf": rat("4448.2216152605"),
		},
		example: "50, 50 N, 5 daN, 5,1 kgf or 11.2 lbf",
	},
	KindTorque: {
		noun: "a torque", plural: "newton metres", unit: "N·m",
		units: map[string]*big.Rat{
			"N·m": rat("1000"), "Nm": rat("1000"),
			"lbf·in": rat("112.9848290276167"), "lbf·ft": rat("1355.8179483314004"),
		},
		example: "0.9, 0,9 Nm, 0.9 N·m, 8 lbf*in or 0.7 lbf*ft",
	},
	KindTurns: {
		noun: "a number of turns", plural: "turns", unit: "turns",
		units:   map[string]*big.Rat{"turns": rat("1000"), "turn": rat("1000")},
		example: "5, 5.25 or 5 1/4 turns",
	},
	KindCount: {
		noun: "a count", plural: "things", unit: "",
		units:   map[string]*big.Rat{},
		example: "3",
	},
}

// unitOrder is the order in which units are named to a person.
var unitOrder = []string{"mm", "cm", "m", "in", "ft", "N", "daN", "kgf", "lbf", "N·m", "lbf·in", "lbf·ft", "turns"}

// unitList names the accepted units of a kind: "mm, cm, m, in or ft".
func (k Kind) unitList() string {
	names := slices.DeleteFunc(slices.Clone(unitOrder), func(u string) bool { return kinds[k].units[u] == nil })
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	last := len(names) - 1
	return strings.Join(names[:last], ", ") + " or " + names[last]
}
