package trim

import (
	"math"
	"math/rand/v2"
	"slices"
	"strconv"

	"example.org/linewright/engine/quantity"
)

const millimetre = int64(quantity.Millimetre)

// shape says what a random problem of loops looks like.
type shape struct {
	rows, lines, points int // rows, lower lines of a row, points of a line; one side
	loops               int
	worn                float64 // how far the rows drift apart, mm
	eachSide            bool
	shared              bool // a line that carries points of two rows
	withoutA            bool // row A was not measured
	coarse              bool // deviations and loops in steps of 5 mm, so that many choices are equal
}

// randomProblem makes a problem in whole millimetres, so that a program that
// reckons in floats comes to the same numbers. Limits are drawn so that about
// as many are possible as not.
func randomProblem(r *rand.Rand, s shape) *problem {
	p := &problem{reference: 0, eachSide: s.eachSide, aim: int64(r.IntN(3)-1) * 4 * millimetre}
	if s.coarse {
		p.aim = p.aim * 5 / 4
	}
	if s.withoutA {
		p.reference = -1
	}
	shortens := 0
	for k := range s.loops {
		p.table.Loops = append(p.table.Loops, Loop{strconv.Itoa(k), quantity.Length(shortens) * quantity.Millimetre})
		if s.coarse {
			shortens += 5
		} else {
			shortens += 3 + r.IntN(9)
		}
	}
	pathBound := int64(8+r.IntN(10)) * millimetre
	if s.coarse {
		pathBound += 10 * millimetre
	}
	sidesBound := int64(4+r.IntN(8)) * millimetre
	for n := range s.rows {
		bound := int64(2+r.IntN(8)) * millimetre
		if s.coarse {
			bound = int64(r.IntN(3)) * 5 * millimetre / 2
		}
		p.rows = append(p.rows, row{name: string(rune('A' + n)), bound: [2]int64{bound, bound}})
	}
	for n := range s.rows {
		for l := range s.lines {
			u := unit{code: p.rows[n].name + strconv.Itoa(l), free: [2]bool{true, true}, rank: len(p.units)}
			on := r.IntN(s.loops)
			u.now = [2]int{on, on}
			if s.eachSide || r.IntN(6) == 0 {
				u.now[1] = r.IntN(s.loops)
			}
			switch r.IntN(12) {
			case 0:
				u.free = [2]bool{}
			case 1:
				u.free[1] = false
			case 2:
				u.free[0], u.now[0] = false, -1 // its loop is not known
			}
			base := r.NormFloat64()*4 - s.worn*float64(n)
			for i := range s.points {
				row := n
				if s.shared && s.points > 1 && l == 0 && n+1 < s.rows && i == s.points-1 {
					row = n + 1
				}
				var d [2]int64
				for side := range 2 {
					if side == 1 && s.coarse {
						d[1] = d[0]
					} else {
						d[side] = s.round(base+r.NormFloat64()*2) * millimetre
					}
					u.paths[side] = append(u.paths[side], member{point: u.code + "." + strconv.Itoa(i), row: row, deviation: d[side], bound: pathBound})
					p.rows[row].paths[side]++
				}
				u.pairs = append(u.pairs, pair{d[0] - d[1], sidesBound})
			}
			p.units = append(p.units, u)
		}
	}
	b := &problemBuilder{problem: p}
	if err := b.divide(); err != nil {
		panic(err)
	}
	for i := range p.units {
		p.units[i].options = p.optionsOf(&p.units[i])
	}
	return p
}

func (s shape) round(mm float64) int64 {
	if s.coarse {
		return 5 * int64(math.Round(mm/5))
	}
	return int64(math.Round(mm))
}

// bruteForce looks at every choice. Of equal ones it keeps the first in the
// order of units and options.
func bruteForce(p *problem, better func(s, t solution) bool) (solution, bool) {
	var best solution
	found := false
	pick := make([]int, len(p.units))
	var try func(i int)
	try = func(i int) {
		if i < len(p.units) {
			for o := range p.units[i].options {
				pick[i] = o
				try(i + 1)
			}
			return
		}
		if s, ok := judge(p, pick); ok && (!found || better(s, best)) {
			s.pick = slices.Clone(pick)
			best, found = s, true
		}
	}
	try(0)
	return best, found
}

func (s solution) better(t solution) bool {
	switch {
	case s.changes != t.changes:
		return s.changes < t.changes
	case s.high-s.low != t.high-t.low:
		return s.high-s.low < t.high-t.low
	}
	return s.total < t.total
}

// judge reckons a choice from the deviations, not from the options' sums.
func judge(p *problem, pick []int) (solution, bool) {
	s := solution{low: math.MaxInt64, high: math.MinInt64}
	means := make([][2]float64, len(p.rows))
	for i := range p.units {
		u := &p.units[i]
		o := u.options[pick[i]]
		for side := range 2 {
			shift := u.shift(p.table, side, o.loop[side])
			if o.loop[side] != u.now[side] {
				s.changes++
			}
			for _, m := range u.paths[side] {
				d := m.deviation - shift
				s.low, s.high = min(s.low, d), max(s.high, d)
				s.total += max(d-p.aim, p.aim-d)
				if m.row >= 0 {
					means[m.row][side] += float64(d) / float64(p.rows[m.row].paths[side])
				}
			}
		}
	}
	for r := range p.rows {
		for side := range 2 {
			if p.reference >= 0 && r != p.reference && math.Abs(means[r][side]-means[p.reference][side]) > float64(p.rows[r].bound[side])+1e-6 {
				return s, false
			}
		}
	}
	return s, true
}

// mirror exchanges left and right.
func (p *problem) mirror() {
	for i := range p.rows {
		r := &p.rows[i]
		r.paths[0], r.paths[1] = r.paths[1], r.paths[0]
		r.bound[0], r.bound[1] = r.bound[1], r.bound[0]
	}
	for i := range p.units {
		u := &p.units[i]
		u.paths[0], u.paths[1] = u.paths[1], u.paths[0]
		u.now[0], u.now[1] = u.now[1], u.now[0]
		u.free[0], u.free[1] = u.free[1], u.free[0]
		for k := range u.pairs {
			u.pairs[k].difference = -u.pairs[k].difference
		}
	}
	for i := range p.units {
		p.units[i].options = p.optionsOf(&p.units[i])
	}
}

// widen adds to every limit.
func (p *problem) widen(by int64) {
	for i := range p.rows {
		p.rows[i].bound[0] += by
		p.rows[i].bound[1] += by
	}
	for i := range p.units {
		u := &p.units[i]
		for side := range u.paths {
			for k := range u.paths[side] {
				u.paths[side][k].bound += by
			}
		}
		for k := range u.pairs {
			u.pairs[k].bound += by
		}
		u.options = p.optionsOf(u)
	}
}
