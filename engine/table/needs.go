package table

import (
	"fmt"
	"slices"
	"strings"

	"example.org/linewright/engine/wing"
)

// Answers is what only a person can say of a table. Empty: not said.
type Answers struct {
	Name, Size   string // of the wing, as the maker writes them
	Source, Date string // where the table comes from, and the date that it bears
	Unit         string // of lengths whose column names none: mm, cm, m, in, ft
	StrengthUnit string // of strengths: N, daN, kgf, lbf
	PathsFrom    string // "link" or "riser": where the lengths of paths begin
	LinkKind     string // "screw" or "soft": of links of which the table does not say it
	Sheath       string // "all", "none" or "upper": lines with a sheath; "upper" means all but the upper tier
	Partial      bool   // the table holds some lines of the wing only
}

// Need is a question that has to be answered before a plan can be made.
type Need struct {
	Key     string   `json:"key"` // "name", "size", "source", "date", "unit", "strength_unit", "paths_from", "links", "sheath"
	Ask     string   `json:"ask"`
	Choices []string `json:"choices,omitempty"` // none: any text
}

// Of a sheath.
const (
	sheathAll   = "all"
	sheathNone  = "none"
	sheathUpper = "upper"
)

// needs lists every question, with the answer to it and whether the table asks it.
var needs = []struct {
	Need
	answer func(*Answers) *string
	asked  func(*gather) bool
}{
	{Need{"name", "Name of the wing, as the maker writes it", nil}, func(a *Answers) *string { return &a.Name }, always},
	{Need{"size", "Its size, as the maker writes it", nil}, func(a *Answers) *string { return &a.Size }, always},
	{Need{"source", "Where the table comes from, such as: manual, 3rd edition", nil}, func(a *Answers) *string { return &a.Source }, always},
	{Need{"date", "The date that it bears", nil}, func(a *Answers) *string { return &a.Date }, always},
	{Need{"unit", "Unit of the lengths", []string{"mm", "cm", "m", "in", "ft"}}, func(a *Answers) *string { return &a.Unit }, (*gather).lacksUnit},
	{Need{"strength_unit", "Unit of the strengths", []string{"N", "daN", "kgf", "lbf"}}, func(a *Answers) *string { return &a.StrengthUnit }, (*gather).lacksStrengthUnit},
	{Need{"paths_from", "Where the lengths of the paths begin: at the inside of the link, or at the riser's loop", []string{"link", "riser"}}, func(a *Answers) *string { return &a.PathsFrom }, (*gather).lacksFrom},
	{Need{"links", "Kind of the links", []string{"screw", "soft"}}, func(a *Answers) *string { return &a.LinkKind }, (*gather).lacksKind},
	{Need{"sheath", "Lines with a sheath; upper: all but the upper tier", []string{sheathAll, sheathNone, sheathUpper}}, func(a *Answers) *string { return &a.Sheath }, (*gather).lacksSheath},
}

func always(*gather) bool { return true }

// Needs lists what has to be said before Plan can make a plan.
func (im *Import) Needs(a Answers) []Need {
	return im.gather(a).open()
}

func (g *gather) open() []Need {
	var open []Need
	for _, n := range needs {
		if *n.answer(&g.answers) == "" && n.asked(g) {
			open = append(open, n.Need)
		}
	}
	return open
}

// Set answers a question. The error says what is wanted, and nothing is set then.
func (a *Answers) Set(key, text string) error {
	for _, n := range needs {
		if n.Key != key {
			continue
		}
		text = strings.TrimSpace(text)
		if n.Choices != nil && !slices.Contains(n.Choices, text) {
			return fmt.Errorf("%q is no answer to: %s\nsay one of: %s", text, n.Ask, strings.Join(n.Choices, ", "))
		}
		if text == "" {
			return fmt.Errorf("nothing was said of: %s\nsay it in a few words", n.Ask)
		}
		*n.answer(a) = text
		return nil
	}
	return fmt.Errorf("there is no question %q\nask Needs for those that are open", key)
}

func (g *gather) anyColumn(is func(Column) bool) bool {
	return slices.ContainsFunc(g.im.Columns, is)
}

func (g *gather) lacksUnit() bool {
	return g.anyColumn(func(c Column) bool { return c.Role.isLength() && c.Unit == "" && len(c.First) > 0 })
}

func (g *gather) lacksStrengthUnit() bool {
	return g.anyColumn(func(c Column) bool { return c.Role == RoleStrength && c.Unit == "" && len(c.First) > 0 })
}

func (g *gather) lacksFrom() bool {
	return g.anyColumn(func(c Column) bool { return c.Role.isPath() && c.from == "" })
}

// lacksKind says whether lines hang on a link whose kind nothing tells.
func (g *gather) lacksKind() bool {
	told := map[string]bool{}
	for _, it := range g.items {
		told[it.code] = it.kind != ""
	}
	return slices.ContainsFunc(g.items, func(it *item) bool {
		return strings.HasPrefix(it.on, linkPrefix) && !told[it.on] || strings.HasPrefix(it.code, linkPrefix) && !told[it.code]
	})
}

// lacksSheath says whether a line that hangs on something does not tell it.
func (g *gather) lacksSheath() bool {
	return slices.ContainsFunc(g.items, func(it *item) bool {
		return it.on != "" && it.side == "" && it.line.Unseen && it.thing() == aLine
	})
}

// What an item is.
type thing int

const (
	aLine thing = iota
	aPath
	aLink
	aRiser
)

const (
	linkPrefix  = string(wing.OnLink) + ":"
	riserPrefix = string(wing.OnRiser) + ":"
)

func (it *item) thing() thing {
	switch {
	case strings.HasPrefix(it.code, linkPrefix):
		return aLink
	case strings.HasPrefix(it.code, riserPrefix):
		return aRiser
	case it.code == "":
		return aPath
	}
	return aLine
}
