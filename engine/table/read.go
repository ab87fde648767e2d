package table

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"example.org/linewright/engine/source"
)

// The largest table that is read.
const (
	MaxRecords = 10000
	MaxColumns = 100
)

// maxFaults is how many faults of a table are listed.
const maxFaults = 100

// Sheet is a table as it stands, before anything is believed.
type Sheet struct {
	Name    string
	Comma   rune // between the fields
	Head    int  // place of the titles in Records; -1: it has none
	Records []Record

	width int // most fields of a record
}

// Record is one record: Line is where it begins in the file. Spaces around a
// field are taken off: RFC 4180 counts them as part of it, but no code, number
// or word of a plan begins or ends with one.
type Record struct {
	Line   int
	Fields []string
}

// Layout is what a person says of a table; zero values are found out.
type Layout struct {
	Comma rune
	Head  int // line of the file with the titles; NoHead: there is none
}

// NoHead says that a table has no titles.
const NoHead = -1

// Read reads a table. name is how it is called in faults.
func Read(name string, data []byte, told Layout) (*Sheet, error) {
	r := &reader{faults: faults{name: name}}
	text := r.text(data)
	if r.faults.none() {
		r.split(text, told.Comma)
	}
	if r.faults.none() {
		r.fit()
	}
	if err := r.faults.err(); err != nil {
		return nil, err
	}
	s := r.sheet
	s.Name = name
	return s, s.findHead(told.Head)
}

// faults gathers what is wrong with a table.
type faults struct {
	name string
	list source.Faults
}

func (f *faults) none() bool { return len(f.list) == 0 }

func (f *faults) err() error { return f.list.Err() }

// add notes a fault; column may be empty.
func (f *faults) add(line int, column, what, cure string) {
	if len(f.list) == maxFaults {
		column, what, cure = "", "more faults follow", "mend these first"
	}
	if len(f.list) <= maxFaults {
		f.list = append(f.list, source.Fault{File: f.name, Line: line, Key: column, What: what, Cure: cure})
	}
}

type reader struct {
	faults faults
	sheet  *Sheet
}

// text takes off the mark of the encoding and gives each record its line end.
func (r *reader) text(data []byte) []byte {
	switch {
	case len(data) > source.MaxBytes:
		r.faults.add(0, "", fmt.Sprintf("the table has %d bytes", len(data)), "split it: at most 1 MiB is read")
	case bytes.HasPrefix(data, []byte("\xff\xfe")), bytes.HasPrefix(data, []byte("\xfe\xff")):
		r.faults.add(0, "", "the table is UTF-16 text", "save it again as CSV in UTF-8")
	case !utf8.Valid(data):
		r.faults.add(0, "", "the table is not UTF-8 text", "save it again as CSV in UTF-8")
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	if !bytes.ContainsRune(data, '\n') {
		data = bytes.ReplaceAll(data, []byte("\r"), []byte("\n"))
	}
	return data
}

// separators in the order in which they are believed where two fit alike: a
// comma may also be a decimal comma.
var separators = []rune{'\t', ';', ','}

// split takes the separator that makes most records alike.
func (r *reader) split(text []byte, told rune) {
	best, bestErr, most := (*Sheet)(nil), error(nil), -1
	for _, comma := range separators {
		if told != 0 && told != comma {
			continue
		}
		s, err := records(text, comma)
		if n := s.alike(); n > most {
			best, bestErr, most = s, err, n
		}
	}
	switch {
	case best == nil:
		r.faults.add(0, "", fmt.Sprintf("%q is no separator of fields", told), "use a comma, a semicolon or a tab")
	case bestErr != nil:
		r.broken(bestErr)
	case len(best.Records) == 0:
		r.faults.add(0, "", "the table is empty", "see whether this is the right file")
	case len(best.Records) > MaxRecords:
		r.faults.add(0, "", fmt.Sprintf("the table has more than %d records", MaxRecords), "split it")
	case most == 0:
		r.faults.add(best.Records[0].Line, "", "the records have one field only", "separate the fields by commas, semicolons or tabs")
	}
	r.sheet = best
}

// records reads the records as far as they can be read.
func records(text []byte, comma rune) (*Sheet, error) {
	s := &Sheet{Comma: comma, Head: -1}
	c := csv.NewReader(bytes.NewReader(text))
	c.Comma, c.FieldsPerRecord = comma, -1
	for len(s.Records) <= MaxRecords {
		fields, err := c.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return s, err
		}
		empty := true
		for i, f := range fields {
			fields[i] = strings.TrimSpace(f)
			empty = empty && fields[i] == ""
		}
		if empty {
			continue
		}
		line, _ := c.FieldPos(0)
		s.Records = append(s.Records, Record{line, fields})
		s.width = max(s.width, len(fields))
	}
	return s, nil
}

// alike counts the records of the commonest number of fields, if it is more than one.
func (s *Sheet) alike() int {
	count, most := map[int]int{}, 0
	for _, r := range s.Records {
		if n := len(r.Fields); n > 1 {
			count[n]++
			most = max(most, count[n])
		}
	}
	return most
}

func (r *reader) broken(err error) {
	var parse *csv.ParseError
	if !errors.As(err, &parse) {
		r.faults.add(0, "", err.Error(), "save the table again as CSV")
		return
	}
	line, where := parse.Line, fmt.Sprintf("character %d", parse.Column)
	if parse.StartLine < line { // a mark that nothing closes runs to the end of the file
		line, where = parse.StartLine, ""
	}
	r.faults.add(line, where, "the quotation marks do not match",
		`put a field that holds a separator or a mark in "...", and write a mark in it twice`)
}

// fit checks that every record can be shown and kept.
func (r *reader) fit() {
	if r.sheet.width > MaxColumns {
		r.faults.add(0, "", fmt.Sprintf("the table has %d columns", r.sheet.width), fmt.Sprintf("keep the ones that are needed: at most %d are read", MaxColumns))
		return
	}
	for _, rec := range r.sheet.Records {
		for i, f := range rec.Fields {
			for _, c := range f {
				if source.Hidden(c) && c != '\n' {
					r.faults.add(rec.Line, fmt.Sprintf("column %d", i+1), fmt.Sprintf("the field has a control character (U+%04X)", c), "remove it")
					break
				}
			}
		}
	}
}
