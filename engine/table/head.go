package table

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.org/linewright/engine/wing"
)

// headWithin is how many records may stand above the titles.
const headWithin = 30

// findHead finds the record with the titles of the columns.
func (s *Sheet) findHead(told int) error {
	s.Head = -1
	switch {
	case told == NoHead:
	case told > 0:
		s.Head = slices.IndexFunc(s.Records, func(r Record) bool { return r.Line == told })
		if s.Head < 0 {
			f := faults{name: s.Name}
			f.add(told, "", "no record begins on this line", "give the line of the file on which the titles stand")
			return f.err()
		}
	default:
		s.Head = s.guessHead()
	}
	return nil
}

// guessHead takes the record with most known titles, else the head of a grid,
// else a record of words right above one with a number. It is -1 for none.
func (s *Sheet) guessHead() int {
	best, most := -1, 1
	for i, r := range s.Records[:min(len(s.Records), headWithin)] {
		if n := known(r); n > most {
			best, most = i, n
		}
	}
	if best >= 0 {
		return best
	}
	for i := range s.Records[:min(len(s.Records), headWithin)] {
		if s.isGrid(i) || s.isWords(i) {
			return i
		}
		if hasNumber(s.Records[i]) && filled(s.Records[i]) > 1 {
			return -1
		}
	}
	return -1
}

// known counts the different roles that the fields of a record name as titles.
func known(r Record) int {
	roles := map[Role]bool{}
	for _, f := range r.Fields {
		if t := readTitle(f); t.role != "" && !isNumber(f) {
			roles[t.role] = true
		}
	}
	return len(roles)
}

func filled(r Record) int {
	n := 0
	for _, f := range r.Fields {
		if f != "" {
			n++
		}
	}
	return n
}

func hasNumber(r Record) bool { return slices.ContainsFunc(r.Fields, isNumber) }

// isWords says that a record holds words only and the next one a number.
func (s *Sheet) isWords(i int) bool {
	return filled(s.Records[i]) > 1 && !hasNumber(s.Records[i]) && i+1 < len(s.Records) && hasNumber(s.Records[i+1])
}

// isGrid says that a record is the head of a grid: names of rows above places
// counted from 1, or places above names of rows.
func (s *Sheet) isGrid(i int) bool {
	if i+1 >= len(s.Records) {
		return false
	}
	rows, places := gridOf(s.Records[i])
	first := s.Records[i+1].Fields
	if !slices.ContainsFunc(first[1:], isNumber) {
		return false
	}
	return rows > 1 && wholeNumber(first[0]) > 0 || places > 1 && gridName(first[0]) != ""
}

// gridOf counts the names of rows, or the places in their order, behind the
// first field. Other words make it no head of a grid.
func gridOf(r Record) (rows, places int) {
	for _, f := range r.Fields[1:] {
		switch {
		case f == "":
		case wholeNumber(f) == places+1 && rows == 0:
			places++
		case gridName(f) != "" && places == 0:
			rows++
		default:
			return 0, 0
		}
	}
	return rows, places
}

// gridWords stand beside the name of a row and are not part of it.
var gridWords = []string{"row", "rows", "line", "lines", "reihe", "leinen", "rangée", "mm", "cm", "m"}

// gridName gives the name of a row that stands as a title: "A" for "A [mm]" or
// "Row A". It is empty for any other word.
func gridName(title string) string {
	name := ""
	for _, w := range strings.FieldsFunc(title, func(r rune) bool { return strings.ContainsRune(" \n[]()", r) }) {
		if slices.Contains(gridWords, strings.ToLower(w)) {
			continue
		}
		if name != "" {
			return ""
		}
		name = w
	}
	_, side := sides[strings.ToLower(name)]
	if !wing.IsName(name) || len(name) > 8 || strings.ContainsAny(name, "0123456789") || side || readTitle(name).role != "" {
		return ""
	}
	return name
}

// wholeNumber gives a number from 1 to MaxRecords, else 0.
func wholeNumber(text string) int {
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 || n > MaxRecords || strconv.Itoa(n) != text {
		return 0
	}
	return n
}

// isNumber says whether a field is a decimal, with or without a unit of length.
func isNumber(text string) bool {
	number, unit := splitNumber(text)
	return number != "" && (unit == "" || lengthUnits[unit] != "")
}

// splitNumber takes the decimal at the beginning of a text off; "" where there
// is none.
func splitNumber(text string) (number, rest string) {
	end, marks := 0, 0
	for end < len(text) && (text[end] >= '0' && text[end] <= '9' || end > 0 && (text[end] == '.' || text[end] == ',')) {
		if text[end] == '.' || text[end] == ',' {
			marks++
		}
		end++
	}
	if end == 0 || marks > 1 || text[end-1] == '.' || text[end-1] == ',' {
		return "", text
	}
	return text[:end], strings.TrimSpace(text[end:])
}

// headTitle gives the title of a column, on one line.
func (s *Sheet) headTitle(column int) string {
	if s.Head < 0 || column >= len(s.Records[s.Head].Fields) {
		return ""
	}
	return strings.Join(strings.Fields(s.Records[s.Head].Fields[column]), " ")
}

// isHead says that a record is the titles once more, as on a second page.
func (s *Sheet) isHead(r Record) bool {
	return s.Head >= 0 && slices.Equal(r.Fields, s.Records[s.Head].Fields)
}

// body gives the records below the titles, or all.
func (s *Sheet) body() []Record { return s.Records[s.Head+1:] }

// separatorWords names what stands between the fields.
func (s *Sheet) SeparatorWords() string {
	return map[rune]string{',': "commas", ';': "semicolons", '\t': "tabs"}[s.Comma]
}

// HeadLine is the line of the file with the titles, 0 where there are none.
func (s *Sheet) HeadLine() int {
	if s.Head < 0 {
		return 0
	}
	return s.Records[s.Head].Line
}

// fieldAt gives a field, empty beyond the end of the record.
func (r Record) fieldAt(column int) string {
	if column >= len(r.Fields) {
		return ""
	}
	return r.Fields[column]
}

func columnWords(no int) string { return fmt.Sprintf("column %d", no) }
