package table

import (
	"slices"
	"strings"
)

// rule gives the role of a column whose title holds one of the words. The
// first rule that fits counts: "total line length" is the length of a path.
type rule struct {
	role  Role
	words []string
}

// rules hold the words of the trade in English, German and French, in general
// terms: common practice, no source.
var rules = []rule{
	{RolePath, []string{"path", "total", "overall", "check", "gesamt", "gesamtlänge", "totale"}},
	{RoleStrength, []string{"strength", "breaking", "load", "bruchlast", "festigkeit", "résistance", "rupture"}},
	{RoleDiameter, []string{"diameter", "dia", "thickness", "ø", "durchmesser", "dicke", "diamètre", "épaisseur"}},
	{RolePos, []string{"pos", "position", "place", "platz"}},
	{RolePoint, []string{"point", "attachment", "tab", "punkt", "anknüpfpunkt"}},
	{RoleOn, []string{"on", "below", "hangs", "parent", "connected", "an", "sur"}},
	{RoleTier, []string{"tier", "level", "storey", "cascade", "stockwerk", "kaskade", "étage"}},
	{RoleRow, []string{"row", "group", "reihe", "gruppe", "rangée"}},
	{RoleSide, []string{"side", "seite", "côté"}},
	{RoleLengthLeft, []string{"left", "links", "gauche"}},
	{RoleLengthRight, []string{"right", "rechts", "droite"}},
	{RoleSheathed, []string{"sheathed", "sheath", "mantel", "gaine"}},
	{RoleSewn, []string{"sewn", "vernäht", "cousu"}},
	{RoleMaterial, []string{"material", "type", "matière", "matériau"}},
	{RoleColour, []string{"colour", "color", "farbe", "couleur"}},
	{RoleSpan, []string{"span"}},
	{RoleLinkKind, []string{"kind"}},
	{RoleLength, []string{"length", "len", "länge", "leinenlänge", "longueur", "nominal"}},
	{RoleCode, []string{"code", "line", "lines", "id", "name", "label", "no", "nr", "number", "segment", "leine", "bezeichnung", "suspente"}},
}

// lengthUnits and forceUnits give the unit that a title or a person names. Of
// a strength, kg means the pull of that mass.
var (
	lengthUnits = map[string]string{"mm": "mm", "cm": "cm", "m": "m", "in": "in", "inch": "in", "inches": "in", "ft": "ft"}
	forceUnits  = map[string]string{"n": "N", "dan": "daN", "kgf": "kgf", "kg": "kgf", "lbf": "lbf"}
)

// title is what the title of a column says.
type title struct {
	role  Role
	unit  string
	from  string // of a path: "link" or "riser"
	found bool   // the lengths were measured on the wing as found
}

func readTitle(text string) title {
	words := titleWords(text)
	var t title
	if n := len(words); n > 0 {
		last := words[n-1]
		t.unit = lengthUnits[last] + forceUnits[last]
		if t.unit != "" {
			words = words[:n-1]
		}
		if n == 1 && lengthUnits[last] != "" {
			t.role = RoleLength
		}
	}
	for _, r := range rules {
		if slices.ContainsFunc(words, func(w string) bool { return slices.Contains(r.words, w) }) {
			t.role = r.role
			break
		}
	}
	t.found = slices.Contains(words, "found")
	if t.role == RolePath {
		for _, from := range []string{"link", "riser"} {
			if slices.Contains(words, from) {
				t.from = from
			}
		}
	}
	return t
}

// titleWords splits a title into words. The unit comes last, wherever it stood
// in brackets.
func titleWords(text string) []string {
	text = strings.ToLower(text)
	if open := strings.IndexAny(text, "[("); open >= 0 {
		if end := strings.IndexAny(text[open:], "])"); end >= 0 {
			text = text[:open] + " " + text[open+end+1:] + " " + text[open+1:open+end]
		}
	}
	return strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" \t\n\u00a0_-./:,;[]()\"", r) })
}

var truths = map[string]bool{
	"true": true, "yes": true, "y": true, "1": true, "x": true, "ja": true, "oui": true, "sheathed": true, "sewn": true,
	"false": false, "no": false, "n": false, "0": false, "nein": false, "non": false, "bare": false, "unsheathed": false,
}

var sides = map[string]string{
	"left": "left", "l": "left", "links": "left", "gauche": "left",
	"right": "right", "r": "right", "rechts": "right", "droite": "right",
	"both": "", "beide": "", "deux": "",
}

var tiers = map[string]string{
	"lower": "lower", "main": "lower", "middle": "middle", "mid": "middle", "upper": "upper", "top": "upper", "gallery": "upper",
}

// tierCure and the other cures name what is read.
const (
	tierCure  = "write lower, middle or upper, counted from the pilot"
	sideCure  = "write left, right or both, as the pilot sits"
	truthCure = "write yes or no"
)
