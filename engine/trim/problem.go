package trim

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/linewright/engine/wing"
)

// problem is the choice of loops in whole micrometres. Sides are 0 left and 1
// right, in the order of wing.Sides.
type problem struct {
	table     LoopTable
	aim       int64
	eachSide  bool
	units     []unit
	rows      []row // main rows that were measured
	reference int   // of rows; -1: row A was not measured
	blocks    []block
	order     []PathRef // of the report
	notes     []string
}

// unit is a lower line of both sides: what is chosen together.
type unit struct {
	code    string
	onLink  bool
	now     [2]int // loop in the table, -1: not known
	free    [2]bool
	paths   [2][]member
	pairs   []pair
	options []option
	rank    int // of the line in the plan; -1: no line is known, only a path
}

// member is a measured path above a unit.
type member struct {
	point     string
	row       int // of problem.rows; -1: apart
	deviation int64
	bound     int64 // greatest |deviation − aim| that is inside
}

// pair is a point that was measured left and right.
type pair struct {
	difference int64
	bound      int64
}

// option is a loop for each side of a unit, and what it leaves.
type option struct {
	loop    [2]int
	changes int
	low     int64 // least deviation left
	high    int64
	total   int64 // of the amounts, from the aim
	sums    [maxSlots]int64
}

// row is a row that is held against row A on each side.
type row struct {
	name  string
	paths [2]int64 // measured ones
	bound [2]int64 // of the difference of the means; math.MaxInt64: none
	block int
	slot  int // of the left side's sum in option.sums; the right one's is next
}

// block holds rows that hang together because lower lines carry points of more
// than one. Blocks touch each other only through the means of row A, which is
// in the first block.
type block struct {
	rows  []int
	units []int
}

// maxSlots holds the sums of a block: two sides of four rows.
const maxSlots = 8

func newProblem(plan *wing.Plan, report Report, loops Loops, demand Demand) (*problem, error) {
	if err := loops.check(plan); err != nil {
		return nil, err
	}
	if err := demand.check(plan); err != nil {
		return nil, err
	}
	p := &problem{table: loops.Table, aim: int64(demand.Aim), eachSide: demand.EachSide, reference: -1, notes: []string{}}
	b := &problemBuilder{problem: p, plan: plan, report: report, loops: loops, demand: demand, byCode: map[string]int{}, byRow: map[string]int{}}
	b.gather()
	if len(p.units) == 0 {
		return nil, refuse("no path on a link was measured: there is nothing to choose by", "measure the paths first")
	}
	b.bind()
	if err := b.divide(); err != nil {
		return nil, err
	}
	for i := range p.units {
		p.units[i].options = p.optionsOf(&p.units[i])
	}
	return p, nil
}

// problemBuilder makes the problem of a report.
type problemBuilder struct {
	*problem
	plan   *wing.Plan
	report Report
	loops  Loops
	demand Demand
	byCode map[string]int
	byRow  map[string]int
}

// guarded narrows a limit by an uncertainty, both in mm.
func (b *problemBuilder) guarded(limitMM, uMM float64) int64 {
	if b.demand.Whole {
		uMM = 0
	}
	return int64(um(limitMM) - um(uMM))
}

// gather sorts the measured paths under their lower lines.
func (b *problemBuilder) gather() {
	for _, t := range b.report.Paths {
		code, ok := b.lowest(t.PathRef)
		if !ok {
			continue
		}
		b.order = append(b.order, t.PathRef)
		u := &b.units[b.unit(code)]
		side := sideIndex(t.Side)
		u.paths[side] = append(u.paths[side], member{
			point: t.Point, row: b.row(t.Row, side), deviation: int64(um(t.DeviationMM)), bound: b.guarded(t.LimitMM, t.UMM),
		})
	}
	for _, s := range b.report.Sides {
		if code, ok := b.lowest(PathRef{s.Point, wing.Left}); ok {
			u := &b.units[b.unit(code)]
			u.pairs = append(u.pairs, pair{int64(um(s.DeviationMM)), b.guarded(s.LimitMM, s.UMM)})
		}
	}
}

