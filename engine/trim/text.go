package trim

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/source"
	"example.org/linewright/engine/wing"
)

func refuse(what, cure string) error { return &wing.SumError{What: source.Clean(what), Cure: cure} }

// printable refuses a text that would move the cursor of a terminal.
func printable(text string) error {
	if strings.ContainsFunc(text, source.Hidden) {
		return refuse(fmt.Sprintf("%q has control characters in it", text), "type it again in plain text, on one line")
	}
	return nil
}

// tenths prints millimetres to the tenth, without the sign.
func tenths(mm float64) string {
	return strconv.FormatFloat(math.Round(math.Abs(mm)*10)/10, 'f', -1, 64)
}

// tenthsUp prints an uncertainty to the tenth, rounded up. A nanometre is let
// go first: it is noise of the arithmetic.
func tenthsUp(mm float64) string {
	return strconv.FormatFloat(math.Ceil(mm*10-1e-5)/10, 'f', -1, 64)
}

// long says a deviation in words: "2.1 mm long".
func long(mm float64) string {
	switch {
	case tenths(mm) == "0":
		return "0 mm off"
	case mm < 0:
		return tenths(mm) + " mm short"
	}
	return tenths(mm) + " mm long"
}

// um takes back to whole micrometres what was made of them by MM.
func um(mm float64) quantity.Length { return quantity.Length(math.Round(mm * 1000)) }

// list joins names and cuts a long list: the plan has them all.
func list(items []PathRef, most int) string {
	names := make([]string, 0, most+1)
	for i, item := range items {
		if i == most {
			names = append(names, fmt.Sprintf("and %d more", len(items)-most))
			break
		}
		names = append(names, item.String())
	}
	return strings.Join(names, ", ")
}

// plural gives "1 path", "3 paths".
func plural(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return strconv.Itoa(n) + " " + word + "s"
}
