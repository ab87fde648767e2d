package wing

import (
	"fmt"
	"strings"
)

// Side is a side of the wing as the pilot sits under it, never as the cloth lies.
type Side string

const (
	Left  Side = "left"
	Right Side = "right"
)

// Sides lists both sides in the order in which they are worked through and printed.
var Sides = []Side{Left, Right}

// Other gives the opposite side. Anything that is no side gives "".
func (s Side) Other() Side {
	switch s {
	case Left:
		return Right
	case Right:
		return Left
	}
	return ""
}

// Kind says what a Ref points at.
type Kind string

const (
	KindLine   Kind = "line"
	KindLink   Kind = "link"
	KindBrakes Kind = "brakes"
	KindWing   Kind = "wing"

	// Things that are looked at and can be damaged.
	KindTab      Kind = "tab"      // where a top line is fixed to the cloth; Code is its point
	KindCloth    Kind = "cloth"    // of one side
	KindRetainer Kind = "retainer" // Code is its link
	KindRiser    Kind = "riser"    // Code is the branch
	KindPulley   Kind = "pulley"   // of the brake
	KindHandle   Kind = "handle"
	KindKnot     Kind = "knot"    // of the brake main line at the handle
	KindParking  Kind = "parking" // magnet or press stud of the handle
)

// shape says what a Ref of a kind has besides it.
type shape struct{ code, side bool }

var shapes = map[Kind]shape{
	KindLine: {true, true}, KindLink: {true, true}, KindBrakes: {}, KindWing: {},
	KindTab: {true, true}, KindCloth: {false, true}, KindRetainer: {true, true}, KindRiser: {true, true},
	KindPulley: {false, true}, KindHandle: {false, true}, KindKnot: {false, true}, KindParking: {false, true},
}

// Ref points at one thing of a wing: a line of one side, a link of one side,
// both brakes together, the whole wing, or another thing that can be looked
// at. Code is a line code, a link name, a point or a riser branch and is
// compared case-sensitively; it is empty where a kind needs none, and so is
// Side. Refs are comparable and serve as map keys.
type Ref struct {
	Kind Kind
	Code string
	Side Side
}

// LineRef points at a line.
func LineRef(code string, side Side) Ref { return Ref{KindLine, code, side} }

// LinkRef points at a link.
func LinkRef(name string, side Side) Ref { return Ref{KindLink, name, side} }

// Brakes points at both brakes: they are never worked on one side alone.
func Brakes() Ref { return Ref{Kind: KindBrakes} }

// Whole points at the wing as a whole.
func Whole() Ref { return Ref{Kind: KindWing} }

// refWords names a thing for a person; code and side follow.
var refWords = map[Kind]string{
	KindLine: "", KindLink: "link", KindTab: "tab", KindCloth: "cloth", KindRetainer: "retainer of link", KindRiser: "riser",
	KindPulley: "brake pulley", KindHandle: "brake handle", KindKnot: "brake knot", KindParking: "parking of the brake handle",
}

// String gives the words for a person: "C1.2 left", "link C left", "both
// brakes", "the wing", "retainer of link C left", "brake pulley left".
func (r Ref) String() string {
	switch r.Kind {
	case KindBrakes:
		return "both brakes"
	case KindWing:
		return "the wing"
	}
	word, known := refWords[r.Kind]
	if !known {
		return ""
	}
	text := word
	for _, more := range []string{r.Code, string(r.Side)} {
		text = strings.TrimSpace(text + " " + more)
	}
	return text
}

// Text gives the stable form for files: "line:C1.2@left", "link:C@left",
// "pulley@left", "brakes", "wing".
func (r Ref) Text() string {
	text := string(r.Kind)
	if r == (Ref{}) {
		return ""
	}
	if shapes[r.Kind].code {
		text += ":" + r.Code
	}
	if shapes[r.Kind].side {
		text += "@" + string(r.Side)
	}
	return text
}

// ParseRef reads what Text writes, and nothing else. The error names what is
// accepted. Whether a plan has such a thing is another question: see Plan.Has.
func ParseRef(text string) (Ref, error) {
	head, side, sided := text, "", false
	if at := strings.LastIndexByte(text, '@'); at >= 0 {
		head, side, sided = text[:at], text[at+1:], true
	}
	kind, code, coded := strings.Cut(head, ":")
	r := Ref{Kind(kind), code, Side(side)}
	s, known := shapes[r.Kind]
	if !known || s.code != coded || s.side != sided || sided && r.Side.Other() == "" || coded && !IsName(code) {
		return Ref{}, badRef(text)
	}
	return r, nil
}

func badRef(text string) error {
	return fmt.Errorf("%q names no line, link or other thing of a wing\nwrite line:C1.2@left, link:C@right, brakes or wing", text)
}

// MarshalText writes the form of Text, so that JSON holds a Ref as one string.
func (r Ref) MarshalText() ([]byte, error) { return []byte(r.Text()), nil }

// UnmarshalText reads the form of Text.
func (r *Ref) UnmarshalText(text []byte) error {
	parsed, err := ParseRef(string(text))
	if err != nil {
		return err
	}
	*r = parsed
	return nil
}

// Twin is the same thing on the other side. Brakes and wing are their own twin.
func (r Ref) Twin() Ref {
	r.Side = r.Side.Other()
	return r
}
