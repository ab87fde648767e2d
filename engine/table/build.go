package table

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

// builder makes the draft of a plan from the items.
type builder struct {
	g     *gather
	draft wing.Draft
	from  map[string]*item // by the table of the plan file that it became
	notes []string

	entries []*entry
	byCode  map[string]*entry
	points  map[string]bool // of lines whose row is known
}

// entry is all that a table says of one line. A side is nil where it says
// nothing of its own.
type entry struct {
	both, left, right *item
	line              wing.Line
}

func newBuilder(g *gather) *builder {
	return &builder{g: g, from: map[string]*item{}, byCode: map[string]*entry{}, points: map[string]bool{}}
}

func (b *builder) build() {
	b.head()
	b.collect()
	for _, e := range b.entries {
		b.settle(e)
	}
	b.rows()
	b.tiers()
	b.lines()
	b.feet()
	b.paths()
}

func (b *builder) note(format string, args ...any) {
	b.notes = append(b.notes, fmt.Sprintf(format, args...))
}

func (b *builder) head() {
	a, d := b.g.answers, &b.draft
	d.Name, d.Size, d.Source = a.Name, a.Size, wing.Source{Text: a.Source, Date: a.Date}
	d.AsFound = b.g.anyColumn(func(c Column) bool { return c.found })
}

// collect gathers what the records say of each line.
func (b *builder) collect() {
	for _, it := range b.g.items {
		if it.thing() != aLine {
			continue
		}
		e := b.byCode[it.code]
		if e == nil {
			e = &entry{}
			b.byCode[it.code] = e
			b.entries = append(b.entries, e)
		}
		slot := map[wing.Side]**item{"": &e.both, wing.Left: &e.left, wing.Right: &e.right}[it.side]
		if *slot != nil {
			b.twice(it, RoleCode, "the code "+it.code, *slot, "give each line one code of its own; C1 and c1 are two codes")
			continue
		}
		*slot = it
	}
}

func (b *builder) twice(it *item, r Role, what string, before *item, cure string) {
	b.g.faults.add(it.record.Line, it.column(r), fmt.Sprintf("%s is already used on line %d", what, before.record.Line), cure)
}

// settle makes the line of an entry, as far as it is told.
func (b *builder) settle(e *entry) {
	if e.both == nil {
		e.both, e.left = e.left, nil
	}
	if e.both == nil {
		e.both, e.right = e.right, nil
	}
	it := e.both
	if it.side != "" && e.right == nil {
		b.note("line %d: only the %s %s is told; it is taken for both sides", it.record.Line, it.side, it.code)
	}
	l := it.line
	l.Code, l.Row, l.Tier, l.Point, l.On = it.code, it.row, it.tier, it.point, wing.ParseAnchor(it.on)
	if it.on == "" {
		l.On = wing.Anchor{}
	}
	if l.Length == 0 {
		l.Length = it.left
	}
	if l.Length == 0 {
		l.Length = it.right
	}
	e.line = l
}

// rows concludes the rows that the table does not tell of lines that hang on
// something: that of the point that a line has or carries, else what its code
// begins with. A line without a place needs none.
func (b *builder) rows() {
	above := map[string]*entry{} // the first line on another
	for _, e := range b.entries {
		if on := e.line.On; on.Kind == wing.OnLine && above[on.Name] == nil {
			above[on.Name] = e
		}
	}
	concluded := false
	for _, e := range b.entries {
		if e.line.Row != "" || e.line.On.Kind == "" {
			continue
		}
		top := e
		for n := 0; top.line.Row == "" && top.line.Point == "" && above[top.line.Code] != nil && n < len(b.entries); n++ {
			top = above[top.line.Code]
		}
		for _, row := range []string{top.line.Row, wing.RowOf(top.line.Point), wing.RowOf(e.line.Code)} {
			if e.line.Row == "" {
				e.line.Row = row
			}
		}
		concluded = concluded || e.line.Row != ""
	}
	if concluded {
		b.note("rows that the table does not tell were concluded from points and codes")
	}
}

