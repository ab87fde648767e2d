package picture

import "example.org/linewright/engine/wing"

// Fan draws the fan of one side from riser to canopy: the row of the line in
// hand, and more rows where there is room. The tip of the left side is on the
// left, as the pilot sits. marked holds what is shown of each line, by code.
func Fan(plan *wing.Plan, side wing.Side, marked map[string]Mark, w, h int, signs Signs) []string {
	return nil
}
