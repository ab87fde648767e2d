package metrology

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"sync"

	"example.org/linewright/engine/quantity"
)

// Values of the profile that are not simply what was typed.

var decimalNumber = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^-?[0-9]+([.,][0-9]+)?(e-?[0-9]{1,3})?$`) })

// parseNumber reads a plain decimal number, also below zero, with or without
// its unit.
func parseNumber(text, unit string) (float64, error) {
	bare := strings.TrimSpace(strings.TrimSuffix(text, unit))
	if unit == "°C" {
		bare = strings.TrimSpace(strings.TrimSuffix(bare, "C"))
	}
	bare = strings.Replace(strings.Replace(bare, "−", "-", 1), ",", ".", 1)
	if !decimalNumber().MatchString(bare) || len(bare) > quantity.MaxTyped {
		return 0, &Error{Code: CodeNumber, A: text, B: unit}
	}
	x, err := strconv.ParseFloat(bare, 64)
	if err != nil {
		return 0, &Error{Code: CodeNumber, A: text, B: unit}
	}
	return x + 0, nil // -0 becomes 0
}

// plainNumber prints a number so that it is read back exactly.
func plainNumber(x float64) string {
	form := byte('f')
	if x != 0 && math.Abs(x) < 1e-9 {
		form = 'e'
	}
	return strconv.FormatFloat(x, form, -1, 64)
}

func setCalibrationError(b *Bench, text string) error {
	mm, err := parseNumber(text, "mm")
	if err != nil {
		return err
	}
	b.Calibration.ErrorUMPerM = math.Round(mm*1000) + 0 // -0 becomes 0
	return nil
}

// calibrationError takes a zero for an answer only once more of the
// certificate is known: a tape may well be true.
func calibrationError(b Bench) string {
	if *b.Calibration == (Calibration{}) {
		return ""
	}
	return plainNumber(b.Calibration.ErrorUMPerM / 1000)
}

func setTapeLies(b *Bench, text string) error {
	if text == tapeFlat {
		b.TapeRun = nil
		return nil
	}
	if b.TapeRun == nil {
		b.TapeRun = &TapeRun{}
		b.mark(keyReferencePull)
		b.mark(keyModulus)
	}
	b.TapeRun.Hangs = text == tapeHangs
	if !b.TapeRun.Hangs {
		b.TapeRun.WeightNPerM = 0
	}
	return nil
}

func tapeLies(b Bench) string {
	switch {
	case b.TapeRun == nil:
		return tapeFlat
	case b.TapeRun.Hangs:
		return tapeHangs
	}
	return tapePulled
}

func setBalanceKnown(b *Bench, text string) error {
	if text == "" {
		b.Balance = nil
		return nil
	}
	known, err := quantity.ParseForce(text)
	if err != nil {
		return err
	}
	if b.Balance == nil {
		b.Balance = &BalanceCheck{}
	}
	b.Balance.Known = known
	return nil
}

func balanceKnown(b Bench) string {
	if b.Balance == nil {
		return ""
	}
	return numberUnlessZero(b.Balance.Known.N())
}

// setRepeatability takes ten readings or more, or a standard deviation that
// was found before; then how many readings it came from is a key of its own.
// Readings that are all the same hide their spread under the graduation, so
// they count with that.
func setRepeatability(b *Bench, text string) error {
	rs, err := ParseReadings(text)
	if err != nil {
		return err
	}
	if len(rs) == 1 {
		b.Repeatability = rs[0].Value
		return nil
	}
	if len(rs) <= leastDoF {
		return &Error{Code: CodeFewReadings, A: strconv.Itoa(len(rs)), B: strconv.Itoa(leastDoF + 1)}
	}
	b.Repeatability = roundUp(max(Deviation(rs), resolution(b.Graduation.MM())))
	b.RepeatabilityDoF = float64(len(rs) - 1)
	b.unmark(keyRepeatabilityDoF)
	return nil
}

// ParseReadings reads several lengths. A semicolon or a line end parts them,
// or, where there is none, blanks; a unit may stand apart from its number.
// The error is a *quantity.ParseError, or a *Error where there is none to read.
func ParseReadings(text string) ([]Reading, error) {
	var pieces []string
	if strings.ContainsAny(text, ";\n") {
		pieces = strings.FieldsFunc(text, func(r rune) bool { return r == ';' || r == '\n' })
	} else {
		pieces = withUnits(strings.Fields(text))
	}
	var rs []Reading
	for _, piece := range pieces {
		if piece = strings.TrimSpace(piece); piece == "" {
			continue
		}
		value, err := quantity.ParseLength(piece)
		if err != nil {
			return nil, err
		}
		rs = append(rs, Reading{Typed: piece, Value: value})
	}
	if len(rs) == 0 {
		return nil, &Error{Code: CodeNoReadings}
	}
	return rs, nil
}

// withUnits puts units back to the numbers before them; a comma at the end of
// a number parts it from the next.
func withUnits(words []string) []string {
	var out []string
	for _, w := range words {
		if n := len(out); n > 0 && !strings.ContainsAny(w, "0123456789") {
			out[n-1] += " " + strings.TrimSuffix(w, ",")
			continue
		}
		out = append(out, strings.TrimSuffix(w, ","))
	}
	return out
}