// tiers concludes the tiers that the table does not tell: what hangs on a link,
// tab or handle is lower, what nothing hangs on is upper, all between is middle.
func (b *builder) tiers() {
	carries := map[string]bool{}
	for _, e := range b.entries {
		if e.line.On.Kind == wing.OnLine {
			carries[e.line.On.Name] = true
		}
	}
	concluded := false
	for _, e := range b.entries {
		l := &e.line
		if l.Tier != "" || l.On.Kind == "" {
			continue
		}
		concluded = true
		switch {
		case l.On.Kind != wing.OnLine:
			l.Tier = wing.Lower
		case carries[l.Code]:
			l.Tier = wing.Middle
		default:
			l.Tier = wing.Upper
		}
	}
	if concluded {
		b.note("tiers that the table does not tell were concluded from what hangs on what")
	}
}

// lines puts the lines into the draft: first those that hang on something.
func (b *builder) lines() {
	for _, e := range b.entries {
		b.points[e.line.Point] = b.points[e.line.Point] || e.line.Row != ""
		b.sheath(&e.line)
		if e.line.On.Kind != "" {
			b.from[key("line", len(b.draft.Lines))] = e.both
			b.draft.Lines = append(b.draft.Lines, e.line)
		}
	}
	for _, e := range b.entries {
		if e.line.On.Kind == "" {
			b.from[key("line", len(b.draft.Lines)+len(b.draft.Loose))] = e.both
			b.draft.Loose = append(b.draft.Loose, e.line)
		}
	}
	for _, e := range b.entries {
		b.side(e, wing.Left, e.left, e.both.left)
		b.side(e, wing.Right, e.right, e.both.right)
	}
}

func key(table string, n int) string { return table + "[" + strconv.Itoa(n) + "]" }

// sheath fills in what a person said of the sheaths.
func (b *builder) sheath(l *wing.Line) {
	say := b.g.answers.Sheath
	if !l.Unseen || say == "" || say == sheathUpper && l.Tier == "" {
		return
	}
	l.Unseen = false
	l.Bare = say == sheathNone || say == sheathUpper && l.Tier == wing.Upper
}

// side states what differs on one side: as its own record says, or as its
// column of lengths does.
func (b *builder) side(e *entry, side wing.Side, own *item, length quantity.Length) {
	it, l := e.both, e.line
	if length != 0 {
		l.Length = length
	}
	if own != nil {
		it = own
		b.override(&l, own)
		b.same(e, own)
	}
	if l == e.line {
		return
	}
	if l.On.Kind == "" {
		b.g.faults.add(it.record.Line, it.column(RoleSide), fmt.Sprintf("%s differs between the sides, but does not say what it hangs on", l.Code),
			"say what it hangs on, or leave out the column of one side")
		return
	}
	b.from[key("exception", len(b.draft.Exceptions))] = it
	b.draft.Exceptions = append(b.draft.Exceptions, wing.Exception{Side: side, Line: l})
}

// override takes from the record of a side what it fills in.
func (b *builder) override(l *wing.Line, own *item) {
	from := own.line
	for role, set := range map[Role]func(){
		RoleLength:   func() { l.Length = from.Length },
		RoleMaterial: func() { l.Material = from.Material },
		RoleColour:   func() { l.Colour = from.Colour },
		RoleSheathed: func() { l.Bare = from.Bare },
		RoleDiameter: func() { l.Diameter = from.Diameter },
		RoleStrength: func() { l.Strength = from.Strength },
	} {
		if own.told[role] {
			set()
		}
	}
}

// same checks that the record of a side says nothing else of what both share.
func (b *builder) same(e *entry, own *item) {
	both := e.both
	for _, c := range []struct {
		role      Role
		mine, has any
	}{
		{RoleRow, own.row, e.line.Row}, {RoleTier, own.tier, e.line.Tier}, {RoleOn, own.on, both.on},
		{RolePos, own.line.Pos, both.line.Pos}, {RolePoint, own.point, both.point}, {RoleSpan, own.line.Span, both.line.Span},
		{RoleSewn, own.line.Sewn, both.line.Sewn}, {RolePath, own.path, both.path},
	} {
		if own.told[c.role] && c.mine != c.has {
			b.g.faults.add(own.record.Line, own.column(c.role), fmt.Sprintf("%s of %s cannot differ between the sides", c.role, own.code),
				fmt.Sprintf("make it the same as on line %d, or leave it empty", both.record.Line))
		}
	}
}