// lowest gives the line that sets a path. A path of a row whose lines nobody
// knows stays as it is, under a name that no line can have, and counts in the
// row's mean all the same. Brakes are set by their knots.
func (b *problemBuilder) lowest(ref PathRef) (code string, ok bool) {
	path, ok := pathOf(b.plan, ref)
	switch {
	case !ok || onHandle(&path):
		return "", false
	case len(path.Lines) == 0:
		return "point " + path.Point, wing.MainRow(path.Row)
	}
	return path.Lines[0].Code, true
}

func sideIndex(side wing.Side) int { return slices.Index(wing.Sides, side) }

// unit finds or adds the unit of a lower line.
func (b *problemBuilder) unit(code string) int {
	if i, ok := b.byCode[code]; ok {
		return i
	}
	b.byCode[code] = len(b.units)
	u := unit{code: code, rank: slices.IndexFunc(b.plan.Lines, func(l wing.Line) bool { return l.Code == code })}
	u.onLink = u.rank >= 0 && b.plan.Lines[u.rank].On.Kind == wing.OnLink
	for side, s := range wing.Sides {
		ref := wing.LineRef(code, s)
		u.now[side] = b.loops.on(ref)
		u.free[side] = u.onLink && u.now[side] >= 0 && (len(b.demand.Free) == 0 || slices.Contains(b.demand.Free, ref))
	}
	b.units = append(b.units, u)
	return len(b.units) - 1
}

// row counts a path in its row; -1 for a row that is apart.
func (b *problemBuilder) row(name string, side int) int {
	if !wing.MainRow(name) {
		return -1
	}
	i, ok := b.byRow[name]
	if !ok {
		i = len(b.rows)
		b.byRow[name] = i
		b.rows = append(b.rows, row{name: name, bound: [2]int64{math.MaxInt64, math.MaxInt64}})
		if name == referenceRow {
			b.reference = i
		}
	}
	b.rows[i].paths[side]++
	return i
}

// bind takes the bounds of the rows from the report, puts the units in their
// order and says what cannot be chosen.
func (b *problemBuilder) bind() {
	for _, t := range b.report.Rows {
		i, ok := b.byRow[t.Row]
		if ok && t.Side != "" && t.Against != nil {
			b.rows[i].bound[sideIndex(t.Side)] = b.guarded(t.Against.LimitMM, t.Against.UMM)
		}
	}
	if b.reference < 0 {
		b.notes = append(b.notes, "row A was not measured: the rows are not held against it")
	}
	if b.table.Fallback {
		b.notes = append(b.notes, "the loop table is a "+FallbackSource+": fit one loop, pull and read before the others are changed")
	}
	var unknown, half, unlike []string
	for i := range b.units {
		u := &b.units[i]
		if u.now[0] != u.now[1] && u.now[0] >= 0 && u.now[1] >= 0 {
			unlike = append(unlike, u.code)
		}
		for side, s := range wing.Sides {
			if u.onLink && u.now[side] < 0 {
				unknown = append(unknown, u.code+" "+string(s))
			}
			if u.onLink && len(u.paths[side]) == 0 {
				half = append(half, u.code+" "+string(s))
			}
		}
	}
	if len(unlike) > 0 && !b.eachSide {
		b.notes = append(b.notes, "left and right have unlike loops today, which may stay: "+strings.Join(unlike, ", "))
	}
	if len(unknown) > 0 {
		b.notes = append(b.notes, "the loop is not known, so it stays: "+strings.Join(unknown, ", "))
	}
	if len(half) > 0 {
		b.notes = append(b.notes, "no path of it was measured, nothing is known of where it ends: "+strings.Join(half, ", "))
	}
}

