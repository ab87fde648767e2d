package quantity

import (
	"math/big"
	"regexp"
	"strings"
	"sync"
	"unicode/utf8"
)

// ParseLength reads a length; a bare number is millimetres. See Parse.
func ParseLength(text string) (Length, error) {
	n, err := parse(KindLength, text)
	return Length(n), err
}

// ParseForce reads a force; a bare number is newtons. See Parse.
func ParseForce(text string) (Force, error) {
	n, err := parse(KindForce, text)
	return Force(n), err
}

// ParseTorque reads a torque; a bare number is newton metres. See Parse.
func ParseTorque(text string) (Torque, error) {
	n, err := parse(KindTorque, text)
	return Torque(n), err
}

// ParseTurns reads a number of turns, "5", "5.25" or "5 1/4". See Parse.
func ParseTurns(text string) (Turns, error) {
	n, err := parse(KindTurns, text)
	return Turns(n), err
}

// ParseCount reads a whole number. See Parse.
func ParseCount(text string) (Count, error) {
	n, err := parse(KindCount, text)
	return Count(n), err
}

// Parse reads one strict decimal with a point or a comma and, with or without
// a space, a unit of the kind. The value is exact until it is rounded once to
// the base unit, half away from zero. Any error is a *ParseError.
func Parse(kind Kind, text string) (Value, error) {
	n, err := parse(kind, text)
	if err != nil {
		return Value{}, err
	}
	return Value{kind, n}, nil
}

var (
	// Each of these would be taken by a looser reader, as a number that the
	// person may not have meant; they are told apart to name the reason.
	notFinite = form(`(?i)^[+\-−]?\s*(nan|inf|infinity|∞)\b`)
	infinity  = form(`^[+\-−]?\s*∞`)
	hex       = form(`(?i)^[+\-−]?0x`)
	exponent  = form(`(?i)[0-9.,]e[+\-−]?[0-9]`)
	negative  = form(`^[\-−–]\s*[0-9.,]`)

	numberThenUnit = form(`(?s)^([0-9][0-9., /]*|[.,][0-9., /]+)(.*)$`)
	feetAndInches  = form(`^([0-9.,]+) *(?:'|ft) *([0-9][0-9., /]*?) *(?:"|in)$`)
	decimal        = form(`^[0-9]+(?:[.,][0-9]+)?$`)
	whole          = form(`^[0-9]+$`)
	fraction       = form(`^(?:([0-9]+) +)?([0-9]+)/([0-9]+)$`)
)

// form is a form of text that is compiled when it is first asked for: most starts
// of the program read no number.
func form(text string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(text) })
}

// sameSign lets a phone's or a word processor's signs stand for the plain ones.
var sameSign = strings.NewReplacer(
	"′", "'", "’", "'", "″", `"`, "”", `"`, "''", `"`,
	"\u00a0", " ", "\u202f", " ", "⋅", "·", "*", "·",
)

func parse(kind Kind, typed string) (int64, error) {
	refuse := func(code Code) (int64, error) {
		return 0, &ParseError{Kind: kind, Typed: typed, Code: code}
	}
	if !kind.Valid() {
		return refuse(CodeKind)
	}
	if utf8.RuneCountInString(typed) > MaxTyped {
		return refuse(CodeTooLong)
	}
	text := strings.TrimSpace(sameSign.Replace(typed))
	if code := foreign(text); code != "" {
		return refuse(code)
	}
	exact, unit, code := read(kind, text)
	if code != "" {
		return 0, &ParseError{Kind: kind, Typed: typed, Code: code, Unit: unit}
	}
	n, ok := roundHalfAway(exact)
	if !ok {
		return refuse(CodeOverflow)
	}
	return n, nil
}

