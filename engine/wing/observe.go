package wing

import (
	"slices"
	"strconv"
	"strings"

	"example.org/linewright/engine/quantity"
)

// Feature is something that can be seen of a line at the bench without knowing
// its code.
//
// From the riser end alone Side, Branch, PlaceOnLink, JointsBelow and each
// ForkPlace lead to one line; from the canopy end alone Side, CanopyRow,
// FirstTab and JointsAbove do.
type Feature string

const (
	FeatureSide         Feature = "side"           // "left", "right", as the pilot sits
	FeatureBranch       Feature = "branch"         // riser branch; "brake" for what hangs on the handle
	FeaturePlaceOnLink  Feature = "place_on_link"  // of the line or the one at its foot, from the centre; also on a tab or handle with several lines
	FeaturePlaceFromTip Feature = "place_from_tip" // the same counted from the outermost, the stabilo's side
	FeatureJointsBelow  Feature = "joints_below"   // joints from the riser up to the line
	FeatureForkPlace    Feature = "fork_place"     // place from the centre at joint number Instance from the riser
	FeatureCarries      Feature = "carries"        // lines looped into its upper end
	FeatureTabs         Feature = "tabs"           // attachment points that it carries
	FeatureFirstTab     Feature = "first_tab"      // the nearest of them, counted from the centre in its row
	FeatureLastTab      Feature = "last_tab"       // the farthest of them, counted from the tip in its row
	FeatureCanopyRow    Feature = "canopy_row"     // row of that tab
	FeatureJointsAbove  Feature = "joints_above"   // joints from that tab down to the line
	FeatureColour       Feature = "colour"
	FeatureSheath       Feature = "sheath" // "sheathed", "bare"
	FeatureLength       Feature = "length" // rough, loop to loop; a length as quantity.ParseLength reads it, bare millimetres
)

// Features lists every feature, those seen from the riser first.
var Features = []Feature{
	FeatureSide, FeatureBranch, FeaturePlaceOnLink, FeaturePlaceFromTip, FeatureJointsBelow, FeatureForkPlace,
	FeatureCarries, FeatureTabs, FeatureFirstTab, FeatureLastTab, FeatureCanopyRow, FeatureJointsAbove,
	FeatureColour, FeatureSheath, FeatureLength,
}

// None is the value of a feature that a line cannot have, such as a place on
// the link for a brake line.
const None = "none"

// onBrake is the branch of what hangs on the handle.
const onBrake = "brake"

// Observation is one answer about a line. An empty Value is "cannot tell" and
// rules nothing out. Instance counts joints from the riser, from 1, for
// FeatureForkPlace; it does not matter for the others.
type Observation struct {
	Feature  Feature `json:"feature"`
	Instance int     `json:"instance,omitempty"`
	Value    string  `json:"value"`
}

// Feature gives what is to be seen of a line, by the plan. Counts are decimal
// digits. It is false where the plan does not know it. A top of a partial plan
// without its point is not known to carry nothing.
func (p *Plan) Feature(ref Ref, f Feature, instance int) (string, bool) {
	l, ok := p.LineAt(ref)
	if !ok {
		return "", false
	}
	switch f {
	case FeatureSide:
		return string(ref.Side), true
	case FeatureColour:
		return l.Colour, l.Colour != ""
	case FeatureSheath:
		if l.Bare {
			return "bare", true
		}
		return "sheathed", true
	case FeatureLength:
		return strings.TrimSuffix(l.Length.String(), " mm"), l.Length > 0
	case FeatureBranch, FeaturePlaceOnLink, FeaturePlaceFromTip, FeatureJointsBelow, FeatureForkPlace:
		return p.fromRiser(l, f, instance)
	}
	return p.fromCanopy(l, f)
}

