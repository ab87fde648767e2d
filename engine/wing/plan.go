package wing

import (
	"strings"

	"example.org/linewright/engine/quantity"
)

// Plan is the nominal line plan of one wing model and size. One set of lines
// serves both sides. It comes from ParsePlan and is not changed afterwards.
type Plan struct {
	Name    string
	Size    string
	Partial bool // some lines are not in it; Missing says what that costs
	AsFound bool // made from the wing as it was found, not from its papers
	Source  Source

	GreatestMassKG float64 // greatest mass in flight, kg; 0 = not given
	Pull           Pull    // while measuring; a zero Force = not given

	Risers []Riser
	Links  []Link
	Lines  []Line // as in the file
	Loose  []Line // of a partial plan: lines whose place it does not tell; nothing else knows them
	Brake  *Brake // nil = not given

	// Stated holds lengths of whole paths as the papers state them, beginning
	// at PathsFrom. A point of theirs need not be one of a line.
	Stated    []StatedPath
	PathsFrom From

	// Places says where the main rows sit along the chord: all or none of them.
	Places []RowPlace

	limits     map[LimitName]Limit
	exceptions map[Ref]Line
	byCode     map[string]int
	byAnchor   map[Anchor][]int // what hangs on it, from the centre
	byPoint    map[string]int
	stated     map[string]int
	tipmost    map[string]int      // place of a point in its row, counted from the tip
	points     map[string][]string // above a line, from the centre
	open       map[string]bool     // lines above which a top has no point
}

// Source says where the data of a plan come from. Both are free text; Date is
// as the source prints it.
type Source struct{ Text, Date string }

// Pull is the force on a line while it is measured, and who says so.
type Pull struct {
	Force  quantity.Force
	Source string
}

// Limit is the greatest deviation, to either side, that still counts as
// inside, and who says so.
type Limit struct {
	Length quantity.Length
	Source string
}

// LimitName names what a limit is for; it is the key under [limits].
type LimitName string

const (
	LimitLine     LimitName = "line"     // one line, loose, against the plan
	LimitTwin     LimitName = "twin"     // a new line against its twin, both installed
	LimitPath     LimitName = "path"     // a path against the plan
	LimitSides    LimitName = "sides"    // a path of the left against the same of the right
	LimitRows     LimitName = "rows"     // the mean of a row against row A
	LimitRiser    LimitName = "riser"    // a riser branch against the plan
	LimitPulleys  LimitName = "pulleys"  // distance between the pulley positions, left against right
	LimitKnot     LimitName = "knot"     // the knot against where it has to be
	LimitPlay     LimitName = "play"     // free play of the brakes, left against right
	LimitIdentity LimitName = "identity" // a measured line against the plan while finding out which it is
)

// LimitNames lists every limit that a plan can state.
var LimitNames = []LimitName{
	LimitLine, LimitTwin, LimitPath, LimitSides, LimitRows, LimitRiser, LimitPulleys, LimitKnot, LimitPlay, LimitIdentity,
}

// Limit gives a limit of the plan; false where the plan states none. There is
// no built-in one to fall back on: who uses a fallback has to say so.
func (p *Plan) Limit(name LimitName) (Limit, bool) {
	l, ok := p.limits[name]
	return l, ok
}

// Riser is one branch of a riser. A zero Length means that it is not given.
type Riser struct {
	Branch string
	Length quantity.Length
}

// LinkKind tells a screw link from a soft one.
type LinkKind string

const (
	Screw LinkKind = "screw"
	Soft  LinkKind = "soft"
)

// Link joins lines to a riser branch. Zero means not given. Pitch, Thread and
// Torque belong to screw links only.
type Link struct {
	Name         string
	Branch       string
	Kind         LinkKind
	Wire         quantity.Length // thickness of the wire or cord
	Pitch        quantity.Length // advance of the nut in one turn
	Thread       quantity.Length // thread that the closed nut covers
	Source       string          // of Wire, Pitch and Thread
	Torque       quantity.Torque
	TorqueSource string
	Retainer     string
}

// Tier is a storey of the cascade, counted from the pilot.
type Tier string

const (
	Lower  Tier = "lower"
	Middle Tier = "middle"
	Upper  Tier = "upper"
)

// Tiers lists the tiers from the pilot to the canopy.
var Tiers = []Tier{Lower, Middle, Upper}

// Line is one segment, loop to loop. Zero means not given.
type Line struct {
	Code     string
	Row      string
	Tier     Tier
	On       Anchor
	Pos      int    // place from the centre among the lines on the same anchor, from 1
	Point    string // attachment point at the canopy; only top lines have one
	Material string
	Colour   string
	Bare     bool // no sheath
	Unseen   bool // only of a loose line: whether it has a sheath is not given
	Sewn     bool // sewn into its tab: a workshop job
	Length   quantity.Length
	Diameter quantity.Length
	Strength quantity.Force
	Span     float64 // of the point, 0 centre to 1 tip; negative = not given
}

// Anchor is the one thing that a line hangs on, toward the pilot. Name is a
// line code, a link name or a riser branch, and empty for the brake handle.
type Anchor struct {
	Kind AnchorKind
	Name string
}

// AnchorKind says what a line hangs on.
type AnchorKind string

const (
	OnLine   AnchorKind = "line"
	OnLink   AnchorKind = "link"
	OnRiser  AnchorKind = "riser"
	OnHandle AnchorKind = "handle"
)

// String gives the form of the plan file: "C1.2", "link:C", "riser:B", "handle".
func (a Anchor) String() string {
	switch a.Kind {
	case OnLine, "":
		return a.Name
	case OnHandle:
		return string(OnHandle)
	}
	return string(a.Kind) + ":" + a.Name
}

// ParseAnchor reads the form of String. Any text that is not one of the other
// kinds is a line code.
func ParseAnchor(on string) Anchor {
	if on == string(OnHandle) {
		return Anchor{Kind: OnHandle}
	}
	for _, kind := range []AnchorKind{OnLink, OnRiser} {
		if name, ok := strings.CutPrefix(on, string(kind)+":"); ok {
			return Anchor{kind, name}
		}
	}
	return Anchor{OnLine, on}
}

// Brake is what the plan knows of the brakes. A zero length means not given.
type Brake struct {
	Main          string          // code of the line that is tied to the handle; a partial plan may lack it
	Pulleys       []Pulley        // from the highest down
	Spare         quantity.Length // main line beyond the knot with the pulley at its highest, as made
	LeastTail     Limit           // beyond the knot after any change; at least this
	LeastFreePlay Limit           // hands off to the first movement of the trailing edge; at least this
}

// Pulley is a place on the riser where the brake pulley can sit. Below is its
// distance under the place before it in the list: 0 for the highest place, and
// 0 for another one where the plan does not give it.
type Pulley struct {
	Name  string
	Below quantity.Length
}
