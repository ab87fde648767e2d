package wing

import (
	"strings"
	"unicode"

	"example.org/linewright/engine/source"
)

// maxName is the longest code or name in characters: it has to fit a card.
const maxName = 24

// IsName says whether a text can be a line code or the name of a link, a
// riser branch, a row, a point or a pulley: no space, and none of the signs
// that separate codes in the files and entries that hold them.
func IsName(s string) bool {
	n := 0
	for _, r := range s {
		if source.Hidden(r) || !unicode.IsPrint(r) || unicode.IsSpace(r) || strings.ContainsRune(`:@/\,;"`, r) {
			return false
		}
		n++
	}
	return n >= 1 && n <= maxName
}

// pointNumber gives the number at the end of a point's name, which counts the
// tabs of its row from the centre: 7 for "C7". It is 0 where there is none.
func pointNumber(point string) int {
	n, unit := 0, 1
	for i := len(point) - 1; i >= 0 && point[i] >= '0' && point[i] <= '9' && unit <= 1e6; i-- {
		n += int(point[i]-'0') * unit
		unit *= 10
	}
	return n
}

// RowOf gives what stands before the first digit of a code or point: its row,
// in most schemes. It is empty where no name stands there.
func RowOf(code string) string {
	if digit := strings.IndexFunc(code, unicode.IsDigit); digit >= 0 {
		code = code[:digit]
	}
	if row := strings.TrimRight(code, "-_."); IsName(row) {
		return row
	}
	return ""
}
