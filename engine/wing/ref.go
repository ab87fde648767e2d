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
)

// Ref points at one thing of a wing that work can be done on: a line of one
// side, a link of one side, or both brakes together. Code is a line code or a
// link name and is compared case-sensitively; it is empty for the brakes, and
// so is Side. Refs are comparable and serve as map keys.
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

// String gives the words for a person: "C1.2 left", "link C left", "both brakes".
func (r Ref) String() string {
	switch r.Kind {
	case KindLine:
		return r.Code + " " + string(r.Side)
	case KindLink:
		return "link " + r.Code + " " + string(r.Side)
	case KindBrakes:
		return "both brakes"
	}
	return ""
}

// Text gives the stable form for files: "line:C1.2@left", "link:C@left", "brakes".
func (r Ref) Text() string {
	if r.Kind == KindBrakes {
		return string(KindBrakes)
	}
	return string(r.Kind) + ":" + r.Code + "@" + string(r.Side)
}

// ParseRef reads what Text writes, and nothing else. The error names what is
// accepted. Whether a plan has such a line is another question: see Plan.Has.
func ParseRef(text string) (Ref, error) {
	if text == string(KindBrakes) {
		return Brakes(), nil
	}
	kind, rest, _ := strings.Cut(text, ":")
	at := strings.LastIndexByte(rest, '@')
	if at < 0 || (Kind(kind) != KindLine && Kind(kind) != KindLink) {
		return Ref{}, badRef(text)
	}
	r := Ref{Kind(kind), rest[:at], Side(rest[at+1:])}
	if r.Side.Other() == "" || !IsName(r.Code) {
		return Ref{}, badRef(text)
	}
	return r, nil
}

func badRef(text string) error {
	return fmt.Errorf("%q names no line, link or brakes\nwrite line:C1.2@left, link:C@right or brakes", text)
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

// Twin is the same thing on the other side. The brakes are their own twin.
func (r Ref) Twin() Ref {
	r.Side = r.Side.Other()
	return r
}
