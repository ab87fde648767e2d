package table

import (
	"bytes"
	"encoding/csv"
	"slices"
	"strconv"
	"strings"

	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

// Export writes the risers, links, lines, exceptions and stated paths of a plan
// as CSV after RFC 4180: a line of titles, commas, CRLF, UTF-8. Read, Guess and
// Plan take it back as it was. What a table cannot carry is the head of the
// plan, its limits, pull and brakes, and the measures of its links.
func Export(p *wing.Plan) []byte {
	e := &exporter{plan: p, used: make([]bool, len(exportColumns))}
	for _, r := range p.Risers {
		e.put(map[Role]string{RoleCode: riserPrefix + r.Branch, RoleLength: mm(r.Length)})
	}
	for _, l := range p.Links {
		e.put(map[Role]string{RoleCode: linkPrefix + l.Name, RoleOn: riserPrefix + l.Branch, RoleLinkKind: string(l.Kind)})
	}
	points := map[string]bool{}
	for _, l := range slices.Concat(p.Lines, p.Loose) {
		points[l.Point] = true
		e.put(e.line(l))
	}
	for _, s := range p.Stated {
		if !points[s.Point] {
			e.put(map[Role]string{RoleRow: s.Row, RolePoint: s.Point, RolePath: mm(s.Length)})
		}
	}
	for _, x := range p.Exceptions() {
		base, _ := p.Line(x.Line.Code)
		e.put(exception(x, base))
	}
	return e.bytes()
}

// exportColumns gives the columns in their order, each with its title, which
// Guess knows.
var exportColumns = []struct {
	role  Role
	title string
}{
	{RoleCode, "code"}, {RoleRow, "row"}, {RoleTier, "tier"}, {RoleOn, "on"}, {RolePos, "pos"}, {RolePoint, "point"}, {RoleSpan, "span"},
	{RoleLength, "length"}, {RolePath, "path"}, {RoleSheathed, "sheathed"}, {RoleSewn, "sewn"},
	{RoleMaterial, "material"}, {RoleColour, "colour"}, {RoleDiameter, "diameter_mm"}, {RoleStrength, "strength_n"},
	{RoleLinkKind, "link_kind"}, {RoleSide, "side"},
}

type exporter struct {
	plan    *wing.Plan
	records [][]string
	used    []bool // a column that nothing fills in is left out
}

func (e *exporter) put(fields map[Role]string) {
	record := make([]string, len(exportColumns))
	for i, c := range exportColumns {
		record[i] = fields[c.role]
		e.used[i] = e.used[i] || record[i] != ""
	}
	e.records = append(e.records, record)
}

func (e *exporter) line(l wing.Line) map[Role]string {
	f := map[Role]string{
		RoleCode: l.Code, RoleRow: l.Row, RoleTier: string(l.Tier), RoleOn: l.On.String(), RolePoint: l.Point,
		RoleLength: mm(l.Length), RoleMaterial: l.Material, RoleColour: l.Colour,
		RoleDiameter: mm(l.Diameter), RoleStrength: newtons(l.Strength),
	}
	if l.Pos > 0 {
		f[RolePos] = strconv.Itoa(l.Pos)
	}
	if l.Span >= 0 {
		f[RoleSpan] = strconv.FormatFloat(l.Span, 'f', -1, 64)
	}
	if !l.Unseen {
		f[RoleSheathed] = yes(!l.Bare)
	}
	if l.Sewn {
		f[RoleSewn] = yes(true)
	}
	if s, ok := e.plan.StatedPath(l.Point); ok {
		f[RolePath] = mm(s.Length)
	}
	return f
}

// exception gives what differs on one side.
func exception(x wing.Exception, base wing.Line) map[Role]string {
	l := x.Line
	f := map[Role]string{RoleCode: l.Code, RoleSide: string(x.Side)}
	if l.Length != base.Length {
		f[RoleLength] = mm(l.Length)
	}
	if l.Material != base.Material {
		f[RoleMaterial] = l.Material
	}
	if l.Colour != base.Colour {
		f[RoleColour] = l.Colour
	}
	if l.Bare != base.Bare {
		f[RoleSheathed] = yes(!l.Bare)
	}
	if l.Diameter != base.Diameter {
		f[RoleDiameter] = mm(l.Diameter)
	}
	if l.Strength != base.Strength {
		f[RoleStrength] = newtons(l.Strength)
	}
	return f
}

func mm(l quantity.Length) string {
	if l == 0 {
		return ""
	}
	return strings.TrimSuffix(l.String(), " mm")
}

func newtons(f quantity.Force) string {
	if f == 0 {
		return ""
	}
	return strings.TrimSuffix(f.String(), " N")
}

func yes(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

// title gives the title of a column with its unit; where the lengths begin, and
// that they are as found, stand there too, so that they are not lost on the way.
func (e *exporter) title(i int) string {
	t := exportColumns[i].title
	switch exportColumns[i].role {
	case RolePath:
		return t + "_from_" + string(e.plan.PathsFrom) + "_mm"
	case RoleLength:
		if e.plan.AsFound {
			t += "_found"
		}
		return t + "_mm"
	}
	return t
}

func (e *exporter) bytes() []byte {
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	w.UseCRLF = true
	keep := func(record []string) []string {
		var kept []string
		for i, field := range record {
			if e.used[i] || exportColumns[i].role == RoleCode || exportColumns[i].role == RoleLength {
				kept = append(kept, field)
			}
		}
		return kept
	}
	titles := make([]string, len(exportColumns))
	for i := range exportColumns {
		titles[i] = e.title(i)
	}
	for _, record := range append([][]string{titles}, e.records...) {
		// A bytes.Buffer takes whatever is written.
		_ = w.Write(keep(record))
	}
	w.Flush()
	return out.Bytes()
}
