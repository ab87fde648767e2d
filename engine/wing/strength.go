package wing

import (
	"fmt"
	"math"

	"example.org/linewright/engine/quantity"
)

// The rules for the strength of lines. Sums count both sides without stabilo
// and brakes; for the level sum of EN 926-1 that is the safe side. Forces of
// the rules are in N or kgf as their source gives them.
const (
	enGravity    = 9.81    // m/s², as the standard reckons
	enFactor     = 14      // of the weight at greatest mass
	enLeastSumN  = 14000.0 // of one level, whatever the mass
	enFirstLineN = 750.0   // each line of the first level
	enAnyLineN   = 200.0   // any line: above it

	frontPerKG, frontLeastKGF = 8.0, 800.0
	rearPerKG, rearLeastKGF   = 6.0, 600.0
	upperFloorKGF             = 30.0 // of one upper line

	kgfN = 9.80665 // ISO 80000-4

	sourceEN          = "EN 926-1, read through a summary"
	sourceAssociation = "national association form for line data"
	sourceUpperFloor  = "floor for upper lines; " + practice
)

// LevelSumN is the least sum of the strengths of one level of the cascade
// after 5 000 bending cycles, in N: 14·g·m or 14 000 N, whichever is more
// (EN 926-1, read through a summary). massKG is the greatest mass in flight.
func LevelSumN(massKG float64) float64 { return math.Max(enFactor*enGravity*massKG, enLeastSumN) }

// StrengthGroup is a set of rows that the association rule takes together.
type StrengthGroup string

const (
	Front StrengthGroup = "A+B"
	Rear  StrengthGroup = "C+D+E"
)

// leastSumKGF is what the lines of a group must bear together in each storey.
func (g StrengthGroup) leastSumKGF(massKG float64) float64 {
	if g == Front {
		return math.Max(frontPerKG*massKG, frontLeastKGF)
	}
	return math.Max(rearPerKG*massKG, rearLeastKGF)
}

// StrengthCounts is what the rules need to know of a wing. A line without a
// fork counts in every storey that it passes, so counts never fall.
type StrengthCounts struct {
	MassKG float64 // greatest mass in flight, 20 to 600 kg
	Front  []int   // A and B lines of both sides without the stabilo, storey by storey from the pilot
	Rear   []int   // C, D and E lines likewise; empty: the wing has none
	Source string  // of mass and counts; empty: as given
}

// StrengthSum is the least strength of the lines of a wing.
type StrengthSum struct {
	MassKG    float64         `json:"greatest_mass_kg"`
	FrontKGF  float64         `json:"front_sum_kgf"` // more than this in each storey
	RearKGF   float64         `json:"rear_sum_kgf"`
	LevelSumN float64         `json:"level_sum_n"` // EN 926-1: at least this in each storey, after bending
	Levels    []StrengthLevel `json:"levels"`
	Storeys   []StoreySum     `json:"storeys,omitempty"` // where the strengths are known
	Source    string          `json:"source"`
	Notes     []string        `json:"notes"`
}

// StrengthLevel is one storey of one group of rows.
type StrengthLevel struct {
	Group          StrengthGroup `json:"group"`
	Storey         int           `json:"storey"`          // from the pilot, 1 on the link
	Lines          int           `json:"lines"`           // of both sides
	Upper          bool          `json:"upper"`           // the last storey of several
	AssociationKGF float64       `json:"association_kgf"` // one line: more than this
	LeastN         float64       `json:"least_n"`         // one line, by the rule that asks most
	Governs        string        `json:"governs"`         // that rule
}

// Sum applies the rules. The error is a *SumError.
func (c StrengthCounts) Sum() (StrengthSum, error) {
	if err := c.check(); err != nil {
		return StrengthSum{}, err
	}
	s := StrengthSum{
		MassKG: c.MassKG, FrontKGF: Front.leastSumKGF(c.MassKG), RearKGF: Rear.leastSumKGF(c.MassKG),
		LevelSumN: LevelSumN(c.MassKG), Source: orGiven(c.Source),
		Notes: []string{"strengths of the level sum are those after 5 000 bending cycles: the strength of a new line proves less"},
	}
	s.Levels = append(levels(Front, c.Front, c.MassKG), levels(Rear, c.Rear, c.MassKG)...)
	return s, nil
}

