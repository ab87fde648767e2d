package table

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"sync"

	"example.org/linewright/engine/source"
	"example.org/linewright/engine/wing"
)

// Result is a plan made from a table.
type Result struct {
	TOML    []byte // the text of the plan file
	Plan    *wing.Plan
	Notes   []string // what was concluded, and what looks odd, one sentence each
	LeftOut []Note   // records that were not taken
}

// Check looks for what is wrong with the fields of the table, whatever is still
// to be asked.
func (im *Import) Check() error { return im.gather(Answers{}).faults.err() }

// Plan makes the plan. It is partial where the table does not hold all that a
// complete one needs. An open need is a fault.
func (im *Import) Plan(a Answers) (*Result, error) {
	g := im.gather(a)
	if err := g.faults.err(); err != nil {
		return nil, err
	}
	for _, n := range g.open() {
		g.faults.add(0, "", "not said: "+n.Ask, "answer it, or give it as "+n.Key)
	}
	b := newBuilder(g)
	b.build()
	if err := g.faults.err(); err != nil {
		return nil, err
	}
	d := &b.draft
	d.Partial = a.Partial || d.AsFound || len(d.Loose) > 0 || len(d.Lines) == 0 || lacksLength(d)
	text := d.TOML()
	plan, err := wing.ParsePlan(text, im.Sheet.Name)
	if err != nil && !d.Partial {
		d.Partial = true
		text = d.TOML()
		plan, err = wing.ParsePlan(text, im.Sheet.Name)
	}
	if err != nil {
		return nil, b.places(err)
	}
	return &Result{text, plan, append(b.notes, b.doubts(plan)...), g.leftOut}, nil
}

// lacksLength spares a large table from being judged as a complete plan first.
func lacksLength(d *wing.Draft) bool {
	return slices.ContainsFunc(d.Risers, func(r wing.Riser) bool { return r.Length == 0 }) ||
		slices.ContainsFunc(d.Lines, func(l wing.Line) bool { return l.Length == 0 })
}

// tableKey is the key of a table of the plan file that came from a record.
var tableKey = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^((?:line|riser|link|path|exception)\[[0-9]+\])(?:\.(\w+))?$`)
})

// keyRoles tells from which columns a key of the plan file came.
var keyRoles = map[string][]Role{
	"code": {RoleCode}, "name": {RoleCode}, "branch": {RoleOn, RoleCode}, "kind": {RoleLinkKind}, "row": {RoleRow},
	"tier": {RoleTier}, "on": {RoleOn}, "pos": {RolePos}, "point": {RolePoint}, "span": {RoleSpan}, "side": {RoleSide},
	"length_mm": {RoleLength, RoleLengthLeft, RoleLengthRight, RolePath, RolePathLeft, RolePathRight},
	"sheathed":  {RoleSheathed}, "sewn": {RoleSewn}, "material": {RoleMaterial}, "colour": {RoleColour},
	"diameter_mm": {RoleDiameter}, "strength_n": {RoleStrength},
}

// places lets the faults of the plan point into the table.
func (b *builder) places(err error) error {
	var list source.Faults
	if !errors.As(err, &list) {
		return err
	}
	f := &b.g.faults
	for _, fault := range list {
		m := tableKey().FindStringSubmatch(fault.Key)
		it := (*item)(nil)
		if m != nil {
			it = b.from[m[1]]
		}
		if it == nil {
			f.add(0, fault.Key, fault.What, fault.Cure)
			continue
		}
		f.add(it.record.Line, b.columnOf(it, m), fault.What, fault.Cure)
	}
	return f.err()
}

// columnOf names the column that a key came from: the first that the record
// fills in, else the key itself.
func (b *builder) columnOf(it *item, key []string) string {
	for _, r := range keyRoles[key[2]] {
		if it.told[r] {
			return it.column(r)
		}
	}
	return key[2]
}

// oddByMM is how far the difference of a stated path and the sum of its lines
// may lie off what is usual in the same table, before it is named. Common
// practice, no source.
const oddByMM = 20

// doubts names stated paths that do not go with their lines: a slip in the
// table shows there.
func (b *builder) doubts(p *wing.Plan) []string {
	var odd []string
	differences := map[string]float64{}
	var all []float64
	for _, path := range p.Paths(wing.Left) {
		sum := path.Nominal
		if p.PathsFrom == wing.FromLink {
			sum = 0
			for _, l := range path.Lines {
				if l.Length == 0 {
					sum = 0
					break
				}
				sum += l.Length
			}
		}
		if sum > 0 && path.Stated > 0 {
			d := (path.Stated - sum).MM()
			differences[path.Point] = d
			all = append(all, d)
		}
	}
	usual := median(all)
	for _, s := range p.Stated {
		if d, ok := differences[s.Point]; ok && (d-usual > oddByMM || usual-d > oddByMM) {
			odd = append(odd, fmt.Sprintf("the path to %s is %s mm off the sum of its lines, others %s mm: look at its numbers", s.Point, short(d), short(usual)))
		}
	}
	return odd
}

func short(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
