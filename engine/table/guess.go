package table

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.org/linewright/engine/wing"
)

// Import is a table with what its columns are taken for. It comes from Guess.
// It keeps what it has read and is not safe for use by several goroutines.
type Import struct {
	Sheet   *Sheet
	Columns []Column

	kept *gather // what was read last
}

// longAsPaths is the length above which, in the middle of a table that names no
// structure, lengths are taken for those of whole paths. Lower lines end about
// there; common practice, no source.
const longAsPathsMM = 5600

// Guess finds out what each column holds: what a person said comes first, then
// the titles, then the content.
func (s *Sheet) Guess(told []Column) (*Import, error) {
	g := &guess{sheet: s, cols: make([]Column, s.width), facts: make([]facts, s.width)}
	for i := range g.cols {
		g.cols[i] = Column{No: i + 1, Title: s.headTitle(i)}
		g.look(i)
	}
	if err := g.tell(told); err != nil {
		return nil, err
	}
	g.grid()
	g.titles()
	g.content()
	g.paths()
	for i := range g.cols {
		g.unit(i)
		if g.cols[i].Role == "" {
			g.cols[i].Role = RoleNone
		}
	}
	return &Import{Sheet: s, Columns: g.cols}, nil
}

// facts is what the fields of a column look like.
type facts struct {
	filled, numbers, codes int
	values                 []float64 // of the numbers without a unit
	title                  title
}

func (f facts) mostly(n int) bool { return f.filled > 0 && n*5 >= f.filled*4 }

type guess struct {
	sheet *Sheet
	cols  []Column
	facts []facts
}

func (g *guess) look(i int) {
	f := facts{title: readTitle(g.cols[i].Title)}
	for _, r := range g.sheet.body() {
		text := r.fieldAt(i)
		if text == "" || g.sheet.isHead(r) || filled(r) == 1 {
			continue
		}
		f.filled++
		if f.filled <= 3 {
			g.cols[i].First = append(g.cols[i].First, strings.Join(strings.Fields(text), " "))
		}
		number, rest := splitNumber(text)
		switch {
		case number != "" && rest == "":
			f.numbers++
			f.values = append(f.values, decimal(number))
		case number != "" && lengthUnits[rest] != "":
			f.numbers++
		case wing.IsName(text):
			f.codes++
		}
	}
	g.facts[i] = f
}

// decimal reads a number for a comparison only.
func decimal(number string) float64 {
	b := []byte(number)
	for i := range b {
		if b[i] == ',' {
			b[i] = '.'
		}
	}
	v, _ := strconv.ParseFloat(string(b), 64)
	return v
}

func (g *guess) tell(told []Column) error {
	f := faults{name: g.sheet.Name}
	for _, c := range told {
		if c.No > len(g.cols) {
			f.add(0, columnWords(c.No), fmt.Sprintf("the table has %d columns", len(g.cols)), "correct the number of the column; columns count from 1")
			continue
		}
		g.set(c.No-1, c.Role, ByPerson)
		g.cols[c.No-1].At = c.At
	}
	return f.err()
}

func (g *guess) set(i int, role Role, why Why) {
	c := &g.cols[i]
	c.Role, c.Why = role, why
	if role.isLength() {
		c.from, c.found = g.facts[i].title.from, g.facts[i].title.found
	}
}

// has says whether a role is taken; by says on what it may rest.
func (g *guess) has(role Role, by ...Why) bool {
	return slices.ContainsFunc(g.cols, func(c Column) bool {
		return c.Role == role && (len(by) == 0 || slices.Contains(by, c.Why))
	})
}

func (g *guess) isGrid() bool {
	return slices.ContainsFunc(g.cols, func(c Column) bool { return c.At != "" })
}

func (g *guess) free(i int) bool { return g.cols[i].Role == "" }

// grid takes a table of rows and places for lengths of paths.
func (g *guess) grid() {
	told := g.isGrid()
	if !told && (g.sheet.Head < 0 || !g.sheet.isGrid(g.sheet.Head)) {
		return
	}
	for i := range g.cols {
		switch name := gridName(g.cols[i].Title); {
		case !g.free(i):
		case i == 0 && g.facts[0].mostly(g.facts[0].codes):
			g.set(0, RoleRow, ByContent)
		case i == 0:
			g.set(0, RolePlace, ByContent)
		case told:
		case name != "":
			g.set(i, RolePath, ByTitle)
			g.cols[i].At = name
		case wholeNumber(g.cols[i].Title) > 0:
			g.set(i, RolePath, ByTitle)
			g.cols[i].At = g.cols[i].Title
		}
	}
}

