package prompt

import (
	"fmt"

	"example.org/linewright/engine/wing"
)

// seeing is what a feature of a line is called and how it is asked for.
type seeing struct{ label, ask string }

// features holds the words for all that can be seen of a line.
var features = map[wing.Feature]seeing{
	wing.FeatureSide:         {"side", "On which side of the wing is it, as the pilot sits?"},
	wing.FeatureBranch:       {"riser branch", "Follow it by hand down to the riser. On which branch does it end? The handle: brake."},
	wing.FeaturePlaceOnLink:  {"place on the link", "Follow it by hand down to the link. Which place has it there, counted from the centre? No link: 0."},
	wing.FeaturePlaceFromTip: {"place on the link from the tip", "Follow it by hand down to the link. Which place has it there, counted from the outermost line? No link: 0."},
	wing.FeatureJointsBelow:  {"joints below", "Follow it by hand down to the riser. How many joints lie between? On the link itself: 0."},
	wing.FeatureForkPlace:    {"place at the joint", "Count joints from the riser up. At joint %d, which place from the centre has the line that leads to yours? Not so many joints below it: 0."},
	wing.FeatureCarries:      {"lines in its upper end", "How many lines are looped into its upper end? A tab: 0."},
	wing.FeatureTabs:         {"tabs", "Follow it up. To how many tabs of the canopy does it lead in all?"},
	wing.FeatureFirstTab:     {"first tab", "Follow it up, at each joint by the line nearest the centre. Which tab is that, counted from the centre in its row?"},
	wing.FeatureLastTab:      {"last tab", "Follow it up to the tab nearest the tip. Which is that, counted from the tip in its row?"},
	wing.FeatureCanopyRow:    {"row at the canopy", "Follow it up, at each joint by the line nearest the centre. In which row is that tab?"},
	wing.FeatureJointsAbove:  {"joints above", "Follow it up, at each joint by the line nearest the centre. How many joints lie between it and the tab? On the tab itself: 0."},
	wing.FeatureColour:       {"colour", "Which colour has it?"},
	wing.FeatureSheath:       {"sheath", "Has it a sheath, or is the core bare?"},
	wing.FeatureLength:       {"length", "About how long is it from loop to loop? A tenth more or less does no harm."},
}

// FeatureWords gives the name of a feature, and the question that asks for it.
// joint counts from the riser, for wing.FeatureForkPlace only.
func FeatureWords(f wing.Feature, joint int) (label, ask string) {
	s := features[f]
	if f == wing.FeatureForkPlace {
		return fmt.Sprintf("%s %d", s.label, joint), fmt.Sprintf(s.ask, joint)
	}
	return s.label, s.ask
}
