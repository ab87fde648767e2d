package trim

import (
	"fmt"
	"math"
	"strings"

	"example.org/linewright/engine/wing"
)

// Incidence is the change of incidence against the plan, positive nose up, of
// one side or of both where Side is empty.
type Incidence struct {
	Side     wing.Side `json:"side,omitempty"`
	Degrees  float64   `json:"nose_up_deg"`
	UDegrees float64   `json:"expanded_uncertainty_deg"`
	// SlopeMMPerM is how much longer the rows grow for each metre rearward.
	SlopeMMPerM float64  `json:"slope_mm_per_m"`
	Rows        []string `json:"rows"`
	Weighted    bool     `json:"load_weighted,omitempty"`
	Method      string   `json:"method"`
	Source      string   `json:"source"` // of the places along the chord
}

// The methods. With two rows both are the same sum.
const (
	methodTwoRows = "atan((front - rear) / spacing)"
	methodSquares = "-atan(slope of the least-squares line through the rows' means)"
)

// station is the mean of a row at its place along the chord.
type station struct {
	row     string
	paths   []int
	placeMM float64
	load    float64
}

// incidence reckons the change of incidence of both sides and of each.
func (k *reckoner) incidence() {
	if len(k.chord.Rows) == 0 {
		k.note("no places of the rows along the chord: the change of incidence is not reckoned")
		return
	}
	if !k.chord.loaded() {
		k.note("no load weights for all rows: each row counts alike for incidence and asymmetry")
	}
	var without []string
	for _, row := range k.order {
		if _, known := k.chord.place(row); !known && k.isMainRow(row) {
			without = append(without, row)
		}
	}
	if len(without) > 0 {
		k.note("no place along the chord for row " + strings.Join(without, ", ") + ": not in the incidence")
	}
	for _, side := range bothFirst {
		stations := k.stations(side)
		if !apart(stations) {
			k.note(fmt.Sprintf("incidence, %s: fewer than two measured rows at different places along the chord", sideWord(side)))
			continue
		}
		k.report.Pitch = append(k.report.Pitch, k.fit(side, stations))
	}
}

func (k *reckoner) isMainRow(row string) bool {
	own := k.rows[rowSide{row, ""}]
	return len(own) > 0 && k.paths[own[0]].main
}

func (k *reckoner) stations(side wing.Side) []station {
	var all []station
	for _, row := range k.order {
		place, known := k.chord.place(row)
		own := k.rows[rowSide{row, side}]
		if known && len(own) > 0 && k.paths[own[0]].main {
			all = append(all, station{row, own, place.At.MM(), k.chord.load(row)})
		}
	}
	return all
}

// apart says whether the stations make a line at all.
func apart(stations []station) bool {
	for _, s := range stations {
		if s.placeMM != stations[0].placeMM {
			return true
		}
	}
	return false
}

// fit puts the line of least squares through the means of the rows. Its slope
// is a sum over the paths, and so is its uncertainty.
func (k *reckoner) fit(side wing.Side, stations []station) Incidence {
	slopes := slopeWeights(stations)
	in := Incidence{Side: side, Weighted: k.chord.loaded(), Method: methodSquares, Source: k.chord.Source}
	if len(stations) == 2 {
		in.Method = methodTwoRows
	}
	slope := 0.0
	var ws []weighed
	for i, s := range stations {
		in.Rows = append(in.Rows, s.row)
		each := slopes[i] / float64(len(s.paths))
		for _, p := range s.paths {
			slope += each * k.paths[p].deviation().MM()
		}
		ws = append(ws, k.weigh(s.paths, each)...)
	}
	in.SlopeMMPerM = round(slope*1000, 4)
	in.Degrees = round(-math.Atan(slope)*180/math.Pi, 4)
	// The angle turns with the slope by 1 / (1 + slope²).
	in.UDegrees = math.Ceil(k.pool.u(ws, 1)/(1+slope*slope)*180/math.Pi*1e4-1e-6) / 1e4
	return in
}

// slopeWeights gives by how much each station's mean counts in the slope of
// the weighted line of least squares: w·(x − x̄) / Σ w·(x − x̄)².
func slopeWeights(stations []station) []float64 {
	load, moment := 0.0, 0.0
	for _, s := range stations {
		load += s.load
		moment += s.load * s.placeMM
	}
	middle := moment / load
	square := 0.0
	for _, s := range stations {
		square += s.load * (s.placeMM - middle) * (s.placeMM - middle)
	}
	weights := make([]float64, len(stations))
	for i, s := range stations {
		weights[i] = s.load * (s.placeMM - middle) / square
	}
	return weights
}

// round keeps so many decimals; nothing stays without a sign.
func round(x float64, decimals int) float64 {
	unit := math.Pow10(decimals)
	return math.Round(x*unit)/unit + 0
}

func sideWord(side wing.Side) string {
	if side == "" {
		return "both sides"
	}
	return string(side)
}