// titles takes what the titles say. Lines may stand side by side, so codes,
// points and lengths may come again; of other roles the first counts, and what
// a person said always does.
func (g *guess) titles() {
	if g.isGrid() {
		return
	}
	for i, f := range g.facts {
		if f.filled == 0 && !f.title.found || f.title.role.isLength() && !f.mostly(f.numbers) {
			continue
		}
		g.title(i)
	}
	for i := range g.cols {
		if !g.hasLength() && g.facts[i].title.role.isLength() {
			g.title(i)
		}
	}
	g.single()
}

func (g *guess) title(i int) {
	role := g.facts[i].title.role
	if g.free(i) && role != "" && !g.has(role, ByPerson) && (!g.has(role) || role.isKey() || role.isLength()) {
		g.set(i, role, ByTitle)
	}
}

// single leaves out lengths that come again although nothing stands side by
// side: which of them is the nominal one only a person knows.
func (g *guess) single() {
	keys := map[Role]int{}
	for _, c := range g.cols {
		keys[c.Role]++
	}
	if keys[RoleCode] > 1 || keys[RolePoint] > 1 || keys[RoleCode]+keys[RolePoint] == 0 {
		return
	}
	seen := map[Role]bool{}
	for i, c := range g.cols {
		if c.Role.isLength() && c.Why == ByTitle && seen[c.Role] {
			g.cols[i].Role, g.cols[i].Why = "", ""
		}
		seen[c.Role] = true
	}
}

// content finds codes and lengths that no title names.
func (g *guess) content() {
	if g.isGrid() {
		return
	}
	if !g.hasLength() {
		for i := range g.cols {
			if f := g.facts[i]; g.free(i) && f.mostly(f.numbers) && fitsLength(f.values) {
				g.set(i, RoleLength, ByContent)
				break
			}
		}
	}
	if g.has(RoleCode) || g.has(RolePoint) || !g.hasLength() {
		return
	}
	code := -1
	for i := range g.cols {
		switch f := g.facts[i]; {
		case g.free(i) && code < 0 && f.mostly(f.codes):
			code = i
		case g.cols[i].Role.isLength() && code >= 0:
			g.set(code, RoleCode, ByContent)
			code = -1
		}
	}
	if code >= 0 && !g.has(RoleCode) {
		g.set(code, RoleCode, ByContent)
	}
}

func (g *guess) hasLength() bool {
	return slices.ContainsFunc(g.cols, func(c Column) bool { return c.Role.isLength() })
}

// paths takes lengths for those of paths where the table is about points: it
// says so, or it tells totals only, or its lengths are as long as whole paths.
func (g *guess) paths() {
	if g.isGrid() {
		return
	}
	length, path := g.has(RoleLength) || g.has(RoleLengthLeft), g.has(RolePath) || g.has(RolePathLeft)
	why, about := Why(""), g.has(RolePoint)
	switch {
	case g.has(RoleCode, ByPerson) || g.has(RoleLength, ByPerson):
	case about && !g.has(RoleCode):
		why = ByTitle
	case !about && path && !length:
		why = ByTitle
	case !about && length && !path && g.long() && !g.has(RoleOn) && !g.has(RoleTier):
		why = ByContent
	}
	for i, c := range g.cols {
		switch {
		case why == "" || c.Why == ByPerson:
		case c.Role == RoleCode:
			g.set(i, RolePoint, why)
		case c.Role.isLength():
			g.set(i, c.Role.asPath(), why)
		}
	}
}

// long says whether the lengths are as long as whole paths.
func (g *guess) long() bool {
	for i, c := range g.cols {
		if c.Role != RoleLength && c.Role != RoleLengthLeft {
			continue
		}
		unit := g.facts[i].title.unit
		if unit == "" {
			unit = onlyUnit(g.facts[i].values, maxLine)
		}
		if middle := median(g.facts[i].values) * perUnit[unit]; middle > longAsPathsMM {
			return true
		}
	}
	return false
}

func median(values []float64) float64 {
	if len(values) == 0 {
		return 0
	}
	sorted := slices.Sorted(slices.Values(values))
	return sorted[len(sorted)/2]
}