// feet lists the links and riser branches: those with a record, then those that
// are only named.
func (b *builder) feet() {
	d := &b.draft
	for _, it := range b.g.items {
		switch it.thing() {
		case aRiser:
			name := strings.TrimPrefix(it.code, riserPrefix)
			if i := slices.IndexFunc(d.Risers, func(r wing.Riser) bool { return r.Branch == name }); i >= 0 {
				b.twice(it, RoleCode, it.code, b.from[key("riser", i)], "give each riser branch one record")
				continue
			}
			b.riser(name, it.line.Length, it)
		case aLink:
			name := strings.TrimPrefix(it.code, linkPrefix)
			if i := slices.IndexFunc(d.Links, func(l wing.Link) bool { return l.Name == name }); i >= 0 {
				b.twice(it, RoleCode, it.code, b.from[key("link", i)], "give each link one record")
				continue
			}
			b.link(name, it)
		}
	}
	for _, e := range b.entries {
		on := e.line.On
		if on.Kind == wing.OnLink && !slices.ContainsFunc(d.Links, func(l wing.Link) bool { return l.Name == on.Name }) {
			b.link(on.Name, e.both)
		}
		if on.Kind == wing.OnRiser {
			b.branch(on.Name, e.both)
		}
	}
	for i, l := range d.Links {
		b.branch(l.Branch, b.from[key("link", i)])
	}
}

func (b *builder) riser(name string, length quantity.Length, it *item) {
	b.from[key("riser", len(b.draft.Risers))] = it
	b.draft.Risers = append(b.draft.Risers, wing.Riser{Branch: name, Length: length})
}

// branch adds a riser branch that is only named.
func (b *builder) branch(name string, it *item) {
	if !slices.ContainsFunc(b.draft.Risers, func(r wing.Riser) bool { return r.Branch == name }) {
		b.riser(name, 0, it)
	}
}

// link adds a link. Where nothing else is told it hangs on the branch of its name.
func (b *builder) link(name string, it *item) {
	l := wing.Link{Name: name, Branch: name, Kind: wing.LinkKind(b.g.answers.LinkKind)}
	if it.thing() == aLink {
		if it.on != "" {
			l.Branch = strings.TrimPrefix(it.on, riserPrefix)
		}
		if it.kind != "" {
			l.Kind = it.kind
		}
	}
	b.from[key("link", len(b.draft.Links))] = it
	b.draft.Links = append(b.draft.Links, l)
}

// paths lists the lengths of whole paths.
func (b *builder) paths() {
	seen := map[string]*item{}
	for _, it := range b.g.items {
		if !it.tellsPath() {
			continue
		}
		if it.point == "" {
			b.g.faults.add(it.record.Line, it.column(RolePath), "the length of a path without its point", "give the attachment point, such as C7")
			continue
		}
		if before, twice := seen[it.point]; twice {
			if it.side == "" || it.thing() == aPath {
				b.twice(it, RolePoint, "the path to "+it.point, before, "state one length for each point")
			}
			continue
		}
		seen[it.point] = it
		s := wing.StatedPath{Point: it.point, Row: it.row, Length: it.path}
		if s.Row == "" && !b.points[it.point] {
			s.Row = wing.RowOf(it.point)
		}
		b.from[key("path", len(b.draft.Stated))] = it
		b.draft.Stated = append(b.draft.Stated, s)
	}
	if len(b.draft.Stated) > 0 {
		b.draft.PathsFrom = b.pathsFrom()
	}
}

func (it *item) tellsPath() bool {
	return it.told[RolePath] || it.told[RolePathLeft] || it.told[RolePathRight]
}

func (b *builder) pathsFrom() wing.From {
	for _, c := range b.g.im.Columns {
		if c.Role.isPath() && c.from != "" {
			return wing.From(c.from)
		}
	}
	return wing.From(b.g.answers.PathsFrom)
}