// divide puts the rows that share lower lines into one block, the block of row
// A first, and the units in the order of the blocks and the plan.
func (b *problemBuilder) divide() error {
	root := make([]int, len(b.rows))
	for r := range root {
		root[r] = r
	}
	find := func(r int) int {
		for root[r] != r {
			r = root[r]
		}
		return r
	}
	for i := range b.units {
		first := -1
		for _, m := range slices.Concat(b.units[i].paths[0], b.units[i].paths[1]) {
			switch {
			case m.row < 0:
			case first < 0:
				first = find(m.row)
			default:
				root[find(m.row)] = first
			}
		}
	}
	b.blocks = []block{{}} // that of row A, empty where it was not measured
	place := map[int]int{}
	if b.reference >= 0 {
		place[find(b.reference)] = 0
	}
	for r := range b.rows {
		n, ok := place[find(r)]
		if !ok {
			n = len(b.blocks)
			place[find(r)] = n
			b.blocks = append(b.blocks, block{})
		}
		own := &b.blocks[n]
		b.rows[r].block, b.rows[r].slot = n, len(wing.Sides)*len(own.rows)
		own.rows = append(own.rows, r)
		if len(wing.Sides)*len(own.rows) > maxSlots {
			return refuse("more than four rows hang together by lower lines that carry points of several", "choose the loops of this wing by hand")
		}
	}
	apart := len(b.blocks)
	b.blocks = append(b.blocks, block{}) // stabilo and the like
	at := func(u *unit) int {
		for _, m := range slices.Concat(u.paths[0], u.paths[1]) {
			if m.row >= 0 {
				return b.rows[m.row].block
			}
		}
		return apart
	}
	slices.SortStableFunc(b.units, func(x, y unit) int { return cmp.Or(cmp.Compare(at(&x), at(&y)), cmp.Compare(x.rank, y.rank)) })
	for i := range b.units {
		own := &b.blocks[at(&b.units[i])]
		own.units = append(own.units, i)
	}
	return nil
}

// shift is what a loop takes off a side of the unit beyond the loop it has.
func (u *unit) shift(table LoopTable, side, loop int) int64 {
	if loop == u.now[side] {
		return 0
	}
	return int64(table.Loops[loop].Shortens - table.Loops[u.now[side]].Shortens)
}

// loopsOf lists the loops that a side may have, the one that it has first.
func (p *problem) loopsOf(u *unit, side int) []int {
	all := []int{u.now[side]}
	for k := range p.table.Loops {
		if u.free[side] && k != u.now[side] {
			all = append(all, k)
		}
	}
	return all
}

// mayHave says whether left and right may have these loops: the same, or what
// they have today, or any where that was asked for or one is not known.
func (p *problem) mayHave(u *unit, loop [2]int) bool {
	return p.eachSide || loop[0] == loop[1] || loop == u.now || u.now[0] < 0 || u.now[1] < 0
}

// optionsOf lists what keeps the limits of the paths and of the sides, in the
// order of the tie-break.
func (p *problem) optionsOf(u *unit) []option {
	var all []option
	for _, left := range p.loopsOf(u, 0) {
		for _, right := range p.loopsOf(u, 1) {
			loop := [2]int{left, right}
			if p.mayHave(u, loop) && p.pathsHold(u, 0, left) && p.pathsHold(u, 1, right) && p.sidesHold(u, loop) {
				all = append(all, p.option(u, loop))
			}
		}
	}
	return all
}

func (p *problem) pathsHold(u *unit, side, loop int) bool {
	shift := u.shift(p.table, side, loop)
	for _, m := range u.paths[side] {
		if off := m.deviation - shift - p.aim; off > m.bound || -off > m.bound {
			return false
		}
	}
	return true
}

func (p *problem) sidesHold(u *unit, loop [2]int) bool {
	apart := u.shift(p.table, 0, loop[0]) - u.shift(p.table, 1, loop[1])
	for _, pair := range u.pairs {
		if left := pair.difference - apart; left > pair.bound || -left > pair.bound {
			return false
		}
	}
	return true
}

// option reckons what a loop for each side leaves.
func (p *problem) option(u *unit, loop [2]int) option {
	o := option{loop: loop}
	e := evenness{low: math.MaxInt64, high: math.MinInt64}
	for side := range wing.Sides {
		if loop[side] != u.now[side] {
			o.changes++
		}
		shift := u.shift(p.table, side, loop[side])
		for _, m := range u.paths[side] {
			e.add(m.deviation-shift, p.aim)
			if m.row >= 0 {
				o.sums[p.rows[m.row].slot+side] += m.deviation - shift
			}
		}
	}
	o.low, o.high, o.total = e.low, e.high, e.total
	return o
}

// name gives "C1.2", for a message.
func (u *unit) name(side int) string { return fmt.Sprintf("%s %s", u.code, wing.Sides[side]) }