// fromRiser gives the features that are seen on the way up from the riser.
func (p *Plan) fromRiser(l Line, f Feature, instance int) (string, bool) {
	chain := p.chain(l.Code)
	foot := p.Lines[chain[0]]
	switch f {
	case FeatureBranch:
		if foot.On.Kind == OnHandle {
			return onBrake, true
		}
		riser, ok := p.Branch(l.Code)
		return riser.Branch, ok
	case FeaturePlaceOnLink, FeaturePlaceFromTip:
		return p.placeOnLink(foot, f)
	case FeatureJointsBelow:
		return strconv.Itoa(len(chain) - 1), true
	}
	if instance < 1 {
		return "", false
	}
	if instance >= len(chain) {
		return None, true
	}
	return place(p.Lines[chain[instance]])
}

// placeOnLink gives the place of the line at the foot. Of a partial plan nobody
// knows how many lines are on the link.
func (p *Plan) placeOnLink(foot Line, f Feature) (string, bool) {
	n := len(p.byAnchor[foot.On])
	if foot.On.Kind != OnLink && n == 1 {
		return None, true
	}
	if f == FeaturePlaceFromTip {
		return strconv.Itoa(n + 1 - foot.Pos), foot.Pos > 0 && !p.Partial
	}
	return place(foot)
}

func place(l Line) (string, bool) { return strconv.Itoa(l.Pos), l.Pos > 0 }

// fromCanopy gives the features that are seen on the way down from the tabs.
func (p *Plan) fromCanopy(l Line, f Feature) (string, bool) {
	if f == FeatureCarries {
		above := len(p.byAnchor[Anchor{OnLine, l.Code}])
		return strconv.Itoa(above), l.Point != "" || above > 0
	}
	points := p.points[l.Code]
	if p.open[l.Code] {
		return "", false
	}
	top := p.Lines[p.byPoint[points[0]]]
	switch f {
	case FeatureTabs:
		return strconv.Itoa(len(points)), true
	case FeatureFirstTab:
		return strconv.Itoa(pointNumber(points[0])), true
	case FeatureLastTab:
		return p.lastTab(points)
	case FeatureCanopyRow:
		return top.Row, true
	case FeatureJointsAbove:
		return strconv.Itoa(p.Joints(top.Code) - p.Joints(l.Code)), true
	}
	return "", false
}

// lastTab counts from the tip to the farthest of the points that are of the
// same row as the nearest.
func (p *Plan) lastTab(points []string) (string, bool) {
	row, last := p.Lines[p.byPoint[points[0]]].Row, p.tipmost
	n := last[points[0]]
	for _, point := range points {
		if p.Lines[p.byPoint[point]].Row == row {
			n = min(n, last[point])
		}
	}
	return strconv.Itoa(n), !p.Partial
}

// Matching lists the lines that fit every observation, left before right, each
// side in the order of the file. What a plan does not know of a line does not
// rule it out. Colours are compared without regard to case, all else with; a
// length fits within RoughLength. A length that cannot be read rules nothing out.
func (p *Plan) Matching(seen []Observation) []Ref {
	var fit []Ref
	for _, side := range Sides {
		for _, l := range p.Lines {
			ref := LineRef(l.Code, side)
			if !slices.ContainsFunc(seen, func(o Observation) bool { return p.contradicts(ref, o) }) {
				fit = append(fit, ref)
			}
		}
	}
	return fit
}

func (p *Plan) contradicts(ref Ref, o Observation) bool {
	value, known := p.Feature(ref, o.Feature, o.Instance)
	if o.Value == "" || !known {
		return false
	}
	switch o.Feature {
	case FeatureColour:
		return !strings.EqualFold(value, o.Value)
	case FeatureLength:
		l, _ := p.LineAt(ref)
		seen, err := quantity.ParseLength(o.Value)
		return err == nil && (seen-l.Length).Abs() > RoughLength(l.Length)
	}
	return value != o.Value
}

// RoughLength is how far a length that is only estimated may be off, to either
// side: a tenth, at least 100 mm. Common practice, no source.
func RoughLength(nominal quantity.Length) quantity.Length {
	return max(nominal/10, 100*quantity.Millimetre)
}
