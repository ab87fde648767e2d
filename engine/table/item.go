package table

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

// item is what a record says of one thing: a line, a path, a link or a riser.
type item struct {
	record Record
	cols   map[Role]Column // that speak of it

	code, point, row string
	side             wing.Side // empty: both
	line             wing.Line // as far as it is told; Span -1 and Unseen where it is not
	tier             wing.Tier
	left, right      quantity.Length // of the line, where the sides have columns of their own
	path             quantity.Length
	kind             wing.LinkKind
	on               string
	told             map[Role]bool // which fields are not empty
}

// column names the column of a role for a fault.
func (it *item) column(r Role) string {
	c, ok := it.cols[r]
	if !ok {
		return ""
	}
	return c.Words()
}

// group is the columns that speak of one thing. Where things stand side by side
// each has columns of its own and shares those before the first of them.
type group struct{ shared, own []Column }

// groups splits the columns by what they speak of.
func (im *Import) groups() []group {
	var grid, used []Column
	for _, c := range im.Columns {
		switch {
		case c.Role == RoleNone:
		case c.At != "":
			grid = append(grid, c)
		default:
			used = append(used, c)
		}
	}
	var all []group
	for _, c := range grid {
		all = append(all, group{used, []Column{c}})
	}
	if len(grid) > 0 {
		return all
	}
	key := slices.IndexFunc(used, func(c Column) bool { return c.Role.isKey() })
	if key < 0 {
		return []group{{own: used}}
	}
	shared, used := used[:key], used[key:]
	for _, c := range used {
		if len(all) == 0 || c.Role == used[0].Role {
			all = append(all, group{shared: shared})
		}
		all[len(all)-1].own = append(all[len(all)-1].own, c)
	}
	if len(all) == 1 {
		return []group{{own: slices.Concat(shared, used)}}
	}
	return all
}

// gather reads the items of all records.
type gather struct {
	im      *Import
	answers Answers
	faults  faults
	items   []*item
	leftOut []Note
}

// Note is a record that was left out: it holds a heading or a remark.
type Note struct {
	Line int    `json:"line"`
	Text string `json:"text"`
}

// gather reads the records, or gives what was read before with the same units.
func (im *Import) gather(a Answers) *gather {
	if k := im.kept; k == nil || k.answers.Unit != a.Unit || k.answers.StrengthUnit != a.StrengthUnit {
		im.kept = im.read(a)
	}
	g := *im.kept
	g.answers, g.faults.list = a, slices.Clone(g.faults.list)
	return &g
}

func (im *Import) read(a Answers) *gather {
	g := &gather{im: im, answers: a, faults: faults{name: im.Sheet.Name}}
	groups := im.groups()
	const cure = "say what the columns hold, as code=1 and length=2, or point=1 and path=2"
	if len(im.Sheet.body()) == 0 {
		g.faults.add(im.Sheet.HeadLine(), "", "nothing stands below the titles", "see whether this is the right file")
		return g
	}
	if !g.anyColumn(func(c Column) bool { return c.Role.isKey() || c.At != "" }) {
		g.faults.add(0, "", "no column holds codes of lines or points", cure)
		return g
	}
	for _, columns := range groups {
		g.twofold(slices.Concat(columns.shared, columns.own))
	}
	for i, r := range im.Sheet.Records {
		switch {
		case i == im.Sheet.Head:
		case i < im.Sheet.Head, im.isNote(r):
			g.leftOut = append(g.leftOut, Note{r.Line, strings.Join(strings.Fields(strings.Join(r.Fields, " ")), " ")})
		case g.fits(r):
			for _, columns := range groups {
				g.item(r, columns)
			}
		}
	}
	if len(g.items) == 0 && g.faults.none() {
		g.faults.add(0, "", "no line and no path was found in the table", cure)
	}
	return g
}

// twofold refuses two columns that hold the same of one thing.
func (g *gather) twofold(columns []Column) {
	for i, c := range columns {
		if j := slices.IndexFunc(columns[:i], func(o Column) bool { return o.Role == c.Role }); j >= 0 {
			g.faults.add(0, c.Words(), fmt.Sprintf("%s is held by %s too", c.Role, columns[j].Words()), fmt.Sprintf("leave one of them out, as none=%d", c.No))
		}
	}
}

// isNote says that a record is a heading, a remark or the titles once more:
// not a line or path with nothing told of it, whose name would have a digit.
func (im *Import) isNote(r Record) bool {
	if im.Sheet.isHead(r) {
		return true
	}
	at := slices.IndexFunc(r.Fields, func(f string) bool { return f != "" })
	if filled(r) != 1 {
		return false
	}
	return !im.Columns[at].Role.isKey() || strings.Contains(r.Fields[at], " ") || !strings.ContainsAny(r.Fields[at], "0123456789:")
}

// fits checks that a record has as many fields as the table has columns; empty
// ones at its end may be more.
func (g *gather) fits(r Record) bool {
	width := len(g.im.Columns)
	if g.im.Sheet.Head >= 0 {
		width = len(g.im.Sheet.Records[g.im.Sheet.Head].Fields)
	}
	beyond := slices.ContainsFunc(r.Fields[min(width, len(r.Fields)):], func(f string) bool { return f != "" })
	if len(r.Fields) < width || beyond {
		g.faults.add(r.Line, "", fmt.Sprintf("%d fields instead of %d", len(r.Fields), width),
			`give one field for each column; put a field with a decimal comma in "..." where commas separate`)
		return false
	}
	return true
}