func (c StrengthCounts) check() error {
	if !(c.MassKG >= 20 && c.MassKG <= 600) {
		return refuse(fmt.Sprintf("a greatest mass of %v kg cannot be", c.MassKG), "give the greatest mass in flight from the wing's label, 20 to 600 kg")
	}
	if len(c.Front) == 0 {
		return refuse("no lines of the rows A and B are counted", "count them on both sides without the stabilo")
	}
	if err := rising(Front, c.Front); err != nil {
		return err
	}
	return rising(Rear, c.Rear)
}

func rising(group StrengthGroup, counts []int) error {
	last := 1
	for i, n := range counts {
		if n < last || n > 2*MaxLines {
			return refuse(fmt.Sprintf("%d lines of %s in storey %d cannot be", n, group, i+1), "count both sides from the pilot up; a line without a fork counts in every storey that it passes")
		}
		last = n
	}
	return nil
}

func levels(group StrengthGroup, counts []int, massKG float64) []StrengthLevel {
	var all []StrengthLevel
	for i, n := range counts {
		l := StrengthLevel{Group: group, Storey: i + 1, Lines: n, Upper: i > 0 && i == len(counts)-1}
		l.AssociationKGF = group.leastSumKGF(massKG) / float64(n)
		most := mostAsked(l.bounds())
		l.LeastN, l.Governs = most.LeastN, most.Rule
		all = append(all, l)
	}
	return all
}

// StrengthBound is one rule for the strength of one line.
type StrengthBound struct {
	Rule   string  `json:"rule"`
	LeastN float64 `json:"least_n"`
	Above  bool    `json:"above"` // the strength has to be above it, not only at it
	Source string  `json:"source"`
}

// holds says whether a strength keeps the rule. Both are compared as whole
// millinewtons, so that a bound that was reckoned is not missed by a rounding.
func (b StrengthBound) holds(strength quantity.Force) bool {
	least := quantity.Force(math.Round(b.LeastN * 1000))
	return strength > least || strength == least && !b.Above
}

// words gives the bound as "the association rule, above 719.2 N (source)".
func (b StrengthBound) words() string {
	word := "at least"
	if b.Above {
		word = "above"
	}
	return fmt.Sprintf("%s, %s %s (%s)", b.Rule, word, showLeast(b.LeastN), b.Source)
}

// bounds lists what the rules ask of one line of a level.
func (l StrengthLevel) bounds() []StrengthBound {
	all := []StrengthBound{{"the association rule", l.AssociationKGF * kgfN, true, sourceAssociation}}
	if l.Upper {
		all = append(all, upperFloor)
	}
	return append(all, lineFloor(l.Storey == 1))
}

var upperFloor = StrengthBound{"the floor for upper lines", upperFloorKGF * kgfN, false, sourceUpperFloor}

// lineFloor is what EN 926-1 asks of a line whatever its row.
func lineFloor(first bool) StrengthBound {
	if first {
		return StrengthBound{"a line of the first level", enFirstLineN, false, sourceEN}
	}
	return StrengthBound{"any line", enAnyLineN, true, sourceEN}
}

func mostAsked(bounds []StrengthBound) StrengthBound {
	most := bounds[0]
	for _, b := range bounds[1:] {
		if b.LeastN > most.LeastN {
			most = b
		}
	}
	return most
}

// CheckLine refuses a line that is too weak for a storey of a group, with a
// *WeakLine. A storey that was not counted is a *SumError.
func (s StrengthSum) CheckLine(group StrengthGroup, storey int, strength quantity.Force) error {
	if l := s.level(group, storey); l.Lines > 0 {
		return weak(fmt.Sprintf("%s, storey %d", group, storey), strength, l.bounds())
	}
	return refuse(fmt.Sprintf("no lines of %s were counted in storey %d", group, storey), "count them on both sides, storey by storey from the pilot")
}
