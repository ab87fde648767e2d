package trim

import (
	"fmt"
	"strings"

	"example.org/linewright/engine/wing"
)

// Asymmetry is an index of how unlike the sides are: Σ w·y·(dL − dR) / Σ w·y
// over the points of the rows, y the place along the span from 0 centre to 1
// tip and w the load weight of the row. Positive: the left side is long. No
// source gives a law from it to a turn, so it is an index, no promise, and
// there is no limit for it.
type Asymmetry struct {
	IndexMM  float64  `json:"index_mm"`
	UMM      float64  `json:"expanded_uncertainty_mm"`
	Pairs    int      `json:"pairs"`
	Of       int      `json:"of"` // points of the rows that the plan has
	Weighted bool     `json:"load_weighted,omitempty"`
	Even     []string `json:"evenly_spread_rows,omitempty"` // rows without places along the span
}

// asymmetry reckons the index. Stabilo and brakes are not in it.
func (k *reckoner) asymmetry() {
	a := Asymmetry{Weighted: k.chord.loaded()}
	spans := k.spans(&a)
	var ws []weighed
	total := 0.0
	for _, pair := range k.pairs {
		p := &k.paths[pair[0]]
		if !p.main || p.m.State != k.paths[pair[1]].m.State {
			continue
		}
		weight := k.chord.load(p.row) * spans[p.Point]
		ws = append(ws, weighed{pair[0], weight}, weighed{pair[1], -weight})
		total += weight
		a.Pairs++
	}
	for _, row := range k.order {
		if wing.MainRow(row) {
			a.Of += k.all[row]
		}
	}
	if total == 0 {
		k.note("no point of the rows was measured left and right away from the centre: no asymmetry index")
		return
	}
	value, u := k.sum(ws, total)
	a.IndexMM, a.UMM = value.MM(), u.MM()
	if len(a.Even) > 0 {
		k.note(fmt.Sprintf("the plan gives no span for all points of row %s: taken as evenly spread (fallback)", strings.Join(a.Even, ", ")))
	}
	k.report.Index = &a
}

// spans gives the place of each point along the span. A row where the plan
// lacks one is spread evenly, as the fan is drawn.
func (k *reckoner) spans(a *Asymmetry) map[string]float64 {
	points := map[string][]string{}
	given := map[string]float64{}
	lacking := map[string]bool{}
	for i := range k.left {
		p := &k.left[i]
		points[p.Row] = append(points[p.Row], p.Point)
		given[p.Point] = spanOf(p)
		lacking[p.Row] = lacking[p.Row] || given[p.Point] < 0
	}
	for _, row := range k.order {
		if !lacking[row] {
			continue
		}
		if k.isMainRow(row) {
			a.Even = append(a.Even, row)
		}
		for i, point := range points[row] {
			given[point] = (float64(i) + 0.5) / float64(len(points[row]))
		}
	}
	return given
}