// foreign names the reason when the text is in a notation that is not read.
func foreign(text string) Code {
	switch {
	case text == "":
		return CodeEmpty
	case !utf8.ValidString(text):
		return CodeNotANumber
	case notFinite().MatchString(text), infinity().MatchString(text):
		return CodeNotFinite
	case strings.Contains(text, "_"):
		return CodeUnderscore
	case hex().MatchString(text):
		return CodeHex
	case exponent().MatchString(text):
		return CodeExponent
	case negative().MatchString(text):
		return CodeNegative
	case strings.HasPrefix(text, "+"):
		return CodeSign
	}
	return ""
}

// read returns the value in base units, not yet rounded. On a refusal it
// returns the code, and the unit where that is the reason.
func read(kind Kind, text string) (exact *big.Rat, unit string, code Code) {
	if m := feetAndInches().FindStringSubmatch(text); m != nil && kind == KindLength {
		exact, code = readFeetAndInches(m[1], m[2])
		return exact, "", code
	}
	m := numberThenUnit().FindStringSubmatch(text)
	if m == nil {
		return nil, "", CodeNotANumber
	}
	number, unit := strings.TrimSpace(m[1]), strings.TrimSpace(m[2])
	if strings.ContainsAny(unit, "0123456789") {
		return nil, "", CodeTwoNumbers
	}
	factor, ok := kind.factor(unit)
	if !ok {
		return nil, unit, CodeUnit
	}
	if kind == KindCount && decimal().MatchString(number) && !whole().MatchString(number) {
		return nil, "", CodeNotWhole
	}
	exact, code = readNumber(number, kind.takesFractions(unit))
	if code != "" {
		return nil, "", code
	}
	return exact.Mul(exact, factor), "", ""
}

func readFeetAndInches(feetText, inchText string) (*big.Rat, Code) {
	if !whole().MatchString(feetText) {
		return nil, CodeInches
	}
	inches, code := readNumber(inchText, true)
	if code != "" {
		return nil, code
	}
	if inches.Cmp(big.NewRat(12, 1)) >= 0 {
		return nil, CodeInches
	}
	feet := rat(feetText)
	inches.Mul(inches, kinds[KindLength].units["in"])
	return inches.Add(inches, feet.Mul(feet, kinds[KindLength].units["ft"])), ""
}

// readNumber reads "5", "5.25" and, with fractions, "7/8" and "3 7/8".
func readNumber(text string, fractions bool) (*big.Rat, Code) {
	if decimal().MatchString(text) {
		return rat(strings.Replace(text, ",", ".", 1)), ""
	}
	if strings.Contains(text, "/") {
		m := fraction().FindStringSubmatch(text)
		if m == nil || !fractions {
			return nil, CodeFraction
		}
		return readFraction(m[1], m[2], m[3])
	}
	if len(strings.Fields(text)) > 1 {
		return nil, CodeTwoNumbers
	}
	if strings.Count(text, ".")+strings.Count(text, ",") > 1 {
		return nil, CodeTwoSeparators
	}
	return nil, CodePoint
}

// readFraction takes proper fractions only: "3 9/8" is a slip of the finger.
func readFraction(wholeText, numText, denText string) (*big.Rat, Code) {
	num, den := rat(numText), rat(denText)
	if num.Sign() == 0 || num.Cmp(den) >= 0 {
		return nil, CodeFraction
	}
	part := num.Quo(num, den)
	if wholeText == "" {
		return part, ""
	}
	return part.Add(part, rat(wholeText)), ""
}

// factor returns the base units in one unit; "" is the unit of a bare number.
func (k Kind) factor(unit string) (*big.Rat, bool) {
	if k == KindCount {
		return big.NewRat(1, 1), unit == ""
	}
	switch {
	case unit == "":
		unit = kinds[k].unit
	case unit == "'" && k == KindLength:
		unit = "ft"
	case unit == `"` && k == KindLength:
		unit = "in"
	}
	f, ok := kinds[k].units[unit]
	return f, ok
}

// takesFractions reports whether a fraction is usual with the unit.
func (k Kind) takesFractions(unit string) bool {
	if k == KindTurns {
		return true
	}
	return k == KindLength && (unit == "in" || unit == `"` || unit == "ft" || unit == "'")
}
