package reckon

import (
	"fmt"
	"strings"

	"example.org/linewright/engine/metrology"
)

// help says what would bring a verdict where there is none.
type help struct {
	open     bool // the verdict is not proved
	readings int  // in all that would decide; 0: no number would
	outlook  *metrology.Outlook
}

// help looks ahead where the verdict is not proved.
func (r *reader) help(t measured, m metrology.Measurement, j metrology.Judgement) help {
	h := help{open: j.Verdict == metrology.NotProved}
	if !h.open {
		return h
	}
	h.readings, _ = m.ReadingsToDecide(t.expected.length, t.limit.length)
	if out, err := metrology.Foresee(t.object, m.N, r.env.Bench, t.limit.length); err == nil {
		h.outlook = &out
	}
	return h
}

func (h help) rows() []Row {
	if !h.open {
		return nil
	}
	rows := []Row{{"to decide", "no number of readings would decide on this bench: a better pull or tape might, or a person with a reason"}}
	if h.readings > 0 {
		rows[0].Text = fmt.Sprintf("%d readings in all would decide, if the mean stays", h.readings)
		return rows
	}
	switch {
	case h.outlook == nil:
	case !h.outlook.Decides:
		rows = append(rows, Row{"", strings.Join(h.outlook.Words(), " ")})
	case len(h.outlook.Helps) > 0:
		best := h.outlook.Helps[0]
		rows = append(rows, Row{"", fmt.Sprintf("what would help most: %s, then sure within %s", best.Change, best.U)})
	}
	return rows
}
