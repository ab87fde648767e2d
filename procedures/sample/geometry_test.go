package sample

import (
	"fmt"
	"math"
)

// The wing is a half ellipse of cloth over a pilot. Each attachment point sits
// on the cloth, each joint on the way from what is above it to the foot of its
// lines, and a line is as long as its two ends are apart. So lengths change
// smoothly along the span, as they do on a wing. Metres throughout.
const (
	halfSpan  = 3.85  // projected
	height    = 6.176 // of the cloth over the links, at the centre: gives C1.2 its 4205 mm
	tipDrop   = 1.28  // of the tip under the centre
	rootChord = 2.75
	arc       = 62 * math.Pi / 180 // of the ellipse, from the centre to the tip
	footOut   = 0.21               // of the links from the centre
	footBack  = 0.75               // of the links behind the leading edge
)

type vec struct{ x, y, z float64 } // back, out, up

func (a vec) to(b vec) vec { return vec{b.x - a.x, b.y - a.y, b.z - a.z} }
func (a vec) len() float64 { return math.Sqrt(a.x*a.x + a.y*a.y + a.z*a.z) }
func (a vec) along(d vec, m float64) vec {
	k := m / d.len()
	return vec{a.x + k*d.x, a.y + k*d.y, a.z + k*d.z}
}

// cloth gives the place of a point at a part of the half span and of the chord.
func cloth(span, chord float64) vec {
	angle := span * arc
	local := rootChord * (1 - 0.62*span*span)
	lead := 0.35 * rootChord * span * span
	return vec{
		x: lead + chord*local,
		y: halfSpan * math.Sin(angle) / math.Sin(arc),
		z: height - tipDrop*(1-math.Cos(angle))/(1-math.Cos(arc)),
	}
}

// row says how one row of the wing is tied.
type row struct {
	name    string
	foot    string // what its lower lines hang on
	at      vec    // where that is
	first   int    // place of its first lower line there
	colour  string
	lower   cord
	middle  cord
	upper   cord
	middles float64 // how far its lower joints lie under the middle ones, at the centre
	trees   []tree
}

// tree is a lower line: its middle lines, each with the points of its uppers.
type tree [][]tab

// tab is an attachment point: parts of the half span and of the chord.
type tab struct{ span, chord float64 }

// line is what the template writes.
type line struct {
	Code, Row, Tier, On, Point, Colour string
	Pos, MM                            int
	Span                               float64
	Sewn                               bool
	Cord                               cord
	low, high                          vec
}

type cord struct {
	Material string
	Sheathed bool
	MM       float64
	N        int
}

func (r row) lines() []line {
	var lower, middle, upper []line
	for _, t := range r.trees {
		l := r.line(1, len(lower)+1, r.foot, r.first+len(lower), r.lower)
		var joints []vec
		for _, tabs := range t {
			m := r.line(2, len(middle)+1, l.Code, len(joints)+1, r.middle)
			var ends []vec
			for n, tb := range tabs {
				u := r.line(3, len(upper)+1, m.Code, n+1, r.upper)
				u.Point, u.Span, u.high = fmt.Sprintf("%s%d", r.name, len(upper)+1), tb.span, cloth(tb.span, tb.chord)
				ends = append(ends, u.high)
				upper = append(upper, u)
			}
			m.high = r.joint(ends, 0.62-0.22*mean(tabs))
			for n := range tabs {
				upper[len(upper)-len(tabs)+n].low = m.high
			}
			joints = append(joints, m.high)
			middle = append(middle, m)
		}
		l.low, l.high = r.at, r.joint(joints, r.middles-0.35*mean(t[0]))
		for n := range joints {
			middle[len(middle)-len(joints)+n].low = l.high
		}
		lower = append(lower, l)
	}
	return append(append(lower, middle...), upper...)
}

// joint lies toward the foot from the middle of what it carries.
func (r row) joint(above []vec, down float64) vec {
	var m vec
	for _, a := range above {
		m = vec{m.x + a.x/float64(len(above)), m.y + a.y/float64(len(above)), m.z + a.z/float64(len(above))}
	}
	return m.along(m.to(r.at), down)
}

func (r row) line(tier, place int, on string, pos int, c cord) line {
	return line{
		Code: fmt.Sprintf("%s%d.%d", r.name, tier, place), Row: r.name, On: on, Pos: pos,
		Tier: []string{"lower", "middle", "upper"}[tier-1], Colour: r.colour, Cord: c,
	}
}

func mean(tabs []tab) float64 {
	sum := 0.0
	for _, t := range tabs {
		sum += t.span / float64(len(tabs))
	}
	return sum
}
