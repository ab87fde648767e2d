package procedure

import (
	"maps"
	"strconv"

	"example.org/linewright/engine/wing"
)

// CannotTell is the id of an option that observes nothing.
const CannotTell = "cannot_tell"

// Observation turns an entry of a step that observes into what wing.Matching
// understands. The entry is a string or a number, as in Values.
func (sl *Slot) Observation(entry any) wing.Observation {
	o := wing.Observation{Feature: wing.Feature(sl.Step.Observes), Instance: sl.Step.ObservesAt}
	switch x := entry.(type) {
	case float64:
		o.Value = strconv.FormatFloat(x, 'f', -1, 64)
	case string:
		o.Value = x
	}
	if o.Value == CannotTell {
		o.Value = ""
	}
	if o.Value == "0" && o.Feature == wing.FeaturePlaceOnLink {
		o.Value = wing.None
	}
	return o
}

// Seen lists the lines that fit all that was observed up to this slot, with
// entry as its own answer.
func (sl *Slot) Seen(vals Values, entry any) []wing.Ref {
	u := sl.scope.whole
	seen := []wing.Observation{sl.Observation(entry)}
	for _, s := range u.Slots[:sl.Index] {
		if s.Step.Observes == "" {
			continue
		}
		if v, ok := vals.Answer(s.Key); ok {
			seen = append(seen, s.Observation(v))
		}
	}
	return u.plan.Matching(seen)
}

// observed adds to the names of an entry what it and the observations before
// it lead to.
func (sl *Slot) observed(vals Values, extra map[string]any) map[string]any {
	refs := sl.Seen(vals, extra["value"])
	all := maps.Clone(extra)
	all["fits"], all["seen"], all["seen_side"] = float64(len(refs)), "", ""
	if len(refs) == 1 {
		all["seen"], all["seen_side"] = refs[0].Code, string(refs[0].Side)
	}
	return all
}
