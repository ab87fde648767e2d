package trim

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

// obstacles names each lower line that no loop can bring inside. Where there
// is none, only the rows can still be in the way.
func (p *problem) obstacles() []Obstacle {
	if o, blind := p.blind(); blind {
		return []Obstacle{o}
	}
	all := []Obstacle{}
	for i := range p.units {
		u := &p.units[i]
		if len(u.options) > 0 {
			continue
		}
		before := len(all)
		for side := range wing.Sides {
			if o, blocked := p.pathObstacle(u, side); blocked {
				all = append(all, o)
			}
		}
		if len(all) == before {
			all = append(all, p.togetherObstacle(u))
		}
	}
	return all
}

// blind says where the uncertainty is beyond a limit: no loop can help there.
func (p *problem) blind() (Obstacle, bool) {
	paths, pairs, rows := 0, 0, 0
	for i := range p.units {
		for side := range wing.Sides {
			for _, m := range p.units[i].paths[side] {
				paths += negative(m.bound)
			}
		}
		for _, pair := range p.units[i].pairs {
			pairs += negative(pair.bound)
		}
	}
	for _, r := range p.rows {
		rows += max(negative(r.bound[0]), negative(r.bound[1]))
	}
	for _, found := range []struct {
		limit wing.LimitName
		n     int
		of    string
	}{{wing.LimitPath, paths, "path"}, {wing.LimitSides, pairs, "pair"}, {wing.LimitRows, rows, "row"}} {
		if found.n > 0 {
			return Obstacle{
				Limit: found.limit,
				What:  fmt.Sprintf("the uncertainty of %s is beyond the limit, so nothing can be proved inside", plural(found.n, found.of)),
				Cure:  "measure better, or take the limits whole",
			}, true
		}
	}
	return Obstacle{}, false
}

func negative(bound int64) int {
	if bound < 0 {
		return 1
	}
	return 0
}

// between says what a loop has to take, from low to high, neither of them 0.
func between(low, high int64) string {
	if low > 0 {
		return fmt.Sprintf("%s to %s shorter", mm(low), mm(high))
	}
	return fmt.Sprintf("%s to %s longer", mm(-high), mm(-low))
}

// pathObstacle says why no loop of one side keeps the limit of its paths.
func (p *problem) pathObstacle(u *unit, side int) (Obstacle, bool) {
	loops := p.loopsOf(u, side)
	if slices.ContainsFunc(loops, func(k int) bool { return p.pathsHold(u, side, k) }) {
		return Obstacle{}, false
	}
	// A loop has to take from low to high to bring all paths inside.
	low, high := int64(math.MinInt64), int64(math.MaxInt64)
	for _, m := range u.paths[side] {
		low, high = max(low, m.deviation-p.aim-m.bound), min(high, m.deviation-p.aim+m.bound)
	}
	least, most := int64(math.MaxInt64), int64(math.MinInt64)
	for _, k := range loops {
		least, most = min(least, u.shift(p.table, side, k)), max(most, u.shift(p.table, side, k))
	}
	o := Obstacle{Limit: wing.LimitPath, Line: u.code, Side: wing.Sides[side]}
	switch {
	case low > high:
		o.What = fmt.Sprintf("%s: its points differ too much, by %s more than the limit allows", u.name(side), mm(low-high))
		o.Cure = "no loop below them helps: look at the lines above it"
	case !u.onLink:
		o.What = fmt.Sprintf("%s: outside, and no loop on a link sets it", u.name(side))
		o.Cure = "exchange or shorten the line where it is fastened"
	case u.now[side] < 0:
		o.What = fmt.Sprintf("%s: outside, and its loop is not known", u.name(side))
		o.Cure = "look which loop it has, and name it"
	case !u.free[side]:
		o.What = fmt.Sprintf("%s: outside, and its loop may not be changed", u.name(side))
		o.Cure = "let it change, or exchange the line"
	case high < least:
		o.What = fmt.Sprintf("%s: too short by %s, and a loop cannot make it longer", u.name(side), mm(least-high))
		o.Cure = "exchange the line, or hold the wing to its common offset if that is what is meant"
	case low > most:
		o.What = fmt.Sprintf("%s: too long by %s for the loop that shortens most", u.name(side), mm(low-most))
		o.Cure = "exchange the line: it may be a wrong part or an overstretched one"
	default:
		o.What = fmt.Sprintf("%s: it would have to become %s, and no loop of the table does that", u.name(side), between(low, high))
		o.Cure = "measure the loops of this wing: another may serve"
	}
	return o, true
}

// togetherObstacle says why sides that can each be brought inside cannot be so
// together.
func (p *problem) togetherObstacle(u *unit) Obstacle {
	alone := *p
	alone.eachSide = true
	if len(alone.optionsOf(u)) > 0 {
		return Obstacle{Limit: wing.LimitSides, Line: u.code, What: u.code + ": no loop serves both sides alike", Cure: "allow each side a loop of its own"}
	}
	return Obstacle{
		Limit: wing.LimitSides, Line: u.code, What: u.code + ": no loops bring left and right inside against each other",
		Cure: "look at the lines above it on both sides",
	}
}

// rowObstacles names the rows that cannot be brought inside against row A: each
// alone if any, else all of them together.
func (p *problem) rowObstacles(limit int) []Obstacle {
	if own := p.rowNames(0); own != "" && p.impossible(limit, 0) {
		return []Obstacle{rowObstacle(own)}
	}
	all := []Obstacle{}
	var names []string
	for b := range p.blocks {
		name := p.rowNames(b)
		if name == "" {
			continue
		}
		names = append(names, name)
		if b > 0 && p.impossible(limit, 0, b) {
			all = append(all, rowObstacle(name))
		}
	}
	if len(all) == 0 {
		all = append(all, rowObstacle(strings.Join(names, " ")))
	}
	return all
}

// impossible says whether the rows of some blocks alone cannot be brought inside.
func (p *problem) impossible(limit int, blocks ...int) bool {
	s := &search{problem: p.only(blocks...), limit: limit}
	_, found := s.fewest()
	return !found && !s.spent
}

func rowObstacle(names string) Obstacle {
	return Obstacle{
		Limit: wing.LimitRows,
		What:  "row " + names + ": no loops bring its mean inside against row A while all else is kept",
		Cure:  "exchange lines of that row, or let a workshop trim the wing",
	}
}

// rowNames names the rows of a block that are held against row A.
func (p *problem) rowNames(b int) string {
	var names []string
	for _, r := range p.blocks[b].rows {
		if r != p.reference {
			names = append(names, p.rows[r].name)
		}
	}
	return strings.Join(names, " ")
}

// only gives the problem with the rows of some blocks held against row A.
func (p *problem) only(blocks ...int) *problem {
	part := *p
	part.rows = slices.Clone(p.rows)
	for r := range part.rows {
		if !slices.Contains(blocks, part.rows[r].block) {
			part.rows[r].bound = [2]int64{math.MaxInt64, math.MaxInt64}
		}
	}
	return &part
}

func mm(um int64) string { return quantity.Length(um).String() }
