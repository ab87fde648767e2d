package logbook

import (
	"cmp"
	"strings"

	"example.org/linewright/engine/trim"
	"example.org/linewright/engine/wing"
)

// Place names what has a length: "line:C1.2@left" or "path:C7@left".
type Place string

const pathHead = "path:"

// LinePlace is the place of a line.
func LinePlace(line wing.Ref) Place { return Place(line.Text()) }

// PathPlace is the place of a path.
func PathPlace(path trim.PathRef) Place {
	return Place(pathHead + path.Point + "@" + string(path.Side))
}

// String gives the words for a person: "C1.2 left", "path C7 left".
func (p Place) String() string {
	text := strings.TrimPrefix(string(p), "line:")
	return strings.NewReplacer(":", " ", "@", " ").Replace(text)
}

// parts gives kind, code and side.
func (p Place) parts() (kind, code, side string) {
	kind, rest, _ := strings.Cut(string(p), ":")
	code, side, _ = strings.Cut(rest, "@")
	return kind, code, side
}

// comparePlaces puts lines before paths, C2 before C10, left before right.
func comparePlaces(a, b Place) int {
	kindA, codeA, sideA := a.parts()
	kindB, codeB, sideB := b.parts()
	return cmp.Or(cmp.Compare(kindA, kindB), compareCodes(codeA, codeB), cmp.Compare(sideA, sideB))
}

// compareCodes compares codes as a person counts: numbers by their value.
func compareCodes(a, b string) int {
	restA, restB := a, b
	for restA != "" && restB != "" {
		numA, numB := digits(restA), digits(restB)
		if numA == "" || numB == "" {
			if restA[0] != restB[0] {
				return cmp.Compare(restA[0], restB[0])
			}
			restA, restB = restA[1:], restB[1:]
			continue
		}
		valueA, valueB := strings.TrimLeft(numA, "0"), strings.TrimLeft(numB, "0")
		if c := cmp.Or(cmp.Compare(len(valueA), len(valueB)), cmp.Compare(valueA, valueB)); c != 0 {
			return c
		}
		restA, restB = restA[len(numA):], restB[len(numB):]
	}
	return cmp.Or(cmp.Compare(len(restA), len(restB)), cmp.Compare(a, b))
}

func digits(s string) string {
	end := strings.IndexFunc(s, func(r rune) bool { return r < '0' || r > '9' })
	if end < 0 {
		return s
	}
	return s[:end]
}
