package picture

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/trim"
	"example.org/linewright/engine/wing"
)

// endRow is a row of a trim: the upper ends of its paths by their places.
type endRow struct {
	name  string
	apart bool
	ends  map[wing.Side][]*end // place 1 from the centre first; nil: not measured
	means map[wing.Side]trim.RowTrim
	slots []int // columns by place, counted from the centre, which is the first
	moved bool  // some ends lie where there was room, not where their span is
}

// end is where a path ends: in its band or out of it.
type end struct {
	trim.PathTrim
	again bool // inside, yet to be measured again
}

// endRows sorts a report by rows, in its own order.
func endRows(report trim.Report) []*endRow {
	var all []*endRow
	byName := map[string]*endRow{}
	for _, t := range report.Rows {
		r := byName[t.Row]
		if r == nil {
			r = &endRow{name: t.Row, ends: map[wing.Side][]*end{}, means: map[wing.Side]trim.RowTrim{}}
			byName[t.Row] = r
			all = append(all, r)
		}
		r.means[t.Side] = t
		r.apart = r.apart || t.Apart
	}
	again := map[trim.PathRef]bool{}
	for _, a := range report.Again {
		again[a.PathRef] = true
	}
	paths := map[string][]*end{}
	for _, t := range report.Paths {
		paths[t.Row] = append(paths[t.Row], &end{t, t.Verdict == metrology.Inside && again[t.PathRef]})
	}
	for _, r := range all {
		r.place(paths[r.name])
	}
	return all
}

// place puts the ends of a row in their places: the number that a point ends
// with, or where those are no places, its rank in the report.
func (r *endRow) place(ends []*end) {
	var points []string
	for _, e := range ends {
		if !slices.Contains(points, e.Point) {
			points = append(points, e.Point)
		}
	}
	of := len(points)
	for _, side := range wing.Sides {
		of = max(of, min(r.means[side].Of, mostPlaces))
	}
	places := map[string]int{}
	taken := map[int]bool{}
	for _, point := range points {
		n := numberOf(point)
		if n < 1 || n > of || taken[n] {
			places = nil
			break
		}
		places[point], taken[n] = n, true
	}
	for _, side := range wing.Sides {
		r.ends[side] = make([]*end, of)
	}
	for _, e := range ends {
		n, ok := places[e.Point]
		if !ok {
			n = slices.Index(points, e.Point) + 1
		}
		if all := r.ends[e.Side]; all != nil {
			all[n-1] = e
		}
	}
}

// mostPlaces is more than any wing has on one side of a row.
const mostPlaces = 1000

// numberOf gives the number that a point ends with; 0 if there is none.
func numberOf(point string) int {
	n, _ := strconv.Atoi(point[len(strings.TrimRight(point, "0123456789")):])
	return n
}

// each goes over the ends that were measured, from the left tip to the right.
func (r *endRow) each(do func(side wing.Side, place int, e *end)) {
	for i, e := range slices.Backward(r.ends[wing.Left]) {
		if e != nil {
			do(wing.Left, i+1, e)
		}
	}
	for i, e := range r.ends[wing.Right] {
		if e != nil {
			do(wing.Right, i+1, e)
		}
	}
}

// stepsPerLimit is how finely an end is drawn outside of its band: two steps
// make a line of text.
const stepsPerLimit = 4

// beyond gives how many steps an end lies out of its band, 0 in it, at most as
// many as asked for, and whether it lies further out than that.
func (e *end) beyond(most int) (steps int, further bool) {
	excess := math.Abs(e.DeviationMM) - e.LimitMM
	if e.Verdict == metrology.Inside || e.Verdict == metrology.NotProved && excess <= 0 {
		return 0, false
	}
	exact := math.Ceil(excess * stepsPerLimit / e.LimitMM)
	if !(exact <= float64(most)) {
		return most, true
	}
	return max(1, int(exact)), false
}

// sticks gives how many lines of text the ends of a row need above the middle
// and below it, if each may have as many as asked for.
func (r *endRow) sticks(most int) (up, down int) {
	r.each(func(_ wing.Side, _ int, e *end) {
		steps, _ := e.beyond(2 * most)
		if lines := (steps + 1) / 2; e.DeviationMM > 0 {
			up = max(up, lines)
		} else {
			down = max(down, lines)
		}
	})
	return up, down
}

// gravest gives what a row is against row A: of both sides, or of one side if
// that proves worse.
func (r *endRow) gravest() (f trim.Finding, side wing.Side, ok bool) {
	weight := map[metrology.Verdict]int{metrology.Inside: 1, metrology.NotProved: 2, metrology.Outside: 3}
	for _, at := range []wing.Side{"", wing.Left, wing.Right} {
		if against := r.means[at].Against; against != nil && (!ok || weight[against.Verdict] > weight[f.Verdict]) {
			f, side, ok = *against, at, true
		}
	}
	return f, side, ok
}