func (g *gather) item(r Record, columns group) {
	if !slices.ContainsFunc(columns.own, func(c Column) bool { return r.fieldAt(c.No-1) != "" }) {
		return
	}
	it := &item{record: r, cols: map[Role]Column{}, told: map[Role]bool{}, line: wing.Line{Span: -1, Unseen: true}}
	before := len(g.faults.list)
	for _, c := range slices.Concat(columns.shared, columns.own) {
		it.cols[c.Role] = c
		if text := r.fieldAt(c.No - 1); text != "" {
			it.told[c.Role] = true
			g.field(it, c, text)
		}
	}
	g.cell(it, columns.own[0])
	if it.code == "" && it.point == "" && len(g.faults.list) == before {
		g.faults.add(r.Line, "", "the record names no line and no point", "give its code or its point, or delete the record")
		return
	}
	g.items = append(g.items, it)
}

// cell names what a field of a grid is about.
func (g *gather) cell(it *item, c Column) {
	if c.At == "" {
		return
	}
	row, place := c.At, it.line.Pos
	if n := wholeNumber(c.At); n > 0 {
		row, place = it.row, n
	}
	it.row, it.line.Pos = row, 0
	if row == "" || place == 0 {
		g.faults.add(it.record.Line, "", "a grid needs a row and a place", "say which column holds the places, as place=1, or the rows, as row=1")
		return
	}
	name := row + strconv.Itoa(place)
	if c.Role.isPath() {
		it.point = name
	} else {
		it.code = name
	}
}

// number reads a quantity whose unit is that of its column unless it has its own.
func (g *gather) number(it *item, c Column, kind quantity.Kind, unit, text string) int64 {
	full := text
	if last := text[len(text)-1]; last >= '0' && last <= '9' && unit != "" {
		full += " " + unit
	}
	v, err := quantity.Parse(kind, full)
	if err == nil {
		return v.N
	}
	cure := "write a plain decimal number"
	var parse *quantity.ParseError
	if errors.As(err, &parse) {
		parse.Typed = text
		cure = parse.Cure()
	}
	g.faults.add(it.record.Line, c.Words(), err.Error(), cure)
	return 0
}

// word reads one of a few words.
func word[T any](g *gather, it *item, c Column, text string, words map[string]T, cure string) T {
	v, ok := words[strings.ToLower(text)]
	if !ok {
		g.faults.add(it.record.Line, c.Words(), fmt.Sprintf("%q is not known here", text), cure)
	}
	return v
}

// field reads one field into an item.
func (g *gather) field(it *item, c Column, text string) {
	length := func(unit string) quantity.Length {
		return quantity.Length(g.number(it, c, quantity.KindLength, unit, text))
	}
	l := &it.line
	switch c.Role {
	case RoleCode:
		it.code = text
	case RoleRow:
		it.row = text
	case RoleTier:
		it.tier = wing.Tier(word(g, it, c, text, tiers, tierCure))
	case RoleOn:
		it.on = text
	case RolePos, RolePlace:
		if l.Pos = wholeNumber(text); l.Pos == 0 {
			g.faults.add(it.record.Line, c.Words(), fmt.Sprintf("%q is no place", text), "count from the centre, beginning with 1")
		}
	case RolePoint:
		it.point = text
	case RoleSpan:
		g.span(it, c, text)
	case RoleLength:
		l.Length = length(g.unitOf(c))
	case RoleLengthLeft:
		it.left = length(g.unitOf(c))
	case RoleLengthRight:
		it.right = length(g.unitOf(c))
	case RolePath, RolePathLeft, RolePathRight:
		g.path(it, c, length(g.unitOf(c)))
	case RoleSide:
		it.side = wing.Side(word(g, it, c, text, sides, sideCure))
	case RoleSheathed:
		l.Bare, l.Unseen = !word(g, it, c, text, truths, truthCure), false
	case RoleSewn:
		l.Sewn = word(g, it, c, text, truths, truthCure)
	case RoleMaterial:
		l.Material = text
	case RoleColour:
		l.Colour = text
	case RoleDiameter:
		l.Diameter = length(c.Unit)
	case RoleStrength:
		l.Strength = quantity.Force(g.number(it, c, quantity.KindForce, g.strengthUnit(c), text))
	case RoleLinkKind:
		it.kind = wing.LinkKind(strings.ToLower(text))
	}
}

func (g *gather) unitOf(c Column) string {
	if c.Unit != "" {
		return c.Unit
	}
	return g.answers.Unit
}

func (g *gather) strengthUnit(c Column) string {
	if c.Unit != "" {
		return c.Unit
	}
	return g.answers.StrengthUnit
}

func (g *gather) span(it *item, c Column, text string) {
	number, rest := splitNumber(text)
	if number == "" || rest != "" {
		g.faults.add(it.record.Line, c.Words(), fmt.Sprintf("%q is no place along the span", text), "write 0 for the centre to 1 for the tip, as 0.25")
		return
	}
	it.line.Span = decimal(number)
}

// path takes the length of a path. A plan has one for both sides.
func (g *gather) path(it *item, c Column, length quantity.Length) {
	if it.path != 0 && length != it.path && length != 0 {
		g.faults.add(it.record.Line, c.Words(), fmt.Sprintf("the paths of the two sides differ: %s and %s", it.path, length),
			"a plan has one length for both sides: measured lengths are no plan; else leave out one column, as none="+strconv.Itoa(c.No))
	}
	it.path = length
}
