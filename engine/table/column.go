package table

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

// Role says what a column holds.
type Role string

const (
	RoleCode        Role = "code"         // of a line; also "riser:C" and "link:C"
	RoleRow         Role = "row"          // A, B ... S, Br
	RoleTier        Role = "tier"         // lower, middle, upper
	RoleOn          Role = "on"           // what it hangs on, as in a plan
	RolePos         Role = "pos"          // place there, from the centre
	RolePoint       Role = "point"        // attachment point
	RoleSpan        Role = "span"         // of the point, 0 centre to 1 tip
	RoleLength      Role = "length"       // of a line, both sides
	RoleLengthLeft  Role = "length_left"  // of a line, one side
	RoleLengthRight Role = "length_right" //
	RolePath        Role = "path"         // length of the whole path to the point
	RolePathLeft    Role = "path_left"    //
	RolePathRight   Role = "path_right"   //
	RoleSide        Role = "side"         // that the record is about
	RoleSheathed    Role = "sheathed"     //
	RoleSewn        Role = "sewn"         // into its tab
	RoleMaterial    Role = "material"     //
	RoleColour      Role = "colour"       //
	RoleDiameter    Role = "diameter"     //
	RoleStrength    Role = "strength"     //
	RoleLinkKind    Role = "link_kind"    // screw, soft
	RolePlace       Role = "place"        // of a grid: place from the centre in each row
	RoleNone        Role = "none"         // left out
)

// Roles lists every role.
var Roles = []Role{
	RoleCode, RoleRow, RoleTier, RoleOn, RolePos, RolePoint, RoleSpan, RoleLength, RoleLengthLeft, RoleLengthRight,
	RolePath, RolePathLeft, RolePathRight, RoleSide, RoleSheathed, RoleSewn, RoleMaterial, RoleColour, RoleDiameter,
	RoleStrength, RoleLinkKind, RolePlace, RoleNone,
}

// Why says on what the role of a column rests.
type Why string

const (
	ByTitle   Why = "title"
	ByContent Why = "content"
	ByPerson  Why = "told"
)

// Column is what a column is taken for.
type Column struct {
	No    int    `json:"column"` // from 1
	Title string `json:"title,omitempty"`
	Role  Role   `json:"role"`
	// At is set in a grid: the row, or the place, whose lengths stand in this
	// column. The other of the two stands in a column of its own.
	At    string   `json:"at,omitempty"`
	Unit  string   `json:"unit,omitempty"` // of its numbers, where it is known
	Why   Why      `json:"by,omitempty"`
	First []string `json:"first,omitempty"` // the first few fields

	from  string
	found bool
}

// Words says the column in words: `column 3 "Length"`.
func (c Column) Words() string {
	if c.Title == "" {
		return fmt.Sprintf("column %d", c.No)
	}
	return fmt.Sprintf("column %d %q", c.No, c.Title)
}

// FirstLength gives the first length of the column as it is understood, so that
// a person sees the unit at work; false where there is none, or no unit yet.
func (c Column) FirstLength() (quantity.Length, bool) {
	if !c.Role.isLength() || c.Unit == "" || len(c.First) == 0 {
		return 0, false
	}
	text := c.First[0]
	if number, rest := splitNumber(text); number != "" && rest == "" {
		text += " " + c.Unit
	}
	l, err := quantity.ParseLength(text)
	return l, err == nil
}

// ParseColumn reads what a person says of a column: "code=1", "length=3",
// "none=4", and in a grid "path:A=2" for a row or "path:7=2" for a place.
func ParseColumn(text string) (Column, error) {
	name, no, ok := strings.Cut(text, "=")
	n, err := strconv.Atoi(strings.TrimSpace(no))
	name, at, grid := strings.Cut(strings.TrimSpace(name), ":")
	c := Column{No: n, Role: Role(name), At: at, Why: ByPerson}
	switch {
	case !ok || err != nil || n < 1 || n > MaxColumns:
		return Column{}, fmt.Errorf("%q says nothing of a column\nwrite code=1, length=3 or none=4; columns count from 1", text)
	case !slices.Contains(Roles, c.Role):
		return Column{}, fmt.Errorf("%q is nothing that a column can hold\nknown are: %s", name, roleList())
	case grid && (c.Role != RoleLength && c.Role != RolePath || !wing.IsName(at)):
		return Column{}, fmt.Errorf("%q is no column of a grid\nwrite path:A=2 or length:A=2 for row A, path:7=2 for place 7", text)
	}
	return c, nil
}

func roleList() string {
	names := make([]string, len(Roles))
	for i, r := range Roles {
		names[i] = string(r)
	}
	return strings.Join(names, ", ")
}

// isLength says whether a role is a length of a line or path.
func (r Role) isLength() bool {
	return strings.HasPrefix(string(r), string(RoleLength)) || r.isPath()
}

func (r Role) isPath() bool { return strings.HasPrefix(string(r), string(RolePath)) }

// asPath gives the same length of a path.
func (r Role) asPath() Role {
	return Role(strings.Replace(string(r), string(RoleLength), string(RolePath), 1))
}

// isKey says whether a role names what the others are about.
func (r Role) isKey() bool { return r == RoleCode || r == RolePoint }
