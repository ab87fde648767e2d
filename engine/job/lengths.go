package job

import (
	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/trim"
	"example.org/linewright/engine/wing"
)

// PathRead is one reading of one path.
type PathRead struct {
	trim.PathRef
	Typed string          `json:"typed"`
	Value quantity.Length `json:"value_um"`
}

// PathLength is a path as it was evaluated and judged when its row was closed.
type PathLength struct {
	trim.PathRef
	Value     quantity.Length   `json:"value_um"`
	U         quantity.Length   `json:"expanded_uncertainty_um"`
	N         int               `json:"readings"`
	Expected  quantity.Length   `json:"expected_um,omitempty"` // 0: the plan does not say
	Deviation quantity.Length   `json:"deviation_um,omitempty"`
	Limit     quantity.Length   `json:"limit_um,omitempty"`
	LimitOf   string            `json:"limit_source,omitempty"`
	Verdict   metrology.Verdict `json:"verdict,omitempty"`

	Line    int    `json:"-"` // of the journal, by which its row was closed
	Task    int    `json:"-"`
	Decided string `json:"-"` // a person's reason for taking what is not proved
}

// Inside reports whether nothing is left to ask about the path: it is inside,
// or a person took what could not be proved.
func (l PathLength) Inside() bool {
	return l.Verdict == metrology.Inside || l.Verdict == metrology.NotProved && l.Decided != ""
}

// PathLength gives the last length of a path that was measured in this job and
// still counts.
func (j *Job) PathLength(point string, side wing.Side) (PathLength, bool) {
	l, ok := j.lengths[trim.PathRef{Point: point, Side: side}]
	return l, ok
}

// PathLengths lists the last length of each path that was measured in this
// job, in the order of the plan, the left one first.
func (j *Job) PathLengths() []PathLength {
	var out []PathLength
	for _, p := range j.Plan.Paths(wing.Left) {
		for _, side := range wing.Sides {
			if l, ok := j.PathLength(p.Point, side); ok {
				out = append(out, l)
			}
		}
	}
	return out
}
