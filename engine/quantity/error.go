package quantity

import (
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Code says why a typed text was refused.
type Code string

// The reasons.
const (
	CodeEmpty         Code = "empty"
	CodeTooLong       Code = "too long"
	CodeNotFinite     Code = "not finite"
	CodeHex           Code = "hex"
	CodeUnderscore    Code = "underscore"
	CodeExponent      Code = "exponent"
	CodeTwoSeparators Code = "two separators"
	CodeTwoNumbers    Code = "two numbers"
	CodeNegative      Code = "negative"
	CodeUnit          Code = "unit"
	CodeFraction      Code = "fraction"
	CodeInches        Code = "inches"
	CodeNotWhole      Code = "not whole"
	CodeOverflow      Code = "overflow"
	CodeSign          Code = "sign"
	CodePoint         Code = "bare point"
	CodeNotANumber    Code = "not a number"
	CodeKind          Code = "kind"
)

// MaxTyped is the greatest number of characters that is read as a value.
const MaxTyped = 64

// ParseError is a typed text that was refused. Nothing was taken.
type ParseError struct {
	Kind  Kind
	Typed string // as typed, raw; Error escapes it
	Code  Code
	Unit  string // the unit that was not accepted, for CodeUnit
}

// Error says in one line what is wrong.
func (e *ParseError) Error() string {
	if e.Code == CodeEmpty {
		return "nothing was typed"
	}
	if e.Code == CodeKind {
		return fmt.Sprintf(`there is no kind of value "%s"`, show(string(e.Kind)))
	}
	return fmt.Sprintf(`"%s" is not %s: %s`, show(e.Typed), kinds[e.Kind].noun, e.reason())
}

func (e *ParseError) reason() string {
	switch e.Code {
	case CodeTooLong:
		return fmt.Sprintf("longer than %d characters", MaxTyped)
	case CodeNotFinite:
		return "not a finite number"
	case CodeHex:
		return "hexadecimal numbers are not read"
	case CodeUnderscore:
		return "an underscore stands in it"
	case CodeExponent:
		return "exponents are not read"
	case CodeTwoSeparators:
		return "more than one point or comma"
	case CodeTwoNumbers:
		return "more than one number"
	case CodeNegative:
		return "no value here is below zero"
	case CodeSign:
		return "a sign stands before it"
	case CodePoint:
		return "a digit must stand on both sides of the point or comma"
	case CodeUnit:
		return fmt.Sprintf(`the unit "%s" is not one of this kind`, show(e.Unit))
	case CodeFraction:
		return "a fraction is read as 7/8 or 3 7/8, with in, ft and turns only"
	case CodeInches:
		return "feet must be whole and the inches beside them below 12"
	case CodeNotWhole:
		return "not a whole number"
	case CodeOverflow:
		return "too large"
	}
	return "no number can be read from it"
}

// Cure says in one line what to do.
func (e *ParseError) Cure() string {
	if e.Code == CodeKind {
		return "use length, force, torque, turns or count"
	}
	if e.Code == CodeUnit && e.Kind == KindForce && e.Unit == "kg" {
		return "kg is a mass: type kgf for the pull of that mass, or N, daN or lbf"
	}
	info := kinds[e.Kind]
	switch {
	case e.Kind == KindCount:
		return "type one whole number without a unit such as " + info.example
	case e.Code == CodeUnit:
		return fmt.Sprintf("units taken: %s; a bare number is %s", e.Kind.unitList(), info.plural)
	case e.Code == CodeTwoSeparators:
		return "one point or comma, before the decimals only, such as " + info.example
	}
	return "type one number such as " + info.example
}

// show makes a text safe for a terminal: what cannot be printed is escaped,
// and a long text is cut.
func show(text string) string {
	var b strings.Builder
	for i, width, shown := 0, 0, 0; i < len(text); i += width {
		if shown == MaxTyped {
			b.WriteString("...")
			break
		}
		shown++
		var r rune
		r, width = utf8.DecodeRuneInString(text[i:])
		if r == utf8.RuneError && width == 1 {
			fmt.Fprintf(&b, `\x%02x`, text[i])
			continue
		}
		if strconv.IsPrint(r) {
			b.WriteRune(r)
			continue
		}
		quoted := strconv.QuoteRuneToASCII(r)
		b.WriteString(quoted[1 : len(quoted)-1])
	}
	return b.String()
}
