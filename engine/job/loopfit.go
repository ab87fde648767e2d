package job

import (
	"fmt"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/trim"
)

// What a closing knows of the new line by these names: its steps and params.
const (
	loopAfterStep  = "loop_after"
	loopBeforeName = "loop_before"
	newLineName    = "new_installed"
	twinLineName   = "twin_mm"
	jointsName     = "line.joints"
	twinLimitName  = "limits.twin_mm"
)

// LoopFit says at the step that fixes the loop of a new line which loop brings
// it to its twin, both measured on the wing in this task. A person decides; what
// stood before them goes into the event of their answer.
type LoopFit struct {
	Fitting trim.Fitting    `json:"fitting,omitzero"`
	On      string          `json:"on,omitempty"`       // the loop with which it was measured, as noted before the work
	Limit   quantity.Length `json:"limit_um,omitempty"` // left against right, either way
	Missing string          `json:"missing,omitempty"`  // what is not known, so that nothing was reckoned; then the rest is empty
}

// loopFit gives the advice of a step; nil where it fixes no loop.
func (t *Task) loopFit(s *procedure.Slot) *LoopFit {
	if s.Step.Kind != procedure.Choose || s.Step.ID != loopAfterStep {
		return nil
	}
	if joints, ok := s.Value(jointsName, t); ok && joints != 0.0 {
		return &LoopFit{Missing: "this is no lowest line, the loop on the link stays as it was"}
	}
	on, ok := s.Value(loopBeforeName, t)
	if !ok {
		return &LoopFit{Missing: "the loop that it had before the work was not noted"}
	}
	fresh, ok := t.mm(s, newLineName)
	if !ok {
		return &LoopFit{Missing: "the new line was not measured on the wing"}
	}
	if t.again(s, newLineName) {
		return &LoopFit{Missing: "the new line was measured a second time, and with which loop was not noted"}
	}
	twin, ok := t.mm(s, twinLineName)
	if !ok {
		return &LoopFit{Missing: "its twin was not measured on the wing"}
	}
	f, err := trim.FitNew(t.job.loopTable(), fmt.Sprint(on), fresh-twin, []quantity.Length{0})
	if err != nil {
		return &LoopFit{Missing: oneLine(err)}
	}
	limit, _ := t.mm(s, twinLimitName)
	return &LoopFit{Fitting: f, On: fmt.Sprint(on), Limit: limit}
}

// again reports whether a step that a slot knows by its name was answered
// before, and is void of that answer.
func (t *Task) again(s *procedure.Slot, name string) bool {
	key, ok := s.KeyOf(name)
	if !ok {
		return false
	}
	a := t.answers[key]
	return a != nil && a.Old != nil
}

// mm reads a length in mm that a slot knows by a name.
func (t *Task) mm(s *procedure.Slot, name string) (quantity.Length, bool) {
	v, ok := s.Value(name, t)
	mm, number := v.(float64)
	if !ok || !number {
		return 0, false
	}
	l, err := quantity.LengthFromMM(mm)
	return l, err == nil
}

// kept is what the loop leaves that the line was measured with.
func (f *LoopFit) kept() trim.Fit {
	for _, fit := range f.Fitting.Fits {
		if fit.Loop == f.On {
			return fit
		}
	}
	return trim.Fit{}
}
